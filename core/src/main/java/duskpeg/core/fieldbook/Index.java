package duskpeg.core.fieldbook;

import duskpeg.core.act.Act;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.StripInHand;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.Caution;
import duskpeg.core.day.DayEvent;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.farm.Place;
import duskpeg.core.farm.Standards;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.Lots;
import duskpeg.core.maturity.DayTemperature;
import duskpeg.core.maturity.Temperatures;
import duskpeg.core.planting.Neighbour;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import duskpeg.core.planting.Species;
import duskpeg.core.published.Change;
import duskpeg.core.published.Published;
import duskpeg.core.round.RoundId;
import duskpeg.core.settle.Settled;
import duskpeg.core.settle.Settlements;
import duskpeg.core.store.EventJson;
import duskpeg.core.store.Remembered;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.JdbcOperations;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * The field book's index: whose strip a tie is of, where it was put on, what a worker said last, which rows there are.
 * Each entry is written in the transaction of the event it is read from, so that the next report sees it, and the
 * whole can be made anew from the events.
 */
public final class Index {

    private static final List<String> TABLES = List.of(
            "farm",
            "farm_row",
            "enrolled",
            "said",
            "settled",
            "day_entry",
            "lot_entry",
            "figure_entry",
            "neighbour",
            "harvest_entry");

    private final JdbcOperations operations;
    private final JdbcClient jdbc;
    private final WaitingEntries waiting;
    private final StripIndex strips;
    /** What farms set up, and whose strips are whose: texts ask for it again and again and hardly ever change it. */
    private final Remembered remembered = new Remembered();

    public Index(JdbcOperations operations) {
        this.operations = operations;
        this.jdbc = JdbcClient.create(operations);
        this.waiting = new WaitingEntries(operations);
        this.strips = new StripIndex(jdbc, waiting, remembered);
    }

    /** What is known of ties. */
    public StripIndex strips() {
        return strips;
    }

    /** For making it anew. */
    public IndexAnew anew() {
        return new IndexAnew(this, operations);
    }

    void clear() {
        remembered.forget();
        Stream.concat(TABLES.stream(), StripIndex.TABLES.stream())
                .forEach(table -> operations.execute("truncate table " + table + " restart identity"));
    }

    /** Enters what an event says. Events must be entered in the order of the log. */
    public void enter(FieldEvent event) {
        waiting.add(entries -> enter(event, entries, false));
    }

    /**
     * Enters what an event says.
     *
     * @param entries takes what it says of subjects and ties; to be written afterwards
     * @param many whether strips are folded later
     */
    void enter(FieldEvent event, SaidEntries entries, boolean many) {
        if (event instanceof FarmEvent || event instanceof CustodyEvent || event instanceof Act.TakenBack) {
            remembered.forget();
        }
        if (event instanceof FarmEvent.Opened opened) {
            farm(opened);
        } else if (event instanceof FarmEvent.LaidOut laidOut) {
            laidOut.planting().rows().forEach(row -> row(laidOut.planting(), row));
        } else if (event instanceof FarmEvent.Measured measured) {
            measured(measured);
        } else if (event instanceof FarmEvent.StandardsChosen || event instanceof FarmEvent.FigureChanged) {
            jdbc.sql("insert into figure_entry (farm, event) values (?, ?)")
                    .params(event.subject().farm().value(), EventJson.write(event))
                    .update();
        } else if (event instanceof FarmEvent.TemperaturesEntered || event instanceof FarmEvent.LookedOver) {
            jdbc.sql("insert into harvest_entry (farm, event) values (?, ?)")
                    .params(event.subject().farm().value(), EventJson.write(event))
                    .update();
        } else if (event instanceof FarmEvent.Enrolled enrolled) {
            jdbc.sql("insert into enrolled (farm, worker, role) values (?, ?, ?)")
                    .params(
                            enrolled.worker().farm().value(),
                            enrolled.worker().pseudonym(),
                            enrolled.role().name())
                    .update();
        } else if (event instanceof FarmEvent.Erased erased) {
            jdbc.sql("update enrolled set erased = ? where farm = ? and worker = ?")
                    .params(
                            erased.at().atOffset(ZoneOffset.UTC),
                            erased.worker().farm().value(),
                            erased.worker().pseudonym())
                    .update();
        } else if (event instanceof CustodyEvent custody) {
            if (many) {
                strips.keep(custody);
            } else {
                strips.enter(custody);
            }
            custody.text()
                    .ifPresent(text -> entries.said(
                            text, Objects.requireNonNull(custody.entered()).by(), custody.subject()));
        } else if (event instanceof Act.TakenBack back) {
            entries.takenBack(back);
            if (back.line() == null && back.subject() instanceof WorkerId worker) {
                if (many) {
                    strips.markTakenBack(back.text(), worker);
                } else {
                    strips.takenBack(back.text(), worker);
                }
            }
        } else if (event instanceof Act act) {
            entries.said(act.told().text(), act.told().by(), act.subject());
            if (act instanceof Act.Tied tied) {
                entries.used(tied);
            }
        } else if (event instanceof Settled settled) {
            settled(settled);
        } else if (event instanceof DayEvent day) {
            entered(day);
        } else if (event instanceof LotEvent lot) {
            jdbc.sql("insert into lot_entry (farm, lot, event) values (?, ?, ?)")
                    .params(lot.lot().farm().value(), lot.lot().name(), EventJson.write(lot))
                    .update();
        }
    }

