import com.fasterxml.jackson.databind.ObjectMapper;
import duskpeg.core.act.Act;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.LossReason;
import duskpeg.core.act.TextId;
import duskpeg.core.act.Told;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Entered;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.DayEvent;
import duskpeg.core.day.DayId;
import duskpeg.core.day.Duty;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Species;
import duskpeg.core.report.Question;
import duskpeg.core.round.RoundId;
import duskpeg.core.settle.How;
import duskpeg.core.settle.Settled;
import duskpeg.core.store.EventJson;
import duskpeg.core.store.EventTypes;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * A season of any length, put into the log by bulk insert: sixty mornings, the more events the more rows and workers.
 * Females are pegged in the evening, opened, pollinated, bagged and tied in the morning in two or three texts a row,
 * harvested or culled by tie 45 days later; some are lost, some texts are taken back, whole or by the line, and said
 * anew, some questions are settled, crews are rostered, strips issued and handed over. The same for the same seed.
 */
final class InventedSeason {

    static final FarmId FARM = new FarmId("bigfield");
    static final LocalDate FIRST = LocalDate.of(2026, 1, 5);
    static final int MORNINGS = 60;

    private static final int EVENTS_OF_A_ROUND = 21;
    private static final int RIPE_DAYS = 45;
    private static final int STRIP = 100;
    private static final int WIDTH = 7;
    private static final int BATCH = 1_000;
    private static final Map<Class<?>, EventTypes.EventType> TYPES =
            EventTypes.ALL.stream().collect(Collectors.toMap(EventTypes.EventType::type, type -> type));

    private final Connection database;
    private final PreparedStatement event;
    private final PreparedStatement text;
    private final int wanted;
    private final SplittableRandom random = new SplittableRandom(20260101);
    private final ObjectMapper json = EventJson.mapper();
    private final Map<String, Integer> sequences = new HashMap<>();
    private final Map<LocalDate, Deque<List<TieNumber>>> ripe = new HashMap<>();
    private final Map<WorkerId, Deque<TieNumber>> hands = new HashMap<>();
    private final WorkerId supervisor = new WorkerId(FARM, "w0");
    private int written;
    private int texts;
    private long ties;

    private InventedSeason(Connection database, int wanted) throws SQLException {
        this.database = database;
        this.wanted = wanted;
        this.event = database.prepareStatement("insert into event (event_id, stream, sequence, stream_type, event_type,"
                + " revision, payload, metadata, stored_at) values (?, ?, ?, 'Page', ?, ?, ?, ?, ?)");
        this.text = database.prepareStatement(
                "insert into field_text (farm, text_id, sender, words, salt, heard, worker,"
                        + " unread, reply) values (?, ?, '+15555550100', ?, '00112233445566778899aabbccddeeff', ?, ?, ?, ?)");
    }

    /** Writes so many events, or a few more, and ends with a commit. */
    static int write(Connection database, int events) throws Exception {
        database.setAutoCommit(false);
        InventedSeason season = new InventedSeason(database, events);
        season.play();
        season.send();
        try (PreparedStatement token = database.prepareStatement(
                "insert into token (processor, segment, token, token_type, claimed_at) values ('ledger', 0, ?,"
                        + " 'org.axonframework.eventhandling.GapAwareTrackingToken', '2026-01-01T00:00:00Z')")) {
            // The ledger is not measured here: it is told that it has read all.
            token.setBytes(
                    1,
                    ("{\"index\":" + season.written + ",\"gaps\":[]}")
                            .getBytes(java.nio.charset.StandardCharsets.UTF_8));
            token.executeUpdate();
        }
        database.commit();
        return season.written;
    }

    private void play() throws Exception {
        int rows = Math.max(4, Math.min(900, wanted / (MORNINGS * EVENTS_OF_A_ROUND)));
        List<WorkerId> crew = IntStream.rangeClosed(1, Math.max(4, rows / 4))
                .mapToObj(number -> new WorkerId(FARM, "w" + number))
                .toList();
        setUp(rows, crew);
        for (int day = 0; written < wanted; day++) {
            LocalDate morning = FIRST.plusDays(day);
            if (day < MORNINGS) {
                evening(morning, rows, crew);
                morning(morning, rows, crew);
            } else if (ripe.isEmpty()) {
                day = 0;
            }
            harvest(morning, crew);
        }
    }

