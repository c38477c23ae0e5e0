package duskpeg.messaging.text;

import duskpeg.core.act.TextId;
import org.axonframework.common.AxonNonTransientException;

/** The message was heard before; its answer is stored. Trying again would not change that. */
final class AlreadyHeard extends AxonNonTransientException {

    private static final long serialVersionUID = 1L;

    AlreadyHeard(TextId id, Throwable cause) {
        super("heard before: " + id, cause);
    }
}
