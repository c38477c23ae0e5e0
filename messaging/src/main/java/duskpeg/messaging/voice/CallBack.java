package duskpeg.messaging.voice;

/** Calls a phone. */
public interface CallBack {

    /**
     * Places a call that then goes on as if she had called. Whether it was placed is not always known; it must not be
     * tried again.
     *
     * @param number in E.164 form
     * @throws RuntimeException if it was not placed, or nobody knows
     */
    void call(String number);
}
