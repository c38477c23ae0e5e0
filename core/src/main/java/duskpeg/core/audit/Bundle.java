package duskpeg.core.audit;

import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.VerifierKey;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Base64;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;

/** The files of an audit bundle, written and read; {@code docs/audit.md} describes them byte by byte. */
public final class Bundle {

    static final String SEAL = "bundle.txt";
    static final String KEY = "key.txt";
    static final String CHECKPOINT = "checkpoint.txt";
    static final String EARLIER = "earlier/";
    static final String CONSISTENCY = "consistency.txt";
    static final String EVENTS = "events.jsonl";
    static final String PROOFS = "proofs.txt";
    static final String CLAIM = "claim.txt";

    private static final String HEAD = "duskpeg audit bundle 1";
    private static final String TEXT = ".txt";

    private Bundle() {}

    /**
     * The files, but for the seal.
     *
     * @param words files that explain: they prove nothing, and come first
     * @param keys who signs
     * @param checkpoint the signed checkpoint that everything is proved against
     * @param earlier signed checkpoints before it
     * @param consistency for the size of each of them, and of any other tree, the proof that it is the beginning
     * @param events an {@link #event} for each, in the order of the tree
     * @param proofs a {@link #proof} for each, in the same order
     * @param claim what {@link Extract#claim} says
     */
    public static Map<String, Part> files(
            Map<String, String> words,
            List<VerifierKey> keys,
            Note checkpoint,
            List<Note> earlier,
            SortedMap<Long, List<Hash>> consistency,
            Part events,
            Part proofs,
            String claim) {
        Map<String, Part> files = new LinkedHashMap<>();
        words.forEach((name, text) -> files.put(name, text(text)));
        files.put(CLAIM, text(claim));
        files.put(EVENTS, events);
        files.put(PROOFS, proofs);
        files.put(CHECKPOINT, text(checkpoint.toString()));
        files.put(
                CONSISTENCY,
                text(consistency.entrySet().stream()
                        .map(one -> numbered(one.getKey(), one.getValue()))
                        .collect(Collectors.joining())));
        earlier.forEach(
                note -> files.put(EARLIER + Checkpoint.parse(note.text()).size() + TEXT, text(note.toString())));
        files.put(KEY, text(keys.stream().map(key -> key + "\n").collect(Collectors.joining())));
        return files;
    }

    /** The line of an event. */
    public static byte[] event(Proved event) {
        return bytes(event.text() + "\n");
    }

    /** The line of its proof. */
    public static byte[] proof(Proved event) {
        return bytes(numbered(event.leaf(), event.proof()));
    }

    private static String numbered(long number, List<Hash> proof) {
        return number + proof.stream().map(hash -> " " + hash.base64()).collect(Collectors.joining()) + "\n";
    }

    /**
     * What is signed of a bundle: which log and how much of it, and the SHA-256 of each file. It can't be taken for a
     * checkpoint, whose second line is a number.
     */
    public static String seal(Checkpoint checkpoint, Map<String, Part> files) {
        StringBuilder seal = new StringBuilder(HEAD + "\n" + checkpoint.origin() + "\n" + checkpoint.size() + "\n");
        files.forEach((name, file) -> {
            if (!name.equals(SEAL)) {
                seal.append(file.sha256()).append(' ').append(name).append('\n');
            }
        });
        return seal.toString();
    }

    /** The files with their seal, which comes last. */
    public static Map<String, Part> sealed(Map<String, Part> files, Note seal) {
        Map<String, Part> all = new LinkedHashMap<>(files);
        all.put(SEAL, text(seal.toString()));
        return all;
    }

    private static Part text(String text) {
        return Part.of(bytes(text));
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    /** The lines of a file, each without the line feed that must end it. */
    static List<String> lines(String text) {
        if (!text.isEmpty() && !text.endsWith("\n")) {
            throw new IllegalArgumentException("its last line has no end");
        }
        List<String> lines = new ArrayList<>(List.of(text.split("\n", -1)));
        lines.remove(lines.size() - 1);
        return lines;
    }

    /** A line of a number and hashes. */
    record Numbered(long number, List<Hash> hashes) {

        static Numbered parse(String line) {
            List<String> part = List.of(line.split(" ", -1));
            if (!part.get(0).matches("0|[1-9][0-9]{0,17}")) {
                throw new IllegalArgumentException("not a number: " + part.get(0));
            }
            return new Numbered(
                    Long.parseLong(part.get(0)),
                    part.subList(1, part.size()).stream().map(Numbered::hash).toList());
        }

        private static Hash hash(String base64) {
            Hash hash = Hash.of(Base64.getDecoder().decode(base64));
            if (!hash.base64().equals(base64)) {
                throw new IllegalArgumentException("not plain Base64: " + base64);
            }
            return hash;
        }
    }

    /** Reads {@link #CONSISTENCY}. */
    static SortedMap<Long, List<Hash>> consistency(String text) {
        SortedMap<Long, List<Hash>> proofs = new TreeMap<>();
        lines(text).stream().map(Numbered::parse).forEach(line -> proofs.put(line.number(), line.hashes()));
        return proofs;
    }

    /** Reads {@link #EVENTS} and {@link #PROOFS}. */
    static List<Proved> events(String events, String proofs) {
        List<String> leaves = lines(events);
        List<Numbered> numbered = lines(proofs).stream().map(Numbered::parse).toList();
        if (leaves.size() != numbered.size()) {
            throw new IllegalArgumentException(leaves.size() + " events have " + numbered.size() + " proofs");
        }
        List<Proved> proved = new ArrayList<>();
        for (int i = 0; i < leaves.size(); i++) {
            proved.add(new Proved(
                    numbered.get(i).number(), leaves.get(i), numbered.get(i).hashes()));
        }
        return proved;
    }
}