    private void entered(DayEvent event) {
        Instant ends = null;
        if (event instanceof DayEvent.CautionEntered entered) {
            ends = entered.caution().until();
        } else if (event instanceof DayEvent.CautionWithdrawn withdrawn) {
            ends = withdrawn.caution().until();
        }
        String written = EventJson.write(event);
        jdbc.sql("insert into day_entry (farm, on_day, kind, ends, event) values (?, ?, ?, ?, ?)")
                .params(Arrays.asList(
                        event.day().farm().value(),
                        event.day().date(),
                        kind(written),
                        ends == null ? null : ends.atOffset(ZoneOffset.UTC),
                        written))
                .update();
    }

    private void settled(Settled settled) {
        int line = 0;
        TextId reading = null;
        if (settled instanceof Settled.OfText text) {
            line = text.line();
            reading = text.reading();
        }
        jdbc.sql("insert into settled (farm, subject, line, reading, event) values (?, ?, ?, ?, ?)")
                .params(
                        settled.subject().farm().value(),
                        settled.subject().toString(),
                        line,
                        reading == null ? null : reading.value(),
                        EventJson.write(settled))
                .update();
    }

    private void farm(FarmEvent.Opened opened) {
        FarmSettings settings = opened.settings();
        Place place = settings.place();
        jdbc.sql("insert into farm (farm, zone, target, cut_off, tie_width, latitude, longitude)"
                        + " values (?, ?, ?, ?, ?, ?, ?)")
                .params(Arrays.asList(
                        opened.farm().value(),
                        settings.zone().getId(),
                        settings.target().toString(),
                        settings.limit().toString(),
                        settings.tieWidth(),
                        place == null ? null : place.latitude(),
                        place == null ? null : place.longitude()))
                .update();
    }

    private void row(Planting planting, Planting.Row row) {
        jdbc.sql("insert into farm_row (farm, row_label, planting, cultivar, species, plants, stock)"
                        + " values (?, ?, ?, ?, ?, ?, ?)")
                .params(Arrays.asList(
                        row.id().farm().value(),
                        row.id().label(),
                        planting.name(),
                        planting.cultivar(),
                        planting.species().name(),
                        row.plants(),
                        planting.stock()))
                .update();
    }

    private void measured(FarmEvent.Measured measured) {
        List<Object> key = List.of(
                measured.farm().value(),
                measured.planting(),
                measured.neighbour().name());
        jdbc.sql("delete from neighbour where farm = ? and planting = ? and neighbour = ?")
                .params(key)
                .update();
        jdbc.sql("insert into neighbour (farm, planting, neighbour, species, metres) values (?, ?, ?, ?, ?)")
                .params(key)
                .param(measured.neighbour().species().name())
                .param(measured.neighbour().metres())
                .update();
    }

