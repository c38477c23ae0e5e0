package duskpeg.core.store;

import static duskpeg.core.Farm.HILL;
import static duskpeg.core.Farm.MORNING;
import static duskpeg.core.Farm.SEAL;
import static duskpeg.core.Farm.SETTINGS;
import static duskpeg.core.Farm.enteredBy;
import static duskpeg.core.Farm.fruit;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.stripOf;
import static duskpeg.core.Farm.takenBack;
import static duskpeg.core.Farm.text;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.LossReason;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Entered;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.Caution;
import duskpeg.core.day.DayEvent;
import duskpeg.core.day.DayId;
import duskpeg.core.day.Duty;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.farm.Place;
import duskpeg.core.farm.Standards;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.germination.Counted;
import duskpeg.core.germination.Replicate;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.LotId;
import duskpeg.core.maturity.DayTemperature;
import duskpeg.core.planting.Neighbour;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Species;
import duskpeg.core.published.Change;
import duskpeg.core.published.Table;
import duskpeg.core.report.Question;
import duskpeg.core.settle.How;
import duskpeg.core.settle.Settled;
import duskpeg.core.store.EventTypes.EventType;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.axonframework.serialization.SerializedObject;
import org.axonframework.serialization.SimpleSerializedObject;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What is stored today must be readable for as long as there is a log. */
class EventTypesTest {

    private static final Path FILES = Path.of("src", "test", "resources", "events");
    private static final Instant SET_UP = Instant.parse("2026-05-04T07:30:00Z");

    private static final Instant SETTLED = Instant.parse("2026-08-15T06:42:00Z");

    private final EventSerializer serializer = new EventSerializer();
    private final ObjectMapper plain = new ObjectMapper();

