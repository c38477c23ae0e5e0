package duskpeg.core.text;

import duskpeg.core.crew.BesideTheLog;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.watch.Alert;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;

/** Who was warned of what, and who has seen it. It lies beside the log, as what was sent does. */
public final class Warned implements BesideTheLog {

    private final JdbcClient jdbc;
    private final InsertOnce inserts;

    public Warned(JdbcClient jdbc, PlatformTransactionManager transactions) {
        this.jdbc = jdbc;
        this.inserts = new InsertOnce(transactions);
    }

    /**
     * Somebody who was warned.
     *
     * @param words what of, in English
     * @param seen when she answered that she had seen it; null where she has not
     */
    public record Entry(
            WorkerId worker,
            Alert.Kind kind,
            String about,
            String words,
            Instant told,
            @Nullable Instant seen) {}

    /**
     * Notes that somebody is warned of something of that day. Must be called inside the transaction in which she is.
     *
     * @return whether she was not warned of it before
     */
    public boolean note(WorkerId worker, LocalDate day, Alert alert, Instant at) {
        boolean known = jdbc.sql("select count(*) from alert"
                                + " where farm = ? and on_day = ? and kind = ? and about = ? and worker = ?")
                        .params(worker.farm().value(), day, alert.kind().name(), alert.about(), worker.pseudonym())
                        .query(Integer.class)
                        .single()
                > 0;
        return !known
                && inserts.insert(() -> jdbc.sql(
                                "insert into alert (farm, on_day, kind, about, worker, words, told) values (?, ?, ?, ?, ?, ?, ?)")
                        .params(
                                worker.farm().value(),
                                day,
                                alert.kind().name(),
                                alert.about(),
                                worker.pseudonym(),
                                alert.words(),
                                at.atOffset(ZoneOffset.UTC))
                        .update());
    }

    /**
     * She has seen all that she was warned of.
     *
     * @return how much of it she had not seen before
     */
    public int seen(WorkerId worker, Instant at) {
        return jdbc.sql("update alert set seen = ? where farm = ? and worker = ? and seen is null")
                .params(at.atOffset(ZoneOffset.UTC), worker.farm().value(), worker.pseudonym())
                .update();
    }

    @Override
    public void erase(WorkerId worker, Set<String> phones) {
        jdbc.sql("delete from alert where farm = ? and worker = ?")
                .params(worker.farm().value(), worker.pseudonym())
                .update();
    }

    /** Who was warned of what of that day, in the order in which they were. */
    public List<Entry> of(FarmId farm, LocalDate day) {
        return jdbc.sql("select worker, kind, about, words, told, seen from alert where farm = ? and on_day = ?"
                        + " order by told, kind, about, worker")
                .params(farm.value(), day)
                .query((row, number) -> {
                    OffsetDateTime seen = row.getObject(6, OffsetDateTime.class);
                    return new Entry(
                            new WorkerId(farm, row.getString(1)),
                            Alert.Kind.valueOf(row.getString(2)),
                            row.getString(3),
                            row.getString(4),
                            row.getObject(5, OffsetDateTime.class).toInstant(),
                            seen == null ? null : seen.toInstant());
                })
                .list();
    }
}
