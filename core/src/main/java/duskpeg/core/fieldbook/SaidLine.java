package duskpeg.core.fieldbook;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.act.Told;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.fruit.TieNumber;
import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * What one line of a message said of one subject, as far as it stands.
 *
 * @param subject the subject
 * @param acts its acts, at least one
 */
record SaidLine(Subject subject, List<Act> acts) {

    /** Lines that can be corrected by one another. */
    private enum Work {
        EVENING,
        MORNING,
        FRUIT,
        WORD
    }

    /** The worker's lines among the acts on a subject, in the order they were heard. */
    static List<SaidLine> by(WorkerId worker, Subject subject, List<Act> acts) {
        Map<List<Object>, List<Act>> lines = new LinkedHashMap<>();
        Act.standing(acts).stream()
                .filter(act -> act.told().by().equals(worker))
                .forEach(act -> lines.computeIfAbsent(
                                List.of(act.told().text(), act.told().line()), unseen -> new ArrayList<>())
                        .add(act));
        return lines.values().stream().map(of -> new SaidLine(subject, of)).toList();
    }

    /**
     * The line that a correction is about: of the last message that told of work of the same kind the last line with one
     * of the same deeds, or else its last line.
     *
     * @param lines in the order they were heard
     * @param deeds what the correction is of
     */
    static Optional<SaidLine> correctedBy(List<SaidLine> lines, Collection<Deed> deeds) {
        Set<Work> work = EnumSet.noneOf(Work.class);
        deeds.forEach(deed -> work.add(work(deed)));
        List<SaidLine> alike = lines.stream()
                .filter(line -> line.deeds().stream().anyMatch(deed -> work.contains(work(deed))))
                .toList();
        List<SaidLine> ofLast = alike.stream()
                .filter(line -> line.text().equals(alike.get(alike.size() - 1).text()))
                .toList();
        Optional<SaidLine> same = last(ofLast.stream()
                .filter(line -> line.deeds().stream().anyMatch(deeds::contains))
                .toList());
        return same.isPresent() ? same : last(ofLast);
    }

    static Optional<SaidLine> last(List<SaidLine> lines) {
        return lines.isEmpty() ? Optional.empty() : Optional.of(lines.get(lines.size() - 1));
    }

    private static Work work(Deed deed) {
        return switch (deed) {
            case PEGGED -> Work.EVENING;
            case OPENED, POLLINATED, BAGGED, TIED, LOST -> Work.MORNING;
            case UNBAGGED, CULLED, HARVESTED -> Work.FRUIT;
            case FINISHED, TAKEN_BACK -> Work.WORD;
        };
    }

    TextId text() {
        return told().text();
    }

    int line() {
        return told().line();
    }

    Told told() {
        return acts.get(0).told();
    }

    Set<Deed> deeds() {
        Set<Deed> deeds = EnumSet.noneOf(Deed.class);
        acts.forEach(act -> deeds.add(act.deed()));
        return deeds;
    }

    /** Of how many flowers or fruit it tells; 0 where it tells of none. */
    int count() {
        return Act.only(Act.Counted.class, acts)
                .mapToInt(Act.Counted::count)
                .max()
                .orElse(0);
    }

    boolean isOfPlant(int plant) {
        return Act.only(Act.OnFlowers.class, acts).anyMatch(act -> act.plant() != null && act.plant() == plant);
    }

    /** Its ties, in order. */
    List<TieNumber> ties() {
        return Act.only(Act.Tied.class, acts)
                .flatMap(tied -> tied.ties().stream())
                .toList();
    }
}
