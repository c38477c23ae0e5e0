package duskpeg.core.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.assertThatIllegalStateException;

import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Vectors: the reference leaves of the Certificate Transparency tests (RFC 6962, RFC 9162), as published with
 * transparency-dev/merkle. Everything else is compared with {@link Naive}.
 */
class TreeTest {

    private static final List<Hash> REFERENCE = Stream.of(
                    "", "00", "10", "2021", "3031", "40414243", "5051525354555657", "606162636465666768696a6b6c6d6e6f")
            .map(hex -> Hash.ofLeaf(HexFormat.of().parseHex(hex)))
            .toList();

    static List<Hash> leaves(int count) {
        return IntStream.range(0, count)
                .mapToObj(i -> Hash.ofLeaf(Integer.toString(i).getBytes(java.nio.charset.StandardCharsets.UTF_8)))
                .toList();
    }

    private static List<Hash> hashes(String... hex) {
        return Stream.of(hex).map(Hash::parse).toList();
    }

    @ParameterizedTest
    @CsvSource({
        "0, e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
        "1, 6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
        "2, fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
        "3, aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
        "4, d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
        "5, 4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
        "6, 76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef",
        "7, ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
        "8, 5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
    })
    void theReferenceRoots(int size, String root) {
        assertThat(new Tree(size, KeptInMemory.of(REFERENCE)).root()).hasToString(root);
    }

    /** More tiles than a tree remembers; each is read once all the same, since the leaves come in turn. */
    @Test
    void leavesAreProvedInTurn() {
        int size = 41 * Tiles.WIDTH + 3;
        List<Hash> leaves = leaves(size);
        KeptInMemory kept = KeptInMemory.of(leaves);
        List<String> read = new ArrayList<>();
        Tree tree = new Tree(size, (level, index) -> {
            read.add(level + "/" + index);
            return kept.tile(level, index);
        });
        Hash root = tree.root();
        for (int leaf = 0; leaf < size; leaf++) {
            assertThat(Proofs.includes(leaves.get(leaf), leaf, size, tree.inclusion(leaf), root))
                    .isTrue();
        }
        assertThat(read).doesNotHaveDuplicates();
    }

    @Test
    void theReferenceInclusionProof() {
        assertThat(new Tree(8, KeptInMemory.of(REFERENCE)).inclusion(5))
                .isEqualTo(hashes(
                        "bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b",
                        "ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0",
                        "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7"));
    }

    @Test
    void theReferenceConsistencyProof() {
        assertThat(new Tree(8, KeptInMemory.of(REFERENCE)).consistency(6))
                .isEqualTo(hashes(
                        "0ebc5d3437fbe2db158b9f126a1d118e308181031d0a949f8dededebc558ef6a",
                        "ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0",
                        "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7"));
    }

    @Test
    void everySmallTreeIsTheNaiveOne() {
        List<Hash> leaves = leaves(70);
        KeptInMemory tiles = KeptInMemory.of(leaves);
        for (int size = 0; size <= leaves.size(); size++) {
            List<Hash> then = leaves.subList(0, size);
            Tree tree = new Tree(size, tiles);
            Hash root = Naive.root(then);
            assertThat(tree.root()).isEqualTo(root);
            for (int i = 0; i < size; i++) {
                assertThat(tree.inclusion(i)).isEqualTo(Naive.inclusion(i, then));
                assertThat(Proofs.includes(leaves.get(i), i, size, tree.inclusion(i), root))
                        .isTrue();
            }
            for (int earlier = 0; earlier <= size; earlier++) {
                List<Hash> proof = tree.consistency(earlier);
                assertThat(proof).isEqualTo(Naive.consistency(earlier, then));
                assertThat(Proofs.consistent(earlier, Naive.root(leaves.subList(0, earlier)), size, root, proof))
                        .isTrue();
            }
        }
    }

    /** Around the edges of tiles of both levels. */
    @ParameterizedTest
    @ValueSource(ints = {255, 256, 257, 511, 513, 65_535, 65_536, 65_537, 66_000})
    void everyLargeTreeIsTheNaiveOne(int size) {
        List<Hash> leaves = leaves(size);
        Tree tree = new Tree(size, KeptInMemory.of(leaves));
        assertThat(tree.root()).isEqualTo(Naive.root(leaves));
        for (int i : new int[] {0, 1, size / 3, size - 2, size - 1}) {
            assertThat(tree.inclusion(i)).isEqualTo(Naive.inclusion(i, leaves));
            assertThat(tree.consistency(i)).isEqualTo(Naive.consistency(i, leaves));
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 255, 256, 257, 1000})
    void itDoesNotMatterHowManyLeavesAreKeptAtOnce(int batch) {
        List<Hash> leaves = leaves(3000);
        KeptInMemory tiles = new KeptInMemory();
        for (int from = 0; from < leaves.size(); from += batch) {
            Appender appender = new Appender(from, tiles);
            leaves.subList(from, Math.min(from + batch, leaves.size())).forEach(appender::append);
            appender.keep();
        }
        assertThat(new Tree(3000, tiles).root()).isEqualTo(Naive.root(leaves));
        assertThat(new Tree(1234, tiles).root()).isEqualTo(Naive.root(leaves.subList(0, 1234)));
    }