    /** The events in the files, by file: name, revision, and where a type has several forms, which. */
    private static Map<String, FieldEvent> stored() {
        Map<String, FieldEvent> stored = new LinkedHashMap<>();
        stored.put("farm-opened-2", new FarmEvent.Opened(HILL, SETTINGS, SET_UP));
        stored.put(
                "farm-opened-2.with-a-place",
                new FarmEvent.Opened(
                        HILL,
                        new FarmSettings(
                                SETTINGS.zone(),
                                SETTINGS.target(),
                                SETTINGS.limit(),
                                SETTINGS.tieWidth(),
                                new Place(51.5, -1.25)),
                        SET_UP));
        stored.put(
                "planting-laid-out-2",
                new FarmEvent.LaidOut(
                        HILL,
                        new Planting(
                                "Dam side",
                                "Greycap Nine",
                                Species.MAXIMA,
                                List.of(
                                        new Planting.Row(row("12").id(), 40),
                                        new Planting.Row(row("13").id(), 36))),
                        SET_UP));
        stored.put(
                "planting-laid-out-2.with-stock",
                new FarmEvent.LaidOut(
                        HILL,
                        new Planting(
                                "Dam side",
                                "Greycap Nine",
                                Species.MAXIMA,
                                List.of(
                                        new Planting.Row(row("12").id(), 40),
                                        new Planting.Row(row("13").id(), 36)),
                                "GC9-25"),
                        worker("w8"),
                        SET_UP));
        stored.put(
                "temperatures-entered-1",
                new FarmEvent.TemperaturesEntered(
                        HILL,
                        List.of(
                                new DayTemperature(MORNING, 28.5, 14),
                                new DayTemperature(MORNING.plusDays(2), 35, 20.25)),
                        worker("w8"),
                        SETTLED));
        stored.put(
                "rows-looked-over-1",
                new FarmEvent.LookedOver(
                        HILL, List.of(row("12").id(), row("13").id()), MORNING, worker("w1"), SETTLED));
        stored.put("worker-enrolled-1", new FarmEvent.Enrolled(worker("w1"), Role.CREW, SET_UP));
        stored.put("worker-enrolled-1.supervisor", new FarmEvent.Enrolled(worker("w8"), Role.SUPERVISOR, SET_UP));
        stored.put("worker-erased-1", new FarmEvent.Erased(worker("w1"), worker("w8"), SETTLED));
        stored.put(
                "strip-issued-2.entered",
                new CustodyEvent.StripIssued(
                        worker("w1"), stripOf("004750", "004799"), SET_UP, new Entered(worker("w8"), null, null)));
        DayId day = new DayId(HILL, MORNING);
        stored.put(
                "crew-rostered-1",
                new DayEvent.Rostered(
                        day,
                        LocalTime.of(5, 15),
                        List.of(
                                new Duty(worker("w1"), LocalTime.of(7, 30), LocalTime.of(7, 50), List.of("Dam side")),
                                new Duty(worker("w2"))),
                        worker("w8"),
                        SETTLED));
        stored.put(
                "crew-rostered-1.without-a-start", new DayEvent.Rostered(day, null, List.of(), worker("w8"), SETTLED));
        stored.put(
                "worker-sent-1", new DayEvent.Sent(day, worker("w1"), row("12").id(), SETTLED));
        Caution sprayed = new Caution(
                Caution.Kind.SPRAY,
                "Dam side",
                Instant.parse("2026-08-15T05:00:00Z"),
                Instant.parse("2026-08-16T05:00:00Z"));
        stored.put("caution-entered-1", new DayEvent.CautionEntered(day, sprayed, worker("w8"), SETTLED));
        stored.put(
                "caution-entered-1.whole-farm",
                new DayEvent.CautionEntered(
                        day,
                        new Caution(Caution.Kind.HEAT, null, sprayed.from(), sprayed.until()),
                        worker("w8"),
                        SETTLED));
        stored.put("caution-withdrawn-1", new DayEvent.CautionWithdrawn(day, sprayed, worker("w8"), SETTLED));
        stored.put("strip-issued-2", new CustodyEvent.StripIssued(worker("w1"), stripOf("004700", "004749"), SET_UP));
        stored.put(
                "strip-issued-2.printed",
                new CustodyEvent.StripIssued(
                        worker("w1"),
                        new Strip(new TieNumber("005724"), new TieNumber("005815"), Numbering.CHECKED),
                        SET_UP,
                        enteredBy("w1")));
        stored.put(
                "strip-claimed-1",
                new CustodyEvent.StripClaimed(worker("w1"), stripOf("004750", "004799"), SET_UP, enteredBy("w1")));
        stored.put(
                "strip-handed-over-1",
                new CustodyEvent.StripHandedOver(
                        worker("w1"), worker("w2"), stripOf("004716", "004749"), SET_UP, enteredBy("w1")));
        stored.put(
                "strip-returned-1",
                new CustodyEvent.StripReturned(
                        worker("w1"), stripOf("004716", "004749"), SET_UP, Entered.onPage(worker("w8"))));
        stored.put(
                "strip-lost-1",
                new CustodyEvent.StripLost(worker("w1"), stripOf("004716", "004749"), SET_UP, enteredBy("w1")));
        stored.put(
                "tie-damaged-1",
                new CustodyEvent.TieDamaged(worker("w1"), new TieNumber("004712"), SET_UP, enteredBy("w1")));
        stored.put("pegged-2", row("12").pegged(14).males(28).by("w1").at("17:10"));
        stored.put("pegged-2.males-unsaid", row("12").pegged(14).by("w1").at("17:10"));
        stored.put("opened-2", row("12").opened(13).by("w1").at("06:05"));
        stored.put("pollinated-2", row("12").pollinated(13).by("w1").at("06:40"));
        stored.put("bagged-2", row("12").bagged(13).by("w1").at("07:00"));
        stored.put(
                "tied-2", row("12").tied(2, "004711", "004712").by("w1").line(3).at("07:20"));
        stored.put(
                "tied-2.in-doubt",
                row("12").tiedInDoubt(2, "004719", "004712").by("w1").at("07:20"));
        stored.put(
                "tied-2.strip-too-short",
                row("12").tiedInDoubt(2, "004719", null).by("w1").at("07:20"));
        stored.put("lost-2", row("12").lost(1).by("w1").at("06:06"));
        stored.put(
                "lost-2.with-a-reason",
                row("12").lost(2, LossReason.FOUND_OPEN).by("w1").at("06:06"));
        stored.put(
                "taken-back-2", takenBack(row("12").round(), "w1-1710").by("w1").at("17:11"));
        stored.put(
                "taken-back-2.of-a-fruit",
                takenBack(fruit("004711").id(), "w2-0900-60")
                        .by("w2")
                        .daysLater(60)
                        .at("09:01"));
        stored.put(
                "pegged-2.by-plant",
                row("12").pegged(2).males(4).on(7, "13.9", "14.2").by("w1").at("17:10"));
        stored.put("opened-2.by-plant", row("12").opened(1).on(7).by("w1").at("06:05"));
        stored.put(
                "pollinated-2.by-plant",
                row("12").pollinated(1).on(7, "13.9", "14.2").by("w1").at("06:40"));
        stored.put("bagged-2.by-plant", row("12").bagged(1).on(7).by("w1").at("07:00"));
        stored.put(
                "tied-2.by-plant",
                row("12").tied(1, "004711").on(7).by("w1").line(3).at("07:20"));
        stored.put("lost-2.by-plant", row("12").lost(1).on(7).by("w1").at("06:06"));
        stored.put(
                "taken-back-2.of-a-line",
                takenBack(row("12").round(), "w1-1710", 3).by("w1").at("17:11"));
        stored.put("finished-1", row("12").finished().by("w1").at("06:05"));
        stored.put("unbagged-1", row("12").unbagged(6).by("w1").daysLater(9).at("09:00"));
        stored.put(
                "unbagged-1.by-tie",
                fruit("004711").unbaggedInRow("12").by("w1").daysLater(9).at("09:00"));
        stored.put("culled-1", row("12").culled(6).by("w1").daysLater(9).at("09:00"));
        stored.put(
                "culled-1.by-tie",
                fruit("004711").culledInRow("12").by("w1").daysLater(9).at("09:00"));
        stored.put(
                "harvested-1",
                fruit("004711").harvestedInRow("12").by("w2").daysLater(60).at("09:00"));
        stored.put(
                "harvested-1.by-row",
                row("12").harvested(6).by("w2").daysLater(60).at("09:00"));
        stored.put(
                "text-settled-1",
                new Settled.OfText(text("w1-0720"), 2, How.READ_SO, worker("w1"), text("in-1"), worker("w8"), SETTLED));
        stored.put(
                "text-settled-1.nothing-in-it",
                new Settled.OfText(text("w1-0720"), 1, How.THANKS, null, null, worker("w8"), SETTLED));
        stored.put(
                "question-settled-1",
                new Settled.OfQuestion(
                        row("12").round(),
                        Question.Kind.OPENED_OVER_PEGGED,
                        List.of("7", "6"),
                        List.of(text("w1-1710"), text("w2-0605")),
                        How.AS_REPORTED,
                        null,
                        null,
                        worker("w8"),
                        SETTLED));
        stored.put(
                "question-settled-1.with-a-note",
                new Settled.OfQuestion(
                        fruit("004711").id(),
                        Question.Kind.TIE_OF_ANOTHER,
                        List.of("004711"),
                        List.of(text("w2-0720")),
                        How.AS_REPORTED,
                        text("in-2"),
                        SEAL,
                        worker("w8"),
                        SETTLED));
        stored.put(
                "neighbour-measured-1",
                new FarmEvent.Measured(
                        HILL, "Dam side", new Neighbour("Gate field", Species.MAXIMA, 240), worker("w8"), SETTLED));
        stored.put(
                "standards-chosen-1",
                new FarmEvent.StandardsChosen(
                        HILL, new Standards("us/squash", null, "handbook/usual", 805, null), worker("w8"), SETTLED));
        stored.put(
                "figure-changed-1",
                new FarmEvent.FigureChanged(
                        HILL,
                        new Change(
                                Table.GERMINATION_MINIMUM, "us/squash", "85", "the farm's own", "2026", worker("w8")),
                        SETTLED));
        storedOfLots(stored, new LotId(HILL, "GC9-26"), worker("w8"));
        return stored;
    }

