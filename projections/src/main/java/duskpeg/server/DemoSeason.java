package duskpeg.server;

import duskpeg.core.act.OfficeEvent;
import duskpeg.core.act.TextId;
import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.farm.Standards;
import duskpeg.core.fieldbook.FieldBook;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.germination.Counted;
import duskpeg.core.germination.Replicate;
import duskpeg.core.harvest.Season;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.LotEvent.Decision;
import duskpeg.core.lot.LotEvent.Step;
import duskpeg.core.lot.LotEvent.Taken;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import duskpeg.core.maturity.DayTemperature;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Text;
import duskpeg.messaging.text.HearText;
import duskpeg.projections.lots.LotBook;
import duskpeg.projections.rebuild.CatchUp;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.MonthDay;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.springframework.core.io.ClassPathResource;
import org.springframework.stereotype.Component;

/**
 * Plays the demo farm an invented season that lies before the present one. Texts have fixed ids and are heard once;
 * what is entered on pages is entered once at its own time. So it can be played again after it was cut short anywhere,
 * and goes on from there.
 */
@Component
class DemoSeason {

    private static final String FILE = "demo-season.txt";
    private static final Duration PATIENCE = Duration.ofMinutes(1);
    private static final int SALT_BYTES = 16;

    private final CommandGateway commands;
    private final Index index;
    private final Texts texts;
    private final People people;
    private final LotBook lots;
    private final CatchUp projections;
    private final SecureRandom random = new SecureRandom();
    private volatile boolean stopped;

    DemoSeason(CommandGateway commands, Index index, Texts texts, People people, LotBook lots, CatchUp projections) {
        this.commands = commands;
        this.index = index;
        this.texts = texts;
        this.people = people;
        this.lots = lots;
        this.projections = projections;
    }

    /**
     * One line of the script.
     *
     * @param day days after the first morning, may be negative
     * @param entered whether it was entered on a page, and not texted
     */
    private record Line(int number, int day, LocalTime time, String worker, boolean entered, String words) {

        static Line of(int number, String line) {
            String[] part = line.split("\\s+", 4);
            boolean entered = part[3].startsWith("> ");
            return new Line(
                    number,
                    Integer.parseInt(part[0]),
                    LocalTime.parse(part[1]),
                    part[2],
                    entered,
                    entered ? part[3].substring(2) : part[3]);
        }
    }

    /** The script, from the resources. */
    private record Script(FarmId farm, MonthDay begins, List<Line> lines) {

        static Script read() {
            List<Line> lines = new ArrayList<>();
            String farm = "";
            String begins = "";
            for (String line : content().lines().map(String::strip).toList()) {
                if (line.startsWith("farm ")) {
                    farm = line.substring("farm ".length());
                } else if (line.startsWith("begins ")) {
                    begins = line.substring("begins ".length());
                } else if (!line.isEmpty() && !line.startsWith("#")) {
                    lines.add(Line.of(lines.size() + 1, line));
                }
            }
            return new Script(new FarmId(farm), MonthDay.parse("--" + begins), lines);
        }