    @Test
    void leavesAreNotPutOnTilesOfAnotherTree() {
        Appender appender = new Appender(5, new KeptInMemory());
        assertThatIllegalStateException().isThrownBy(() -> appender.append(Hash.EMPTY));
    }

    @Test
    void thereAreNoProofsOfWhatIsNotThere() {
        Tree tree = new Tree(8, KeptInMemory.of(REFERENCE));
        assertThatIllegalArgumentException().isThrownBy(() -> tree.inclusion(8));
        assertThatIllegalArgumentException().isThrownBy(() -> tree.inclusion(-1));
        assertThatIllegalArgumentException().isThrownBy(() -> tree.consistency(9));
    }

    @Test
    void aChangedProofIsRefused() {
        List<Hash> leaves = leaves(60);
        KeptInMemory tiles = KeptInMemory.of(leaves);
        for (int size = 2; size <= 60; size++) {
            Tree tree = new Tree(size, tiles);
            Hash root = tree.root();
            for (int i = 0; i < size; i++) {
                List<Hash> proof = tree.inclusion(i);
                Hash leaf = leaves.get(i);
                for (List<Hash> changed : changes(proof)) {
                    assertThat(Proofs.includes(leaf, i, size, changed, root)).isFalse();
                }
                assertThat(Proofs.includes(Hash.EMPTY, i, size, proof, root)).isFalse();
                assertThat(Proofs.includes(leaf, i, size, proof, Hash.EMPTY)).isFalse();
                for (int other = -1; other <= size; other++) {
                    if (other != i) {
                        assertThat(Proofs.includes(leaf, other, size, proof, root))
                                .isFalse();
                    }
                }
            }
        }
    }

    @Test
    void aChangedConsistencyProofIsRefused() {
        List<Hash> leaves = leaves(60);
        KeptInMemory tiles = KeptInMemory.of(leaves);
        for (int size = 1; size <= 60; size++) {
            Hash root = new Tree(size, tiles).root();
            for (int earlier = 1; earlier < size; earlier++) {
                Hash then = new Tree(earlier, tiles).root();
                List<Hash> proof = new Tree(size, tiles).consistency(earlier);
                for (List<Hash> changed : changes(proof)) {
                    assertThat(Proofs.consistent(earlier, then, size, root, changed))
                            .isFalse();
                }
                assertThat(Proofs.consistent(earlier, Hash.EMPTY, size, root, proof))
                        .isFalse();
                assertThat(Proofs.consistent(earlier, then, size, Hash.EMPTY, proof))
                        .isFalse();
                assertThat(Proofs.consistent(size, root, earlier, then, proof)).isFalse();
                assertThat(Proofs.consistent(-1, then, size, root, proof)).isFalse();
            }
            assertThat(Proofs.consistent(size, root, size, Hash.EMPTY, List.of()))
                    .isFalse();
            assertThat(Proofs.consistent(0, root, size, root, List.of())).isFalse();
        }
    }

    /** Every bit flipped once, one hash left out, one more, two swapped. */
    private static List<List<Hash>> changes(List<Hash> proof) {
        List<List<Hash>> changes = new ArrayList<>();
        for (int i = 0; i < proof.size(); i++) {
            byte[] bytes = proof.get(i).bytes();
            bytes[i % Hash.SIZE] ^= (byte) (1 << (i % 8));
            List<Hash> flipped = new ArrayList<>(proof);
            flipped.set(i, Hash.of(bytes));
            changes.add(flipped);
            List<Hash> shorter = new ArrayList<>(proof);
            shorter.remove(i);
            changes.add(shorter);
            for (int j = 0; j < i; j++) {
                List<Hash> swapped = new ArrayList<>(proof);
                swapped.set(i, proof.get(j));
                swapped.set(j, proof.get(i));
                changes.add(swapped);
            }
        }
        List<Hash> longer = new ArrayList<>(proof);
        longer.add(Hash.EMPTY);
        changes.add(longer);
        List<Hash> led = new ArrayList<>(proof);
        led.add(0, Hash.EMPTY);
        changes.add(led);
        return changes;
    }
}
