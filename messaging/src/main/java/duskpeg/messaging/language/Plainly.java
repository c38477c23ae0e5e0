package duskpeg.messaging.language;

import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Statement;
import duskpeg.core.report.When;
import java.util.Collection;
import java.util.List;
import java.util.stream.Collectors;

/** A report of work in plain English, for whoever settles it. */
final class Plainly {

    private Plainly() {}

    /** What it records, as {@code pegged row 12: 14, males 28}. */
    static String of(Statement statement, When when) {
        String said;
        if (statement instanceof Statement.OnFlowers on) {
            LossReason reason = on.reason();
            List<PlantId> sires = on.sires();
            said = on.deeds().stream().map(Deed::word).collect(Collectors.joining(", "))
                    + " row " + on.row().label()
                    + (on.plant() == null ? "" : ", plant " + on.plant())
                    + ": " + on.count()
                    + (on.males() == null ? "" : ", males " + on.males())
                    + (sires == null ? "" : ", males of " + labels(sires))
                    + (reason == null ? "" : ", " + reason.word().replace('-', ' '))
                    + (on.deeds().contains(Deed.TIED) ? ", " + plain(on.ties()) : "");
        } else if (statement instanceof Statement.OnFruit on) {
            RowId row = on.row();
            said = on.deed().word() + " ties " + list(on.ties()) + (row == null ? "" : ", row " + row.label());
        } else if (statement instanceof Statement.OnRow on) {
            said = on.deed().word() + " row " + on.row().label() + ": " + on.count() + " fruit without ties";
        } else if (statement instanceof Statement.Finished finished) {
            said = "finished row " + finished.row().label();
        } else {
            throw new IllegalArgumentException("not a report of work: " + statement);
        }
        return said + plain(when);
    }

    private static String plain(Statement.TiesSaid ties) {
        if (ties instanceof Statement.Named named) {
            return "ties " + list(named.ties());
        }
        TieNumber last = ((Statement.NextOnStrip) ties).last();
        return "the next ties of her strip" + (last == null ? "" : ", last " + last);
    }

    private static String plain(When when) {
        if (when instanceof When.At at) {
            return ", at " + at.clock();
        }
        if (when instanceof When.Yesterday yesterday) {
            return ", yesterday" + (yesterday.clock() == null ? "" : " at " + yesterday.clock());
        }
        return when instanceof When.Ago ago ? ", " + ago.time().toMinutes() + " min before" : "";
    }

    private static String labels(List<PlantId> plants) {
        return plants.stream().map(PlantId::label).collect(Collectors.joining(" and "));
    }

    private static String list(Collection<TieNumber> ties) {
        return ties.stream().map(TieNumber::digits).collect(Collectors.joining(" "));
    }
}