        private static String content() {
            try (InputStream in = new ClassPathResource(FILE).getInputStream()) {
                return new String(in.readAllBytes(), StandardCharsets.UTF_8);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }

    /**
     * Plays it, or goes on with it; nothing is done on another farm than the one it is written for, nor on one that was
     * already at work before it began.
     *
     * @param now it is played as of the season before this
     * @return the first morning; empty where nothing was done
     */
    Optional<LocalDate> play(Instant now) {
        Script script = Script.read();
        FarmId farm = script.farm();
        if (!index.farms().contains(farm)) {
            return Optional.empty();
        }
        Line opening = script.lines().get(0);
        Optional<Texts.Known> begun = texts.known(id(farm, opening));
        if (begun.isEmpty() && index.isAnythingSaid(farm)) {
            return Optional.empty();
        }
        FarmSettings settings = index.settings(farm);
        // What was begun is gone on with, also where another season has begun meanwhile.
        LocalDate first = begun.map(known -> settings.dateAt(known.heard()).minusDays(opening.day()))
                .orElseGet(() -> first(script.begins(), settings, now));
        for (Line line : script.lines()) {
            if (stopped) {
                return Optional.empty();
            }
            new Playing(farm, settings, first, line).play();
        }
        return Optional.of(first);
    }

    /** Plays no further line. An interrupt would not do: the embedded database closes on it. */
    void stop() {
        stopped = true;
    }

    private static LocalDate first(MonthDay begins, FarmSettings settings, Instant now) {
        int year = Season.of(settings, settings.dateAt(now)).year() - 1;
        Season before = Season.of(settings, year);
        LocalDate first = begins.atYear(year);
        return before.has(first) ? first : begins.atYear(year + 1);
    }

    private static TextId id(FarmId farm, Line line) {
        return new TextId(farm, "demo-season-" + line.number());
    }

    /** One line being played. */
    private final class Playing {

        private final FarmId farm;
        private final FarmSettings settings;
        private final LocalDate first;
        private final Line line;
        private final WorkerId by;
        private final Instant at;

        Playing(FarmId farm, FarmSettings settings, LocalDate first, Line line) {
            this.farm = farm;
            this.settings = settings;
            this.first = first;
            this.line = line;
            this.by = new WorkerId(farm, line.worker());
            this.at =
                    day(line.day()).atTime(line.time()).atZone(settings.zone()).toInstant();
        }

        private LocalDate day(int day) {
            return first.plusDays(day);
        }

        private LocalDate day(String day) {
            return day(Integer.parseInt(day));
        }

        void play() {
            if (line.entered()) {
                enter();
            } else if (texts.reply(id(farm, line)).isEmpty()) {
                Person person = people.all(farm).stream()
                        .filter(one -> one.worker().equals(by))
                        .findFirst()
                        .orElseThrow();
                byte[] salt = new byte[SALT_BYTES];
                random.nextBytes(salt);
                String words = line.words().replace("; ", "\n");
                commands.sendAndWait(new HearText(new Text(
                        id(farm, line), person.phone(), words, HexFormat.of().formatHex(salt), at)));
            }
        }

        private void enter() {
            String[] word = line.words().split(" ", -1);
            boolean lot = word[0].equals("lot");
            if (lot ? isEntered(new LotId(farm, word[1])) : isEntered(word[0])) {
                return;
            }
            OfficeEvent event = lot
                    ? lot(new LotId(farm, word[1]), word[2], Arrays.copyOfRange(word, 3, word.length))
                    : other(word[0], Arrays.copyOfRange(word, 1, word.length));
            boolean entered = commands.sendAndWait(new FieldBook.Enter(event));
            if (!entered) {
                throw new IllegalStateException("may not enter it: " + line);
            }
        }

        /** Nobody else enters anything of it at that very time, which lies months back. */
        private boolean isEntered(LotId id) {
            return index.lots(farm).lot(id).stream()
                    .flatMap(lot -> lot.entries().stream())
                    .map(Lot.Entry::event)
                    .anyMatch(event -> event.at().equals(at) && event.by().equals(by));
        }

        private boolean isEntered(String what) {
            return switch (what) {
                case "looked" ->
                    index.lookedOver(farm).stream().anyMatch(one -> one.at().equals(at));
                case "standards" -> !index.standards(farm).equals(Standards.NONE);
                default -> index.temperatures(farm).known(day(0), day(line.day())) > 0;
            };
        }

        private OfficeEvent other(String what, String[] rest) {
            if (what.equals("looked")) {
                return new FarmEvent.LookedOver(
                        farm, Stream.of(rest).map(row -> new RowId(farm, row)).toList(), day(line.day()), by, at);
            }
            if (what.equals("standards")) {
                return new FarmEvent.StandardsChosen(farm, new Standards(rest[0], rest[1], null, null, null), by, at);
            }
            int from = Integer.parseInt(rest[0]);
            List<DayTemperature> days = new ArrayList<>();
            for (int i = 1; i < rest.length; i++) {
                String[] pair = rest[i].split("/", -1);
                if (pair.length == 2) {
                    days.add(new DayTemperature(
                            day(from + i - 1), Double.parseDouble(pair[0]), Double.parseDouble(pair[1])));
                }
            }
            return new FarmEvent.TemperaturesEntered(farm, days, by, at);
        }

        private LotEvent lot(LotId id, String verb, String[] rest) {
            return switch (verb) {
                case "begin" -> begun(id, String.join(" ", rest));
                case "take" -> new LotEvent.FruitTaken(id, take(id, rest), by, at);
                case "work" ->
                    new LotEvent.Worked(
                            id,
                            Step.valueOf(rest[0].toUpperCase(Locale.ROOT)),
                            day(rest[1]),
                            day(rest[2]),
                            from(rest, 3),
                            by,
                            at);
                case "weigh" ->
                    new LotEvent.Weighed(
                            id, day(rest[0]), Double.parseDouble(rest[1]), Double.valueOf(rest[2]), by, at);
                case "lose" -> new LotEvent.Lost(id, day(rest[0]), Double.parseDouble(rest[1]), from(rest, 2), by, at);
                case "seeds" -> new LotEvent.SeedWeighed(id, day(rest[0]), Double.parseDouble(rest[1]), by, at);
                case "draw" ->
                    new LotEvent.Drawn(id, new LotId(farm, rest[0]), day(rest[1]), Double.parseDouble(rest[2]), by, at);
                case "pack" ->
                    new LotEvent.Packed(
                            id,
                            day(rest[0]),
                            Integer.parseInt(rest[1]),
                            Integer.parseInt(rest[2]),
                            Double.parseDouble(rest[3]),
                            by,
                            at);
                case "germinate" ->
                    new LotEvent.Germinated(
                            id,
                            Integer.parseInt(rest[0]),
                            day(rest[1]),
                            day(rest[2]),
                            day(rest[3]),
                            Stream.of(rest).skip(4).map(DemoSeason::replicate).toList(),
                            by,
                            at);
                case "grow" ->
                    new LotEvent.GrownOut(
                            id,
                            Integer.parseInt(rest[0]),
                            day(rest[1]),
                            Integer.parseInt(rest[2]),
                            Integer.parseInt(rest[3]),
                            Integer.valueOf(rest[4]),
                            by,
                            at);
                case "decide" -> decided(id, rest);
                default -> throw new IllegalArgumentException("no such entry: " + line);
            };
        }

        private LotEvent begun(LotId id, String cultivar) {
            Planting planting = index.plantings(farm).stream()
                    .filter(one -> one.cultivar().equals(cultivar))
                    .findFirst()
                    .orElseThrow();
            return new LotEvent.Begun(id, cultivar, planting.species(), by, at);
        }

        /** With their verdicts as the histories tell them then. */
        private List<Taken> take(LotId id, String[] ties) {
            projections.await(PATIENCE);
            Lots all = index.lots(farm);
            Lot lot = all.lot(id).orElseThrow();
            return lots.taken(
                    Stream.of(ties)
                            .flatMap(run -> ties(run))
                            .map(tie -> new FruitId(farm, tie))
                            .toList(),
                    lot,
                    all);
        }

        private Stream<TieNumber> ties(String run) {
            String[] end = run.split("-", -1);
            return IntStream.rangeClosed(Integer.parseInt(end[0]), Integer.parseInt(end[end.length - 1]))
                    .mapToObj(tie -> TieNumber.of(tie, settings.tieWidth()));
        }

        private LotEvent decided(LotId id, String[] rest) {
            projections.await(PATIENCE);
            Decision decision = Decision.valueOf(rest[0].toUpperCase(Locale.ROOT));
            List<String> against = decision == Decision.RELEASED ? lots.against(id) : List.of();
            return new LotEvent.Decided(id, decision, from(rest, 1), against, null, by, at);
        }
    }

    private static String from(String[] words, int first) {
        return String.join(" ", Arrays.asList(words).subList(first, words.length));
    }

    private static Replicate replicate(String counted) {
        int[] n = Stream.of(counted.split("/", -1)).mapToInt(Integer::parseInt).toArray();
        return new Replicate(n[0], new Counted(n[1], n[2], n[3]), new Counted(n[4], n[5], n[6]));
    }
}
