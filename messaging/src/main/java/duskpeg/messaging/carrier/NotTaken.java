package duskpeg.messaging.carrier;

import com.twilio.exception.ApiException;
import java.time.Duration;
import org.jspecify.annotations.Nullable;

/** The carrier's server answered, and not with success. */
final class NotTaken extends ApiException {

    private static final long serialVersionUID = 1L;

    private final int status;
    private final @Nullable Duration retryAfter;

    /**
     * @param status the HTTP status
     * @param code the carrier's own code, if it gave one
     * @param retryAfter how long it asked to wait
     */
    NotTaken(int status, @Nullable Integer code, @Nullable Duration retryAfter) {
        super("status " + status + ", code " + code, code, null, status, status, null, null, null);
        this.status = status;
        this.retryAfter = retryAfter;
    }

    int status() {
        return status;
    }

    @Nullable
    Duration retryAfter() {
        return retryAfter;
    }
}
