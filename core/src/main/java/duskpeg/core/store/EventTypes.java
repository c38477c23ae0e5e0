package duskpeg.core.store;

import duskpeg.core.act.Act;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.day.DayEvent;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.settle.Settled;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * The names and revisions under which events are stored, in one place. A name once released stays forever, so that
 * classes can be renamed and an auditor reads words, not class names.
 *
 * <p>What a revision added is absent where an older one is read, and means that it was not said: no upcaster is needed
 * for that. Revision 2 added plants, sires, the line that is taken back, what a
 * planting was sown with, and who laid it out.
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
            new EventType("farm-opened", "2", FarmEvent.Opened.class),
            new EventType("planting-laid-out", "2", FarmEvent.LaidOut.class),
            new EventType("neighbour-measured", "1", FarmEvent.Measured.class),
            new EventType("standards-chosen", "1", FarmEvent.StandardsChosen.class),
            new EventType("figure-changed", "1", FarmEvent.FigureChanged.class),
            new EventType("temperatures-entered", "1", FarmEvent.TemperaturesEntered.class),
            new EventType("rows-looked-over", "1", FarmEvent.LookedOver.class),
            new EventType("worker-enrolled", "1", FarmEvent.Enrolled.class),
            new EventType("worker-erased", "1", FarmEvent.Erased.class),
            new EventType("strip-issued", "2", CustodyEvent.StripIssued.class),
            new EventType("strip-claimed", "1", CustodyEvent.StripClaimed.class),
            new EventType("strip-handed-over", "1", CustodyEvent.StripHandedOver.class),
            new EventType("strip-returned", "1", CustodyEvent.StripReturned.class),
            new EventType("strip-lost", "1", CustodyEvent.StripLost.class),
            new EventType("tie-damaged", "1", CustodyEvent.TieDamaged.class),
            new EventType("pegged", "2", Act.Pegged.class),
            new EventType("opened", "2", Act.Opened.class),
            new EventType("pollinated", "2", Act.Pollinated.class),
            new EventType("bagged", "2", Act.Bagged.class),
            new EventType("tied", "2", Act.Tied.class),
            new EventType("lost", "2", Act.Lost.class),
            new EventType("finished", "1", Act.Finished.class),
            new EventType("unbagged", "1", Act.Unbagged.class),
            new EventType("culled", "1", Act.Culled.class),
            new EventType("harvested", "1", Act.Harvested.class),
            new EventType("taken-back", "2", Act.TakenBack.class),
            new EventType("text-settled", "1", Settled.OfText.class),
            new EventType("question-settled", "1", Settled.OfQuestion.class),
            new EventType("crew-rostered", "1", DayEvent.Rostered.class),
            new EventType("worker-sent", "1", DayEvent.Sent.class),
            new EventType("caution-entered", "1", DayEvent.CautionEntered.class),
            new EventType("caution-withdrawn", "1", DayEvent.CautionWithdrawn.class),
            new EventType("lot-begun", "1", LotEvent.Begun.class),
            new EventType("fruit-taken", "1", LotEvent.FruitTaken.class),
            new EventType("lot-worked", "1", LotEvent.Worked.class),
            new EventType("lot-weighed", "1", LotEvent.Weighed.class),
            new EventType("seed-lost", "1", LotEvent.Lost.class),
            new EventType("seed-weighed", "1", LotEvent.SeedWeighed.class),
            new EventType("seed-drawn", "1", LotEvent.Drawn.class),
            new EventType("seed-packed", "1", LotEvent.Packed.class),
            new EventType("germination-counted", "1", LotEvent.Germinated.class),
            new EventType("grow-out-counted", "1", LotEvent.GrownOut.class),
            new EventType("lot-decided", "1", LotEvent.Decided.class),
            new EventType("lot-entry-withdrawn", "1", LotEvent.Withdrawn.class));

    private static final Map<Class<?>, EventType> BY_CLASS =
            ALL.stream().collect(Collectors.toUnmodifiableMap(EventType::type, type -> type));
    private static final Map<String, EventType> BY_NAME =
            ALL.stream().collect(Collectors.toUnmodifiableMap(EventType::name, type -> type));

    private EventTypes() {}

    static Optional<EventType> of(Class<?> type) {
        return Optional.ofNullable(BY_CLASS.get(type));
    }

    static Optional<EventType> named(String name) {
        return Optional.ofNullable(BY_NAME.get(name));
    }
}
