package duskpeg.core.fieldbook;

import duskpeg.core.act.TextId;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Holding;
import duskpeg.core.crew.Holdings;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.StripInHand;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.store.EventJson;
import duskpeg.core.store.Remembered;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.LongStream;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * The part of the index that knows ties: who held which when, which were put on, which are damaged. The custody events
 * are kept as they are; who holds what is folded from them by {@link Holdings} whenever one is entered or taken back.
 */
public final class StripIndex {

    /** Its tables, which {@link Index#clear} empties. */
    static final List<String> TABLES = List.of("custody", "holding", "tie_use");

    /** A number lies between two others: spans of fixed width are ordered as text. */
    private static final String OVERLAPS = " farm = ? and span_first <= ? and span_last >= ?";

    private static final int BATCH = 1000;

    /** Of all ties of a large farm there are too many holdings to look through: they are kept by so many numbers. */
    private static final int BLOCK = 1000;

    private static final Holdings NONE = new Holdings(List.of());

    private final JdbcClient jdbc;
    private final Supplier<JdbcClient> written;
    private final Remembered remembered;

    /**
     * @param written the database, with all that was said of ties in it
     */
    StripIndex(JdbcClient jdbc, Supplier<JdbcClient> written, Remembered remembered) {
        this.jdbc = jdbc;
        this.written = written;
        this.remembered = remembered;
    }

    /**
     * An event of a strip's history.
     *
     * @param takenBack whether who entered it took it back
     */
    public record Line(CustodyEvent event, boolean takenBack) {}

    /** Numbers, from the lowest to the highest. */
    record Span(TieNumber first, TieNumber last) {

        static Span of(Strip strip) {
            return new Span(strip.spanFirst(), strip.spanLast());
        }

        Span with(TieNumber lowest, TieNumber highest) {
            return new Span(lowest.compareTo(first) < 0 ? lowest : first, highest.compareTo(last) > 0 ? highest : last);
        }

        List<Object> overlapped(FarmId farm) {
            return List.of(farm.value(), last.digits(), first.digits());
        }
    }

    void enter(CustodyEvent event) {
        keep(event);
        fold(event.worker().farm(), Span.of(event.ties()));
    }

    /** As {@link #enter}, for many: {@link #foldAll} must follow. */
    void keep(CustodyEvent event) {
        FarmId farm = event.worker().farm();
        Span span = Span.of(event.ties());
        jdbc.sql("insert into custody (farm, span_first, span_last, text_id, taken_back, event)"
                        + " values (?, ?, ?, ?, false, ?)")
                .params(
                        farm.value(),
                        span.first().digits(),
                        span.last().digits(),
                        event.text().map(TextId::value).orElse(null),
                        EventJson.write(event))
                .update();
    }

    /** What that message said of ties in that worker's hands no longer stands. */
    void takenBack(TextId text, WorkerId worker) {
        markTakenBack(text, worker).forEach(span -> fold(text.farm(), span));
    }

    /** As {@link #takenBack}, for many: {@link #foldAll} must follow. */
    List<Span> markTakenBack(TextId text, WorkerId worker) {
        List<Span> about = new ArrayList<>();
        for (CustodyEvent event : said(text)) {
            if (event.worker().equals(worker)) {
                jdbc.sql("update custody set taken_back = true where farm = ? and text_id = ? and event = ?")
                        .params(text.farm().value(), text.value(), EventJson.write(event))
                        .update();
                about.add(Span.of(event.ties()));
            }
        }
        return about;
    }

    /** Folds what is known of all ties, where nothing is folded yet: together those that are told of together. */
    void foldAll() {
        jdbc.sql("select distinct farm from custody").query(String.class).list().forEach(id -> {
            FarmId farm = new FarmId(id);
            List<Holdings.Placed> together = new ArrayList<>();
            String furthest = "";
            // With spans by their beginning, one that begins behind all before it has nothing to do with them.
            for (Kept kept : all(farm)) {
                if (kept.first().compareTo(furthest) > 0) {
                    insert(farm, together);
                    together.clear();
                    furthest = kept.last();
                }
                furthest = kept.last().compareTo(furthest) > 0 ? kept.last() : furthest;
                if (!kept.takenBack()) {
                    together.add(new Holdings.Placed(kept.place(), (CustodyEvent) EventJson.read(kept.event())));
                }
            }
            insert(farm, together);
        });
    }

    private record Kept(long place, String first, String last, boolean takenBack, String event) {}

