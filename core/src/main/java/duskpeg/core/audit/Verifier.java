package duskpeg.core.audit;

import duskpeg.core.act.Subject;
import duskpeg.core.audit.Check.Result;
import duskpeg.core.audit.Check.What;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Cosignature;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.Proofs;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.core.lot.LotId;
import duskpeg.core.purity.Rules;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Checks a bundle. It asks nobody and believes nothing but the key, and that only if it was given from elsewhere.
 * Whatever is wrong with a bundle becomes a {@link Check}; nothing is thrown for it.
 */
public final class Verifier {

    /** What was copied off a text message has no signature: origin, size and root, and nothing else. */
    private static final int LINES_OF_A_CHECKPOINT = 3;

    private final Logged.Reader reader;
    private final List<Check> checks = new ArrayList<>();

    private Verifier(Logged.Reader reader) {
        this.reader = reader;
    }

    /**
     * What was found.
     *
     * @param checks in the order in which things were looked at
     * @param derived the verdicts as they follow from the events, in the form of the claim; empty where none do
     */
    public record Outcome(List<Check> checks, String derived) {

        public Outcome {
            checks = List.copyOf(checks);
        }

        /** Whether anything came of a check so. */
        public boolean any(Result result) {
            return checks.stream().anyMatch(check -> check.result() == result);
        }
    }

    /**
     * Checks a bundle.
     *
     * @param container the bundle as one file
     * @param given the keys that the auditor has from elsewhere; where there are none, the bundle's own are taken
     * @param witnesses the keys of witnesses of whom she wants to know whether they saw the checkpoint
     * @param kept a checkpoint that she kept; null without one
     * @param reader reads leaves
     */
    public static Outcome verify(
            byte[] container,
            List<VerifierKey> given,
            List<VerifierKey> witnesses,
            @Nullable String kept,
            Logged.Reader reader) {
        Verifier verifier = new Verifier(reader);
        String derived;
        try {
            derived = verifier.files(container, given, witnesses, kept);
        } catch (IllegalArgumentException e) {
            verifier.say(What.CONTAINER, Result.CANNOT, "The file can't be read: " + e.getMessage() + ".");
            derived = "";
        }
        return new Outcome(verifier.checks, derived);
    }

    private void say(What what, Result result, String sentence) {
        checks.add(new Check(what, result, sentence));
    }

    /** A part that is looked at. */
    @FunctionalInterface
    private interface Look<T> {
        T look();
    }

    /** Looks; what can't even be read does not hold. */
    private <T> Optional<T> look(What what, String part, Look<T> look) {
        try {
            return Optional.of(look.look());
        } catch (RuntimeException e) {
            // Made by others, perhaps to make this program stumble: whatever it stumbles over is their doing.
            say(what, Result.FAILS, part + " can't be read: " + e.getMessage() + ".");
            return Optional.empty();
        }
    }

    private String files(
            byte[] container, List<VerifierKey> given, List<VerifierKey> witnesses, @Nullable String kept) {
        Map<String, byte[]> files = Container.read(container);
        boolean plain = Arrays.equals(Container.write(files), container);
        say(
                What.CONTAINER,
                plain ? Result.HOLDS : Result.FAILS,
                plain
                        ? "The file is written as bundles are: " + files.size() + " files in it."
                        : "The file is not written as bundles are: it was packed anew or changed.");
        List<VerifierKey> keys =
                look(What.KEY, "The key", () -> keys(files, given)).orElse(List.of());
        look(What.SEAL, "The seal", () -> seal(files, keys));
        Optional<Checkpoint> checkpoint =
                look(What.CHECKPOINT, "The checkpoint", () -> checkpoint(text(files, Bundle.CHECKPOINT), keys));
        if (checkpoint.isEmpty()) {
            return "";
        }
        Checkpoint newest = checkpoint.get();
        witnesses.forEach(witness -> look(
                What.WITNESSED,
                "The word of a witness",
                () -> witnessed(Note.parse(text(files, Bundle.CHECKPOINT)), witness)));
        look(What.EARLIER, "An earlier checkpoint or its proof", () -> earlier(files, keys, newest));
        if (kept != null) {
            look(What.KEPT, "Your checkpoint or the proof for it", () -> kept(kept, files, keys, newest));
        }
        Optional<Extract> extract = look(What.EVENTS, "An event or its proof", () -> events(files, newest));
        return extract.flatMap(log -> look(
                        What.VERDICT, "The claim or an event", () -> verdict(text(files, Bundle.CLAIM), log, newest)))
                .orElse("");
    }