    private static void storedOfLots(Map<String, FieldEvent> stored, LotId lot, WorkerId by) {
        LocalDate on = LocalDate.of(2026, 8, 14);
        stored.put("lot-begun-1", new LotEvent.Begun(lot, "Greycap Nine", Species.MAXIMA, by, SETTLED));
        stored.put(
                "fruit-taken-1",
                new LotEvent.FruitTaken(
                        lot,
                        List.of(
                                new LotEvent.Taken(fruit("004711").id(), "pure", "1", "GC9-25", List.of()),
                                new LotEvent.Taken(
                                        fruit("004712").id(),
                                        "unfinished",
                                        "1",
                                        null,
                                        List.of("It was not brought in."))),
                        by,
                        SETTLED));
        stored.put(
                "lot-worked-1",
                new LotEvent.Worked(lot, LotEvent.Step.FERMENTED, on.minusDays(1), on, "Shed 2", by, SETTLED));
        stored.put("lot-weighed-1", new LotEvent.Weighed(lot, on, 1250.5, 7.25, by, SETTLED));
        stored.put("lot-weighed-1.without-moisture", new LotEvent.Weighed(lot, on, 1250.5, null, by, SETTLED));
        stored.put("seed-lost-1", new LotEvent.Lost(lot, on, 40, "light seed", by, SETTLED));
        stored.put("seed-weighed-1", new LotEvent.SeedWeighed(lot, on, 286.2, by, SETTLED));
        stored.put("seed-drawn-1", new LotEvent.Drawn(lot, new LotId(HILL, "GC9-26B"), on, 500, by, SETTLED));
        stored.put("seed-packed-1", new LotEvent.Packed(lot, on, 1, 40, 10, by, SETTLED));
        stored.put(
                "germination-counted-1",
                new LotEvent.Germinated(
                        lot,
                        1,
                        on.minusDays(8),
                        on.minusDays(4),
                        on,
                        List.of(new Replicate(100, new Counted(60, 1, 0), new Counted(30, 3, 6))),
                        by,
                        SETTLED));
        stored.put("grow-out-counted-1", new LotEvent.GrownOut(lot, 1, on, 400, 1, 25, by, SETTLED));
        stored.put("grow-out-counted-1.fruit-unknown", new LotEvent.GrownOut(lot, 1, on, 400, 1, null, by, SETTLED));
        stored.put(
                "lot-decided-1",
                new LotEvent.Decided(
                        lot, LotEvent.Decision.RELEASED, "tested", List.of(), LocalDate.of(2027, 8, 14), by, SETTLED));
        stored.put(
                "lot-decided-1.although",
                new LotEvent.Decided(
                        lot,
                        LotEvent.Decision.RELEASED,
                        "for trials",
                        List.of("No grow-out was counted."),
                        null,
                        by,
                        SETTLED));
        stored.put("lot-entry-withdrawn-1", new LotEvent.Withdrawn(lot, 3, "the wrong lot", by, SETTLED));
    }

