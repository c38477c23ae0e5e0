import duskpeg.core.ledger.Appender;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.Proofs;
import duskpeg.core.ledger.Tiles;
import duskpeg.core.ledger.Tree;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;

/**
 * How fast the ledger's tree grows and proves.
 *
 * <p>{@code java -cp projections/target/duskpeg.jar projections/src/bench/java/LedgerBench.java [leaves]}
 */
final class LedgerBench {

    private static final int BATCH = 500;
    private static final int PROOFS = 2_000;

    public static void main(String[] arguments) {
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
        print("inclusion proof", inclusion);
        print("consistency proof", consistency);
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
                "%s: median %.3f ms, 99%% under %.3f ms, slowest %.3f ms of %d, all held%n",
                what,
                sorted[sorted.length / 2],
                sorted[sorted.length * 99 / 100],
                sorted[sorted.length - 1],
                Arrays.stream(sorted).count());
    }
}
