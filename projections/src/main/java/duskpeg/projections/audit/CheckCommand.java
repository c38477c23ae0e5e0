package duskpeg.projections.audit;

import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.projections.ledger.LastSeen;
import duskpeg.projections.ledger.Ledger;
import duskpeg.projections.ledger.Ledger.Inspection;
import java.io.PrintStream;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import org.springframework.stereotype.Component;

/** Compares the log with its ledger, for the farm itself: whether anything that lies in the database was changed. */
@Component
public class CheckCommand {

    private final Index index;
    private final Ledger ledger;
    private final LastSeen seen;

    CheckCommand(Index index, Ledger ledger, LastSeen seen) {
        this.index = index;
        this.ledger = ledger;
        this.seen = seen;
    }

    /**
     * Runs it; the ledger must have caught up with the log.
     *
     * @return 0 if all holds, 1 if something does not
     */
    public int run(PrintStream out) {
        return run(ledger::keys, out);
    }

    /**
     * Runs it, where the keys of this server may be others than those that signed.
     *
     * @param keys those that sign for a farm
     * @return as {@link #run(PrintStream)}
     */
    public int run(Function<FarmId, List<VerifierKey>> keys, PrintStream out) {
        boolean whole = true;
        for (FarmId farm : index.farms()) {
            Inspection found = ledger.inspect(farm, keys.apply(farm));
            whole &= found.isWhole();
            out.println(farm + ": " + found.leaves() + " events in the ledger, " + found.checkpoints()
                    + " signed checkpoints");
            say(
                    out,
                    found.changed().isEmpty(),
                    "every event is as it was",
                    "events were changed or are gone: " + found.changed());
            say(out, found.outside() == 0, "no event is outside the ledger", found.outside() + " events are not in it");
            say(out, found.tree(), "the tree is that of the events", "the tree is not that of the events");
            say(
                    out,
                    found.broken().isEmpty(),
                    "every signed checkpoint fits",
                    "checkpoints do not fit, by size: " + found.broken());
            if (found.ofOtherKeys() > 0) {
                out.println("  note   " + found.ofOtherKeys()
                        + " checkpoints are signed with none of the keys in use: right only if keys were changed");
            }
        }
        Optional<String> older = seen.contradiction();
        say(out, older.isEmpty(), "the log goes on from what this server last saw of it", older.orElse(""));
        return whole && older.isEmpty() ? 0 : 1;
    }

    private static void say(PrintStream out, boolean holds, String good, String bad) {
        out.println(holds ? "  holds  " + good : "  FAILS  " + bad);
    }
}
