package duskpeg.core.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Roots are those of {@link Naive}, which shares no code with the tree. */
class SeenTest {

    private static final Instant AT = Instant.parse("2026-11-26T05:01:00Z");

    private static Seen seen(int leaves) {
        return Seen.of(AT, List.of(new Checkpoint("marrowfield", leaves, Naive.root(TreeTest.leaves(leaves)))));
    }

    private static Optional<String> against(Seen seen, Map<String, List<Hash>> logs) {
        return seen.against(
                farm -> (long) logs.getOrDefault(farm, List.of()).size(),
                farm -> KeptInMemory.of(logs.getOrDefault(farm, List.of())));
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 1, 2, 255, 256, 257, 700})
    void aLogGoesOnFromWhatWasSeenIfThatIsItsBeginning(int leaves) {
        Seen seen = seen(leaves);
        assertThat(against(seen, Map.of("marrowfield", TreeTest.leaves(leaves))))
                .isEmpty();
        assertThat(against(seen, Map.of("marrowfield", TreeTest.leaves(leaves + 300), "hillside", TreeTest.leaves(1))))
                .isEmpty();
        if (leaves > 0) {
            assertThat(against(seen, Map.of("marrowfield", TreeTest.leaves(leaves - 1))))
                    .hasValue("of marrowfield there are " + (leaves - 1) + " events, and there were " + leaves
                            + " at 2026-11-26T05:01:00Z");
            assertThat(against(seen, Map.of())).isPresent();
            List<Hash> other = new ArrayList<>(TreeTest.leaves(leaves + 10));
            other.set(leaves - 1, Hash.EMPTY);
            assertThat(against(seen, Map.of("marrowfield", other)))
                    .hasValue("of marrowfield the first " + leaves
                            + " events are not those that there were at 2026-11-26T05:01:00Z");
        }
    }

    /** Leaves that are counted and whose tiles are gone. */
    @Test
    void aTreeThatLostItsTilesIsAnother() {
        assertThat(seen(300).against(farm -> 300L, farm -> KeptInMemory.of(List.of())))
                .isPresent();
    }

    @Test
    void itIsReadAsItWasWrittenAndNotOtherwise() {
        Seen seen = Seen.of(
                AT,
                List.of(
                        new Checkpoint("marrowfield", 3, Naive.root(TreeTest.leaves(3))),
                        new Checkpoint("hillside", 0, Hash.EMPTY)));
        String text = seen.text();
        assertThat(text.lines()).element(1).isEqualTo("hillside 0 47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=");
        assertThat(Seen.parse(text)).isEqualTo(seen);
        assertThat(Seen.parse(Seen.of(AT, List.of()).text()).logs()).isEmpty();
        for (int cut = 0; cut < text.length(); cut++) {
            String less = text.substring(0, cut);
            assertThatIllegalArgumentException().as(less).isThrownBy(() -> Seen.parse(less));
        }
        for (int at = 0; at < text.length(); at++) {
            String other = text.substring(0, at) + (char) (text.charAt(at) ^ 1) + text.substring(at + 1);
            assertThatIllegalArgumentException().as(other).isThrownBy(() -> Seen.parse(other));
        }
        assertThatIllegalArgumentException().isThrownBy(() -> Seen.parse(text + text));
    }
}
