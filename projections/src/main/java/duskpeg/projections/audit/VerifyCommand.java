package duskpeg.projections.audit;

import duskpeg.core.audit.Check.Result;
import duskpeg.core.audit.Verifier;
import duskpeg.core.audit.Verifier.Outcome;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.core.ledger.VerifierKey.Kind;
import duskpeg.core.store.StoredEvents;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Checks a bundle on any machine, without a server and without a network. */
public final class VerifyCommand {

    private static final String USAGE = """
            java -jar duskpeg.jar verify BUNDLE.zip [--checkpoint FILE] [--key KEY]... [--witness KEY]...

              --checkpoint   a checkpoint that you kept: shows that nothing before it was changed since
              --key          the farm's key as you were given it: name+id+key, or a file with such lines
              --witness      the key of a witness, likewise: whether he saw the checkpoint
            """;

    private VerifyCommand() {}

    /**
     * Runs it.
     *
     * @param arguments those behind {@code verify}
     * @return 0 if all holds, 1 if something does not, 2 if something can't be read or checked
     */
    public static int run(List<String> arguments, PrintStream out) {
        byte[] bundle = null;
        String kept = null;
        List<VerifierKey> keys = new ArrayList<>();
        List<VerifierKey> witnesses = new ArrayList<>();
        try {
            for (int i = 0; i < arguments.size(); i++) {
                switch (arguments.get(i)) {
                    case "--checkpoint" -> kept = Files.readString(Path.of(value(arguments, ++i)));
                    case "--key" -> keys.addAll(keys(value(arguments, ++i), Kind.NOTE));
                    case "--witness" -> witnesses.addAll(keys(value(arguments, ++i), Kind.COSIGNATURE));
                    default -> {
                        if (bundle != null || arguments.get(i).startsWith("--")) {
                            throw new IllegalArgumentException("not known: " + arguments.get(i));
                        }
                        bundle = Files.readAllBytes(Path.of(arguments.get(i)));
                    }
                }
            }
            if (bundle == null) {
                throw new IllegalArgumentException("no bundle was named");
            }
        } catch (IOException | IllegalArgumentException e) {
            out.println("Can't begin: " + e.getMessage() + "\n\n" + USAGE);
            return 2;
        }
        return print(Verifier.verify(bundle, keys, witnesses, kept, StoredEvents::read), out);
    }

    private static String value(List<String> arguments, int at) {
        if (at >= arguments.size()) {
            throw new IllegalArgumentException("nothing behind " + arguments.get(at - 1));
        }
        return arguments.get(at);
    }

    private static List<VerifierKey> keys(String given, Kind kind) throws IOException {
        boolean isFile = Files.exists(Path.of(given));
        return (isFile ? Files.readAllLines(Path.of(given)) : List.of(given))
                .stream()
                        .filter(line -> !line.isBlank())
                        .map(line -> VerifierKey.parse(line, kind))
                        .toList();
    }

    private static int print(Outcome outcome, PrintStream out) {
        outcome.checks()
                .forEach(check -> out.println(pad(
                                check.result() == Result.FAILS
                                        ? "FAILS"
                                        : check.result().word())
                        + check.sentence()));
        if (!outcome.derived().isEmpty()) {
            out.println();
            out.println("The verdict as it follows from the events, with what each rule found, how near its evidence"
                    + " comes to the fruit, and why:");
            outcome.derived().lines().map(VerifyCommand::withoutIds).forEach(out::println);
        }
        out.println();
        if (outcome.any(Result.FAILS)) {
            out.println("Something does not hold.");
            return 1;
        }
        if (outcome.any(Result.CANNOT)) {
            out.println("Not everything could be checked.");
            return 2;
        }
        out.println("Everything that was checked holds.");
        return 0;
    }

    /** A line of a rule without the events it was read from: they are in the claim, for who looks them up. */
    private static String withoutIds(String line) {
        String[] part = line.split(" ", 5);
        return part.length < 5 ? line : "  " + String.join(" ", part[0], part[1], part[2], part[4]);
    }

    private static String pad(String word) {
        return String.format(Locale.ROOT, "%-8s", word);
    }
}
