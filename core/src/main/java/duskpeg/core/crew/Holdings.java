package duskpeg.core.crew;

import duskpeg.core.crew.CustodyEvent.StripHandedOver;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Who held which ties, and when: the fold of the custody events.
 *
 * @param all every holding there was, in the order in which they were given out
 */
public record Holdings(List<Holding> all) {

    public Holdings {
        all = all.stream()
                .sorted(Comparator.comparingLong(Holding::place)
                        .thenComparing(holding -> holding.ties().first()))
                .toList();
    }

    /**
     * An event and its place in the log.
     *
     * @param place rising with the log
     */
    public record Placed(long place, CustodyEvent event) {}

    /** What these events tell of, in the order of the log; those that were taken back are left out. */
    public static Holdings of(List<Placed> events) {
        List<Holding> holdings = new ArrayList<>();
        for (Placed placed : events) {
            CustodyEvent event = placed.event();
            switch (event.kind()) {
                case ISSUED -> holdings.add(begun(placed, event.worker()));
                case RETURNED, LOST -> end(holdings, event);
                case HANDED_OVER -> {
                    end(holdings, event);
                    holdings.add(begun(placed, ((StripHandedOver) event).to()));
                }
                case CLAIMED, DAMAGED -> {}
            }
        }
        return new Holdings(holdings);
    }

    private static Holding begun(Placed placed, WorkerId worker) {
        return new Holding(
                placed.place(), placed.event().ties(), worker, placed.event().at(), null);
    }

    /** Ends what is held of the event's ties. What comes before them and behind them on a strip stays in its hands. */
    private static void end(List<Holding> holdings, CustodyEvent event) {
        Strip gone = event.ties();
        for (Holding holding : List.copyOf(holdings)) {
            Strip ties = holding.ties();
            if (!holding.isOpen() || !ties.overlaps(gone)) {
                continue;
            }
            holdings.remove(holding);
            Numbering numbering = ties.numbering();
            TieNumber first = later(ties.first(), gone.first());
            TieNumber last = earlier(ties.last(), gone.last());
            if (first.compareTo(ties.first()) > 0) {
                holdings.add(holding.of(ties.upTo(numbering.after(first, -1))));
            }
            holdings.add(holding.of(new Strip(first, last, numbering)).ended(event.kind(), event.at()));
            if (last.compareTo(ties.last()) < 0) {
                holdings.add(holding.of(ties.from(numbering.after(last, 1))));
            }
        }
    }

    private static TieNumber later(TieNumber one, TieNumber other) {
        return one.compareTo(other) < 0 ? other : one;
    }

    private static TieNumber earlier(TieNumber one, TieNumber other) {
        return one.compareTo(other) < 0 ? one : other;
    }

    /**
     * In whose hands a tie was.
     *
     * @param at when; before it was first given out, which is often entered later, it is taken for its first holder's
     * @return empty where it was never given out
     */
    public Optional<Holding> of(TieNumber tie, Instant at) {
        return all.stream()
                .filter(holding -> holding.ties().has(tie))
                .reduce((earlier, later) -> later.since().isAfter(at) ? earlier : later);
    }

    /** How a number must be read: as one of the strip it lies on; plainly where it is on none. */
    public Numbering numberingOf(TieNumber tie) {
        return all.stream()
                .filter(holding -> holding.ties().spans(tie))
                .map(holding -> holding.ties().numbering())
                .reduce((earlier, later) -> later)
                .orElse(Numbering.PLAIN);
    }
}