    /** The files of earlier revisions, with what they are read as: the same as before, and nothing of what came later. */
    private static Map<String, FieldEvent> older() {
        Map<String, FieldEvent> older = new LinkedHashMap<>();
        stored().forEach((file, event) -> {
            String earlier = file.replaceFirst("-2(?=$|\\.)", "-1");
            if (!file.equals(earlier)
                    && !file.endsWith(".by-plant")
                    && !file.endsWith(".of-a-line")
                    && !file.endsWith(".entered")
                    && !file.endsWith(".printed")
                    && !file.endsWith(".with-stock")
                    && !file.endsWith(".with-a-place")) {
                older.put(earlier, event);
            }
        });
        return older;
    }

    static Stream<Arguments> files() {
        return arguments(stored());
    }

    private static Stream<Arguments> arguments(Map<String, FieldEvent> stored) {
        return stored.entrySet().stream().map(one -> Arguments.of(one.getKey(), one.getValue()));
    }

    static Stream<Arguments> allFiles() {
        return Stream.concat(files(), arguments(older()));
    }

    static Stream<FieldEvent> events() {
        return stored().values().stream();
    }

    @Test
    void everyEventHasAName() {
        Set<Class<?>> events = new ClassFileImporter()
                .withImportOption(new ImportOption.DoNotIncludeTests()).importPackages("duskpeg.core").stream()
                        .filter(type -> type.isAssignableTo(FieldEvent.class) && !type.isInterface())
                        .map(JavaClass::reflect)
                        .collect(Collectors.toSet());

        assertThat(EventTypes.ALL.stream().map(EventType::type).toList())
                .doesNotHaveDuplicates()
                .containsExactlyInAnyOrderElementsOf(events.stream()
                        .<Class<? extends FieldEvent>>map(type -> type.asSubclass(FieldEvent.class))
                        .toList());
    }

