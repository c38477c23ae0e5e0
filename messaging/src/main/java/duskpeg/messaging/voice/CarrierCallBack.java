package duskpeg.messaging.voice;

import com.twilio.http.TwilioRestClient;
import com.twilio.rest.api.v2010.account.Call;
import com.twilio.type.PhoneNumber;
import duskpeg.core.farm.FarmId;
import java.net.URI;
import java.util.function.Function;

/** Calls through the carrier, which then asks this server what to say as for any call. */
final class CarrierCallBack implements CallBack {

    /** A phone that is not taken up in so many seconds is not waited for: a mailbox would be spoken to. */
    private static final int RING_SECONDS = 25;

    private final TwilioRestClient carrier;
    private final Function<FarmId, String> farmNumbers;
    private final URI address;

    /**
     * @param farmNumbers the number she sees, of each farm, in E.164 form
     * @param publicUrl the address the carrier calls, up to the path
     */
    CarrierCallBack(TwilioRestClient carrier, Function<FarmId, String> farmNumbers, String publicUrl) {
        this.carrier = carrier;
        this.farmNumbers = farmNumbers;
        this.address = URI.create(publicUrl + VoiceController.PATH);
    }

    @Override
    public void call(FarmId farm, String number) {
        Call.creator(new PhoneNumber(number), new PhoneNumber(farmNumbers.apply(farm)), address)
                .setTimeout(RING_SECONDS)
                .create(carrier);
    }
}
