package duskpeg.messaging.voice;

import duskpeg.core.farm.FarmId;

/** Calls a phone. */
public interface CallBack {

    /**
     * Places a call that then goes on as if she had called. Whether it was placed is not always known; it must not be
     * tried again.
     *
     * @param farm whose number she sees
     * @param number in E.164 form
     * @throws RuntimeException if it was not placed, or nobody knows
     */
    void call(FarmId farm, String number);
}