    private void setUp(int rows, List<WorkerId> crew) throws Exception {
        Instant at = FIRST.minusDays(60).atStartOfDay(ZoneOffset.UTC).toInstant();
        put(
                new FarmEvent.Opened(
                        FARM,
                        new FarmSettings(
                                ZoneId.of("Africa/Johannesburg"), LocalTime.of(9, 0), LocalTime.of(10, 0), WIDTH),
                        at),
                at);
        for (int first = 1; first <= rows; first += 50) {
            put(
                    new FarmEvent.LaidOut(
                            FARM,
                            new Planting(
                                    "Block " + (first / 50 + 1),
                                    "Greycap Nine",
                                    Species.MAXIMA,
                                    IntStream.rangeClosed(first, Math.min(rows, first + 49))
                                            .mapToObj(row -> new Planting.Row(new RowId(FARM, "" + row), 40))
                                            .toList()),
                            at),
                    at);
        }
        put(new FarmEvent.Enrolled(supervisor, Role.SUPERVISOR, at), at);
        person(supervisor);
        for (WorkerId worker : crew) {
            put(new FarmEvent.Enrolled(worker, Role.CREW, at), at);
            person(worker);
        }
    }

    private void person(WorkerId worker) throws SQLException {
        try (PreparedStatement person = database.prepareStatement(
                "insert into person (farm, worker, name, phone, language) values (?, ?, ?, ?, 'en')")) {
            person.setString(1, FARM.value());
            person.setString(2, worker.pseudonym());
            person.setString(3, "Worker " + worker.pseudonym());
            // No number that anybody could have.
            person.setString(4, "+1555555010" + worker.pseudonym());
            person.executeUpdate();
        }
    }

    private void evening(LocalDate morning, int rows, List<WorkerId> crew) throws Exception {
        Instant at = morning.minusDays(1).atTime(15, 0).toInstant(ZoneOffset.UTC);
        put(
                new DayEvent.Rostered(
                        new DayId(FARM, morning),
                        null,
                        crew.stream().map(Duty::new).toList(),
                        supervisor,
                        at),
                at);
        for (int row = 1; row <= rows && written < wanted; row++) {
            int count = 10 + random.nextInt(9);
            Told told = told(crew.get(row % crew.size()), at.plusSeconds(row), "1 " + row + " " + count);
            put(new Act.Pegged(round(row, morning), count, 2 * count, told), told.heard());
        }
    }

    private void morning(LocalDate morning, int rows, List<WorkerId> crew) throws Exception {
        Instant dawn = morning.atTime(4, 30).toInstant(ZoneOffset.UTC);
        for (int part = 0; part < 2; part++) {
            for (int row = 1; row <= rows && written < wanted; row++) {
                WorkerId worker = crew.get(row % crew.size());
                Instant at = dawn.plusSeconds(part * 5_400L + row * 5L);
                RoundId round = round(row, morning);
                int count = 4 + random.nextInt(5);
                List<TieNumber> taken = taken(worker, count, at);
                visit(round, worker, count, taken, at);
                if (random.nextInt(100) == 0) {
                    takeBack(round, worker, null, at.plusSeconds(60));
                    visit(round, worker, count, taken, at.plusSeconds(120));
                } else if (random.nextInt(300) == 0) {
                    takeBack(round, worker, 1, at.plusSeconds(60));
                    visit(round, worker, count, taken, at.plusSeconds(120));
                }
                ripe.computeIfAbsent(morning.plusDays(RIPE_DAYS), day -> new ArrayDeque<>())
                        .add(taken);
                if (part == 1 && random.nextInt(4) == 0) {
                    Told told = told(worker, at.plusSeconds(200), "6 " + row + " 1 rain");
                    put(new Act.Lost(round, 1, LossReason.values()[0], told), told.heard());
                }
                if (part == 1 && random.nextInt(2) == 0) {
                    Told told = told(worker, at.plusSeconds(300), "7 " + row);
                    put(new Act.Finished(round, told), told.heard());
                }
                if (random.nextInt(400) == 0) {
                    Instant later = at.plusSeconds(4_000);
                    put(
                            new Settled.OfQuestion(
                                    round,
                                    Question.Kind.FINISHED_WITH_LEFT,
                                    List.of("1"),
                                    List.of(new TextId(FARM, "SM" + texts)),
                                    How.AS_REPORTED,
                                    null,
                                    null,
                                    supervisor,
                                    later),
                            later);
                }
            }
        }
    }

