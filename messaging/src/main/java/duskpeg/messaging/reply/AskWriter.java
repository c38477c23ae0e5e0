package duskpeg.messaging.reply;

import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.round.Round;
import duskpeg.core.round.Tally;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;

/** Answers what a worker asks. */
final class AskWriter {

    private static final int LONGEST_NAME = 16;
    private static final int MOST_NAMES = 2;

    private final Words words;

    AskWriter(Words words) {
        this.words = words;
    }

    String ownMorning(Outcome.OwnMorning morning) {
        String next = morning.nextTie()
                .map(tie -> " " + words.say("next.tie", "tie", tie))
                .orElse("");
        if (morning.rounds().isEmpty()) {
            return words.say("own.nothing", "day", words.day(morning.morning())) + next;
        }
        List<String> rows = new ArrayList<>(morning.rounds().stream()
                .map(round -> words.say(
                        "own.row",
                        "row",
                        round.id().row().label(),
                        "left",
                        round.tally().left()))
                .toList());
        int more = 0;
        String said = own(morning, rows, more, next);
        while (!Words.fits(said) && rows.size() > 1) {
            rows.remove(rows.size() - 1);
            said = own(morning, rows, ++more, next);
        }
        return said;
    }

    private String own(Outcome.OwnMorning morning, List<String> rows, int more, String next) {
        return words.say(
                        "own",
                        "day",
                        words.day(morning.morning()),
                        "rows",
                        String.join(", ", rows) + (more == 0 ? "" : ", +" + more))
                + words.time(morning.morning())
                + next;
    }

    String ofRow(Round round) {
        return ofRow(round, round.id().row().label());
    }

    private String ofRow(Round round, String label) {
        Tally tally = round.tally();
        return words.say(
                        "ask.row",
                        "row",
                        label,
                        "day",
                        words.day(round.id().morning()),
                        "pegged",
                        tally.pegged(),
                        "tied",
                        tally.tied(),
                        "lost",
                        tally.lost(),
                        "left",
                        tally.left())
                + words.time(round.id().morning());
    }

    String ofTie(Fruit fruit) {
        TieNumber tie = fruit.id().tie();
        return fruit.state()
                .map(state -> words.say("ask.tie", "tie", tie, "state", words.say("state." + state.word()))
                        + fruit.tying()
                                .map(tied -> " "
                                        + words.say(
                                                "ask.tie.where",
                                                "row",
                                                tied.round().row().label(),
                                                "day",
                                                words.day(tied.round().morning())))
                                .orElse(""))
                .orElseGet(() -> words.say("ask.tie.unknown", "tie", tie));
    }

    /** A plant is answered for as its row is. */
    String ofPlant(Outcome.OfPlant asked) {
        return ofRow(
                asked.round().ofPlant(asked.plant().number()), asked.plant().label());
    }

    /** Where to go, and who is there. */
    String next(Outcome.Next next) {
        return next.row()
                        .map(row -> words.say(
                                        "next.row",
                                        "row",
                                        row.round().id().row().label(),
                                        "left",
                                        row.round().tally().left())
                                + there(next.others()))
                        .orElseGet(() -> words.say("next.nothing", "day", words.day(next.morning())))
                + words.time(next.morning());
    }

    private String there(List<String> names) {
        if (names.isEmpty()) {
            return "";
        }
        String said = names.stream()
                .limit(MOST_NAMES)
                .map(name -> Gsm7.echo(name, LONGEST_NAME))
                .collect(Collectors.joining(", "));
        int more = names.size() - MOST_NAMES;
        return " " + words.say("next.there", "names", more > 0 ? said + " +" + more : said);
    }
}
