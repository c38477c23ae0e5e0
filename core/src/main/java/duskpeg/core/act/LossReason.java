package duskpeg.core.act;

/** Why a flower is not used for seed, by the digit that stands for it in texts. */
public enum LossReason implements Worded {
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
}
