package duskpeg.projections.board;

import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.LongAdder;
import org.springframework.stereotype.Component;

/** How many watch live boards of this server, and how much they were sent. */
@Component
public class Audience {

    private final AtomicInteger viewers = new AtomicInteger();
    private final LongAdder pushes = new LongAdder();

    void joined() {
        viewers.incrementAndGet();
    }

    void left() {
        viewers.decrementAndGet();
    }

    void pushed() {
        pushes.increment();
    }

    /** Who watches now; one that went away is counted until the next look at his board. */
    public int viewers() {
        return viewers.get();
    }

    /** How many snapshots and changes were sent, to all viewers together. */
    public long pushes() {
        return pushes.sum();
    }
}
