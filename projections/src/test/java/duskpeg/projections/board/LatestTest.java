package duskpeg.projections.board;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class LatestTest {

    @Test
    void whatWasAskedForLastIsKept() {
        Latest<String, Integer> latest = new Latest<>(10, size -> size);
        latest.put("a", 4);
        latest.put("b", 4);
        assertThat(latest.get("a")).isEqualTo(4);
        latest.put("c", 4);
        assertThat(latest.get("b")).isNull();
        assertThat(latest.get("a")).isEqualTo(4);
        assertThat(latest.get("c")).isEqualTo(4);
    }

    @Test
    void whatIsPutInItsPlaceIsCountedOnce() {
        Latest<String, Integer> latest = new Latest<>(10, size -> size);
        latest.put("a", 4);
        for (int time = 0; time < 100; time++) {
            latest.put("b", 6);
        }
        assertThat(latest.get("a")).isEqualTo(4);
    }

    @Test
    void whatIsTooLargeIsKeptAlone() {
        Latest<String, Integer> latest = new Latest<>(10, size -> size);
        latest.put("a", 1);
        latest.put("b", 1_000);
        assertThat(latest.get("b")).isEqualTo(1_000);
        assertThat(latest.get("a")).isNull();
        latest.put("c", 1);
        assertThat(latest.get("b")).isNull();
    }
}
