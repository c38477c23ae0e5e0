package duskpeg.core.store;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Objects;
import java.util.function.UnaryOperator;
import org.axonframework.serialization.SimpleSerializedType;
import org.axonframework.serialization.upcasting.event.EventUpcasterChain;
import org.axonframework.serialization.upcasting.event.IntermediateEventRepresentation;
import org.axonframework.serialization.upcasting.event.SingleEventUpcaster;

/**
 * What old revisions of events are made into when they are read. What is stored never changes, and neither does its leaf
 * in the ledger. Only what may not be absent needs a step here: see {@link EventTypes}.
 *
 * @param steps in the order in which they are taken
 */
public record Upcasts(List<Step> steps) {

    /** Every step there is. None is due yet: whatever a revision added may be absent. */
    public static final Upcasts RELEASED = new Upcasts(List.of());

    public Upcasts {
        steps = List.copyOf(steps);
    }

    /**
     * A step from one revision to another.
     *
     * @param name the name under which the events are stored
     * @param from the revision it is for
     * @param to the revision it makes
     * @param change makes the new JSON of the old, which it may change
     */
    public record Step(String name, String from, String to, UnaryOperator<ObjectNode> change) {

        boolean fits(String type, String revision) {
            return name.equals(type) && from.equals(revision);
        }
    }

    /** An event as the newest revision that the steps lead to. */
    JsonNode apply(String type, String revision, JsonNode payload) {
        JsonNode event = payload;
        String reached = revision;
        for (Step step : steps) {
            if (step.fits(type, reached) && event instanceof ObjectNode object) {
                event = step.change().apply(object);
                reached = step.to();
            }
        }
        return event;
    }

    /** Whether any step is for events of that name and revision. */
    boolean change(String type, String revision) {
        return steps.stream().anyMatch(step -> step.fits(type, revision));
    }

    /** The same steps for the event store. */
    EventUpcasterChain chain() {
        return new EventUpcasterChain(steps.stream().map(InStore::new).toList());
    }

    private static final class InStore extends SingleEventUpcaster {

        private final Step step;

        InStore(Step step) {
            this.step = step;
        }

        @Override
        protected boolean canUpcast(IntermediateEventRepresentation event) {
            return step.fits(
                    event.getType().getName(),
                    Objects.requireNonNullElse(event.getType().getRevision(), ""));
        }

        @Override
        protected IntermediateEventRepresentation doUpcast(IntermediateEventRepresentation event) {
            return event.upcastPayload(
                    new SimpleSerializedType(step.name(), step.to()),
                    ObjectNode.class,
                    payload -> step.change().apply(payload));
        }
    }
}
