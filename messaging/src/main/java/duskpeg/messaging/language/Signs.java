package duskpeg.messaging.language;

import com.ibm.icu.lang.UCharacter;
import com.ibm.icu.lang.UCharacterCategory;
import com.ibm.icu.lang.UProperty;
import com.ibm.icu.lang.UScript;
import com.ibm.icu.text.Normalizer2;

/** What single characters are to the reader. */
final class Signs {

    enum Sign {
        DIGIT,
        /** A letter, or anything else that must not be passed over. */
        LETTER,
        DOT,
        DASH,
        PLUS,
        QUESTION,
        /** The at sign, which is a word. */
        AT,
        /** Parts words. */
        SPACE,
        /** As if it were not there. */
        NOTHING
    }

    private static final Normalizer2 COMPATIBLE = Normalizer2.getNFKDInstance();
    private static final int FRACTION_SLASH = 0x2044;
    private static final int LONGEST_DECOMPOSED = 4;
    private static final int KEYCAP_TEN = 0x1F51F;
    private static final String ENDS_LINE = "\n\u000B\f\r\u0085\u2028\u2029;；؛\u037E";

    private Signs() {}

    static boolean endsLine(char c) {
        return ENDS_LINE.indexOf(c) >= 0;
    }

    /** The characters one character stands for, without diacritics: {@code é} is e, {@code ⑫} is 12. */
    static String plain(int codePoint) {
        if (codePoint < 0x80) {
            return Character.toString(codePoint);
        }
        String decomposed = COMPATIBLE.normalize(Character.toString(codePoint));
        if (decomposed.indexOf(FRACTION_SLASH) >= 0 || decomposed.length() > LONGEST_DECOMPOSED) {
            // "6½" must not become 61 and 2; and a few signs stand for whole sentences.
            return Character.toString(codePoint);
        }
        StringBuilder plain = new StringBuilder();
        decomposed.codePoints().filter(c -> !isDiacritic(c)).forEach(plain::appendCodePoint);
        return plain.toString();
    }

    static String plain(String word) {
        StringBuilder plain = new StringBuilder();
        word.codePoints().forEach(c -> plain.append(plain(c)));
        return plain.toString();
    }

    /** Marks of no script of their own. Vowel signs, as of Devanagari, have one: they make another word. */
    private static boolean isDiacritic(int c) {
        int type = UCharacter.getType(c);
        return (type == UCharacterCategory.NON_SPACING_MARK || type == UCharacterCategory.ENCLOSING_MARK)
                && UScript.getScript(c) == UScript.INHERITED;
    }

    static Sign of(int c) {
        return switch (c) {
            case '.', '\u3002', '\u066B' -> Sign.DOT;
            case '~', '\u2212', '→', '⇒', '⟶', '➔', '➜', '➡' -> Sign.DASH;
            case '+', '&' -> Sign.PLUS;
            case '?', '\u061F', '\u00BF' -> Sign.QUESTION;
            case '@' -> Sign.AT;
            case '=', '\u00D7' -> Sign.SPACE;
            // A sign that was lost on the way or says a quantity is not passed over.
            case '%', '\uFFFD', KEYCAP_TEN -> Sign.LETTER;
            default -> ofKind(c);
        };
    }

    private static Sign ofKind(int c) {
        if (UCharacter.hasBinaryProperty(c, UProperty.DEFAULT_IGNORABLE_CODE_POINT)) {
            return Sign.NOTHING;
        }
        return switch (UCharacter.getType(c)) {
            case UCharacterCategory.DECIMAL_DIGIT_NUMBER -> Sign.DIGIT;
            case UCharacterCategory.DASH_PUNCTUATION -> Sign.DASH;
            case UCharacterCategory.FORMAT -> Sign.NOTHING;
            case UCharacterCategory.CONTROL,
                    UCharacterCategory.SPACE_SEPARATOR,
                    UCharacterCategory.LINE_SEPARATOR,
                    UCharacterCategory.PARAGRAPH_SEPARATOR,
                    UCharacterCategory.CONNECTOR_PUNCTUATION,
                    UCharacterCategory.START_PUNCTUATION,
                    UCharacterCategory.END_PUNCTUATION,
                    UCharacterCategory.INITIAL_PUNCTUATION,
                    UCharacterCategory.FINAL_PUNCTUATION,
                    UCharacterCategory.OTHER_PUNCTUATION,
                    UCharacterCategory.OTHER_SYMBOL,
                    UCharacterCategory.MODIFIER_SYMBOL -> Sign.SPACE;
            default -> UCharacter.hasBinaryProperty(c, UProperty.EXTENDED_PICTOGRAPHIC) ? Sign.SPACE : Sign.LETTER;
        };
    }

    /** The digit a letter is taken for inside a number; '\0' for all others. Look-alikes of other scripts count too. */
    static char digitLike(int letter) {
        return switch (letter) {
            case 'o', 'O', '\u043E', '\u041E', '\u03BF', '\u039F' -> '0';
            case 'l', 'I', '\u0406', '\u04C0', '\u0399' -> '1';
            default -> '\0';
        };
    }
}
