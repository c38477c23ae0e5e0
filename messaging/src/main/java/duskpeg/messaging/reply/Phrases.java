package duskpeg.messaging.reply;

import com.ibm.icu.text.MessageFormat;
import duskpeg.messaging.language.LanguageFiles;
import java.time.LocalDate;
import java.time.Month;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;

/** The phrases of one language, from {@code reply/<language>.properties}: patterns with named arguments. */
public final class Phrases {

    /** What begins the keys of phrases that are only spoken: they may have any character and any length. */
    static final String SPOKEN = "voice.";

    private static final Pattern NUMBER = Pattern.compile("[0-9]{1,9}");

    private final Locale locale;
    private final Properties patterns;

    private Phrases(Locale locale, Properties patterns) {
        this.locale = locale;
        this.patterns = patterns;
    }

    /** The phrases of a language on the classpath; see {@link #load(String, LanguageFiles)}. */
    public static Phrases load(String language) {
        return load(language, LanguageFiles.BUILT_IN);
    }

    /**
     * Loads {@code reply/<language>.properties}.
     *
     * @throws IllegalArgumentException if there is no such file, if it has not just the keys that English has, or if a
     *     phrase is no pattern, or, where it is not only spoken, has a character no text can have or is alone more than
     *     one segment
     */
    public static Phrases load(String language, LanguageFiles files) {
        try {
            Properties patterns = files.read("reply", language);
            Set<String> missing =
                    new TreeSet<>(LanguageFiles.BUILT_IN.read("reply", "en").stringPropertyNames());
            Set<String> unknown = new TreeSet<>(patterns.stringPropertyNames());
            unknown.removeAll(missing);
            missing.removeAll(patterns.stringPropertyNames());
            if (!missing.isEmpty() || !unknown.isEmpty()) {
                throw new IllegalArgumentException("missing " + missing + ", unknown " + unknown);
            }
            Locale locale = Locale.forLanguageTag(language);
            for (String key : patterns.stringPropertyNames()) {
                check(key, patterns.getProperty(key), locale);
            }
            return new Phrases(locale, patterns);
        } catch (IllegalArgumentException e) {
            throw new IllegalArgumentException("replies in " + language + ": " + e.getMessage(), e);
        }
    }

    private static void check(String key, String pattern, Locale locale) {
        MessageFormat format = new MessageFormat(pattern, locale);
        if (key.startsWith(SPOKEN)) {
            return;
        }
        if (!Gsm7.covers(pattern)) {
            throw new IllegalArgumentException(key + " has a character that a text can't have");
        }
        if (format.getArgumentNames().isEmpty() && Gsm7.septets(pattern) > Gsm7.SEGMENT) {
            throw new IllegalArgumentException(key + " is longer than a text");
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

    /** A month's short name. */
    public String month(Month month) {
        String[] months = say("months").strip().split("\\s+", -1);
        return months.length == 12 ? months[month.getValue() - 1] : Integer.toString(month.getValue());
    }

    /** A day of the year. */
    public String day(LocalDate date) {
        return date.getDayOfMonth() + " " + month(date.getMonth());
    }

    /**
     * Says a phrase. A number is said as it is keyed, without separators; a pattern that must choose by it, as
     * {@code {count_n, plural, one {flower} other {flowers}}}, finds it a second time under its name with {@code _n}.
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
            String name = (String) arguments[i];
            String value = String.valueOf(arguments[i + 1]);
            named.put(name, value);
            if (NUMBER.matcher(value).matches()) {
                named.put(name + "_n", Integer.valueOf(value));
            }
        }
        return new MessageFormat(pattern, locale).format(named);
    }
}
