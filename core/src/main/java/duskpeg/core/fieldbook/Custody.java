package duskpeg.core.fieldbook;

import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Entered;
import duskpeg.core.crew.Handled;
import duskpeg.core.crew.Handling;
import duskpeg.core.crew.Holding;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.StripInHand;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.TieNumber;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** Finds which ties a {@link Handling} is about, and writes down what became of them. */
final class Custody {

    private final Index index;
    private final Consumer<CustodyEvent> log;

    Custody(Index index, Consumer<CustodyEvent> log) {
        this.index = index;
        this.log = log;
    }

    /** Whose hands it changes. */
    static Stream<WorkerId> hands(Handling handling) {
        return handling instanceof Handling.HandOver over
                ? Stream.of(over.worker(), over.to())
                : Stream.of(handling.worker());
    }

    /** Whose hands it changed, and taking it back changes again. */
    static Stream<WorkerId> hands(CustodyEvent event) {
        return event instanceof CustodyEvent.StripHandedOver over
                ? Stream.of(over.worker(), over.to())
                : Stream.of(event.worker());
    }

    /**
     * Takes the locks that a change of these hands needs: the farm's custody first, then the strips of each worker, so
     * that neither another change of custody nor a report that takes ties comes between.
     */
    void hold(Stream<WorkerId> hands) {
        List<WorkerId> inOrder = hands.distinct()
                .sorted(Comparator.comparing(WorkerId::toString))
                .toList();
        inOrder.stream().map(WorkerId::farm).distinct().forEach(index.strips()::hold);
        inOrder.forEach(index.strips()::hold);
    }

    Handled handle(Handling handling, Entered entered, Instant at) {
        if (handling instanceof Handling.Issue issue) {
            return issue(issue, entered, at);
        }
        if (handling instanceof Handling.Damage damage) {
            return done(
                    damage.worker(),
                    damage.ties().stream()
                            .<CustodyEvent>map(tie -> new CustodyEvent.TieDamaged(damage.worker(), tie, at, entered))
                            .toList());
        }
        List<Strip> left = left(handling.worker(), from(handling));
        if (left.isEmpty()) {
            return new Handled.NothingInHand();
        }
        if (left.size() > 1) {
            return new Handled.WhichStrip(left);
        }
        if (handling instanceof Handling.HandOver over) {
            return done(
                    over.to(),
                    List.of(new CustodyEvent.StripHandedOver(over.worker(), over.to(), left.get(0), at, entered)));
        }
        return done(
                handling.worker(),
                List.of(
                        handling instanceof Handling.Lose
                                ? new CustodyEvent.StripLost(handling.worker(), left.get(0), at, entered)
                                : new CustodyEvent.StripReturned(handling.worker(), left.get(0), at, entered)));
    }

    private static @Nullable TieNumber from(Handling handling) {
        if (handling instanceof Handling.HandOver over) {
            return over.from();
        }
        if (handling instanceof Handling.Lose lose) {
            return lose.from();
        }
        return handling instanceof Handling.GiveBack back ? back.from() : null;
    }

    /** What is left of her strips: from that tie on where it is given, from the next one where it is not. */
    private List<Strip> left(WorkerId worker, @Nullable TieNumber from) {
        List<StripInHand> inHand = index.strips(worker);
        if (from == null) {
            return inHand.stream().flatMap(strip -> strip.left().stream()).toList();
        }
        return inHand.stream()
                .map(StripInHand::strip)
                .filter(strip -> strip.has(from))
                .map(strip -> new Strip(from, strip.last(), strip.numbering()))
                .toList();
    }

    /** A strip that is in somebody's hands, or has a tie on a fruit, is not given out: that it is claimed is kept. */
    private Handled issue(Handling.Issue issue, Entered entered, Instant at) {
        FarmId farm = issue.worker().farm();
        Strip strip = issue.strip();
        Optional<Holding> held = index.strips().holdings(farm, strip).all().stream()
                .filter(Holding::isOpen)
                .findFirst();
        Optional<TieNumber> against = held.map(holding -> later(holding.ties().first(), strip.first()))
                .or(() -> index.strips().used(farm, strip).stream().findFirst());
        if (against.isEmpty()) {
            return done(issue.worker(), List.of(new CustodyEvent.StripIssued(issue.worker(), strip, at, entered)));
        }
        CustodyEvent.StripClaimed claim = new CustodyEvent.StripClaimed(issue.worker(), strip, at, entered);
        log.accept(claim);
        return new Handled.NotFree(claim, against.get(), held.map(Holding::worker));
    }

    private static TieNumber later(TieNumber one, TieNumber other) {
        return one.compareTo(other) < 0 ? other : one;
    }

    private Handled done(WorkerId about, List<CustodyEvent> events) {
        events.forEach(log);
        return new Handled.Done(events, index.nextTie(about));
    }
}
