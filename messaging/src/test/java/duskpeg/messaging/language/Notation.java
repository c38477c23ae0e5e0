package duskpeg.messaging.language;

import duskpeg.core.act.Deed;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Statement;
import duskpeg.core.report.When;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** Writes readings as docs/field-language.md does. */
final class Notation {

    private Notation() {}

    static String of(List<Line> lines) {
        return lines.stream().map(line -> of(line.reading()) + of(line)).collect(Collectors.joining(" / "));
    }

    private static String of(Line line) {
        return line.forgiven().stream()
                .map(one -> ", \"" + one.said() + "\" as " + one.as())
                .collect(Collectors.joining());
    }

    static String of(Reading reading) {
        if (reading instanceof Reading.Said said) {
            return of(said.statement()) + of(said.when());
        }
        if (reading instanceof Reading.Asked asked) {
            return of(asked.ask());
        }
        if (reading instanceof Reading.OfStrip strip) {
            return of(strip.line());
        }
        Reading.Unread unread = (Reading.Unread) reading;
        return "unread " + unread.problem() + " at " + unread.at() + " \"" + unread.word() + "\"";
    }

    private static String of(StripLine line) {
        return switch (line.kind()) {
                    case ASKED -> "ask strips";
                    case ISSUED ->
                        "strip " + line.strip() + " "
                                + line.strip().numbering().name().toLowerCase(Locale.ROOT);
                    case HANDED_OVER -> "strip handed over to " + line.to();
                    case RETURNED -> "strip returned";
                    case LOST -> "strip lost";
                    case DAMAGED -> "damaged " + words(line.damaged());
                }
                + (line.from() == null ? "" : ", from " + line.from())
                + (line.worker() == null ? "" : ", of " + line.worker());
    }

    private static String of(Ask ask) {
        if (ask instanceof Ask.OfRow of) {
            return "ask row " + of.row().label();
        }
        if (ask instanceof Ask.OfPlant of) {
            return "ask plant " + of.plant().label();
        }
        if (ask instanceof Ask.Next) {
            return "ask next";
        }
        if (ask instanceof Ask.Seen) {
            return "seen";
        }
        if (ask instanceof Ask.OfTie of) {
            return "ask tie " + of.tie();
        }
        if (ask instanceof Ask.Language language) {
            return "language " + language.code();
        }
        return ask instanceof Ask.Morning ? "ask morning" : "help";
    }

    private static String of(Statement statement) {
        if (statement instanceof Statement.OnFlowers on) {
            return words(on.deeds()) + row(" row ", on.row())
                    + (on.plant() == null ? "" : " plant " + on.plant()) + ": " + on.count()
                    + (on.males() == null ? "" : ", males " + on.males())
                    + (on.reason() == null ? "" : ", " + on.reason().word())
                    + (on.sires() == null
                            ? ""
                            : on.sires().stream().map(PlantId::label).collect(Collectors.joining(" ", ", from ", "")))
                    + (on.deeds().contains(Deed.TIED) ? ", " + of(on.ties()) : "");
        }
        if (statement instanceof Statement.OnFruit on) {
            return on.deed().word() + " ties " + words(on.ties()) + row(", row ", on.row());
        }
        if (statement instanceof Statement.OnRow on) {
            return on.deed().word() + row(" row ", on.row()) + ": " + on.count();
        }
        if (statement instanceof Statement.Finished finished) {
            return "finished" + row(" row ", finished.row());
        }
        if (statement instanceof Statement.Correction correction) {
            return "instead: " + of(correction.right());
        }
        if (statement instanceof Statement.TakeBackTies back) {
            return "take back ties " + words(back.ties());
        }
        if (statement instanceof Statement.TakeBackPart part) {
            return "take back" + row(" row ", part.row())
                    + (part.plant() == null ? "" : " plant " + part.plant())
                    + (part.count() == null ? "" : ": " + part.count());
        }
        return "take back" + row(" row ", ((Statement.TakeBack) statement).row());
    }

    private static String of(When when) {
        if (when instanceof When.At at) {
            return ", at " + at.clock();
        }
        if (when instanceof When.Yesterday yesterday) {
            return ", yesterday" + (yesterday.clock() == null ? "" : " at " + yesterday.clock());
        }
        return when instanceof When.Ago ago ? ", " + ago.time().toMinutes() + " min ago" : "";
    }

    private static String of(Statement.TiesSaid said) {
        if (said instanceof Statement.Named named) {
            return "ties " + words(named.ties());
        }
        TieNumber last = ((Statement.NextOnStrip) said).last();
        return "next on strip" + (last == null ? "" : ", last " + last);
    }

    private static String row(String before, @Nullable RowId row) {
        return row == null ? "" : before + row.label();
    }

    private static String words(Collection<?> values) {
        return values.stream()
                .map(value -> value instanceof Deed deed ? deed.word() : value.toString())
                .collect(Collectors.joining(" "));
    }
}
