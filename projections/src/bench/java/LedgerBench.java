import com.zaxxer.hikari.HikariDataSource;
import duskpeg.core.ledger.Appender;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.Proofs;
import duskpeg.core.ledger.Tiles;
import duskpeg.core.ledger.Tree;
import duskpeg.projections.ledger.JdbcTiles;
import java.io.InputStream;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.UUID;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DataSourceTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * How fast the ledger's tree grows and proves: with its tiles in memory, and then in the ledger's own tables in an H2
 * database on disk, which is closed and opened again before it is asked. There a proof of inclusion begins with finding the
 * event's leaf, one of consistency with how many leaves there are, as the server does.
 *
 * <p>{@code java -cp projections/target/duskpeg.jar projections/src/bench/java/LedgerBench.java [leaves]}
 */
final class LedgerBench {

    private static final int BATCH = 500;
    /** Filling the database is not what is looked at. */
    private static final int FILLED_AT_ONCE = 10_000;

    private static final int PROOFS = 2_000;

    private static final String FARM = "bigfield";

    public static void main(String[] arguments) throws Exception {
        int leaves = arguments.length > 0 ? Integer.parseInt(arguments[0]) : 1_000_000;
        Map<String, byte[]> kept = new HashMap<>();
        Tiles.Store store = new Tiles.Store() {
            @Override
            public byte[] tile(int level, long index) {
                return kept.getOrDefault(level + "/" + index, new byte[0]);
            }

            @Override
            public void keep(int level, long index, byte[] hashes) {
                kept.put(level + "/" + index, hashes);
            }
        };
        long start = System.nanoTime();
        for (int from = 0; from < leaves; from += BATCH) {
            Appender appender = new Appender(from, store);
            for (int i = from; i < Math.min(from + BATCH, leaves); i++) {
                appender.append(leaf(i));
            }
            appender.keep();
        }
        double grown = (System.nanoTime() - start) / 1e9;
        long hashing = System.nanoTime();
        int sum = 0;
        for (int i = 0; i < leaves; i++) {
            sum += leaf(i).hashCode();
        }
        double hashed = (System.nanoTime() - hashing) / 1e9;
        System.out.printf(
                "%,d leaves in batches of %d: %.2f s; hashing them alone: %.2f s; ratio %.2f (%d)%n",
                leaves, BATCH, grown, hashed, grown / hashed, sum & 1);
        Hash root = new Tree(leaves, store).root();
        SplittableRandom random = new SplittableRandom(1);
        List<Double> inclusion = new ArrayList<>();
        List<Double> consistency = new ArrayList<>();
        for (int i = 0; i < PROOFS; i++) {
            int index = random.nextInt(leaves);
            long at = System.nanoTime();
            List<Hash> proof = new Tree(leaves, store).inclusion(index);
            inclusion.add((System.nanoTime() - at) / 1e6);
            require(Proofs.includes(leaf(index), index, leaves, proof, root));
            int earlier = 1 + random.nextInt(leaves);
            Hash then = new Tree(earlier, store).root();
            at = System.nanoTime();
            proof = new Tree(leaves, store).consistency(earlier);
            consistency.add((System.nanoTime() - at) / 1e6);
            require(Proofs.consistent(earlier, then, leaves, root, proof));
        }
        print("inclusion proof, tiles in memory", inclusion);
        print("consistency proof, tiles in memory", consistency);
        kept.clear();
        inDatabase(leaves, root);
    }

    private static void inDatabase(int leaves, Hash root) throws Exception {
        Path folder = Files.createTempDirectory("ledger-bench");
        try {
            long start = System.nanoTime();
            try (HikariDataSource database = open(folder)) {
                fill(database, leaves);
            }
            System.out.printf(
                    "%,d leaves into H2 in batches of %d, a commit each: %.1f s; its file: %,d MB%n",
                    leaves,
                    FILLED_AT_ONCE,
                    (System.nanoTime() - start) / 1e9,
                    Files.size(folder.resolve("ledger.mv.db")) / 1_000_000);
            try (HikariDataSource database = open(folder)) {
                prove(JdbcClient.create(database), leaves, root);
            }
        } finally {
            Files.deleteIfExists(folder.resolve("ledger.mv.db"));
            Files.deleteIfExists(folder);
        }
    }

