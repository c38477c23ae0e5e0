package duskpeg.messaging.language;

import duskpeg.core.act.Deed;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
import duskpeg.core.report.Statement;
import duskpeg.core.report.Statement.Named;
import duskpeg.core.report.Statement.NextOnStrip;
import duskpeg.core.report.When;
import java.time.LocalTime;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Says in the fewest keys what was meant. What is printed is read back as itself, in every language: keys are the same
 * in all, and the few words of time that no key stands for are those of English, which all understand.
 */
public final class Printer {

    private Printer() {}

    /** What was read, in keys; empty for what could not be read. */
    public static Optional<String> print(Reading reading) {
        if (reading instanceof Reading.Said said) {
            return Optional.of(print(said.statement(), said.when()));
        }
        return reading instanceof Reading.Asked asked ? Optional.of(print(asked.ask())) : Optional.empty();
    }

    /** A statement, and when it was done where it says so. */
    public static String print(Statement statement, When when) {
        return print(statement) + print(when);
    }

    /** A question or a wish. */
    public static String print(Ask ask) {
        if (ask instanceof Ask.OfRow of) {
            return "9 " + of.row().label();
        }
        if (ask instanceof Ask.OfPlant of) {
            return "9 " + of.plant().label();
        }
        if (ask instanceof Ask.OfTie of) {
            return "9 " + of.tie();
        }
        if (ask instanceof Ask.Language language) {
            return "lang " + language.code();
        }
        if (ask instanceof Ask.Next) {
            return "9 0";
        }
        if (ask instanceof Ask.Seen) {
            return "99";
        }
        return ask instanceof Ask.Morning ? "9" : "?";
    }

    private static String print(Statement statement) {
        if (statement instanceof Statement.OnFlowers on) {
            return onFlowers(on);
        }
        if (statement instanceof Statement.OnFruit on) {
            return on.deed().digit() + (on.row() == null ? "" : " " + on.row().label()) + ties(on.ties());
        }
        if (statement instanceof Statement.OnRow on) {
            return on.deed().digit() + " " + on.row().label() + " " + on.count();
        }
        if (statement instanceof Statement.Finished finished) {
            return Deed.FINISHED.digit() + " " + finished.row().label();
        }
        if (statement instanceof Statement.Correction correction) {
            return "00 " + print(correction.right());
        }
        if (statement instanceof Statement.TakeBackTies back) {
            return "0" + ties(back.ties());
        }
        if (statement instanceof Statement.TakeBackPart part) {
            return "0 " + place(part.row().label(), part.plant()) + (part.count() == null ? "" : " " + part.count());
        }
        Statement.TakeBack back = (Statement.TakeBack) statement;
        return back.row() == null ? "0" : "0 " + back.row().label();
    }

    private static String onFlowers(Statement.OnFlowers on) {
        String said = EnumSet.copyOf(on.deeds()).stream()
                        .map(deed -> Integer.toString(deed.digit()))
                        .collect(Collectors.joining())
                + " "
                + place(on.row().label(), on.plant());
        boolean tied = on.deeds().contains(Deed.TIED);
        if (!(tied && on.ties() instanceof Named)) {
            said += " " + on.count();
        }
        said += on.males() == null ? "" : " " + on.males();
        List<PlantId> sires = on.sires();
        if (sires != null) {
            said += sires.stream().map(sire -> " " + sire.label()).collect(Collectors.joining());
        }
        if (tied) {
            said += on.ties() instanceof Named named ? ties(named.ties()) : last((NextOnStrip) on.ties());
        }
        return said + (on.reason() == null ? "" : " " + on.reason().digit());
    }

    private static String place(String row, @Nullable Integer plant) {
        return plant == null ? row : row + "." + plant;
    }

    private static String last(NextOnStrip next) {
        return next.last() == null ? "" : " " + next.last();
    }

    /** Ties as they were said, those that follow one another as a range. */
    private static String ties(List<TieNumber> ties) {
        StringBuilder said = new StringBuilder();
        for (int first = 0; first < ties.size(); ) {
            int last = first;
            while (last + 1 < ties.size()
                    && ties.get(last + 1).value() == ties.get(last).value() + 1) {
                last++;
            }
            said.append(' ').append(ties.get(first));
            if (last > first) {
                said.append('-').append(ties.get(last));
            }
            first = last + 1;
        }
        return said.toString();
    }

    private static String print(When when) {
        if (when instanceof When.At at) {
            return " @" + clock(at.clock());
        }
        if (when instanceof When.Yesterday yesterday) {
            LocalTime clock = yesterday.clock();
            return " yesterday" + (clock == null ? "" : " " + clock(clock));
        }
        return when instanceof When.Ago ago ? " " + ago.time().toMinutes() + " min ago" : "";
    }

    private static String clock(LocalTime clock) {
        return String.format(Locale.ROOT, "%02d%02d", clock.getHour(), clock.getMinute());
    }
}