    /** What stands near each planting, by the planting's name, the nearest first. */
    public Map<String, List<Neighbour>> neighbours(FarmId farm) {
        Map<String, List<Neighbour>> neighbours = new LinkedHashMap<>();
        jdbc.sql("select planting, neighbour, species, metres from neighbour where farm = ?"
                        + " order by planting, metres, neighbour")
                .param(farm.value())
                .query(row -> {
                    neighbours
                            .computeIfAbsent(row.getString(1), planting -> new ArrayList<>())
                            .add(new Neighbour(row.getString(2), Species.valueOf(row.getString(3)), row.getInt(4)));
                });
        return neighbours;
    }

    /** The farms, by id. */
    public List<FarmId> farms() {
        return jdbc.sql("select farm from farm order by farm").query(String.class).list().stream()
                .map(FarmId::new)
                .toList();
    }

    /**
     * The farm's own rules.
     *
     * @throws java.util.NoSuchElementException if there is no such farm
     */
    public FarmSettings settings(FarmId farm) {
        return remembered.get(farm, () -> settingsOf(farm));
    }

    private FarmSettings settingsOf(FarmId farm) {
        return jdbc.sql("select zone, target, cut_off, tie_width, latitude, longitude from farm where farm = ?")
                .param(farm.value())
                .query((row, number) -> new FarmSettings(
                        ZoneId.of(row.getString(1)),
                        LocalTime.parse(row.getString(2)),
                        LocalTime.parse(row.getString(3)),
                        row.getInt(4),
                        place(row.getObject(5, Double.class), row.getObject(6, Double.class))))
                .optional()
                .orElseThrow();
    }

    private static @Nullable Place place(@Nullable Double latitude, @Nullable Double longitude) {
        return latitude == null || longitude == null ? null : new Place(latitude, longitude);
    }

    /** The plantings with their rows, rows by number. */
    public List<Planting> plantings(FarmId farm) {
        record Flat(
                String planting,
                String cultivar,
                Species species,
                Planting.Row row,
                @Nullable String stock) {}
        Map<String, List<Flat>> byName = new LinkedHashMap<>();
        jdbc.sql("select planting, cultivar, species, row_label, plants, stock from farm_row where farm = ?"
                        + " order by char_length(row_label), row_label")
                .param(farm.value())
                .query((row, number) -> new Flat(
                        row.getString(1),
                        row.getString(2),
                        Species.valueOf(row.getString(3)),
                        new Planting.Row(new RowId(farm, row.getString(4)), row.getInt(5)),
                        row.getString(6)))
                .list()
                .forEach(flat -> byName.computeIfAbsent(flat.planting(), name -> new ArrayList<>())
                        .add(flat));
        return byName.values().stream()
                .map(rows -> new Planting(
                        rows.get(0).planting(),
                        rows.get(0).cultivar(),
                        rows.get(0).species(),
                        rows.stream().map(Flat::row).toList(),
                        rows.get(0).stock()))
                .toList();
    }

    /** What the farm knows of its rows. */
    public Rows rows(FarmId farm) {
        return new Rows(plantings(farm));
    }

    /** Whether the farm has that row. */
    public boolean hasRow(RowId row) {
        return labels(row.farm()).contains(row.label());
    }

    private Set<String> labels(FarmId farm) {
        return remembered.get(
                "rows " + farm,
                () -> new HashSet<>(jdbc.sql("select row_label from farm_row where farm = ?")
                        .param(farm.value())
                        .query(String.class)
                        .list()));
    }

    /** The workers with their roles, by pseudonym; not those who were erased. */
    public Map<WorkerId, Role> workers(FarmId farm) {
        Map<WorkerId, Role> workers = new LinkedHashMap<>();
        jdbc.sql("select worker, role from enrolled where farm = ? and erased is null order by worker")
                .param(farm.value())
                .query(row -> {
                    workers.put(new WorkerId(farm, row.getString(1)), Role.valueOf(row.getString(2)));
                });
        return workers;
    }