    @Test
    void noTwoEventsHaveOneName() {
        assertThat(EventTypes.ALL).extracting(EventType::name).doesNotHaveDuplicates();
    }

    /** A revision is counted up by one with every change, and what was released once is read forever. */
    @Test
    void everyTypeHasAFileOfEachRevisionThereEverWas() throws IOException {
        try (Stream<Path> files = Files.list(FILES)) {
            Set<String> there = files.map(file -> file.getFileName().toString().replaceFirst("\\..*", ""))
                    .collect(Collectors.toSet());
            assertThat(there)
                    .containsAll(EventTypes.ALL.stream()
                            .flatMap(type -> IntStream.rangeClosed(1, Integer.parseInt(type.revision()))
                                    .mapToObj(revision -> type.name() + "-" + revision))
                            .toList());
        }
    }

    @Test
    void everyFileIsTested() throws IOException {
        try (Stream<Path> files = Files.list(FILES)) {
            assertThat(files.map(file -> file.getFileName().toString())
                            .filter(name -> name.endsWith(".json"))
                            .toList())
                    .containsExactlyInAnyOrderElementsOf(
                            allFiles().map(file -> file.get()[0] + ".json").toList());
        }
    }

    @ParameterizedTest
    @MethodSource("allFiles")
    void whatWasStoredIsReadAsItWas(String file, FieldEvent event) {
        String[] type = file.replaceFirst("\\..*", "").split("-(?=[0-9]+$)");

        FieldEvent read =
                serializer.deserialize(new SimpleSerializedObject<>(content(file), String.class, type[0], type[1]));

        assertThat(read).isEqualTo(event);
    }

    @ParameterizedTest
    @MethodSource("files")
    void isStoredAsEver(String file, FieldEvent event) throws JsonProcessingException {
        SerializedObject<String> written = serializer.serialize(event, String.class);

        assertThat(written.getType().getName() + "-" + written.getType().getRevision())
                .isEqualTo(file.replaceFirst("\\..*", ""));
        assertThat(plain.readTree(written.getData())).isEqualTo(plain.readTree(content(file)));
    }

    @ParameterizedTest
    @MethodSource("events")
    void isReadBackFromOneLine(FieldEvent event) {
        assertThat(EventJson.read(EventJson.write(event))).isEqualTo(event);
    }

    @ParameterizedTest
    @MethodSource("events")
    void isOneLineThatBeginsWithItsName(FieldEvent event) {
        String name = EventTypes.of(event.getClass()).orElseThrow().name();

        assertThat(EventJson.write(event)).startsWith(name + " {").doesNotContain("\n");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                " ",
                "pegged",
                "pegged ",
                "pegged {",
                "pegged {\"round\":\"hill/tie/004711\"}",
                "trimmed {}",
                "duskpeg.core.act.Act$Pegged {}"
            })
    void whatIsNoEventIsRefused(String written) {
        assertThatIllegalArgumentException().isThrownBy(() -> EventJson.read(written));
    }

    private static String content(String file) {
        try {
            return Files.readString(FILES.resolve(file + ".json"), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
