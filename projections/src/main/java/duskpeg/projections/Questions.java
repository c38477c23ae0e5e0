package duskpeg.projections;

import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.crew.People;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.report.Question;
import duskpeg.core.settle.Settled;
import duskpeg.core.settle.Settlements;
import duskpeg.core.text.Texts;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.springframework.stereotype.Component;

/** Parts questions into open ones and settled ones, alike on every page. */
@Component
public class Questions {

    private final Index index;
    private final People people;
    private final Texts texts;

    Questions(Index index, People people, Texts texts) {
        this.index = index;
        this.people = people;
        this.texts = texts;
    }

    /** What was settled of some subjects, read at once. */
    public Sorted about(FarmId farm, Collection<? extends Subject> subjects) {
        Settlements settlements = index.settlements(farm, subjects);
        List<TextId> notes = settlements.settled().stream()
                .flatMap(one -> Stream.ofNullable(one.note()))
                .toList();
        Map<WorkerId, String> names = settlements.settled().isEmpty() ? Map.of() : people.names(farm);
        return new Sorted(
                settlements, names, texts.words(notes), index.settings(farm).zone());
    }

    /** What was settled of some subjects, and by whom. */
    public record Sorted(Settlements settlements, Map<WorkerId, String> names, Map<TextId, String> notes, ZoneId zone) {

        /** What of it was settled until that time. */
        public Sorted until(Instant at) {
            return new Sorted(
                    new Settlements(settlements.settled().stream()
                            .filter(one -> !one.at().isAfter(at))
                            .toList()),
                    names,
                    notes,
                    zone);
        }

        /** Those that are open. */
        public List<QuestionView> open(Subject subject, List<Question> questions) {
            return settlements.open(subject, questions).stream()
                    .map(QuestionView::of)
                    .toList();
        }

        /** Those that were settled. */
        public List<SettledView> settled(Subject subject, List<Question> questions) {
            return questions.stream()
                    .flatMap(question ->
                            settlements.of(subject, question).stream().map(settled -> view(question, settled)))
                    .toList();
        }

        private SettledView view(Question question, Settled.OfQuestion settled) {
            QuestionView asked = QuestionView.of(question);
            TextId note = settled.note();
            return new SettledView(
                    asked.kind(),
                    asked.text(),
                    settled.by().pseudonym(),
                    names.get(settled.by()),
                    settled.at().atZone(zone).toOffsetDateTime(),
                    note == null ? null : notes.get(note));
        }
    }
}
