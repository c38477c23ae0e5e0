package duskpeg.core.ledger;

import java.time.Instant;
import java.util.Arrays;

/**
 * A witness's word that, at a time, the largest tree he had seen of a log was that of the checkpoint, and that it went
 * on from every earlier one he had seen (C2SP tlog-cosignature, Ed25519).
 */
public final class Cosignature {

    private static final int TIME_SIZE = Long.BYTES;

    private Cosignature() {}

    /**
     * Makes one.
     *
     * @param checkpoint the text of the checkpoint's note, with all its lines
     * @param at when, of which whole seconds count; not before 1970
     * @param witness his key
     * @throws IllegalArgumentException if the time is earlier, or the key is none that cosigns
     */
    public static Note.Signature make(String checkpoint, Instant at, SignerKey witness) {
        long seconds = at.getEpochSecond();
        if (seconds < 0 || witness.verifier().kind() != VerifierKey.Kind.COSIGNATURE) {
            throw new IllegalArgumentException("no cosignature of " + witness + " at " + at);
        }
        byte[] made = witness.sign(message(checkpoint, seconds));
        byte[] proper = new byte[TIME_SIZE + made.length];
        for (int i = 0; i < TIME_SIZE; i++) {
            proper[i] = (byte) (seconds >>> (Byte.SIZE * (TIME_SIZE - 1 - i)));
        }
        System.arraycopy(made, 0, proper, TIME_SIZE, made.length);
        return Note.Signature.of(witness.verifier(), proper);
    }

    /** Whether the key made it, of the checkpoint with that text. */
    static boolean isOf(VerifierKey key, String checkpoint, byte[] proper) {
        if (proper.length < TIME_SIZE) {
            return false;
        }
        long seconds = seconds(proper);
        byte[] made = Arrays.copyOfRange(proper, TIME_SIZE, proper.length);
        // As a signed number it is below 0 from 2^63 on, which is more than the standard allows.
        return seconds >= 0 && key.made(made, message(checkpoint, seconds));
    }

    /**
     * When it was made, by the witness's clock.
     *
     * @throws IllegalArgumentException if it is too short to say so
     */
    public static Instant madeAt(Note.Signature cosignature) {
        byte[] proper = cosignature.proper();
        if (proper.length < TIME_SIZE) {
            throw new IllegalArgumentException("not a cosignature");
        }
        return Instant.ofEpochSecond(seconds(proper));
    }

    private static long seconds(byte[] proper) {
        long seconds = 0;
        for (int i = 0; i < TIME_SIZE; i++) {
            seconds = (seconds << Byte.SIZE) | Byte.toUnsignedLong(proper[i]);
        }
        return seconds;
    }

    private static String message(String checkpoint, long seconds) {
        return "cosignature/v1\ntime " + seconds + "\n" + checkpoint;
    }
}
