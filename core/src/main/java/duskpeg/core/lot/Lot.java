package duskpeg.core.lot;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.lot.LotEvent.Begun;
import duskpeg.core.lot.LotEvent.Decided;
import duskpeg.core.lot.LotEvent.Drawn;
import duskpeg.core.lot.LotEvent.FruitTaken;
import duskpeg.core.lot.LotEvent.Germinated;
import duskpeg.core.lot.LotEvent.GrownOut;
import duskpeg.core.lot.LotEvent.Lost;
import duskpeg.core.lot.LotEvent.Packed;
import duskpeg.core.lot.LotEvent.SeedWeighed;
import duskpeg.core.lot.LotEvent.Taken;
import duskpeg.core.lot.LotEvent.Weighed;
import duskpeg.core.lot.LotEvent.Withdrawn;
import duskpeg.core.lot.LotEvent.Worked;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.ToIntFunction;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * A lot, as what was entered about it tells.
 *
 * @param id the lot
 * @param entries all that was entered of it, in the order of the log
 * @param drawnIn what was drawn into it from others, in the order of the log
 */
public record Lot(LotId id, List<Entry> entries, List<Drawn> drawnIn) {

    public Lot {
        entries = List.copyOf(entries);
        drawnIn = List.copyOf(drawnIn);
    }

    /**
     * An entry.
     *
     * @param number from 1 in the order of the log
     * @param event what was entered
     * @param withdrawn by what it was withdrawn; null where it stands
     */
    public record Entry(
            int number, LotEvent event, @Nullable Withdrawn withdrawn) {}

    /** The entries of one lot, each with what withdrew it. */
    static List<Entry> entries(List<LotEvent> events) {
        Map<Integer, Withdrawn> withdrawn = new LinkedHashMap<>();
        for (LotEvent event : events) {
            if (event instanceof Withdrawn one) {
                withdrawn.putIfAbsent(one.entry(), one);
            }
        }
        List<Entry> entries = new ArrayList<>();
        for (LotEvent event : events) {
            int number = entries.size() + 1;
            entries.add(new Entry(number, event, event instanceof Withdrawn ? null : withdrawn.get(number)));
        }
        return entries;
    }

    /** What stands of a kind, in the order of the log. */
    public <T extends LotEvent> List<T> all(Class<T> kind) {
        return entries.stream()
                .filter(entry -> entry.withdrawn() == null)
                .map(Entry::event)
                .filter(kind::isInstance)
                .map(kind::cast)
                .toList();
    }

    private <T extends LotEvent> Optional<T> last(Class<T> kind, Function<T, LocalDate> on) {
        return all(kind).stream().max(Comparator.comparing(on));
    }

    /** How it was begun; empty where nobody said so. */
    public Optional<Begun> begun() {
        return all(Begun.class).stream().findFirst();
    }

    /** The fruit that was taken into it, itself and not by way of other lots. */
    public List<Taken> fruit() {
        return all(FruitTaken.class).stream()
                .flatMap(taken -> taken.fruit().stream())
                .toList();
    }

    /** Where its seed went. */
    public Balance balance() {
        return Balance.of(
                id,
                Stream.concat(
                                Stream.of(Weighed.class, Lost.class, Drawn.class, Packed.class)
                                        .flatMap(kind -> all(kind).stream()),
                                drawnIn.stream())
                        .sorted(Comparator.comparing(Lot::day).thenComparing(LotEvent::at))
                        .map(LotEvent.class::cast)
                        .toList());
    }

    /** The day an event is about; the day it was entered is not asked for where it does not say. */
    private static LocalDate day(LotEvent event) {
        if (event instanceof Weighed weighed) {
            return weighed.on();
        }
        if (event instanceof Lost lost) {
            return lost.on();
        }
        if (event instanceof Drawn drawn) {
            return drawn.on();
        }
        if (event instanceof Packed packed) {
            return packed.on();
        }
        return LocalDate.MIN;
    }

    /** Moisture as it was read last, percent of the wet weight. */
    public Optional<Weighed> moisture() {
        return all(Weighed.class).stream()
                .filter(weighed -> weighed.moisture() != null)
                .max(Comparator.comparing(Weighed::on));
    }

    /** The weight of a thousand seeds, as found last. */
    public Optional<SeedWeighed> thousandSeeds() {
        return last(SeedWeighed.class, SeedWeighed::on);
    }

    /** The steps of the work, by their first days. */
    public List<Worked> work() {
        return all(Worked.class).stream()
                .sorted(Comparator.comparing(Worked::from))
                .toList();
    }

    /** The packets that were filled, by number. */
    public List<Packed> packets() {
        return all(Packed.class).stream()
                .sorted(Comparator.comparingInt(Packed::first))
                .toList();
    }

    /** Numbers that two fillings gave to packets. */
    public List<Integer> packetsTwice() {
        List<Integer> twice = new ArrayList<>();
        int above = 0;
        for (Packed packed : packets()) {
            for (int number = packed.first(); number <= Math.min(above, packed.last()); number++) {
                twice.add(number);
            }
            above = Math.max(above, packed.last());
        }
        return twice;
    }

    /** Whether a packet of that number was filled. */
    public boolean hasPacket(int number) {
        return packets().stream().anyMatch(packed -> packed.first() <= number && number <= packed.last());
    }

    /** Its germination tests, by number. */
    public List<Twice<Germinated>> germination() {
        return tests(
                Germinated.class,
                Germinated::test,
                test -> List.of(test.sown(), test.firstCount(), test.finalCount(), test.replicates()));
    }

    /** Its grow-outs, by number. */
    public List<Twice<GrownOut>> growOuts() {
        return tests(GrownOut.class, GrownOut::test, test -> List.of(test.on(), test.plants(), test.offTypes()));
    }

    private <T extends LotEvent> List<Twice<T>> tests(
            Class<T> kind, ToIntFunction<T> number, Function<T, Object> said) {
        Map<Integer, Map<WorkerId, T>> tests = new TreeMap<>();
        for (T test : all(kind)) {
            Map<WorkerId, T> by = tests.computeIfAbsent(number.applyAsInt(test), unseen -> new LinkedHashMap<>());
            // What somebody says last stands, and stands last.
            by.remove(test.by());
            by.put(test.by(), test);
        }
        return tests.values().stream()
                .map(by -> new Twice<>(
                        List.copyOf(by.values()), by.values().stream().map(said).toList()))
                .toList();
    }

    /** What was decided of it last. */
    public Optional<Decided> decided() {
        return all(Decided.class).stream().reduce((earlier, later) -> later);
    }

    /** Whether it was released until a day that is over on that one. */
    public boolean isExpired(LocalDate day) {
        return decided()
                .filter(one -> one.decision() == LotEvent.Decision.RELEASED)
                .map(Decided::until)
                .filter(until -> until.isBefore(day))
                .isPresent();
    }

    /** That in a word; {@code open} before anything was decided. */
    public String state() {
        return decided().map(one -> one.decision().word()).orElse("open");
    }
}
