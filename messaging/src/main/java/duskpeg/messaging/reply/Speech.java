package duskpeg.messaging.reply;

import java.util.Locale;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** Turns an answer that is written to be read into one that can be heard. Immutable. */
public final class Speech {

    /** So long a number is no count of anything: it is a tie, or keys to press. */
    private static final String LONG = "(?<![0-9])[0-9]{4,}(?![0-9])";

    private static final Pattern LONG_NUMBER = Pattern.compile(LONG);
    private static final Pattern RANGE = Pattern.compile("(" + LONG + ")-(" + LONG + ")");
    private static final Pattern HOURS = Pattern.compile("(?<![0-9])([0-9]{1,2})h([0-5][0-9])(?![0-9])");
    private static final Pattern SHOUTED = Pattern.compile("(^|[.!?:] )?(?<!\\p{L})(\\p{Lu})(\\p{Lu}+)(?!\\p{L})");

    private final Phrases phrases;

    /**
     * @param phrases the language that is spoken
     */
    public Speech(Phrases phrases) {
        this.phrases = phrases;
    }

    /**
     * An answer as it is spoken: ties digit by digit, a run of them with a word between, hours and minutes in full,
     * and no word in capitals, which some voices spell out.
     */
    public String of(String written) {
        String spoken = RANGE.matcher(written)
                .replaceAll(
                        run -> literally(digits(run.group(1)) + " " + phrases.say("voice.to") + " " + run.group(2)));
        spoken = LONG_NUMBER.matcher(spoken).replaceAll(number -> digits(number.group()));
        spoken = HOURS.matcher(spoken).replaceAll(time -> literally(time(time)));
        return SHOUTED.matcher(spoken).replaceAll(word -> literally(quietly(word)));
    }

    private String time(MatchResult time) {
        return phrases.say(
                        "voice.hours",
                        "hours",
                        Integer.valueOf(time.group(1)),
                        "minutes",
                        Integer.valueOf(time.group(2)))
                .strip();
    }

    private String quietly(MatchResult word) {
        boolean begins = word.group(1) != null;
        String first = begins ? word.group(1) + word.group(2) : word.group(2).toLowerCase(phrases.locale());
        return first + word.group(3).toLowerCase(phrases.locale());
    }

    private static String literally(String text) {
        return Matcher.quoteReplacement(text);
    }

    /** A number digit by digit. */
    static String digits(String number) {
        return number.chars()
                .mapToObj(digit -> String.format(Locale.ROOT, "%c", digit))
                .collect(Collectors.joining(" "));
    }
}
