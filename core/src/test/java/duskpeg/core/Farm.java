package duskpeg.core;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.act.Told;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Entered;
import duskpeg.core.crew.Holding;
import duskpeg.core.crew.Holdings;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.RoundId;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * The farm of which the tests talk, on one opening morning: {@code row("12").pegged(14).males(28).by("w1").at("17:10")}.
 *
 * <p>A clock time from noon on is of the evening before, as on a farm. What a worker reports at one clock time is one
 * message, so its text is named after both: {@code w1-1710}.
 */
public final class Farm {

    public static final FarmId HILL = new FarmId("hill");

    public static final LocalDate MORNING = LocalDate.of(2026, 8, 15);

    public static final FarmSettings SETTINGS =
            new FarmSettings(ZoneId.of("Europe/London"), LocalTime.of(9, 0), LocalTime.of(10, 0), 6);

    /** Of any words: pure functions do not look at it. */
    public static final String SEAL = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

    private Farm() {}

    public static Row row(String label) {
        return new Row(new RowId(HILL, label));
    }

    public static TiedFruit fruit(String tie) {
        return new TiedFruit(new FruitId(HILL, new TieNumber(tie)));
    }

    public static WorkerId worker(String pseudonym) {
        return new WorkerId(HILL, pseudonym);
    }

    public static TextId text(String value) {
        return new TextId(HILL, value);
    }

    public static Telling<Act.TakenBack> takenBack(Subject subject, String text) {
        return new Telling<>(told -> new Act.TakenBack(subject, text(text), told));
    }

    public static Telling<Act.TakenBack> takenBack(Subject subject, String text, int line) {
        return new Telling<>(told -> new Act.TakenBack(subject, text(text), line, told));
    }

    /** A plant as it is texted: {@code 12.7}. */
    public static PlantId plant(String label) {
        String[] part = label.split("\\.");
        return new PlantId(row(part[0]).id(), Integer.parseInt(part[1]));
    }

    public static List<TieNumber> ties(String... digits) {
        return Arrays.stream(digits).map(TieNumber::new).toList();
    }

    public static Ties strip(String worker, String first, String last) {
        return new Ties().strip(worker, first, last);
    }

    public static Ties noStrips() {
        return new Ties();
    }

    /** A row, and its round of the morning. */
    public record Row(RowId id) {

        public RoundId round() {
            return new RoundId(id, MORNING);
        }

        public Pegging pegged(int count) {
            return new Pegging(round(), count);
        }

        public Telling<Act.Opened> opened(int count) {
            return new Telling<>(told -> new Act.Opened(round(), count, told));
        }

        public Telling<Act.Pollinated> pollinated(int count) {
            return new Telling<>(told -> new Act.Pollinated(round(), count, told));
        }

        public Telling<Act.Bagged> bagged(int count) {
            return new Telling<>(told -> new Act.Bagged(round(), count, told));
        }

        /** Tied with these numbers, or without a known number where none is given. */
        public Telling<Act.Tied> tied(int count, String... digits) {
            return new Telling<>(told -> new Act.Tied(round(), count, ties(digits), null, told));
        }

        /** Tied, but the number read and the number the strip led to were not one; null where it had too few. */
        public Telling<Act.Tied> tiedInDoubt(int count, String read, String counted) {
            return new Telling<>(told -> new Act.Tied(
                    round(),
                    count,
                    List.of(),
                    new Act.Tied.Disagreement(new TieNumber(read), counted == null ? null : new TieNumber(counted)),
                    told));
        }

        public Telling<Act.Lost> lost(int count) {
            return new Telling<>(told -> new Act.Lost(round(), count, null, told));
        }

        public Telling<Act.Lost> lost(int count, LossReason reason) {
            return new Telling<>(told -> new Act.Lost(round(), count, reason, told));
        }

        public Telling<Act.Finished> finished() {
            return new Telling<>(told -> new Act.Finished(round(), told));
        }

        public Telling<Act.Unbagged> unbagged(int count) {
            return new Telling<>(told -> new Act.Unbagged(id, null, count, told));
        }

