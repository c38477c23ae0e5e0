package duskpeg.messaging.text;

import duskpeg.core.act.Seal;
import duskpeg.core.act.TextId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Text;
import java.time.Instant;
import java.time.temporal.ChronoUnit;

/** Makes a {@link Text} of whatever a webhook was sent: nothing in it is trusted, and nothing makes it fail. */
final class Incoming {

    private static final int LONGEST_SENDER = 40;
    private static final int LONGEST_DIGEST = 32;

    private Incoming() {}

    /**
     * @param sid the carrier's id; where it has another form than ids have, its digest stands for it
     * @param sender the sender's number
     * @param words the body
     * @param salt 32 random hex digits
     * @param heard when it came
     */
    static Text text(FarmId farm, String sid, String sender, String words, String salt, Instant heard) {
        return new Text(id(farm, sid), phone(sender), keepable(words), salt, heard.truncatedTo(ChronoUnit.MILLIS));
    }

    private static TextId id(FarmId farm, String sid) {
        return sid.matches("[A-Za-z0-9_-]{1,64}")
                ? new TextId(farm, sid)
                : new TextId(farm, "x-" + Seal.of("", sid).substring(0, LONGEST_DIGEST));
    }

    /** A number in E.164 form. A plus sign that a careless client did not encode arrives as a space. */
    static String phone(String sender) {
        String number = sender.strip();
        if (sender.startsWith(" ") && number.matches("[0-9]{6,15}")) {
            return "+" + number;
        }
        return keepable(number, LONGEST_SENDER);
    }

    /** The words as both database engines can keep them: no NUL, no half of a surrogate pair, not endless. */
    static String keepable(String words) {
        return keepable(words, Texts.MAX_WORDS);
    }

    static String keepable(String words, int longest) {
        String cut = words.length() > longest ? words.substring(0, longest) : words;
        StringBuilder kept = new StringBuilder(cut.length());
        cut.codePoints()
                .map(codePoint -> codePoint == 0 || (codePoint >= 0xD800 && codePoint <= 0xDFFF) ? 0xFFFD : codePoint)
                .forEach(kept::appendCodePoint);
        return kept.toString();
    }
}