    private static String text(Map<String, byte[]> files, String name) {
        byte[] content = files.get(name);
        if (content == null) {
            throw new IllegalArgumentException(name + " is not in the bundle");
        }
        String text = new String(content, StandardCharsets.UTF_8);
        if (!Arrays.equals(text.getBytes(StandardCharsets.UTF_8), content)) {
            throw new IllegalArgumentException(name + " is not in UTF-8");
        }
        return text;
    }

    private List<VerifierKey> keys(Map<String, byte[]> files, List<VerifierKey> given) {
        if (!given.isEmpty()) {
            say(What.KEY, Result.HOLDS, "The key is the one you gave.");
            return given;
        }
        List<VerifierKey> keys = Bundle.lines(text(files, Bundle.KEY)).stream()
                .map(VerifierKey::parse)
                .toList();
        say(
                What.KEY,
                Result.NOTE,
                "The key is the bundle's own. Compare it with one you were given elsewhere: "
                        + keys.stream().map(VerifierKey::toString).collect(Collectors.joining(" and ")));
        return keys;
    }

    private static boolean signed(Note note, List<VerifierKey> keys) {
        return keys.stream().anyMatch(note::isSignedBy);
    }

    private boolean seal(Map<String, byte[]> files, List<VerifierKey> keys) {
        Note seal = Note.parse(text(files, Bundle.SEAL));
        if (!signed(seal, keys)) {
            say(What.SEAL, Result.FAILS, "The list of the files is not signed with the key.");
            return false;
        }
        Checkpoint checkpoint =
                Checkpoint.parse(Note.parse(text(files, Bundle.CHECKPOINT)).text());
        List<String> is = Bundle.lines(Bundle.seal(checkpoint, Part.of(files)));
        List<String> mustBe = Bundle.lines(seal.text());
        if (is.equals(mustBe)) {
            say(What.SEAL, Result.HOLDS, "Every file is as it was when the farm signed the list of them.");
            return true;
        }
        Set<String> other = new HashSet<>(mustBe);
        is.stream().filter(line -> !other.remove(line)).forEach(other::add);
        say(
                What.SEAL,
                Result.FAILS,
                "Files are not as they were signed: "
                        + other.stream()
                                .map(line -> line.substring(line.indexOf(' ') + 1))
                                .distinct()
                                .sorted()
                                .collect(Collectors.joining(", ", "", ".")));
        return false;
    }

    private boolean witnessed(Note note, VerifierKey witness) {
        if (!note.names(witness)) {
            say(What.WITNESSED, Result.CANNOT, "The checkpoint has no word of " + witness.name() + ".");
            return false;
        }
        boolean saw = note.isSignedBy(witness);
        say(
                What.WITNESSED,
                saw ? Result.HOLDS : Result.FAILS,
                saw
                        ? witness.name() + " saw the checkpoint at "
                                + note.by(witness).stream()
                                        .map(Cosignature::madeAt)
                                        .min(Comparator.naturalOrder())
                                        .orElseThrow()
                                + " by his clock, and that the log went on from all he had seen of it."
                        : "What is said to be the word of " + witness.name() + " is not.");
        return saw;
    }

