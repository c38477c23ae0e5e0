package duskpeg.projections.export;

import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.ledger.Note;
import duskpeg.projections.Qr;
import duskpeg.projections.export.Paper.Cell;
import duskpeg.projections.export.Paper.Style;
import duskpeg.projections.history.FruitView;
import duskpeg.projections.history.FruitView.ActView;
import duskpeg.projections.history.Verdicts.FindingView;
import duskpeg.projections.history.Verdicts.VerdictView;
import duskpeg.projections.ledger.Ledger;
import java.io.IOException;
import java.time.OffsetDateTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * Papers on one fruit: a certificate for one whose verdict is pure, a history for any. They say what was reported and
 * nothing more; workers are in them by pseudonym, and no words of anybody are.
 */
@Component
class FruitPapers {

    private static final float QR_SIDE = 86;
    private static final float BESIDE_QR = Paper.WIDE - QR_SIDE - 10;

    private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("d MMM yyyy HH:mm", Locale.ENGLISH);
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEE d MMM yyyy", Locale.ENGLISH);

    private final Ledger ledger;

    FruitPapers(Ledger ledger) {
        this.ledger = ledger;
    }

    /**
     * What a paper is about.
     *
     * @param zone the name of the farm's time zone
     * @param page the address of the fruit's page
     */
    record About(FruitId id, FruitView fruit, VerdictView verdict, String zone, String page) {}

    /** The certificate of a fruit whose verdict is pure. */
    byte[] certificate(About about) throws IOException {
        Paper paper = new Paper();
        head(paper, about, "Certificate of what was recorded");
        findings(paper, about);
        cautions(paper);
        ledger(paper, about);
        return finish(paper, about, "Certificate of what was recorded of the fruit with tie ");
    }

    /** The history of a fruit, whatever its verdict. */
    byte[] history(About about) throws IOException {
        Paper paper = new Paper();
        head(paper, about, "Statement of record");
        asked(paper, about.fruit());
        acts(
                paper,
                about.id().farm(),
                "What was reported, in order",
                about.fruit().acts());
        acts(paper, about.id().farm(), "Taken back", about.fruit().takenBack());
        findings(paper, about);
        cautions(paper);
        ledger(paper, about);
        return finish(paper, about, "Statement of record of the fruit with tie ");
    }

    private static byte[] finish(Paper paper, About about, String title) throws IOException {
        OffsetDateTime at = about.verdict().asKnownAt();
        return paper.finish(
                title + about.fruit().tie(),
                "Tie " + about.fruit().tie() + ", " + word(about.verdict().verdict()) + " by rules "
                        + about.verdict().rules() + " as known at " + time(at) + ". Only a grow-out shows purity.",
                at.toEpochSecond());
    }

    private static void head(Paper paper, About about, String title) throws IOException {
        FruitView fruit = about.fruit();
        VerdictView verdict = about.verdict();
        float top = paper.filled();
        paper.qr(Qr.of(about.page()), QR_SIDE, "QR code of the fruit’s page, " + about.page());
        paper.text(title, Style.TITLE, BESIDE_QR);
        paper.text("Fruit with tie " + fruit.tie(), Style.HEADING, BESIDE_QR);
        paper.gap(8);
        paper.text(capital(word(verdict.verdict())), Style.LARGE, BESIDE_QR);
        paper.text(meaning(verdict), Style.BODY, BESIDE_QR);
        paper.downTo(top + QR_SIDE);
        paper.gap(6);
        paper.rule();
        paper.fact("As known at", time(verdict.asKnownAt()) + ", " + about.zone());
        paper.fact("Farm and row", about.id().farm() + ", row " + (fruit.row() == null ? "not known" : fruit.row()));
        if (fruit.plant() != null) {
            paper.fact("Plant", fruit.row() + "." + fruit.plant());
        }
        paper.fact("Morning", fruit.morning() == null ? null : DAY.format(fruit.morning()));
        paper.fact("Cultivar", fruit.cultivar());
        paper.fact("Species, as the farm stated it", fruit.species());
        paper.fact("State", fruit.state());
        paper.fact("Its page", about.page());
    }

    /** What the verdict says and what it does not; the words of {@link duskpeg.core.purity.Verdict.Kind}. */
    private static String meaning(VerdictView verdict) {
        String by = "By rules " + verdict.rules() + ", from what was reported. ";
        return by
                + switch (verdict.verdict()) {
                    case "pure" -> "Every rule on purity and identity is shown to hold.";
                    case "not-pure" -> "A rule on purity is shown to fail.";
                    case "unfinished" -> "What could be shown by then is; the fruit was not brought in.";
                    default -> "Something that must be shown is not, or something does not fit.";
                }
                + " This is not a test of the seed.";
    }

