package duskpeg.core.fieldbook;

import duskpeg.core.crew.BesideTheLog;
import duskpeg.core.crew.Named;
import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Mention;
import duskpeg.core.text.OutgoingTexts;
import duskpeg.core.text.Texts;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.axonframework.commandhandling.CommandHandler;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Erases what is personal of a worker: all that lies beside the log. What she did stays in the log under her pseudonym,
 * so every proof and verdict stays as it was.
 */
public class Erasure {

    private final FieldBook book;
    private final Index index;
    private final People people;
    private final Texts texts;
    private final OutgoingTexts outgoing;
    private final List<BesideTheLog> besideTheLog;
    private final JdbcClient jdbc;

    Erasure(
            FieldBook book,
            Index index,
            People people,
            Texts texts,
            OutgoingTexts outgoing,
            List<BesideTheLog> besideTheLog,
            JdbcClient jdbc) {
        this.book = book;
        this.index = index;
        this.people = people;
        this.texts = texts;
        this.outgoing = outgoing;
        this.besideTheLog = besideTheLog;
        this.jdbc = jdbc;
    }

    /**
     * Erase what is personal of a worker.
     *
     * @param by the supervisor who does it
     * @param also the keys of what is erased besides, of {@link Found#mentions}
     */
    public record Erase(WorkerId worker, WorkerId by, Set<String> also, Instant at) {

        public Erase {
            also = Set.copyOf(also);
        }
    }

    /** What became of it. */
    public enum Result {
        ERASED,
        /** Who does it is no supervisor of the farm. */
        NOT_A_SUPERVISOR,
        /** Nobody of that pseudonym is known, or not any more. */
        NOT_KNOWN,
        /** Without her nobody could do what only supervisors may. */
        LAST_SUPERVISOR
    }

    /**
     * Where else a person is named.
     *
     * @param mentions words of or to other people, newest first
     * @param inLog how many entries of the log: those can't be erased
     */
    public record Found(List<Mention> mentions, int inLog) {

        public Found {
            mentions = List.copyOf(mentions);
        }
    }

    /** Looks for a person in what is not hers. It reads every word the farm keeps. */
    public Found find(Person person) {
        WorkerId worker = person.worker();
        Set<String> phones = phones(person);
        Named named = new Named(person.name(), phones);
        return new Found(
                Stream.concat(
                                texts.mentions(worker, phones, named).stream(),
                                outgoing.mentions(worker.farm(), phones, named).stream())
                        .sorted((one, other) -> other.at().compareTo(one.at()))
                        .toList(),
                inLog(worker.farm(), named));
    }

    private int inLog(FarmId farm, Named named) {
        int[] found = {0};
        jdbc.sql("select payload from event where stream = ? or stream like ?")
                .params(farm.value(), farm + "/%")
                .query(row -> {
                    if (named.in(new String(row.getBytes(1), StandardCharsets.UTF_8))) {
                        found[0]++;
                    }
                });
        return found[0];
    }

    /** The number she has, and those that her messages came from. */
    private Set<String> phones(Person person) {
        Set<String> phones = new LinkedHashSet<>(texts.sendersOf(person.worker()));
        phones.add(person.phone());
        return phones;
    }

    /** Erases it: the note of it in the log and all that is erased are one transaction. */
    @CommandHandler
    public Result handle(Erase erase) {
        WorkerId worker = erase.worker();
        // Before anything is read, so that two supervisors who erase each other can't both do so.
        List<WorkerId> supervisors = index.holdSupervisors(worker.farm());
        Person person = people.find(worker).orElse(null);
        if (person == null) {
            return Result.NOT_KNOWN;
        }
        if (!supervisors.contains(erase.by())) {
            return Result.NOT_A_SUPERVISOR;
        }
        if (supervisors.equals(List.of(worker))) {
            return Result.LAST_SUPERVISOR;
        }
        if (!book.handle(new FieldBook.Enter(new FarmEvent.Erased(worker, erase.by(), erase.at())))) {
            return Result.NOT_A_SUPERVISOR;
        }
        Set<String> phones = phones(person);
        Named named = new Named(person.name(), phones);
        texts.eraseMentions(worker.farm(), erase.also(), named);
        outgoing.eraseMentions(worker.farm(), erase.also());
        besideTheLog.forEach(keeper -> keeper.erase(worker, phones));
        return Result.ERASED;
    }

    /**
     * Erases once more what is kept of everybody who was erased: a message that another node was hearing at that very
     * time may have been stored after it. Must be called inside a transaction.
     */
    public void again() {
        index.farms().stream()
                .flatMap(farm -> index.erased(farm).keySet().stream())
                .forEach(worker -> besideTheLog.forEach(keeper -> keeper.erase(worker, Set.of())));
    }
}