    private List<Kept> all(FarmId farm) {
        return jdbc.sql("select place, span_first, span_last, taken_back, event from custody where farm = ?"
                        + " order by span_first, place")
                .param(farm.value())
                .query((row, number) -> new Kept(
                        row.getLong(1), row.getString(2), row.getString(3), row.getBoolean(4), row.getString(5)))
                .list();
    }

    private void insert(FarmId farm, List<Holdings.Placed> events) {
        List<Holdings.Placed> inOrder = events.stream()
                .sorted(Comparator.comparingLong(Holdings.Placed::place))
                .toList();
        Holdings.of(inOrder).all().forEach(holding -> insert(farm, holding));
    }

    /** What that message said of ties in anybody's hands, as far as it stands, in order. */
    List<CustodyEvent> said(TextId text) {
        return jdbc
                .sql("select event from custody where farm = ? and text_id = ? and not taken_back order by place")
                .params(text.farm().value(), text.value())
                .query(String.class)
                .list()
                .stream()
                .map(event -> (CustodyEvent) EventJson.read(event))
                .toList();
    }

    /** Folds anew what is known of these ties, and of all that are told of together with them. */
    private void fold(FarmId farm, Span about) {
        Span all = about;
        Span wider = widened(farm, all);
        while (!wider.equals(all)) {
            all = wider;
            wider = widened(farm, all);
        }
        List<Holdings.Placed> events = jdbc.sql(
                        "select place, event from custody where not taken_back and" + OVERLAPS + " order by place")
                .params(all.overlapped(farm))
                .query((row, number) ->
                        new Holdings.Placed(row.getLong(1), (CustodyEvent) EventJson.read(row.getString(2))))
                .list();
        jdbc.sql("delete from holding where" + OVERLAPS)
                .params(all.overlapped(farm))
                .update();
        insert(farm, events);
    }

    private Span widened(FarmId farm, Span span) {
        return jdbc.sql("select min(span_first), max(span_last) from custody where" + OVERLAPS)
                .params(span.overlapped(farm))
                .query((row, number) -> row.getString(1) == null
                        ? span
                        : span.with(new TieNumber(row.getString(1)), new TieNumber(row.getString(2))))
                .single();
    }

