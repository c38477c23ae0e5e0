package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.StripInHand;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.TieNumber;
import org.flywaydb.core.Flyway;
import org.junit.jupiter.api.Test;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;

/** Strips that were given out before there was a word on custody are in the same hands after the migration. */
class StripMigrationTest {

    private static final FarmId FARM = new FarmId("hill");

    @Test
    void handsKeepTheirStripsInTheirOrder() {
        DriverManagerDataSource database = new DriverManagerDataSource("jdbc:h2:mem:strips;DB_CLOSE_DELAY=-1");
        Flyway.configure()
                .dataSource(database)
                .locations("classpath:db")
                .target("3")
                .load()
                .migrate();
        JdbcClient jdbc = JdbcClient.create(database);
        jdbc.sql("insert into strip (farm, first_tie, last_tie, worker) values"
                        + " ('hill', '005100', '005149', 'w1'), ('hill', '004700', '004749', 'w1'),"
                        + " ('hill', '004750', '004799', 'w2')")
                .update();

        Flyway.configure().dataSource(database).locations("classpath:db").load().migrate();

        Index index = new Index(new JdbcTemplate(database));
        assertThat(index.strips(new WorkerId(FARM, "w1")))
                .extracting(StripInHand::strip)
                .containsExactly(strip("005100", "005149"), strip("004700", "004749"));
        assertThat(index.strips().history(FARM))
                .extracting(line -> line.event().kind(), line -> line.event().ties())
                .contains(tuple(CustodyEvent.Kind.ISSUED, strip("004750", "004799")))
                .hasSize(3);
    }

    private static Strip strip(String first, String last) {
        return new Strip(new TieNumber(first), new TieNumber(last));
    }
}