    private void visit(RoundId round, WorkerId worker, int count, List<TieNumber> taken, Instant at) throws Exception {
        Told told = told(worker, at, "2345 " + round.row().label() + " " + count);
        put(new Act.Opened(round, count, told), at);
        put(new Act.Pollinated(round, count, told), at);
        put(new Act.Bagged(round, count, told), at);
        put(new Act.Tied(round, count, taken, null, told), at);
    }

    private void takeBack(RoundId round, WorkerId worker, Integer line, Instant at) throws Exception {
        TextId before = new TextId(FARM, "SM" + texts);
        put(new Act.TakenBack(round, before, line, told(worker, at, "0")), at);
    }

    private void harvest(LocalDate day, List<WorkerId> crew) throws Exception {
        Instant at = day.atTime(8, 0).toInstant(ZoneOffset.UTC);
        Deque<List<TieNumber>> all = ripe.remove(day);
        int number = 0;
        while (all != null && !all.isEmpty() && written < wanted) {
            List<TieNumber> together = all.poll();
            boolean culled = random.nextInt(8) == 0;
            Told told = told(
                    crew.get(number++ % crew.size()),
                    at.plusSeconds(number),
                    (culled ? "cull " : "harvest ") + together.get(0) + "-" + together.get(together.size() - 1));
            for (TieNumber tie : together) {
                FruitId fruit = new FruitId(FARM, tie);
                put(
                        culled ? new Act.Culled(fruit, null, 1, told) : new Act.Harvested(fruit, null, 1, told),
                        told.heard());
            }
        }
    }

    /** The next ties of her strip; she is given another when it runs out, and now and then hands some on. */
    private List<TieNumber> taken(WorkerId worker, int count, Instant at) throws Exception {
        Deque<TieNumber> mine = hands.computeIfAbsent(worker, one -> new ArrayDeque<>());
        if (mine.size() < count) {
            mine.clear();
            Strip strip = new Strip(tie(ties), tie(ties + STRIP - 1));
            ties += STRIP;
            put(new CustodyEvent.StripIssued(worker, strip, at, Entered.onPage(supervisor)), at);
            strip.ties().forEach(mine::add);
            if (random.nextInt(20) == 0) {
                put(new CustodyEvent.TieDamaged(worker, mine.pollLast(), at, Entered.onPage(supervisor)), at);
            }
            if (random.nextInt(50) == 0) {
                Strip left = new Strip(tie(ties - STRIP + 50), tie(ties - 1));
                while (mine.size() > 50) {
                    mine.pollLast();
                }
                put(new CustodyEvent.StripHandedOver(worker, supervisor, left, at, Entered.onPage(supervisor)), at);
            }
        }
        List<TieNumber> taken = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            taken.add(mine.poll());
        }
        return taken;
    }

    private static TieNumber tie(long value) {
        return TieNumber.of(value, WIDTH);
    }

    private static RoundId round(int row, LocalDate morning) {
        return new RoundId(new RowId(FARM, "" + row), morning);
    }

    private Told told(WorkerId by, Instant at, String words) throws SQLException {
        texts++;
        byte[] seal = new byte[32];
        random.nextBytes(seal);
        TextId id = new TextId(FARM, "SM" + texts);
        text.setString(1, FARM.value());
        text.setString(2, id.value());
        text.setString(3, words);
        text.setObject(4, OffsetDateTime.ofInstant(at, ZoneOffset.UTC));
        text.setString(5, by.pseudonym());
        text.setInt(6, 0);
        text.setString(7, "Noted.");
        text.addBatch();
        return new Told(by, at, at, id, 1, HexFormat.of().formatHex(seal));
    }

    private void put(FieldEvent what, Instant at) throws Exception {
        EventTypes.EventType type = TYPES.get(what.getClass());
        String stream = what.subject().toString();
        event.setString(1, new UUID(random.nextLong(), random.nextLong()).toString());
        event.setString(2, stream);
        event.setLong(3, sequences.merge(stream, 1, Integer::sum) - 1);
        event.setString(4, type.name());
        event.setString(5, type.revision());
        event.setBytes(6, json.writeValueAsBytes(what));
        event.setBytes(
                7,
                "{\"traceId\":\"35f63274-fdb2-4a47-bd4a-4a9568b76fc1\",\"correlationId\":\"35f63274-fdb2-4a47-bd4a-4a9568b76fc1\"}"
                        .getBytes(java.nio.charset.StandardCharsets.UTF_8));
        event.setString(8, at.toString());
        event.addBatch();
        written++;
        if (written % BATCH == 0) {
            send();
        }
    }

    private void send() throws SQLException {
        event.executeBatch();
        text.executeBatch();
        database.commit();
    }
}
