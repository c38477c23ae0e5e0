package duskpeg.core.act;

import java.util.Locale;

/** Why a flower is not used for seed, by the digit that stands for it in texts. */
public enum LossReason {
    /** It was open before anybody opened it: a bee may have been inside. */
    FOUND_OPEN(1),
    /** The flower is torn. */
    TORN(2),
    /** The peg had come off. */
    PEG_OFF(3),
    /** The males for it shed no pollen. */
    NO_POLLEN(4);

    private final int digit;

    LossReason(int digit) {
        this.digit = digit;
    }

    /** The key for it. */
    public int digit() {
        return digit;
    }

    /** The word for it in published data, lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
