package duskpeg.core.round;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.Farm;
import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.act.TextId;
import duskpeg.core.report.Question;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/** Texts come late and in any order, so a round must read the same in whatever order its messages were heard. */
class HearingOrderPropertyTest {

    private static final List<String> TIES = List.of("004711", "004712", "004730", "004731", "009999");

    @Property(tries = 2000)
    void theTallyDoesNotDependOnTheOrderOfHearing(@ForAll("messages") List<List<Act>> messages, @ForAll Random chance) {
        assertThat(round(shuffled(messages, chance)).tally())
                .isEqualTo(round(messages).tally());
    }

    @Property(tries = 2000)
    void theTiesDoNotDependOnTheOrderOfHearing(@ForAll("messages") List<List<Act>> messages, @ForAll Random chance) {
        assertThat(round(shuffled(messages, chance)).ties())
                .containsExactlyInAnyOrderElementsOf(round(messages).ties());
    }

    @Property(tries = 2000)
    void theQuestionsDoNotDependOnTheOrderOfHearing(
            @ForAll("messages") List<List<Act>> messages, @ForAll Random chance) {
        assertThat(questions(shuffled(messages, chance))).containsExactlyInAnyOrderElementsOf(questions(messages));
    }

    /** A question, with its messages in no order. */
    private record Asked(Question.Kind kind, List<String> values, Set<TextId> texts) {}

    private static List<Asked> questions(List<List<Act>> messages) {
        List<Act> acts = messages.stream().flatMap(List::stream).toList();
        return RoundQuestions.of(
                        round(messages),
                        Farm.SETTINGS,
                        Farm.strip("w1", "004700", "004730")
                                .strip("w2", "004731", "004760")
                                .after(acts))
                .stream()
                .map(one -> new Asked(one.kind(), one.values(), new HashSet<>(one.texts())))
                .toList();
    }

    private static Round round(List<List<Act>> messages) {
        return Round.of(
                Farm.row("12").round(), messages.stream().flatMap(List::stream).toList());
    }

    private static List<List<Act>> shuffled(List<List<Act>> messages, Random chance) {
        List<List<Act>> shuffled = new ArrayList<>(messages);
        Collections.shuffle(shuffled, chance);
        return shuffled;
    }

    /** A line of a message, before it is known which message it is in. */
    private record Line(String row, Deed deed, int count, int males, List<String> ties, boolean doubt, int takesBack) {}

    private record Message(String by, String clock, List<Line> lines) {}

    @Provide
    Arbitrary<List<List<Act>>> messages() {
        Arbitrary<Line> line = Combinators.combine(
                        Arbitraries.of("12", "12", "12", "13"),
                        Arbitraries.of(Deed.class)
                                .filter(deed -> deed != Deed.UNBAGGED && deed != Deed.CULLED && deed != Deed.HARVESTED),
                        Arbitraries.integers().between(1, 6),
                        Arbitraries.integers().between(-1, 12),
                        Arbitraries.of(TIES).list().uniqueElements().ofMaxSize(3),
                        Arbitraries.of(true, false, false),
                        Arbitraries.integers().between(0, 7))
                .as(Line::new);
        Arbitrary<Message> message = Combinators.combine(
                        Arbitraries.of("w1", "w2"),
                        Arbitraries.of("17:10", "06:05", "09:59", "10:00", "10:01", "11:30"),
                        line.list().ofMinSize(1).ofMaxSize(3))
                .as(Message::new);
        return message.list().ofMinSize(1).ofMaxSize(8).map(HearingOrderPropertyTest::acts);
    }

    private static List<List<Act>> acts(List<Message> messages) {
        List<List<Act>> all = new ArrayList<>();
        for (int i = 0; i < messages.size(); i++) {
            Message message = messages.get(i);
            List<Act> acts = new ArrayList<>();
            for (int line = 0; line < message.lines().size(); line++) {
                acts.add(telling(message.lines().get(line))
                        .by(message.by())
                        .in("SM" + i)
                        .line(line + 1)
                        .at(message.clock()));
            }
            all.add(acts);
        }
        return all;
    }

    private static Farm.Telling<? extends Act> telling(Line line) {
        Farm.Row row = Farm.row(line.row());
        return switch (line.deed()) {
            case PEGGED ->
                line.males() < 0
                        ? row.pegged(line.count())
                        : row.pegged(line.count()).males(line.males());
            case OPENED -> row.opened(line.count());
            case POLLINATED -> row.pollinated(line.count());
            case BAGGED -> row.bagged(line.count());
            case TIED ->
                line.doubt()
                        ? row.tiedInDoubt(line.count(), "004719", "004712")
                        : row.tied(
                                Math.max(line.count(), line.ties().size()),
                                line.ties().toArray(String[]::new));
            case LOST -> row.lost(line.count());
            case FINISHED -> row.finished();
            default ->
                line.doubt()
                        ? Farm.takenBack(row.round(), "SM" + line.takesBack(), line.count())
                        : Farm.takenBack(row.round(), "SM" + line.takesBack());
        };
    }
}
