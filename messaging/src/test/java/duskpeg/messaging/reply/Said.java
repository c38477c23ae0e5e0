package duskpeg.messaging.reply;

import duskpeg.core.report.Question.Kind;
import java.util.List;
import java.util.Map;

/** What the code says: the keys it asks its phrases for, and the values that questions come with. */
final class Said {

    private Said() {}

    /** Keys that stand in the code as they are; the others are made from deeds, states, problems and questions. */
    static final List<String> KEYS = List.of(
            "months",
            "language.name",
            "language.changed",
            "language.unknown",
            "done",
            "pegged",
            "pegged.more",
            "males",
            "males.unsaid",
            "worked",
            "worked.on",
            "worked.brief",
            "worked.briefest",
            "worked.what",
            "fruit.culled",
            "fruit.harvested",
            "row.fruit",
            "row.harvested",
            "time",
            "time.past",
            "taken",
            "taken.row",
            "taken.nothing",
            "taken.strip",
            "taken.damaged",
            "strip.own",
            "strip.one",
            "strip.none",
            "strip.about",
            "strip.issued",
            "strip.handed-over",
            "strip.returned",
            "strip.lost",
            "strip.damaged",
            "strip.not-free",
            "strip.not-free.used",
            "strip.nothing",
            "strip.which",
            "strip.which.brief",
            "help",
            "next.tie",
            "own",
            "own.row",
            "own.nothing",
            "ask.row",
            "ask.tie",
            "ask.tie.where",
            "ask.tie.unknown",
            "more",
            "more.check",
            "more.unread",
            "unknown.sender",
            "unknown.row",
            "unknown.row.brief",
            "failed",
            "unread.brief",
            "unread.brief.empty");

    private static final String COUNT = "39960";
    private static final String TIE = "888888888";

    /** The longest plausible values of each question, in the order its sentence has them: 40 lines of 999. */
    static final Map<Kind, List<String>> LONGEST = Map.ofEntries(
            Map.entry(Kind.MALES_SHORT, List.of(COUNT, COUNT, COUNT)),
            Map.entry(Kind.OPENED_OVER_PEGGED, List.of(COUNT, COUNT)),
            Map.entry(Kind.POLLINATED_OVER_OPENED, List.of(COUNT, COUNT)),
            Map.entry(Kind.BAGGED_OVER_POLLINATED, List.of(COUNT, COUNT)),
            Map.entry(Kind.TIED_OVER_BAGGED, List.of(COUNT, COUNT)),
            Map.entry(Kind.MORE_THAN_PEGGED, List.of(COUNT, COUNT, COUNT)),
            Map.entry(Kind.AFTER_LIMIT, List.of("999", "opened, pollinated, bagged, tied", "10:20", "10:00")),
            Map.entry(Kind.LAST_NUMBER_DIFFERS, List.of("999", TIE, TIE)),
            Map.entry(Kind.STRIP_TOO_SHORT, List.of("999", "998")),
            Map.entry(Kind.TIE_USED_TWICE, List.of(TIE, COUNT)),
            Map.entry(Kind.TIE_OF_ANOTHER, List.of(TIE)),
            Map.entry(Kind.TIE_ON_NO_STRIP, List.of(TIE)),
            Map.entry(Kind.TIE_OF_LOST_STRIP, List.of(TIE)),
            Map.entry(Kind.TIE_OF_RETURNED_STRIP, List.of(TIE)),
            Map.entry(Kind.TIE_DAMAGED, List.of(TIE)),
            Map.entry(Kind.TIES_SKIPPED, List.of(TIE, TIE + "-" + TIE)),
            Map.entry(Kind.TIE_NOT_REPORTED, List.of(TIE)),
            Map.entry(Kind.ROW_DIFFERS, List.of("999", TIE, "998")),
            Map.entry(Kind.CULLED_AND_HARVESTED, List.of(TIE)),
            Map.entry(Kind.HARVESTED_TWICE, List.of(TIE, COUNT)));
}