        public Telling<Act.Culled> culled(int count) {
            return new Telling<>(told -> new Act.Culled(id, null, count, told));
        }

        public Telling<Act.Harvested> harvested(int count) {
            return new Telling<>(told -> new Act.Harvested(id, null, count, told));
        }

        /** Some or all acts of the visit, told in one line as {@code 2345 12 6} is. */
        public Visit worked(int count, String... ties) {
            return new Visit(this, count, ties);
        }
    }

    /** A tied fruit. */
    public record TiedFruit(FruitId id) {

        public Telling<Act.Culled> culled() {
            return new Telling<>(told -> new Act.Culled(id, null, 1, told));
        }

        public Telling<Act.Harvested> harvested() {
            return new Telling<>(told -> new Act.Harvested(id, null, 1, told));
        }

        public Telling<Act.Unbagged> unbagged() {
            return new Telling<>(told -> new Act.Unbagged(id, null, 1, told));
        }

        public Telling<Act.Unbagged> unbaggedInRow(String label) {
            return new Telling<>(told -> new Act.Unbagged(id, row(label).id(), 1, told));
        }

        public Telling<Act.Culled> culledInRow(String label) {
            return new Telling<>(told -> new Act.Culled(id, row(label).id(), 1, told));
        }

        public Telling<Act.Harvested> harvestedInRow(String label) {
            return new Telling<>(told -> new Act.Harvested(id, row(label).id(), 1, told));
        }
    }

    /** An act of which it must still be said who told it, and when. */
    public static class Telling<A extends Act> {

        private final Function<Told, A> act;
        private String by = "w1";
        private int line = 1;
        private int daysLater;
        private String text = "";

        Telling(Function<Told, A> act) {
            this.act = act;
        }

        /** On that plant of its row, where they are flowers; with males from these. */
        public Telling<A> on(int plant, String... sires) {
            return new Telling<>(told -> onPlant(act.apply(told), plant, sires));
        }

        @SuppressWarnings("unchecked") // an act stays of its kind
        private A onPlant(A said, int plant, String... labels) {
            List<PlantId> sires = labels.length == 0
                    ? null
                    : Arrays.stream(labels).map(Farm::plant).toList();
            if (said instanceof Act.Pegged was) {
                return (A) new Act.Pegged(was.round(), was.count(), was.males(), plant, sires, was.told());
            }
            if (said instanceof Act.Opened was) {
                return (A) new Act.Opened(was.round(), was.count(), plant, was.told());
            }
            if (said instanceof Act.Pollinated was) {
                return (A) new Act.Pollinated(was.round(), was.count(), plant, sires, was.told());
            }
            if (said instanceof Act.Bagged was) {
                return (A) new Act.Bagged(was.round(), was.count(), plant, was.told());
            }
            if (said instanceof Act.Tied was) {
                return (A) new Act.Tied(was.round(), was.count(), was.ties(), was.disagreement(), plant, was.told());
            }
            Act.Lost was = (Act.Lost) said;
            return (A) new Act.Lost(was.round(), was.count(), was.reason(), plant, was.told());
        }

        public Telling<A> by(String worker) {
            by = worker;
            return this;
        }

        public Telling<A> line(int number) {
            line = number;
            return this;
        }

        /** In the message of that id, whoever sent it. */
        public Telling<A> in(String message) {
            text = message;
            return this;
        }

        public Telling<A> daysLater(int days) {
            daysLater = days;
            return this;
        }

        public A at(String clock) {
            return act.apply(told(by, clock, daysLater, text, line));
        }
    }

    /** Pegging, with or without a word on males. */
    public static final class Pegging extends Telling<Act.Pegged> {

        private final RoundId round;
        private final int count;

        private Pegging(RoundId round, int count) {
            super(told -> new Act.Pegged(round, count, null, told));
            this.round = round;
            this.count = count;
        }

        public Telling<Act.Pegged> males(int males) {
            return new Telling<>(told -> new Act.Pegged(round, count, males, told));
        }
    }

    /** The acts of one line about the same flowers. */
    public static final class Visit {