    private void findings(Paper paper, About about) throws IOException {
        paper.heading("What each rule found");
        paper.table(
                new Cell("Rule", 132, Style.SMALL),
                new Cell("Finding", 56, Style.SMALL),
                new Cell("About", 50, Style.SMALL),
                new Cell("Because", 188, Style.SMALL),
                new Cell("Leaves", Paper.WIDE + Paper.GUTTER - 426, Style.SMALL));
        Map<String, Long> leaves = ledger.leaves(
                about.id().farm(),
                about.verdict().evidence().stream()
                        .flatMap(found -> found.events().stream())
                        .collect(Collectors.toSet()));
        for (FindingView found : about.verdict().evidence()) {
            boolean shown = !found.result().equals("not-shown");
            paper.line(
                    new Cell(capital(word(found.rule())), 132, Style.STRONG),
                    new Cell(word(found.result()), 56, found.result().equals("holds") ? Style.CELL : Style.STRONG),
                    new Cell(shown ? about(found.grade()) : "", 50, Style.CELL),
                    new Cell(found.because(), 188, Style.CELL),
                    new Cell(leaves(found.events(), leaves), Paper.WIDE + Paper.GUTTER - 426, Style.SMALL));
        }
        paper.end();
        paper.gap(4);
        paper.text(
                "This fruit: said of this very fruit. Its row: said of its row that night. What is not shown is never"
                        + " taken for granted. Males’ plants and ripeness are about how broad the stock and how good the seed"
                        + " is, and change no verdict on purity. Leaves: where the reports stand in the farm’s ledger, from 0.",
                Style.SMALL);
    }

    private static void asked(Paper paper, FruitView fruit) throws IOException {
        if (!fruit.questions().isEmpty()) {
            paper.heading("Still asked");
            paper.list(fruit.questions().stream().map(one -> one.text()).toArray(String[]::new));
        }
        if (!fruit.settled().isEmpty()) {
            paper.heading("Asked, and settled");
            paper.list(fruit.settled().stream()
                    .map(one -> one.text() + ": settled by " + one.by() + ", " + time(one.at()))
                    .toArray(String[]::new));
        }
    }

    private void acts(Paper paper, FarmId farm, String heading, List<ActView> acts) throws IOException {
        if (acts.isEmpty()) {
            return;
        }
        paper.heading(heading);
        paper.table(
                new Cell("Done", 90, Style.SMALL),
                new Cell("Act", 58, Style.SMALL),
                new Cell("About", 50, Style.SMALL),
                new Cell("What", 128, Style.SMALL),
                new Cell("By", 34, Style.SMALL),
                new Cell("Heard", 90, Style.SMALL),
                new Cell("Leaf", Paper.WIDE + Paper.GUTTER - 450, Style.SMALL));
        Map<String, Long> leaves =
                ledger.leaves(farm, acts.stream().map(ActView::event).toList());
        for (ActView act : acts) {
            paper.line(
                    new Cell(time(act.at()), 90, Style.CELL),
                    new Cell(act.act(), 58, Style.STRONG),
                    new Cell(about(act.grade()), 50, Style.CELL),
                    new Cell(what(act), 128, Style.CELL),
                    new Cell(act.worker(), 34, Style.CELL),
                    new Cell(time(act.heard()), 90, Style.CELL),
                    new Cell(leaf(leaves.get(act.event())), Paper.WIDE + Paper.GUTTER - 450, Style.SMALL));
        }
        paper.end();
    }

    private static String what(ActView act) {
        List<String> parts = new ArrayList<>();
        parts.add(
                act.grade().equals("row")
                        ? act.count() + " of row " + act.row()
                        : act.count() > 1 ? "1 of " + act.count() + " in that line" : "");
        parts.add(act.males() == null ? "" : act.males() + " males");
        parts.add(act.plant() == null ? "" : "plant " + act.row() + "." + act.plant());
        parts.add(act.sires() == null ? "" : "males from " + String.join(" and ", act.sires()));
        parts.add(act.reason() == null ? "" : word(act.reason()));
        parts.add(act.putRight() == null ? "" : "settled by " + act.putRight().by());
        return parts.stream().filter(part -> !part.isEmpty()).collect(Collectors.joining(", "));
    }

    private void ledger(Paper paper, About about) throws IOException {
        Note note = ledger.checkpoint(about.id().farm());
        paper.heading("The ledger");
        paper.text(
                "How the farm’s ledger stood when this was printed (C2SP tlog-checkpoint): the log, how many events, the"
                        + " root of its tree, and who signed it.",
                Style.CELL);
        paper.gap(3);
        for (String line : note.toString().lines().filter(one -> !one.isEmpty()).toList()) {
            paper.text(line, Style.SMALL);
        }
    }

    private static void cautions(Paper paper) throws IOException {
        paper.heading("What this does not show");
        paper.list(Words.TIE, Words.NOT_TESTED, Words.SWELLING, Words.TIMES, Words.ROW, Words.LEDGER);
    }

    private static String leaf(@Nullable Long leaf) {
        return leaf == null ? "not yet" : leaf.toString();
    }

    /** Which leaves, as in {@code 3-5, 8}. */
    private static String leaves(Collection<String> events, Map<String, Long> leaves) {
        List<Long> sorted = events.stream()
                .flatMap(event -> Stream.ofNullable(leaves.get(event)))
                .distinct()
                .sorted()
                .toList();
        List<String> runs = new ArrayList<>();
        for (int i = 0; i < sorted.size(); i++) {
            int first = i;
            while (i + 1 < sorted.size() && sorted.get(i + 1) == sorted.get(i) + 1) {
                i++;
            }
            runs.add(first == i ? leaf(sorted.get(i)) : sorted.get(first) + "-" + sorted.get(i));
        }
        if (sorted.size() < events.size() && !events.stream().allMatch(leaves::containsKey)) {
            runs.add("not yet all");
        }
        return String.join(", ", runs);
    }

    private static String about(String grade) {
        return grade.equals("row") ? "its row" : "this fruit";
    }

    private static String word(String word) {
        return word.replace('-', ' ');
    }

    private static String capital(String words) {
        return words.substring(0, 1).toUpperCase(Locale.ENGLISH) + words.substring(1);
    }

    private static String time(OffsetDateTime at) {
        return TIME.format(at);
    }
}