    /** Those who were erased, by pseudonym, with when that was. */
    public Map<WorkerId, Instant> erased(FarmId farm) {
        Map<WorkerId, Instant> erased = new LinkedHashMap<>();
        jdbc.sql("select worker, erased from enrolled where farm = ? and erased is not null order by worker")
                .param(farm.value())
                .query(row -> {
                    erased.put(
                            new WorkerId(farm, row.getString(1)),
                            row.getObject(2, OffsetDateTime.class).toInstant());
                });
        return erased;
    }

    /** The supervisors; until the transaction ends nobody else can hold or erase one. */
    List<WorkerId> holdSupervisors(FarmId farm) {
        return jdbc.sql("select worker from enrolled where farm = ? and role = ? and erased is null"
                        + " order by worker for update")
                .params(farm.value(), Role.SUPERVISOR.name())
                .query((row, number) -> new WorkerId(farm, row.getString(1)))
                .list();
    }

    /** The workers of that role, by pseudonym. */
    public List<WorkerId> workers(FarmId farm, Role role) {
        return workers(farm).entrySet().stream()
                .filter(worker -> worker.getValue() == role)
                .map(Map.Entry::getKey)
                .toList();
    }

    /** Whether that is a supervisor of her farm. */
    public boolean isSupervisor(WorkerId worker) {
        return workers(worker.farm()).get(worker) == Role.SUPERVISOR;
    }

    /** Who comes to work on a morning, as rostered last; empty where nobody was. */
    public Optional<DayEvent.Rostered> roster(FarmId farm, LocalDate morning) {
        return entries(farm, morning, "crew-rostered")
                .map(DayEvent.Rostered.class::cast)
                .reduce((earlier, later) -> later);
    }

    /** Who was told where to go on that morning, in the order in which they were. */
    public List<DayEvent.Sent> sent(FarmId farm, LocalDate morning) {
        return entries(farm, morning, "worker-sent")
                .map(DayEvent.Sent.class::cast)
                .toList();
    }

    /** @param kind the name under which the events are stored */
    private Stream<FieldEvent> entries(FarmId farm, LocalDate day, String kind) {
        return jdbc
                .sql("select event from day_entry where farm = ? and on_day = ? and kind = ? order by entered")
                .params(farm.value(), day, kind)
                .query(String.class)
                .list()
                .stream()
                .map(EventJson::read);
    }

    private static String kind(String written) {
        return written.substring(0, written.indexOf(' '));
    }

    /** The cautions that are not over at that time, also those that are still to begin, in the order entered. */
    public List<Caution> cautions(FarmId farm, Instant at) {
        List<Caution> cautions = new ArrayList<>();
        jdbc.sql("select event from day_entry where farm = ? and ends > ? order by entered")
                .params(farm.value(), at.atOffset(ZoneOffset.UTC))
                .query(String.class)
                .list()
                .forEach(event -> {
                    if (EventJson.read(event) instanceof DayEvent.CautionEntered entered) {
                        cautions.add(entered.caution());
                    } else if (EventJson.read(event) instanceof DayEvent.CautionWithdrawn withdrawn) {
                        cautions.remove(withdrawn.caution());
                    }
                });
        return List.copyOf(cautions);
    }

    /** The rows that nobody may enter at that time. */
    public Set<RowId> closed(FarmId farm, Instant at) {
        return closedUntil(farm, at).keySet();
    }

    /** The rows that nobody may enter at that time, and until when: of two cautions the longer holds. */
    public Map<RowId, Instant> closedUntil(FarmId farm, Instant at) {
        List<Caution> cautions = cautions(farm, at);
        Map<RowId, Instant> until = new HashMap<>();
        if (!cautions.isEmpty()) {
            for (Planting planting : plantings(farm)) {
                cautions.stream()
                        .filter(caution -> caution.closes(planting.name(), at))
                        .map(Caution::until)
                        .max(Comparator.naturalOrder())
                        .ifPresent(end -> planting.rows().forEach(row -> until.put(row.id(), end)));
            }
        }
        return Map.copyOf(until);
    }

    /** How much was ever entered for days; it changes with every entry. */
    public int dayEntries(FarmId farm) {
        return jdbc.sql("select count(*) from day_entry where farm = ?")
                .param(farm.value())
                .query(Integer.class)
                .single();
    }