    private void insert(FarmId farm, Holding holding) {
        Holding.End end = holding.end();
        Span span = Span.of(holding.ties());
        jdbc.sql("insert into holding (farm, place, first_tie, last_tie, numbering, span_first, span_last, worker,"
                        + " since, ended, ended_at) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
                .params(
                        farm.value(),
                        holding.place(),
                        holding.ties().first().digits(),
                        holding.ties().last().digits(),
                        holding.ties().numbering().name(),
                        span.first().digits(),
                        span.last().digits(),
                        holding.worker().pseudonym(),
                        timestamp(holding.since()),
                        end == null ? null : end.kind().name(),
                        end == null ? null : timestamp(end.at()))
                .update();
    }

    private static OffsetDateTime timestamp(Instant at) {
        return OffsetDateTime.ofInstant(at, ZoneOffset.UTC);
    }

    /** Holds the farm's custody until the transaction ends: one change after the other. */
    void hold(FarmId farm) {
        jdbc.sql("select farm from farm where farm = ? for update")
                .param(farm.value())
                .query(String.class)
                .list();
    }

    /** Holds a worker's strips until the transaction ends, so that no other report takes from them meanwhile. */
    void hold(WorkerId worker) {
        // Held once, it is held until the transaction ends.
        remembered.get(
                "held " + worker,
                () -> jdbc.sql("select worker from enrolled where farm = ? and worker = ? for update")
                        .params(worker.farm().value(), worker.pseudonym())
                        .query(String.class)
                        .list());
    }

    /** The strips in the worker's hands, in the order in which she got them. */
    public List<StripInHand> inHand(WorkerId worker) {
        return holdings(
                        "farm = ? and worker = ? and ended is null",
                        worker.farm().value(),
                        worker.pseudonym())
                .all()
                .stream()
                .map(holding -> inHand(worker.farm(), holding.ties()))
                .toList();
    }

    private StripInHand inHand(FarmId farm, Strip strip) {
        return StripInHand.of(strip, lastUsed(farm, strip.first(), strip.last()), damaged(farm, Span.of(strip)));
    }

    private Optional<TieNumber> lastUsed(FarmId farm, TieNumber first, TieNumber last) {
        return written.get()
                .sql("select max(tie) from tie_use where farm = ? and tie between ? and ?")
                .params(farm.value(), first.digits(), last.digits())
                .query((row, number) -> Optional.ofNullable(row.getString(1)).map(TieNumber::new))
                .single();
    }

    private Set<TieNumber> damaged(FarmId farm, Span span) {
        Set<TieNumber> damaged = new HashSet<>();
        // A damaged tie is told of alone, so that its span is itself.
        jdbc.sql("select distinct span_first from custody where" + OVERLAPS
                        + " and not taken_back and event like 'tie-damaged %'")
                .params(span.overlapped(farm))
                .query(row -> {
                    damaged.add(new TieNumber(row.getString(1)));
                });
        return damaged;
    }

    /** Everything that was ever held of these ties. */
    public Holdings holdings(FarmId farm, Strip ties) {
        return holdings(OVERLAPS, Span.of(ties).overlapped(farm).toArray());
    }

    /** Everything that was ever held on the farm. */
    public Holdings holdings(FarmId farm) {
        return holdings("farm = ?", farm.value());
    }

    /** Everything that was ever held of tags with check digits, to read numbers by. */
    public Holdings printed(FarmId farm) {
        return remembered.get("printed " + farm, () -> holdings("farm = ? and numbering <> 'PLAIN'", farm.value()));
    }

    private Holdings holdings(String where, Object... values) {
        return new Holdings(
                jdbc.sql("select place, first_tie, last_tie, numbering, farm, worker, since, ended, ended_at"
                                + " from holding where " + where)
                        .params(values)
                        .query(StripIndex::holding)
                        .list());
    }

    private static Holding holding(ResultSet row, int number) throws SQLException {
        @Nullable String ended = row.getString(8);
        return new Holding(
                row.getLong(1),
                new Strip(
                        new TieNumber(row.getString(2)),
                        new TieNumber(row.getString(3)),
                        Numbering.valueOf(row.getString(4))),
                new WorkerId(new FarmId(row.getString(5)), row.getString(6)),
                row.getObject(7, OffsetDateTime.class).toInstant(),
                ended == null
                        ? null
                        : new Holding.End(
                                CustodyEvent.Kind.valueOf(ended),
                                row.getObject(9, OffsetDateTime.class).toInstant()));
    }

    /** The custody events of these ties, in the order of the log. */
    public List<Line> history(FarmId farm, Strip ties) {
        return lines(OVERLAPS, Span.of(ties).overlapped(farm).toArray());
    }

    /** Whoever is told of in any custody event of that tie, also in one that was taken back. */
    public Set<WorkerId> hands(FruitId fruit) {
        Set<WorkerId> hands = new HashSet<>();
        for (Line line : history(fruit.farm(), new Strip(fruit.tie(), fruit.tie()))) {
            hands.add(line.event().worker());
            if (line.event() instanceof CustodyEvent.StripHandedOver handed) {
                hands.add(handed.to());
            }
        }
        return hands;
    }

    /** All custody events of the farm, in the order of the log. */
    public List<Line> history(FarmId farm) {
        return lines("farm = ?", farm.value());
    }

    private List<Line> lines(String where, Object... values) {
        return jdbc.sql("select event, taken_back from custody where " + where + " order by place")
                .params(values)
                .query((row, number) -> new Line((CustodyEvent) EventJson.read(row.getString(1)), row.getBoolean(2)))
                .list();
    }

    /** The numbers from the first to the last tie that were put on, by the standing reports, in order. */
    public Set<TieNumber> used(FarmId farm, Strip ties) {
        return new TreeSet<>(written
                .get()
                .sql("select distinct tie from tie_use where farm = ? and tie between ? and ?")
                .params(farm.value(), ties.first().digits(), ties.last().digits())
                .query(String.class)
                .list()
                .stream()
                .map(TieNumber::new)
                .toList());
    }

    /**
     * What the farm knows of these ties, read at once.
     *
     * @param ties the ties that will be asked about; of any other nothing is known
     */
    TieUses uses(FarmId farm, Collection<TieNumber> ties) {
        if (ties.isEmpty()) {
            return new Uses(farm, tie -> NONE, Map.of(), Set.of());
        }
        Span span = new Span(
                ties.stream().min(Comparator.naturalOrder()).orElseThrow(),
                ties.stream().max(Comparator.naturalOrder()).orElseThrow());
        Holdings holdings = holdings(OVERLAPS, span.overlapped(farm).toArray());
        Set<TieNumber> looked = new TreeSet<>(ties);
        ties.forEach(tie -> before(holdings, tie).ifPresent(looked::add));
        return new Uses(
                farm,
                tie -> holdings,
                times(farm, List.copyOf(looked)),
                damaged(
                        farm,
                        span.with(looked.stream().min(Comparator.naturalOrder()).orElseThrow(), span.last())));
    }

    /**
     * What the farm knows of all its ties, as far as questions about fruit need it: of ties that were put on once at
     * most, it does not say how often.
     */
    TieUses uses(FarmId farm) {
        Map<TieNumber, Integer> times = new HashMap<>();
        written.get()
                .sql("select tie, count(*) from tie_use where farm = ? group by tie having count(*) > 1")
                .param(farm.value())
                .query(row -> {
                    times.put(new TieNumber(row.getString(1)), row.getInt(2));
                });
        Set<TieNumber> damaged = new HashSet<>();
        jdbc.sql("select distinct span_first from custody where farm = ? and not taken_back"
                        + " and event like 'tie-damaged %'")
                .param(farm.value())
                .query(row -> {
                    damaged.add(new TieNumber(row.getString(1)));
                });
        Map<Long, List<Holding>> blocks = new HashMap<>();
        holdings(farm)
                .all()
                .forEach(holding -> LongStream.rangeClosed(
                                block(holding.ties().first()),
                                block(holding.ties().last()))
                        .forEach(block -> blocks.computeIfAbsent(block, unseen -> new ArrayList<>())
                                .add(holding)));
        Map<Long, Holdings> byBlock = new HashMap<>();
        blocks.forEach((block, some) -> byBlock.put(block, new Holdings(some)));
        return new Uses(farm, tie -> byBlock.getOrDefault(block(tie), NONE), times, damaged);
    }

    private static long block(TieNumber tie) {
        return tie.value() / BLOCK;
    }

    private Map<TieNumber, Integer> times(FarmId farm, List<TieNumber> ties) {
        Map<TieNumber, Integer> times = new HashMap<>();
        for (int from = 0; from < ties.size(); from += BATCH) {
            List<TieNumber> some = ties.subList(from, Math.min(from + BATCH, ties.size()));
            // The range is what the index finds; H2 looks at every tie of the farm for a list alone.
            written.get()
                    .sql("select tie, count(*) from tie_use where farm = :farm and tie between :first and :last"
                            + " and tie in (:ties) group by tie")
                    .param("farm", farm.value())
                    .param("first", Collections.min(some).digits())
                    .param("last", Collections.max(some).digits())
                    .param("ties", some.stream().map(TieNumber::digits).toList())
                    .query(row -> {
                        times.put(new TieNumber(row.getString(1)), row.getInt(2));
                    });
        }
        return times;
    }

    /** The tie before that one, on the strip it was last held as a part of. */
    private static Optional<TieNumber> before(Holdings holdings, TieNumber tie) {
        return last(holdings, tie)
                .map(Holding::ties)
                .filter(strip -> !strip.first().equals(tie))
                .map(strip -> strip.numbering().after(tie, -1));
    }

    private static Optional<Holding> last(Holdings holdings, TieNumber tie) {
        return holdings.of(tie, Instant.MAX);
    }

    private final class Uses implements TieUses {

        private final FarmId farm;
        private final Function<TieNumber, Holdings> holdings;
        private final Map<TieNumber, Integer> times;
        private final Set<TieNumber> damaged;

        /**
         * @param holdings all of a tie, maybe among others
         */
        Uses(
                FarmId farm,
                Function<TieNumber, Holdings> holdings,
                Map<TieNumber, Integer> times,
                Set<TieNumber> damaged) {
            this.farm = farm;
            this.holdings = holdings;
            this.times = times;
            this.damaged = damaged;
        }

        @Override
        public Optional<Holding> holding(TieNumber tie, Instant at) {
            return holdings.apply(tie).of(tie, at);
        }

        @Override
        public int times(TieNumber tie) {
            return times.getOrDefault(tie, 0);
        }

        @Override
        public boolean isDamaged(TieNumber tie) {
            return damaged.contains(tie);
        }

        @Override
        public Optional<Strip> skippedBefore(TieNumber tie) {
            Holdings near = holdings.apply(tie);
            return before(near, tie)
                    .filter(before -> times(before) == 0 && !isDamaged(before))
                    .map(before -> skipped(last(near, tie).orElseThrow().ties(), before));
        }

        /** What was skipped up to that tie: rare, so it is looked up only when it is asked. */
        private Strip skipped(Strip strip, TieNumber last) {
            Set<TieNumber> spent = new HashSet<>(used(farm, new Strip(strip.first(), last, strip.numbering())));
            spent.addAll(damaged(farm, new Span(strip.first(), last)));
            TieNumber first = last;
            while (!first.equals(strip.first())
                    && !spent.contains(strip.numbering().after(first, -1))) {
                first = strip.numbering().after(first, -1);
            }
            return new Strip(first, last, strip.numbering());
        }
    }
}
