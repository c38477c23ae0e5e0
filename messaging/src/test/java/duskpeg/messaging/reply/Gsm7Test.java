package duskpeg.messaging.reply;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Source of every length here: 3GPP TS 23.038, sections 6.2.1 and 6.2.1.1. */
class Gsm7Test {

    /** The default alphabet by its columns, 0x00 to 0x7F from top to bottom; 0x1B is the escape, no character. */
    private static final int[] DEFAULT_TABLE = {
        0x40, 0xA3, 0x24, 0xA5, 0xE8, 0xE9, 0xF9, 0xEC, 0xF2, 0xC7, 0x0A, 0xD8, 0xF8, 0x0D, 0xC5, 0xE5,
        0x394, 0x5F, 0x3A6, 0x393, 0x39B, 0x3A9, 0x3A0, 0x3A8, 0x3A3, 0x398, 0x39E, -1, 0xC6, 0xE6, 0xDF, 0xC9,
        0x20, 0x21, 0x22, 0x23, 0xA4, 0x25, 0x26, 0x27, 0x28, 0x29, 0x2A, 0x2B, 0x2C, 0x2D, 0x2E, 0x2F,
        0x30, 0x31, 0x32, 0x33, 0x34, 0x35, 0x36, 0x37, 0x38, 0x39, 0x3A, 0x3B, 0x3C, 0x3D, 0x3E, 0x3F,
        0xA1, 0x41, 0x42, 0x43, 0x44, 0x45, 0x46, 0x47, 0x48, 0x49, 0x4A, 0x4B, 0x4C, 0x4D, 0x4E, 0x4F,
        0x50, 0x51, 0x52, 0x53, 0x54, 0x55, 0x56, 0x57, 0x58, 0x59, 0x5A, 0xC4, 0xD6, 0xD1, 0xDC, 0xA7,
        0xBF, 0x61, 0x62, 0x63, 0x64, 0x65, 0x66, 0x67, 0x68, 0x69, 0x6A, 0x6B, 0x6C, 0x6D, 0x6E, 0x6F,
        0x70, 0x71, 0x72, 0x73, 0x74, 0x75, 0x76, 0x77, 0x78, 0x79, 0x7A, 0xE4, 0xF6, 0xF1, 0xFC, 0xE0
    };

    /** The extension table: form feed, circumflex, braces, backslash, brackets, tilde, bar and the euro sign. */
    private static final String EXTENSION_TABLE = "\f^{}\\[~]|\u20ac";

    static Stream<String> defaultTable() {
        return IntStream.of(DEFAULT_TABLE).filter(character -> character >= 0).mapToObj(Character::toString);
    }

    @Test
    void theDefaultTableIsComplete() {
        assertThat(defaultTable()).hasSize(127).doesNotHaveDuplicates();
    }

    @ParameterizedTest
    @MethodSource("defaultTable")
    void everyCharacterOfTheDefaultTableIsOneSeptet(String character) {
        assertThat(Gsm7.covers(character)).isTrue();
        assertThat(Gsm7.septets(character)).isEqualTo(1);
    }

    static Stream<String> extensionTable() {
        return EXTENSION_TABLE.chars().mapToObj(Character::toString);
    }

    @ParameterizedTest
    @MethodSource("extensionTable")
    void everyCharacterOfTheExtensionTableIsTwoSeptets(String character) {
        assertThat(Gsm7.covers(character)).isTrue();
        assertThat(Gsm7.septets(character)).isEqualTo(2);
    }

    @Test
    void nothingElseIsCovered() {
        // The whole of Unicode's first plane, so that no look-alike slips in.
        String covered = IntStream.rangeClosed(0, 0xFFFF)
                .filter(character -> Gsm7.covers(Character.toString(character)))
                .mapToObj(Character::toString)
                .sorted()
                .reduce("", String::concat);

        assertThat(covered)
                .isEqualTo(
                        Stream.concat(defaultTable(), extensionTable()).sorted().reduce("", String::concat));
    }

    @ParameterizedTest
    @CsvSource({"\u20ac, 2", "[, 2", "\u00e0, 1", "1 12 14, 7", "'[12] \u20ac', 9"})
    void countsSeptets(String text, int septets) {
        assertThat(Gsm7.septets(text)).isEqualTo(septets);
    }

    @Test
    void nothingIsNoSeptet() {
        assertThat(Gsm7.covers("")).isTrue();
        assertThat(Gsm7.septets("")).isZero();
    }

    @Test
    void aPlainTextOf160CharactersIsOneSegment() {
        assertThat(Gsm7.septets("x".repeat(160))).isEqualTo(160).isEqualTo(Gsm7.SEGMENT);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"\u00ea", "\u00e7", "\u00e1", "`", "\u2019", "\u2013", "\t", "\u001b", "\u0000", "\ud83c\udf83"})
    void whatTheAlphabetLacksHasNoLength(String text) {
        assertThat(Gsm7.covers(text)).isFalse();
        assertThatIllegalArgumentException().isThrownBy(() -> Gsm7.septets(text));
    }

    @ParameterizedTest
    @CsvSource({
        "rwo, rwo",
        // Twelve characters stay; of a longer word the beginning stays, and two dots say so.
        "twelve-chars, twelve-chars",
        "thirteenchars, thirteench..",
        // What the alphabet lacks can't be repeated: one question mark a character.
        "r\u00eave, r?ve",
        "\ud83c\udf83\ud83c\udf83, ??",
        "'a\tb', a?b",
        "[12], [12]"
    })
    void echoesAStrangersWord(String word, String echoed) {
        assertThat(Gsm7.echo(word, 12)).isEqualTo(echoed);
    }

    @Test
    void echoesNoLineBreak() {
        // The alphabet has line feed and carriage return, but a reply is one line.
        assertThat(Gsm7.echo("a\nb\rc\fd", 12)).isEqualTo("a?b?c?d");
    }

    @Test
    void anEmptyWordEchoesAsNothing() {
        assertThat(Gsm7.echo("", 12)).isEmpty();
    }

    @Test
    void aVeryLongWordIsCut() {
        assertThat(Gsm7.echo("\ud83c\udf83".repeat(100_000), 12)).isEqualTo("??????????..");
    }
}