    private Checkpoint checkpoint(String text, List<VerifierKey> keys) {
        Note note = Note.parse(text);
        Checkpoint checkpoint = Checkpoint.parse(note.text());
        boolean ofLog =
                keys.stream().anyMatch(key -> note.isSignedBy(key) && key.name().equals(checkpoint.origin()));
        say(
                What.CHECKPOINT,
                ofLog ? Result.HOLDS : Result.FAILS,
                ofLog
                        ? "The checkpoint is signed: " + checkpoint.origin() + ", " + checkpoint.size() + " events."
                        : "The checkpoint is not signed with the key of the log that it names.");
        return checkpoint;
    }

    private boolean earlier(Map<String, byte[]> files, List<VerifierKey> keys, Checkpoint newest) {
        SortedMap<Long, List<Hash>> proofs = Bundle.consistency(text(files, Bundle.CONSISTENCY));
        List<String> names = files.keySet().stream()
                .filter(name -> name.startsWith(Bundle.EARLIER))
                .toList();
        for (String name : names) {
            Note note = Note.parse(text(files, name));
            Checkpoint then = Checkpoint.parse(note.text());
            List<Hash> proof = proofs.get(then.size());
            if (!signed(note, keys) || proof == null || !continues(then, newest, proof)) {
                say(
                        What.EARLIER,
                        Result.FAILS,
                        "The earlier checkpoint of " + then.size()
                                + " events is not signed, or the log was changed after it.");
                return false;
            }
        }
        say(
                What.EARLIER,
                Result.HOLDS,
                names.size() + " earlier checkpoints are signed, and the log of each is the beginning of this one.");
        return true;
    }

    private static boolean continues(Checkpoint then, Checkpoint now, List<Hash> proof) {
        return then.origin().equals(now.origin())
                && Proofs.consistent(then.size(), then.root(), now.size(), now.root(), proof);
    }

    private boolean kept(String text, Map<String, byte[]> files, List<VerifierKey> keys, Checkpoint newest) {
        boolean isCopied = text.strip().lines().count() == LINES_OF_A_CHECKPOINT;
        Note note = isCopied ? null : Note.parse(text);
        Checkpoint then = Checkpoint.parse(note == null ? text.strip() + "\n" : note.text());
        if (note != null && !signed(note, keys)) {
            say(What.KEPT, Result.FAILS, "Your checkpoint is not signed with the key.");
            return false;
        }
        if (then.size() > newest.size()) {
            say(
                    What.KEPT,
                    Result.CANNOT,
                    "Your checkpoint, of " + then.size() + " events, is newer than the bundle, of " + newest.size()
                            + ". Ask for a newer bundle.");
            return false;
        }
        SortedMap<Long, List<Hash>> proofs = Bundle.consistency(text(files, Bundle.CONSISTENCY));
        List<Hash> proof = then.size() == newest.size() ? List.of() : proofs.get(then.size());
        if (proof == null) {
            say(
                    What.KEPT,
                    Result.CANNOT,
                    "The bundle has no proof from your checkpoint. Ask for it with since=" + then.size() + ".");
            return false;
        }
        boolean continues = continues(then, newest, proof);
        say(
                What.KEPT,
                continues ? Result.HOLDS : Result.FAILS,
                continues
                        ? "The log of your checkpoint, of " + then.size()
                                + " events, is the beginning of this one: nothing in it was changed since."
                                + (isCopied ? " It has no signature: it shows as much as you trust your copy." : "")
                        : "The log was changed since your checkpoint, or it is of another log.");
        return continues;
    }

    private Extract events(Map<String, byte[]> files, Checkpoint newest) {
        List<Proved> events = Bundle.events(text(files, Bundle.EVENTS), text(files, Bundle.PROOFS));
        List<Logged> logged = new ArrayList<>();
        Set<Long> leaves = new HashSet<>();
        List<Long> wrong = new ArrayList<>();
        for (Proved event : events) {
            Hash leaf = Hash.ofLeaf(event.text().getBytes(StandardCharsets.UTF_8));
            if (!leaves.add(event.leaf())
                    || !Proofs.includes(leaf, event.leaf(), newest.size(), event.proof(), newest.root())) {
                wrong.add(event.leaf());
            }
            logged.add(reader.read(event.leaf(), event.text()));
        }
        say(
                What.EVENTS,
                wrong.isEmpty() ? Result.HOLDS : Result.FAILS,
                wrong.isEmpty()
                        ? "Each of the " + events.size() + " events is in the log, to the byte."
                        : "Events are not in the log as they are given here: leaves " + wrong + ".");
        return new Extract(logged);
    }

