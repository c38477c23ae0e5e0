package duskpeg.core.crew;

import duskpeg.core.farm.FarmId;
import duskpeg.core.store.Remembered;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.springframework.jdbc.core.simple.JdbcClient;

/** {@link People} in a table. */
public final class JdbcPeople implements People {

    private static final String SELECT = "select farm, worker, name, phone, language from person";

    private final JdbcClient jdbc;
    private final Remembered remembered = new Remembered();

    public JdbcPeople(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    public void add(Person person) {
        remembered.forget();
        boolean erased = jdbc.sql("select count(*) from enrolled where farm = ? and worker = ? and erased is not null")
                        .params(person.worker().farm().value(), person.worker().pseudonym())
                        .query(Integer.class)
                        .single()
                > 0;
        if (erased) {
            throw new IllegalArgumentException("erased, and never named again: " + person.worker());
        }
        jdbc.sql("insert into person (farm, worker, name, phone, language) values (?, ?, ?, ?, ?)")
                .params(
                        person.worker().farm().value(),
                        person.worker().pseudonym(),
                        person.name(),
                        person.phone(),
                        person.language())
                .update();
    }

    @Override
    public void setLanguage(WorkerId worker, String language) {
        remembered.forget();
        jdbc.sql("update person set language = ? where farm = ? and worker = ?")
                .params(language, worker.farm().value(), worker.pseudonym())
                .update();
    }

    @Override
    public void setPhone(WorkerId worker, String phone) {
        remembered.forget();
        jdbc.sql("update person set phone = ? where farm = ? and worker = ?")
                .params(phone, worker.farm().value(), worker.pseudonym())
                .update();
    }

    @Override
    public void erase(WorkerId worker, Set<String> phones) {
        remembered.forget();
        jdbc.sql("delete from person where farm = ? and worker = ?")
                .params(worker.farm().value(), worker.pseudonym())
                .update();
    }

    @Override
    public List<Person> all(FarmId farm) {
        return jdbc.sql(SELECT + " where farm = ? order by worker")
                .param(farm.value())
                .query(JdbcPeople::person)
                .list();
    }

    @Override
    public Optional<Person> find(WorkerId worker) {
        return jdbc.sql(SELECT + " where farm = ? and worker = ?")
                .params(worker.farm().value(), worker.pseudonym())
                .query(JdbcPeople::person)
                .optional();
    }

    @Override
    public Optional<Person> withPhone(FarmId farm, String phone) {
        return remembered.get(farm, () -> all(farm)).stream()
                .filter(person -> person.phone().equals(phone))
                .findFirst();
    }

    @Override
    public List<FarmId> farmsOf(String phone) {
        return jdbc
                .sql("select distinct farm from person where phone = ? order by farm")
                .param(phone)
                .query(String.class)
                .list()
                .stream()
                .map(FarmId::new)
                .toList();
    }

    private static Person person(ResultSet row, int number) throws SQLException {
        return new Person(
                new WorkerId(new FarmId(row.getString(1)), row.getString(2)),
                row.getString(3),
                row.getString(4),
                row.getString(5));
    }
}
