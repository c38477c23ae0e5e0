package duskpeg.messaging.card;

import duskpeg.messaging.language.LanguageFiles;
import duskpeg.messaging.language.Meaning;
import duskpeg.messaging.reply.Phrases;
import java.util.Properties;

/** The words of one language, from the tables that the server reads and answers by. */
final class Words {

    private final Properties own;
    private final Properties english;
    private final Phrases phrases;

    Words(String code, LanguageFiles files) {
        this.own = files.read("language", code);
        this.english = files.read("language", "en");
        this.phrases = Phrases.load(code, files);
    }

    /** The first word of that meaning; English's, which is understood everywhere, where the language has none. */
    String first(Meaning meaning) {
        String words = own.getProperty(meaning.key(), "").strip();
        return (words.isEmpty() ? english.getProperty(meaning.key(), "") : words)
                .strip()
                .split("\\s+", 2)[0];
    }

    /** The first words of some meanings, with spaces between. */
    String line(Object... parts) {
        StringBuilder line = new StringBuilder();
        for (Object part : parts) {
            line.append(line.isEmpty() ? "" : " ").append(part instanceof Meaning meaning ? first(meaning) : part);
        }
        return line.toString();
    }

    /** A phrase of its replies. */
    String say(String key, Object... arguments) {
        return phrases.say(key, arguments);
    }
}
