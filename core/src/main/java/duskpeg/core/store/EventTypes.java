package duskpeg.core.store;

import duskpeg.core.act.Act;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.farm.FarmEvent;
import java.util.List;
import java.util.Optional;

/**
 * The names and revisions under which events are stored, in one place. A name once released stays forever, so that
 * classes can be renamed and an auditor reads words, not class names.
 */
public final class EventTypes {

    /**
     * A stored event type.
     *
     * @param name its name in the store
     * @param revision its revision, a whole number counted up with every change of its fields
     * @param type the class it is read as
     */
    public record EventType(String name, String revision, Class<? extends FieldEvent> type) {}

    /** Every event type, in the order of the work. */
    public static final List<EventType> ALL = List.of(
            new EventType("farm-opened", "1", FarmEvent.Opened.class),
            new EventType("planting-laid-out", "1", FarmEvent.LaidOut.class),
            new EventType("worker-enrolled", "1", FarmEvent.Enrolled.class),
            new EventType("strip-issued", "2", CustodyEvent.StripIssued.class),
            new EventType("strip-claimed", "1", CustodyEvent.StripClaimed.class),
            new EventType("strip-handed-over", "1", CustodyEvent.StripHandedOver.class),
            new EventType("strip-returned", "1", CustodyEvent.StripReturned.class),
            new EventType("strip-lost", "1", CustodyEvent.StripLost.class),
            new EventType("tie-damaged", "1", CustodyEvent.TieDamaged.class),
            new EventType("pegged", "1", Act.Pegged.class),
            new EventType("opened", "1", Act.Opened.class),
            new EventType("pollinated", "1", Act.Pollinated.class),
            new EventType("bagged", "1", Act.Bagged.class),
            new EventType("tied", "1", Act.Tied.class),
            new EventType("lost", "1", Act.Lost.class),
            new EventType("culled", "1", Act.Culled.class),
            new EventType("harvested", "1", Act.Harvested.class),
            new EventType("taken-back", "1", Act.TakenBack.class));

    private EventTypes() {}

    static Optional<EventType> of(Class<?> type) {
        return ALL.stream().filter(one -> one.type().equals(type)).findFirst();
    }

    static Optional<EventType> named(String name) {
        return ALL.stream().filter(one -> one.name().equals(name)).findFirst();
    }
}