    /** All lots of a farm. */
    public Lots lots(FarmId farm) {
        return lots(farm, Instant.MAX);
    }

    /** All lots of a farm, by what was entered until a time. */
    public Lots lots(FarmId farm, Instant at) {
        return new Lots(entries(farm, "lot_entry", LotEvent.class)
                .filter(event -> !event.at().isAfter(at))
                .toList());
    }

    /** Published figures, and what the farm put in their place. */
    public Published published(FarmId farm) {
        List<Change> changes = entries(farm, "figure_entry", FarmEvent.FigureChanged.class)
                .map(FarmEvent.FigureChanged::change)
                .toList();
        try {
            return Published.shipped().with(changes);
        } catch (IllegalArgumentException e) {
            // Another edition of the tables may have no place for one that was entered beside an earlier one.
            Published published = Published.shipped();
            for (Change change : changes) {
                published = fitting(published, change);
            }
            return published;
        }
    }

    private static Published fitting(Published published, Change change) {
        try {
            return published.with(change);
        } catch (IllegalArgumentException e) {
            return published;
        }
    }

    /** Which published figures the farm goes by. */
    public Standards standards(FarmId farm) {
        return entries(farm, "figure_entry", FarmEvent.StandardsChosen.class)
                .map(FarmEvent.StandardsChosen::standards)
                .reduce((earlier, later) -> later)
                .orElse(Standards.NONE);
    }

    /** The temperatures of the farm's days, each as entered last. */
    public Temperatures temperatures(FarmId farm) {
        Map<LocalDate, DayTemperature> days = new TreeMap<>();
        entries(farm, "harvest_entry", FarmEvent.TemperaturesEntered.class)
                .flatMap(entered -> entered.days().stream())
                .forEach(day -> days.put(day.date(), day));
        return new Temperatures(List.copyOf(days.values()));
    }

    /** When rows were looked over with nothing to cut, in the order entered. */
    public List<FarmEvent.LookedOver> lookedOver(FarmId farm) {
        return entries(farm, "harvest_entry", FarmEvent.LookedOver.class).toList();
    }

    private <T extends FieldEvent> Stream<T> entries(FarmId farm, String table, Class<T> kind) {
        return jdbc
                .sql("select event from " + table + " where farm = ? order by entered")
                .param(farm.value())
                .query(String.class)
                .list()
                .stream()
                .map(EventJson::read)
                .filter(kind::isInstance)
                .map(kind::cast);
    }

    /** The strips in the worker's hands, in the order in which she got them. */
    public List<StripInHand> strips(WorkerId worker) {
        return strips.inHand(worker);
    }

    /** The next tie of the worker's strips; empty where they are used up. */
    public Optional<TieNumber> nextTie(WorkerId worker) {
        return strips(worker).stream().flatMap(inHand -> inHand.next().stream()).findFirst();
    }

    /** The rounds in which a tie was put on, by the standing reports, oldest report first. */
    public List<RoundId> roundsOf(FarmId farm, TieNumber tie) {
        return waiting
                .get()
                .sql("select round from tie_use where farm = ? and tie = ? order by used")
                .params(farm.value(), tie.digits())
                .query(String.class)
                .list()
                .stream()
                .map(round -> (RoundId) Subject.parse(round))
                .toList();
    }

    /**
     * What the farm knows of these ties, read at once.
     *
     * @param ties the ties that will be asked about; of any other nothing is known
     */
    public TieUses uses(FarmId farm, Collection<TieNumber> ties) {
        return strips.uses(farm, ties);
    }

    /** What questions about any fruit of the farm need of its tie; of ties put on once at most, not how often. */
    public TieUses uses(FarmId farm) {
        return strips.uses(farm);
    }

    /** How questions about these subjects were settled. */
    public Settlements settlements(FarmId farm, Collection<? extends Subject> subjects) {
        if (subjects.isEmpty()) {
            return new Settlements(List.of());
        }
        return new Settlements(settled("farm = :farm and subject in (:names) order by settled", farm, subjects).stream()
                .filter(Settled.OfQuestion.class::isInstance)
                .map(Settled.OfQuestion.class::cast)
                .toList());
    }

