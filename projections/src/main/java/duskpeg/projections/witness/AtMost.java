package duskpeg.projections.witness;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.Flow;
import org.jspecify.annotations.Nullable;

/** Reads an answer as a text, and gives up on one that is too long. */
final class AtMost implements HttpResponse.BodySubscriber<String> {

    private final HttpResponse.BodySubscriber<String> text =
            HttpResponse.BodySubscribers.ofString(StandardCharsets.UTF_8);
    private long room;
    private Flow.@Nullable Subscription source;

    /**
     * @param most how many bytes it may have
     */
    AtMost(long most) {
        room = most;
    }

    @Override
    public CompletionStage<String> getBody() {
        return text.getBody();
    }

    @Override
    public void onSubscribe(Flow.Subscription subscription) {
        source = subscription;
        text.onSubscribe(subscription);
    }

    @Override
    public void onNext(List<ByteBuffer> some) {
        for (ByteBuffer one : some) {
            room -= one.remaining();
        }
        if (room >= 0) {
            text.onNext(some);
        } else if (source != null) {
            source.cancel();
            text.onError(new IOException("the answer is too long"));
        }
    }

    @Override
    public void onError(Throwable error) {
        text.onError(error);
    }

    @Override
    public void onComplete() {
        text.onComplete();
    }
}