    private String verdict(String claim, Extract log, Checkpoint newest) {
        List<String> lines = Bundle.lines(claim);
        String version = lines.isEmpty() ? "" : lines.get(0).replaceFirst("^rules ", "");
        List<FruitId> fruit = lines.stream()
                .filter(line -> line.startsWith("fruit "))
                .map(line -> (FruitId) Subject.parse(line.split(" ", -1)[1]))
                .toList();
        if (fruit.isEmpty()) {
            throw new IllegalArgumentException("it names no fruit");
        }
        Optional<LotId> lot = lines.stream()
                .filter(line -> line.startsWith("lot "))
                .map(line -> (LotId) Subject.parse(line.substring("lot ".length())))
                .findFirst();
        complete(lot, fruit, log, newest);
        Optional<Rules> rules = Rules.of(version);
        if (rules.isEmpty()) {
            say(What.VERDICT, Result.CANNOT, "This program does not know the rules " + version + ".");
            return "";
        }
        String derived = lot.map(one -> log.claim(one, rules.get())).orElseGet(() -> log.claim(fruit, rules.get()));
        boolean same = derived.equals(claim);
        say(
                What.VERDICT,
                same ? Result.HOLDS : Result.FAILS,
                (same
                                ? "What is claimed follows from the events: "
                                : "What is claimed does not follow from the events, which give: ")
                        + Bundle.lines(derived).stream()
                                .filter(line -> line.startsWith("fruit "))
                                .map(line -> line.substring("fruit ".length()))
                                .collect(Collectors.joining(", "))
                        + ", by rules " + version
                        + lot.map(one -> "; these are all the fruit of " + one + ", as was entered")
                                .orElse("") + ".");
        return derived;
    }

    private void complete(Optional<LotId> lot, List<FruitId> fruit, Extract log, Checkpoint newest) {
        Set<String> streams =
                fruit.stream().flatMap(id -> log.streams(id).stream()).collect(Collectors.toSet());
        lot.ifPresent(one -> streams.addAll(log.streams(one)));
        boolean whole = log.events().size() == newest.size();
        List<String> wrong = new ArrayList<>(streams.stream()
                .sorted()
                .map(log::gap)
                .flatMap(Optional::stream)
                .toList());
        log.events().stream()
                .filter(logged ->
                        !logged.stream().equals(logged.event().subject().toString())
                                || !newest.origin()
                                        .endsWith("/" + logged.event().subject().farm()))
                .forEach(logged -> wrong.add("leaf " + logged.leaf() + " is not of the stream or the farm it says"));
        Set<String> own = fruit.stream().map(FruitId::toString).collect(Collectors.toSet());
        streams.stream()
                .filter(stream -> !own.contains(stream) && !log.has(stream))
                .sorted()
                .forEach(stream -> wrong.add("there is nothing of " + stream));
        if (!wrong.isEmpty()) {
            say(What.COMPLETE, Result.FAILS, "Events were left out: " + String.join("; ", wrong) + ".");
        } else if (whole) {
            say(What.COMPLETE, Result.HOLDS, "All events of the log are here, so none was left out.");
        } else {
            say(
                    What.COMPLETE,
                    Result.HOLDS,
                    "No event is missing before the last one given of each of the " + streams.size()
                            + " streams that the verdict rests on.");
            say(
                    What.COMPLETE,
                    Result.NOTE,
                    "Not shown: that these streams have no later event, and that no other stream tells of the fruit."
                            + " A bundle with whole=true shows it.");
        }
    }
}
