package duskpeg.core.ledger;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Base64;
import java.util.List;
import java.util.stream.Stream;

/**
 * A text with signatures under it (C2SP signed-note).
 *
 * @param text the text that is signed; ends with a line feed and has no other control character
 * @param signatures the signatures, at least one
 */
public record Note(String text, List<Signature> signatures) {

    /** More lines than any honest note has. */
    private static final int MOST_SIGNATURES = 100;

    private static final String DASH = "\u2014 ";

    /**
     * A signature line.
     *
     * @param name who signed, as the line says
     * @param base64 the key's id and the signature proper, in plain Base64
     */
    public record Signature(String name, String base64) {

        /**
         * @throws IllegalArgumentException if it has no place for both, or a second spelling
         */
        public Signature {
            byte[] bytes = Base64.getDecoder().decode(base64);
            if (bytes.length <= VerifierKey.ID_SIZE
                    || !Base64.getEncoder().encodeToString(bytes).equals(base64)) {
                throw new IllegalArgumentException("not a signature: " + base64);
            }
        }

        /** The line in which a key says what it made. */
        static Signature of(VerifierKey key, byte[] proper) {
            byte[] bytes = Arrays.copyOf(key.id(), VerifierKey.ID_SIZE + proper.length);
            System.arraycopy(proper, 0, bytes, VerifierKey.ID_SIZE, proper.length);
            return new Signature(key.name(), Base64.getEncoder().encodeToString(bytes));
        }

        private byte[] bytes() {
            return Base64.getDecoder().decode(base64);
        }

        byte[] id() {
            return Arrays.copyOf(bytes(), VerifierKey.ID_SIZE);
        }

        byte[] proper() {
            byte[] bytes = bytes();
            return Arrays.copyOfRange(bytes, VerifierKey.ID_SIZE, bytes.length);
        }

        @Override
        public String toString() {
            return DASH + name + " " + base64;
        }
    }

    /**
     * @throws IllegalArgumentException if the text or the number of signatures is none that a note can have
     */
    public Note {
        if (!text.endsWith("\n") || text.codePoints().anyMatch(c -> c != '\n' && (c < ' ' || c == 0xFFFD))) {
            throw new IllegalArgumentException("not the text of a note");
        }
        signatures = List.copyOf(signatures);
        if (signatures.isEmpty() || signatures.size() > MOST_SIGNATURES) {
            throw new IllegalArgumentException("a note with " + signatures.size() + " signatures");
        }
    }

    /** Signs a text. */
    public static Note sign(String text, SignerKey key) {
        return new Note(text, List.of(signature(text, key)));
    }

    /** This note with one more signature. */
    public Note signedBy(SignerKey key) {
        return with(List.of(signature(text, key)));
    }

    /** This note with more signatures. */
    public Note with(List<Signature> more) {
        List<Signature> all = new ArrayList<>(signatures);
        all.addAll(more);
        return new Note(text, all);
    }

    private static Signature signature(String text, SignerKey key) {
        if (key.verifier().kind() != VerifierKey.Kind.NOTE) {
            throw new IllegalArgumentException("not a key that signs notes: " + key);
        }
        return Signature.of(key.verifier(), key.sign(text));
    }

    /**
     * Reads a note; whether its signatures are right is another question: {@link #isSignedBy}.
     *
     * @throws IllegalArgumentException if it is no note
     */
    public static Note parse(String note) {
        int gap = note.lastIndexOf("\n\n");
        if (gap < 0 || !note.endsWith("\n")) {
            throw new IllegalArgumentException("a note without signatures");
        }
        String lines = note.substring(gap + 2);
        return new Note(note.substring(0, gap + 1), lines.isEmpty() ? List.of() : signatures(lines));
    }

    /**
     * Reads signature lines alone, as a witness answers.
     *
     * @throws IllegalArgumentException if they are none, or one does not end
     */
    public static List<Signature> signatures(String lines) {
        if (!lines.endsWith("\n")) {
            throw new IllegalArgumentException("not signature lines");
        }
        List<Signature> signatures = new ArrayList<>();
        for (String line : lines.substring(0, lines.length() - 1).split("\n", MOST_SIGNATURES + 1)) {
            signatures.add(signature(line));
        }
        return signatures;
    }

    private static Signature signature(String line) {
        String[] part = line.startsWith(DASH) ? line.substring(DASH.length()).split(" ", -1) : new String[0];
        if (part.length != 2 || part[0].isEmpty() || part[0].contains("+")) {
            throw new IllegalArgumentException("not a signature line: " + line);
        }
        return new Signature(part[0], part[1]);
    }

    /**
     * Whether that key signed it. Lines of other keys are passed over, as the standard wants; a line that says it is of
     * this key and is not makes the answer no.
     */
    public boolean isSignedBy(VerifierKey key) {
        return names(key) && linesOf(key).allMatch(line -> key.signed(text, line.proper()));
    }

    /** Whether a line says that it is of that key, be it right or wrong. */
    public boolean names(VerifierKey key) {
        return linesOf(key).findAny().isPresent();
    }

    /** The lines of that key, if it signed it, and none otherwise. */
    public List<Signature> by(VerifierKey key) {
        return isSignedBy(key) ? linesOf(key).toList() : List.of();
    }

    private Stream<Signature> linesOf(VerifierKey key) {
        return signatures.stream().filter(line -> line.name().equals(key.name()) && Arrays.equals(line.id(), key.id()));
    }

    /** The whole note. */
    @Override
    public String toString() {
        StringBuilder note = new StringBuilder(text).append('\n');
        signatures.forEach(line -> note.append(line).append('\n'));
        return note.toString();
    }
}
