package duskpeg.messaging.text;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.TextId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Text;
import java.time.Instant;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Numbers are of the range kept for fiction: NANP 555-0100 to 555-0199. */
class IncomingTest {

    private static final FarmId HILL = new FarmId("hill");
    private static final String SALT = "00112233445566778899aabbccddeeff";
    private static final Instant HEARD = Instant.parse("2026-08-14T16:10:00.123Z");

    private static Text text(String sid, String sender, String words) {
        return Incoming.text(HILL, sid, sender, words, SALT, HEARD);
    }

    private static String id(String sid) {
        return text(sid, "+14155550101", "1 12 14").id().value();
    }

    @Test
    void keepsAnOrdinaryMessageAsItCame() {
        assertThat(text("SM0123456789abcdef", "+14155550101", "1 12 14"))
                .isEqualTo(new Text(new TextId(HILL, "SM0123456789abcdef"), "+14155550101", "1 12 14", SALT, HEARD));
    }

    @Test
    void keepsMillisecondsAndNoFinerTime() {
        // One of the two database engines keeps micro-, the other nanoseconds: both keep these.
        Text text = Incoming.text(HILL, "SM1", "+14155550101", "", SALT, Instant.parse("2026-08-14T16:10:00.123999Z"));

        assertThat(text.heard()).isEqualTo(Instant.parse("2026-08-14T16:10:00.123Z"));
    }

    @Test
    void cutsALongSenderWithoutLeavingHalfACharacter() {
        assertThat(text("SM1", "x".repeat(39) + "\uD83C\uDF83", "").sender()).isEqualTo("x".repeat(39) + "\uFFFD");
    }

    @ParameterizedTest
    @CsvSource(
            ignoreLeadingAndTrailingWhitespace = false,
            value = {
                "+14155550101,+14155550101",
                // A plus sign that was not encoded arrives as a space.
                " 14155550101,+14155550101",
                // A number without either is not guessed at.
                "14155550101,14155550101",
                "+14155550101 ,+14155550101",
                " HILLFARM,HILLFARM",
                " 12345,12345",
                " 1234567890123456,1234567890123456"
            })
    void readsTheSendersNumber(String sent, String phone) {
        assertThat(Incoming.phone(sent)).isEqualTo(phone);
    }

    @Test
    void anEmptySenderStaysEmpty() {
        assertThat(Incoming.phone("")).isEmpty();
    }

    @Test
    void aSenderOfEndlessLengthIsCut() {
        assertThat(Incoming.phone("x".repeat(5000))).isEqualTo("x".repeat(40));
    }

    @Test
    void aSenderKeepsNoNul() {
        assertThat(Incoming.phone("+1415\u00005550101")).isEqualTo("+1415\ufffd5550101");
    }

    @ParameterizedTest
    @CsvSource({
        "'1 12 14', '1 12 14'",
        "'1 12\u000014', '1 12\ufffd14'",
        "'\ud83c\udf83 1 12 14', '\ud83c\udf83 1 12 14'"
    })
    void keepsWordsThatADatabaseCanKeep(String sent, String kept) {
        assertThat(Incoming.keepable(sent)).isEqualTo(kept);
    }

    @Test
    void halfOfASurrogatePairIsMarked() {
        assertThat(Incoming.keepable("a\ud83cb")).isEqualTo("a\ufffdb");
        assertThat(Incoming.keepable("a\udf83b")).isEqualTo("a\ufffdb");
        assertThat(Incoming.keepable("\udf83\ud83c")).isEqualTo("\ufffd\ufffd");
        assertThat(Incoming.keepable("1 12 14\ud83c")).isEqualTo("1 12 14\ufffd");
    }

    @Test
    void lineBreaksAreKept() {
        // A line is a statement.
        assertThat(Incoming.keepable("1 12 14\n1 13 9\r\n")).isEqualTo("1 12 14\n1 13 9\r\n");
    }

    @Test
    void theLongestWordsAreKeptWhole() {
        assertThat(Incoming.keepable("x".repeat(Texts.MAX_WORDS))).isEqualTo("x".repeat(100_000));
    }

    @Test
    void longerWordsAreCut() {
        assertThat(Incoming.keepable("x".repeat(Texts.MAX_WORDS + 1))).isEqualTo("x".repeat(100_000));
    }

    @Test
    void aPairThatIsCutInTwoIsMarked() {
        assertThat(Incoming.keepable("x".repeat(Texts.MAX_WORDS - 1) + "\ud83c\udf83"))
                .isEqualTo("x".repeat(99_999) + "\ufffd");
    }

    @ParameterizedTest
    @ValueSource(strings = {"SM0123456789abcdef0123456789abcdef", "n-1", "A_b-9"})
    void anIdInItsFormStays(String sid) {
        assertThat(id(sid)).isEqualTo(sid);
    }

    @ParameterizedTest
    @ValueSource(strings = {"", " ", "SM 1", "SM1\n", "SM/1", "\u0000", "\ud83c", "\ud83c\udf83"})
    void anOddIdIsReplacedByItsDigest(String sid) {
        assertThat(id(sid)).matches("x-[0-9a-f]{32}");
    }

    @Test
    void anEndlessIdIsReplacedByItsDigest() {
        assertThat(id("x".repeat(65))).matches("x-[0-9a-f]{32}");
    }

    @Test
    void theDigestIsTheBeginningOfTheIdsSha256() {
        // Computed apart from this project with: printf 'SM 1' | sha256sum
        assertThat(id("SM 1")).isEqualTo("x-d9a2a415d513e6b1836ab1832a39f504");
    }

    @Test
    void equalOddIdsAreOneMessage() {
        // A carrier delivers the same message twice: the second must be known as the first.
        assertThat(text("SM 1", "+14155550101", "1 12 14").id())
                .isEqualTo(text("SM 1", "+14155550101", "1 12 14").id());
    }

    @Test
    void differentOddIdsAreTwoMessages() {
        assertThat(id("SM 1")).isNotEqualTo(id("SM 2"));
    }

    @Property
    void nothingMakesItFail(@ForAll String sid, @ForAll String sender, @ForAll String words) {
        Text text = text(sid, sender, words);

        assertThat(text.id().farm()).isEqualTo(HILL);
        assertThat(text.salt()).isEqualTo(SALT);
        assertThat(text.heard()).isEqualTo(HEARD);
        assertThat(text.words()).doesNotContain("\u0000").hasSameSizeAs(words);
        assertThat(text.sender()).doesNotContain("\u0000").hasSizeLessThanOrEqualTo(40);
    }
}
