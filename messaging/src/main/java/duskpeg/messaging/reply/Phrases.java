package duskpeg.messaging.reply;

import com.ibm.icu.text.MessageFormat;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Properties;
import java.util.Set;

/** The phrases of one language, from {@code duskpeg/reply/<language>.properties}: patterns with named arguments. */
public final class Phrases {

    private final Locale locale;
    private final Properties patterns;

    private Phrases(Locale locale, Properties patterns) {
        this.locale = locale;
        this.patterns = patterns;
    }

    /**
     * Loads a language.
     *
     * @throws IllegalArgumentException if there is no such language
     */
    public static Phrases load(String language) {
        try (InputStream in = Phrases.class.getResourceAsStream("/duskpeg/reply/" + language + ".properties")) {
            if (in == null) {
                throw new IllegalArgumentException("no phrases in " + language);
            }
            Properties patterns = new Properties();
            patterns.load(new InputStreamReader(in, StandardCharsets.UTF_8));
            return new Phrases(Locale.forLanguageTag(language), patterns);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The language's locale. */
    public Locale locale() {
        return locale;
    }

    /** The keys it has. */
    public Set<String> keys() {
        return patterns.stringPropertyNames();
    }

    /**
     * Says a phrase.
     *
     * @param key its key
     * @param arguments names and values in turn
     * @throws IllegalArgumentException if the language lacks the key
     */
    public String say(String key, Object... arguments) {
        String pattern = patterns.getProperty(key);
        if (pattern == null) {
            throw new IllegalArgumentException("no phrase " + key);
        }
        Map<String, Object> named = new HashMap<>();
        for (int i = 0; i < arguments.length; i += 2) {
            named.put((String) arguments[i], String.valueOf(arguments[i + 1]));
        }
        return new MessageFormat(pattern, locale).format(named);
    }
}