    /** As the server opens its own. */
    private static HikariDataSource open(Path folder) {
        HikariDataSource database = new HikariDataSource();
        database.setJdbcUrl("jdbc:h2:file:" + folder.resolve("ledger")
                + ";WRITE_DELAY=0;LOCK_TIMEOUT=10000;TRACE_LEVEL_FILE=0;QUERY_CACHE_SIZE=100");
        database.setMaximumPoolSize(2);
        return database;
    }

    private static void fill(HikariDataSource database, int leaves) throws Exception {
        JdbcClient jdbc = JdbcClient.create(database);
        String tables;
        try (InputStream in = LedgerBench.class.getResourceAsStream("/db/V10__ledger.sql")) {
            tables = new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
        for (String table : tables.split(";", -1)) {
            if (!table.isBlank()) {
                jdbc.sql(table).update();
            }
        }
        JdbcTemplate rows = new JdbcTemplate(database);
        TransactionTemplate transaction = new TransactionTemplate(new DataSourceTransactionManager(database));
        for (int from = 0; from < leaves; from += FILLED_AT_ONCE) {
            int first = from;
            int last = Math.min(from + FILLED_AT_ONCE, leaves);
            transaction.executeWithoutResult(status -> {
                Appender appender = new Appender(first, new JdbcTiles(jdbc, FARM));
                List<Object[]> some = new ArrayList<>();
                for (int i = first; i < last; i++) {
                    appender.append(leaf(i));
                    some.add(new Object[] {FARM, i, id(i)});
                }
                rows.batchUpdate("insert into ledger_leaf (farm, leaf, event_id) values (?, ?, ?)", some);
                appender.keep();
            });
        }
    }

    /** They rise with time, as the ids of events do. */
    private static String id(int leaf) {
        return new UUID((long) leaf << 16, new SplittableRandom(leaf).nextLong()).toString();
    }

    private static void prove(JdbcClient jdbc, int leaves, Hash root) {
        SplittableRandom random = new SplittableRandom(2);
        List<Double> inclusion = new ArrayList<>();
        List<Double> consistency = new ArrayList<>();
        ThreadMXBean cpu = ManagementFactory.getThreadMXBean();
        List<Double> worked = new ArrayList<>();
        for (int i = 0; i < PROOFS; i++) {
            int index = random.nextInt(leaves);
            String event = id(index);
            long began = cpu.getCurrentThreadCpuTime();
            long at = System.nanoTime();
            long place = jdbc.sql("select leaf from ledger_leaf where farm = ? and event_id = ? and leaf < ?")
                    .params(FARM, event, leaves)
                    .query(Long.class)
                    .single();
            List<Hash> proof = new Tree(leaves, new JdbcTiles(jdbc, FARM)).inclusion(place);
            inclusion.add((System.nanoTime() - at) / 1e6);
            worked.add((cpu.getCurrentThreadCpuTime() - began) / 1e6);
            require(Proofs.includes(leaf(index), index, leaves, proof, root));
            int earlier = 1 + random.nextInt(leaves);
            Hash then = new Tree(earlier, new JdbcTiles(jdbc, FARM)).root();
            at = System.nanoTime();
            JdbcTiles tiles = new JdbcTiles(jdbc, FARM);
            proof = new Tree(tiles.leaves(), tiles).consistency(earlier);
            consistency.add((System.nanoTime() - at) / 1e6);
            require(Proofs.consistent(earlier, then, leaves, root, proof));
        }
        System.out.printf("the first of each: %.1f ms and %.1f ms%n", inclusion.get(0), consistency.get(0));
        print("inclusion proof, from H2", inclusion);
        print("the same in processor time", worked);
        print("consistency proof, from H2", consistency);
    }

    private static Hash leaf(int i) {
        return Hash.ofLeaf(
                ("{\"event\":" + i + ",\"payload\":\"" + "x".repeat(400) + "\"}").getBytes(StandardCharsets.UTF_8));
    }

    private static void require(boolean right) {
        if (!right) {
            throw new AssertionError("a proof did not hold");
        }
    }

    private static void print(String what, List<Double> millis) {
        double[] sorted =
                millis.stream().mapToDouble(Double::doubleValue).sorted().toArray();
        System.out.printf(
                "%s: median %.3f ms, 99%% under %.3f ms, slowest %.3f ms, %d over 10 ms, of %d; all held%n",
                what,
                sorted[sorted.length / 2],
                sorted[sorted.length * 99 / 100],
                sorted[sorted.length - 1],
                Arrays.stream(sorted).filter(one -> one > 10).count(),
                sorted.length);
    }
}
