package duskpeg.core.crew;

import static duskpeg.core.Farm.stripOf;
import static duskpeg.core.Farm.ties;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

class StripInHandTest {

    private static Optional<TieNumber> tie(String digits) {
        return Optional.of(new TieNumber(digits));
    }

    private static StripInHand of(Optional<TieNumber> lastUsed, String... damaged) {
        return StripInHand.of(stripOf("004700", "004704"), lastUsed, Set.copyOf(ties(damaged)));
    }

    @Test
    void beginsWithItsFirstTie() {
        assertThat(of(Optional.empty()).next()).isEqualTo(tie("004700"));
        assertThat(of(Optional.empty()).left()).contains(stripOf("004700", "004704"));
    }

    @Test
    void goesOnBehindTheLastTieUsed() {
        assertThat(of(tie("004702")).next()).isEqualTo(tie("004703"));
        assertThat(of(tie("004702")).unused()).containsExactlyElementsOf(ties("004703", "004704"));
    }

    @Test
    void stepsOverDamagedTies() {
        StripInHand inHand = of(tie("004700"), "004701", "004703");

        assertThat(inHand.next()).isEqualTo(tie("004702"));
        assertThat(inHand.unused()).containsExactlyElementsOf(ties("004702", "004704"));
    }

    @Test
    void isUsedUp() {
        assertThat(of(tie("004704")).next()).isEmpty();
        assertThat(of(tie("004703"), "004704").next()).isEmpty();
        assertThat(of(tie("004704")).unused()).isEmpty();
        assertThat(of(tie("004704")).left()).isEmpty();
    }

    @Test
    void ofPrintedTagsTheNextIsTheNextSerial() {
        Strip printed = new Strip(new TieNumber("005724"), new TieNumber("005743"), Numbering.CHECKED);

        assertThat(StripInHand.of(printed, tie("005724"), Set.of()).next()).isEqualTo(tie("005735"));
    }
}
