package duskpeg.core.report;

import duskpeg.core.act.TextId;
import duskpeg.core.act.Told;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmSettings;
import java.time.Instant;
import java.util.List;

/**
 * What one message says, read and ready to be written down.
 *
 * @param by the worker who sent it
 * @param text the message
 * @param seal the seal of its words
 * @param sent when the worker sent it: what she says of time is said then
 * @param heard when it was understood: the moment the message reached the server, or later where nobody could read it
 *     at first
 * @param lines the statements in it, in order
 */
public record Report(WorkerId by, TextId text, String seal, Instant sent, Instant heard, List<Line> lines) {

    public Report {
        lines = List.copyOf(lines);
    }

    /** A message that was understood at once. */
    public Report(WorkerId by, TextId text, String seal, Instant heard, List<Line> lines) {
        this(by, text, seal, heard, heard, lines);
    }

    /**
     * One statement.
     *
     * @param number its line in the message, from 1
     * @param statement what it says
     * @param when when it was done, as it says
     */
    public record Line(int number, Statement statement, When when) {}

    /** When what that line says was done. */
    public Done done(Line line, FarmSettings settings) {
        return Done.of(line.when(), line.statement(), sent, settings);
    }

    /** Who, when and in which line, for the acts of that line. */
    public Told told(Line line, Done done) {
        return new Told(by, done.at(), heard, text, line.number(), seal);
    }
}
