package duskpeg.core.text;

import duskpeg.core.crew.BesideTheLog;
import duskpeg.core.crew.WorkerId;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Set;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;

/** The numbers that asked for no more texts. It is the number that asks, on whatever farm. */
public final class OptOuts implements BesideTheLog {

    private final JdbcClient jdbc;
    private final InsertOnce inserts;

    public OptOuts(JdbcClient jdbc, PlatformTransactionManager transactions) {
        this.jdbc = jdbc;
        this.inserts = new InsertOnce(transactions);
    }

    /** Nothing is sent to that number from now on. */
    public void add(String phone, Instant since) {
        inserts.insert(() -> jdbc.sql("insert into opted_out (phone, since) values (?, ?)")
                .params(phone, OffsetDateTime.ofInstant(since, ZoneOffset.UTC))
                .update());
    }

    /** That number gets texts again. */
    public void remove(String phone) {
        jdbc.sql("delete from opted_out where phone = ?").param(phone).update();
    }

    @Override
    public void erase(WorkerId worker, Set<String> phones) {
        phones.forEach(phone -> jdbc.sql("delete from opted_out where phone = ? and not exists"
                        + " (select 1 from person p where p.phone = opted_out.phone"
                        + " and not (p.farm = ? and p.worker = ?))")
                .params(phone, worker.farm().value(), worker.pseudonym())
                .update());
    }

    /** Whether that number asked for no more texts. */
    public boolean contains(String phone) {
        return jdbc.sql("select count(*) from opted_out where phone = ?")
                        .param(phone)
                        .query(Integer.class)
                        .single()
                > 0;
    }
}