        private final Row row;
        private final int count;
        private final String[] ties;
        private final List<Deed> deeds = new ArrayList<>(List.of(Deed.OPENED, Deed.POLLINATED, Deed.BAGGED, Deed.TIED));
        private String by = "w1";
        private int line = 1;

        private Visit(Row row, int count, String... ties) {
            this.row = row;
            this.count = count;
            this.ties = ties;
        }

        public Visit by(String worker) {
            by = worker;
            return this;
        }

        public Visit line(int number) {
            line = number;
            return this;
        }

        public Visit only(Deed... these) {
            deeds.retainAll(List.of(these));
            return this;
        }

        public List<Act> at(String clock) {
            return deeds.stream()
                    .<Act>map(deed -> telling(deed).by(by).line(line).at(clock))
                    .toList();
        }

        private Telling<? extends Act> telling(Deed deed) {
            return switch (deed) {
                case OPENED -> row.opened(count);
                case POLLINATED -> row.pollinated(count);
                case BAGGED -> row.bagged(count);
                default -> row.tied(count, ties);
            };
        }
    }

    /** Who told it: done and heard at that clock time. */
    public static Told told(String by, String clock, int daysLater, String text, int line) {
        Instant at = at(clock, daysLater);
        String message =
                text.isEmpty() ? by + "-" + clock.replace(":", "") + (daysLater == 0 ? "" : "-" + daysLater) : text;
        return new Told(worker(by), at, at, text(message), line, SEAL);
    }

    /** That clock time of the morning, or of the evening before it. */
    public static Instant at(String clock) {
        return at(clock, 0);
    }

    private static Instant at(String clock, int daysLater) {
        LocalTime time = LocalTime.parse(clock);
        boolean eveningBefore = daysLater == 0 && !time.isBefore(LocalTime.NOON);
        return MORNING.plusDays(eveningBefore ? -1 : daysLater)
                .atTime(time)
                .atZone(SETTINGS.zone())
                .toInstant();
    }

    /** What became of strips, and the uses that standing reports tell of. */
    public static final class Ties implements TieUses {

        private final List<Holdings.Placed> custody = new ArrayList<>();
        private final List<TieNumber> damaged = new ArrayList<>();
        private List<Act> said = List.of();

        private Ties() {}

        /** Issued long before the morning. */
        public Ties strip(String worker, String first, String last) {
            return with(new CustodyEvent.StripIssued(worker(worker), stripOf(first, last), Instant.EPOCH));
        }

        public Ties with(CustodyEvent event) {
            custody.add(new Holdings.Placed(custody.size(), event));
            return this;
        }

        public Ties damaged(String... digits) {
            damaged.addAll(ties(digits));
            return this;
        }

        public Ties after(List<? extends Act> acts) {
            said = Act.standing(acts);
            return this;
        }

        @Override
        public Optional<Holding> holding(TieNumber tie, Instant at) {
            return Holdings.of(custody).of(tie, at);
        }

        @Override
        public int times(TieNumber tie) {
            return (int) used().filter(tie::equals).count();
        }

        @Override
        public boolean isDamaged(TieNumber tie) {
            return damaged.contains(tie);
        }

        /** Ties before the first one said were used on earlier mornings. */
        @Override
        public Optional<Strip> skippedBefore(TieNumber tie) {
            TieNumber first = used().min(Comparator.naturalOrder()).orElse(tie);
            return used().filter(used -> used.compareTo(tie) < 0)
                    .max(Comparator.naturalOrder())
                    .filter(before -> tie.value() > before.value() + 1 && tie.compareTo(first) > 0)
                    .map(before -> new Strip(Numbering.PLAIN.after(before, 1), Numbering.PLAIN.after(tie, -1)));
        }

        private Stream<TieNumber> used() {
            return Act.only(Act.Tied.class, said).flatMap(tied -> tied.ties().stream());
        }
    }

    public static Strip stripOf(String first, String last) {
        return new Strip(new TieNumber(first), new TieNumber(last));
    }

    /** Entered by that worker, in a message of hers. */
    public static Entered enteredBy(String worker) {
        return new Entered(worker(worker), text("SM-" + worker), SEAL);
    }
}
