package duskpeg.messaging.voice;

/**
 * What was keyed.
 *
 * @param digits without the key that ended them
 * @param ended whether it was ended by #, and not by waiting
 */
record Keys(String digits, boolean ended) {

    /** As it would be texted: the star stands for a space. */
    String words() {
        return digits.replace('*', ' ').strip();
    }
}
