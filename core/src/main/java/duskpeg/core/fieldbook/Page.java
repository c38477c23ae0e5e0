package duskpeg.core.fieldbook;

import duskpeg.core.act.Act;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.Subject;
import duskpeg.core.settle.Settled;
import java.util.ArrayList;
import java.util.List;
import org.axonframework.eventsourcing.EventSourcingHandler;
import org.axonframework.modelling.command.AggregateIdentifier;
import org.axonframework.modelling.command.AggregateLifecycle;
import org.jspecify.annotations.Nullable;

/**
 * One page of the field book: all that was ever written down about one subject. It refuses nothing. Its meaning is
 * read from it by the pure folds ({@link duskpeg.core.round.Round}, {@link duskpeg.core.fruit.Fruit}); the page only
 * makes sure that two reports on the same subject are written one after the other.
 */
final class Page {

    @AggregateIdentifier
    @SuppressWarnings("UnusedVariable") // the framework reads it
    private @Nullable String subject;

    private final List<Act> acts = new ArrayList<>();
    private final List<Settled> settled = new ArrayList<>();

    /** A page that is read from the log. */
    Page() {}

    /** A blank page. It has its name before anything is written on it, since it may be opened only to be looked at. */
    Page(Subject subject) {
        this.subject = subject.toString();
    }

    void write(FieldEvent event) {
        AggregateLifecycle.apply(event);
    }

    List<Act> acts() {
        return List.copyOf(acts);
    }

    List<Settled> settled() {
        return List.copyOf(settled);
    }

    @EventSourcingHandler
    void on(FieldEvent event) {
        subject = event.subject().toString();
        if (event instanceof Act act) {
            acts.add(act);
        } else if (event instanceof Settled one) {
            settled.add(one);
        }
    }
}
