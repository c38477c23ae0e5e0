package duskpeg.messaging.voice;

/**
 * A call as the carrier tells of it.
 *
 * @param sid the carrier's id of the call
 * @param number the number of the worker's phone, as the carrier gives it
 * @param farmNumber the number of the farm's phone, as the carrier gives it
 * @param incoming whether she called; otherwise she was called back
 * @param over whether it has ended
 */
record Call(String sid, String number, String farmNumber, boolean incoming, boolean over) {}
