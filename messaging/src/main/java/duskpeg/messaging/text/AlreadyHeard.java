package duskpeg.messaging.text;

import duskpeg.core.act.TextId;
import org.axonframework.common.AxonNonTransientException;
import org.jspecify.annotations.Nullable;

/** The message was heard before; its answer is stored. Trying again would not change that. */
public final class AlreadyHeard extends AxonNonTransientException {

    private static final long serialVersionUID = 1L;

    AlreadyHeard(TextId id, @Nullable Throwable cause) {
        super("heard before: " + id, cause);
    }
}
