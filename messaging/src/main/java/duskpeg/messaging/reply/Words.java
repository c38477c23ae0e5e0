package duskpeg.messaging.reply;

import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.crew.Holdings;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.report.Done;
import duskpeg.core.report.When;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** What all answers are made of: times, days, deeds and ties, in the worker's language. */
final class Words {

    private static final int MOST_RUNS = 3;
    private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

    private final Phrases phrases;
    private final FarmSettings settings;
    private final Instant now;
    private final Holdings printed;

    /**
     * @param printed who held which of the tags that have a check digit: runs of their numbers are told by it
     */
    Words(Phrases phrases, FarmSettings settings, Instant now, Holdings printed) {
        this.phrases = phrases;
        this.settings = settings;
        this.now = now;
        this.printed = printed;
    }

    String say(String key, Object... arguments) {
        return phrases.say(key, arguments);
    }

    static boolean fits(String text) {
        return Gsm7.covers(text) && Gsm7.septets(text) <= Gsm7.SEGMENT;
    }

    /** Whether the morning's limit is still to come. */
    boolean isBeforeLimit(LocalDate morning) {
        return now.isBefore(settings.limitOn(morning));
    }

    /** The time left until the limit, with a leading space; nothing on another day. */
    String time(LocalDate morning) {
        if (!isThisMorning(morning)) {
            return "";
        }
        Duration left = Duration.between(now, settings.limitOn(morning));
        String limit = settings.limit().toString();
        return " "
                + (left.isNegative() || left.isZero()
                        ? phrases.say("time.past", "limit", limit)
                        : phrases.say(
                                "time",
                                "left",
                                String.format(Locale.ROOT, "%dh%02d", left.toHours(), left.toMinutesPart()),
                                "limit",
                                limit));
    }

    boolean isThisMorning(LocalDate morning) {
        return settings.dateAt(now).equals(morning) && !settings.afternoonAt(now);
    }

    String day(LocalDate date) {
        return phrases.day(date);
    }

    /** What was said, and when it was done where that was said too. */
    String timed(String what, Done done) {
        String when = when(done);
        return when.isEmpty() ? what : phrases.say("done", "what", what, "when", when);
    }

    /** When it was done, as far as it was said; without the day where that is today. */
    String when(Done done) {
        if (done.said() instanceof When.Now) {
            return "";
        }
        String day = day(settings.dateAt(done.at()));
        if (done.said() instanceof When.Yesterday yesterday && yesterday.clock() == null) {
            return day;
        }
        String clock = CLOCK.format(done.at().atZone(settings.zone()));
        return isOn(settings.dateAt(now), done) ? clock : day + " " + clock;
    }

    boolean isOn(LocalDate day, Done done) {
        return settings.dateAt(done.at()).equals(day);
    }

    String because(String lost, @Nullable LossReason reason) {
        return reason == null ? lost : lost + " (" + phrases.say("reason." + reason.word()) + ")";
    }

    /** What was done, said of so many. */
    String deed(Deed deed, int count) {
        return phrases.say("deed." + deed.word(), "count", count);
    }

    /** Ties as runs of numbers that follow each other on a strip. */
    String ties(Collection<TieNumber> ties) {
        return ties(ties, printed);
    }

    /** Ties as runs, on a farm with these printed tags. */
    static String ties(Collection<TieNumber> ties, Holdings printed) {
        List<List<TieNumber>> runs = new ArrayList<>();
        for (TieNumber tie : ties) {
            List<TieNumber> run = runs.isEmpty() ? List.of() : runs.get(runs.size() - 1);
            if (!run.isEmpty() && follows(tie, run.get(run.size() - 1), printed)) {
                run.add(tie);
            } else {
                runs.add(new ArrayList<>(List.of(tie)));
            }
        }
        String said = runs.stream()
                .limit(MOST_RUNS)
                .map(run -> run.size() == 1 ? run.get(0).digits() : run.get(0) + "-" + run.get(run.size() - 1))
                .collect(Collectors.joining(" "));
        int more = runs.stream().skip(MOST_RUNS).mapToInt(List::size).sum();
        return more == 0 ? said : said + " +" + more;
    }

    private static boolean follows(TieNumber tie, TieNumber before, Holdings printed) {
        Numbering numbering = printed.numberingOf(before);
        return numbering == printed.numberingOf(tie) && numbering.serial(tie) == numbering.serial(before) + 1;
    }
}
