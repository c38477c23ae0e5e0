package duskpeg.server;

import duskpeg.projections.ledger.LastSeen.OtherLog;
import java.util.Objects;
import org.springframework.boot.diagnostics.AbstractFailureAnalyzer;
import org.springframework.boot.diagnostics.FailureAnalysis;

/** Says that the database is older than what this server saw, and what to do. */
final class OlderDatabase extends AbstractFailureAnalyzer<OtherLog> {

    @Override
    protected FailureAnalysis analyze(Throwable root, OtherLog found) {
        return new FailureAnalysis(
                Objects.toString(found.getMessage(), ""),
                "So reports that were answered would be missing, and no text is taken. Put the database's files aside, do"
                        + " not delete them, and restore the newest backup: java -jar duskpeg.jar restore FILE. Only if"
                        + " this database is the right one, knowingly older or another: java -jar duskpeg.jar accept."
                        + " Either way, what is missing is in the carrier's list of messages.",
                found);
    }
}
