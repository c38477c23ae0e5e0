package duskpeg.messaging.reply;

import duskpeg.core.act.Deed;
import duskpeg.core.crew.Holdings;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Statement;
import duskpeg.core.report.When;
import duskpeg.messaging.language.Line;
import duskpeg.messaging.language.Problem;
import duskpeg.messaging.language.Reading;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Says what a report was understood as, before it is written down, so that a worker on the phone can say whether that
 * is right. Immutable.
 */
public final class ReadBack {

    /** Whichever tags are printed, the numbers are read as they were keyed. */
    private static final Holdings NONE_PRINTED = new Holdings(List.of());

    private static final int LONGEST_KEYED = 40;

    private final Phrases phrases;
    private final Speech speech;

    /**
     * @param phrases the language that is spoken
     */
    public ReadBack(Phrases phrases) {
        this.phrases = phrases;
        this.speech = new Speech(phrases);
    }

    /**
     * What was understood. Rows and ties are said digit by digit; of what there are no spoken words for, the keys are
     * said.
     *
     * @param lines the lines of one report, as they were read
     */
    public String of(List<Line> lines) {
        return lines.stream()
                .map(line -> sentence(said(line).orElseGet(() -> List.of(keyed(line.words())))))
                .collect(Collectors.joining(" "));
    }

    /**
     * Why a line was not understood.
     *
     * @param problem why
     */
    public String unread(Problem problem) {
        String key = "voice.why." + problem.name().toLowerCase(Locale.ROOT);
        return phrases.say("voice.unread", "why", phrases.say(phrases.keys().contains(key) ? key : "voice.why.other"));
    }

    private String sentence(List<String> clauses) {
        String said = speech.of(String.join(", ", clauses));
        return said.substring(0, 1).toUpperCase(phrases.locale()) + said.substring(1) + ".";
    }

    private Optional<List<String>> said(Line line) {
        return line.reading() instanceof Reading.Said said && said.when() instanceof When.Now
                ? clauses(said.statement())
                : Optional.empty();
    }

    private Optional<List<String>> clauses(Statement statement) {
        List<String> clauses = new ArrayList<>();
        if (statement instanceof Statement.OnFlowers flowers) {
            flowers.deeds().forEach(deed -> clauses.add(deed(deed, flowers.count())));
            addRow(clauses, flowers.row());
            if (flowers.plant() != null) {
                clauses.add(phrases.say("voice.plant", "plant", flowers.plant()));
            }
            clauses.add(phrases.say("voice.flowers", "count", flowers.count()));
            if (flowers.males() != null) {
                clauses.add(phrases.say("voice.males", "males", flowers.males()));
            }
            if (flowers.sires() != null) {
                clauses.add(phrases.say("voice.sires", "plants", plants(flowers.sires())));
            }
            if (flowers.deeds().contains(Deed.TIED)) {
                addTies(clauses, flowers.ties());
            }
            if (flowers.reason() != null) {
                clauses.add(phrases.say("reason." + flowers.reason().word()));
            }
        } else if (statement instanceof Statement.OnFruit fruit) {
            clauses.add(deed(fruit.deed(), fruit.ties().size()));
            addRow(clauses, fruit.row());
            clauses.add(phrases.say("voice.ties", "ties", Words.ties(fruit.ties(), NONE_PRINTED)));
        } else if (statement instanceof Statement.OnRow onRow) {
            clauses.add(deed(onRow.deed(), onRow.count()));
            addRow(clauses, onRow.row());
            clauses.add(phrases.say("voice.fruit", "count", onRow.count()));
        } else if (statement instanceof Statement.TakeBack back) {
            clauses.add(phrases.say("voice.undo"));
            addRow(clauses, back.row());
        }
        return clauses.isEmpty() ? Optional.empty() : Optional.of(clauses);
    }

    private void addRow(List<String> clauses, @Nullable RowId row) {
        if (row != null) {
            clauses.add(phrases.say("voice.row", "row", Speech.digits(row.label())));
        }
    }

    private String plants(List<PlantId> plants) {
        return plants.stream()
                .map(plant -> phrases.say(
                                "voice.row", "row", Speech.digits(plant.row().label())) + " "
                        + phrases.say("voice.plant", "plant", plant.number()))
                .collect(Collectors.joining(", "));
    }

    private void addTies(List<String> clauses, Statement.TiesSaid ties) {
        if (ties instanceof Statement.Named named) {
            clauses.add(phrases.say("voice.ties", "ties", Words.ties(named.ties(), NONE_PRINTED)));
        } else if (ties instanceof Statement.NextOnStrip next && next.last() != null) {
            clauses.add(phrases.say("voice.last", "tie", next.last()));
        }
    }

    private String deed(Deed deed, int count) {
        return phrases.say("deed." + deed.word(), "count", count);
    }

    private String keyed(String words) {
        String keys = Arrays.stream(Gsm7.echo(words, LONGEST_KEYED).strip().split("\\s+", -1))
                .map(Speech::digits)
                .collect(Collectors.joining(", "));
        return phrases.say("voice.keyed", "keys", keys);
    }
}