    /** Those of these texts that somebody settled so that they were written down, with what she settled. */
    public Map<TextId, Settled.OfText> readings(FarmId farm, Collection<TextId> texts) {
        Map<TextId, Settled.OfText> readings = new HashMap<>();
        if (!texts.isEmpty()) {
            settled(
                            "farm = :farm and reading in (:names)",
                            farm,
                            texts.stream().map(TextId::value).toList())
                    .forEach(one -> {
                        if (one instanceof Settled.OfText text && text.reading() != null) {
                            readings.put(text.reading(), text);
                        }
                    });
        }
        return readings;
    }

    /** What was settled last, latest first. */
    public List<Settled> lastSettled(FarmId farm, int most) {
        return settled("farm = :farm order by settled desc fetch first " + most + " rows only", farm, List.of());
    }

    /** How many things were settled. */
    public int settled(FarmId farm) {
        return jdbc.sql("select count(*) from settled where farm = ?")
                .param(farm.value())
                .query(Integer.class)
                .single();
    }

    /** How many questions about the rounds of that morning were settled. */
    public int settledOn(FarmId farm, LocalDate morning) {
        return jdbc.sql("select count(*) from settled where farm = ? and subject like ?")
                .params(farm.value(), farm + "/row/%/" + morning)
                .query(Integer.class)
                .single();
    }

    private List<Settled> settled(String where, FarmId farm, Collection<?> names) {
        return jdbc
                .sql("select event from settled where " + where)
                .param("farm", farm.value())
                .param("names", names.stream().map(Object::toString).distinct().toList())
                .query(String.class)
                .list()
                .stream()
                .map(event -> (Settled) EventJson.read(event))
                .toList();
    }

    /** Whether anybody of the farm has reported anything yet, standing or not. */
    public boolean isAnythingSaid(FarmId farm) {
        return waiting.get()
                .sql("select exists (select 1 from said where farm = ?)")
                .param(farm.value())
                .query(Boolean.class)
                .single();
    }

    /**
     * What the worker's last standing message was about.
     *
     * @param before the message to look before: itself left out
     * @param row only messages about this row or its rounds; empty for any
     */
    List<SaidOf> lastSaid(WorkerId worker, TextId before, Optional<RowId> row) {
        List<SaidOf> said = said(worker, before, row);
        return said.stream()
                .filter(one -> one.text().equals(said.get(0).text()))
                .toList();
    }

    /**
     * What the worker's standing messages were about, the last first, as far back as anybody takes back.
     *
     * @param before the message to look before: itself left out
     * @param row only messages about this row or its rounds; empty for any
     */
    List<SaidOf> said(WorkerId worker, TextId before, Optional<RowId> row) {
        return waiting
                .get()
                .sql("select text_id, subject from said where farm = ? and worker = ?"
                        + " and text_id <> ? and not taken_back order by said desc fetch first 200 rows only")
                .params(worker.farm().value(), worker.pseudonym(), before.value())
                .query((line, number) ->
                        new SaidOf(new TextId(worker.farm(), line.getString(1)), Subject.parse(line.getString(2))))
                .list()
                .stream()
                .filter(said -> row.isEmpty() || row.equals(said.subject().inRow()))
                .toList();
    }

    /** The rounds of a morning of which the worker has said something that stands, by row. */
    List<RoundId> roundsSaidBy(WorkerId worker, LocalDate morning) {
        return waiting
                .get()
                .sql("select distinct subject from said where farm = ? and worker = ? and subject like ?"
                        + " and not taken_back")
                .params(worker.farm().value(), worker.pseudonym(), worker.farm() + "/row/%/" + morning)
                .query(String.class)
                .list()
                .stream()
                .map(subject -> (RoundId) Subject.parse(subject))
                .sorted(Comparator.comparing(
                        round -> Integer.valueOf(round.row().label())))
                .toList();
    }

    /** A message that said something of a subject. */
    record SaidOf(TextId text, Subject subject) {}
}
