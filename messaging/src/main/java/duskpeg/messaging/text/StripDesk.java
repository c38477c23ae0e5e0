package duskpeg.messaging.text;

import duskpeg.core.crew.Handled;
import duskpeg.core.crew.Handling;
import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.report.Entry;
import duskpeg.core.report.Statement;
import duskpeg.messaging.language.Line;
import duskpeg.messaging.language.Reading;
import duskpeg.messaging.language.StripLine;
import duskpeg.messaging.reply.Outcome;
import java.text.Normalizer;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** Finds whom the lines of one message about strips are about. Made for one message and thrown away. */
final class StripDesk {

    private final Index index;
    private final People people;
    private final Person sender;

    StripDesk(Index index, People people, Person sender) {
        this.index = index;
        this.people = people;
        this.sender = sender;
    }

    /** Nobody of the crew is found by what she said, or not one alone. */
    private static final class NotFound extends Exception {

        private static final long serialVersionUID = 1L;
        private final transient Outcome.Who outcome;

        NotFound(Outcome.Who.Reason reason, String said) {
            super(reason.name(), null, false, false);
            this.outcome = new Outcome.Who(reason, said);
        }
    }

    /** What a line says, to be written down; empty where it is no such line, only asks, or can't be written. */
    Optional<Statement> statement(Line line) {
        if (!(line.reading() instanceof Reading.OfStrip said) || said.line().kind() == StripLine.Kind.ASKED) {
            return Optional.empty();
        }
        try {
            return Optional.of(new Statement.OfStrip(handling(said.line())));
        } catch (NotFound e) {
            return Optional.empty();
        }
    }

    /** What a line is answered with that was not written down. */
    Outcome answer(StripLine line) {
        try {
            Person person = about(line);
            if (line.kind() == StripLine.Kind.ASKED) {
                return new Outcome.Strips(nameUnlessSender(person.worker()), index.strips(person.worker()));
            }
            handling(line);
        } catch (NotFound e) {
            return e.outcome;
        }
        throw new IllegalStateException("what can be written down is written down: " + line);
    }

    /** What was written down, with the names an answer needs. */
    Outcome noted(Entry.OfStrip entry) {
        WorkerId other = null;
        if (entry.handling() instanceof Handling.HandOver over) {
            other = over.to();
        } else if (entry.handled() instanceof Handled.NotFree notFree) {
            other = notFree.holder().orElse(null);
        }
        return new Outcome.OfStrip(
                entry, nameUnlessSender(entry.handling().worker()), other == null ? null : name(other));
    }

    private Handling handling(StripLine line) throws NotFound {
        WorkerId worker = about(line).worker();
        return switch (line.kind()) {
            case ISSUED -> new Handling.Issue(worker, Objects.requireNonNull(line.strip()));
            case HANDED_OVER ->
                new Handling.HandOver(
                        worker, find(Objects.requireNonNull(line.to())).worker(), line.from());
            case RETURNED -> new Handling.GiveBack(worker, line.from());
            case LOST -> new Handling.Lose(worker, line.from());
            case DAMAGED -> new Handling.Damage(worker, line.damaged());
            case ASKED -> throw new IllegalArgumentException("only asked: " + line);
        };
    }

    /** Whose strip it is. Only a supervisor speaks for another. */
    private Person about(StripLine line) throws NotFound {
        String said = line.worker();
        if (said == null) {
            return sender;
        }
        Person person = find(said);
        if (!person.worker().equals(sender.worker()) && !index.isSupervisor(sender.worker())) {
            throw new NotFound(Outcome.Who.Reason.NOT_ALLOWED, said);
        }
        return person;
    }

    private Person find(String said) throws NotFound {
        List<Person> found = people.all(sender.worker().farm()).stream()
                .filter(person -> isCalled(person, said))
                .toList();
        if (found.size() != 1) {
            throw new NotFound(found.isEmpty() ? Outcome.Who.Reason.UNKNOWN : Outcome.Who.Reason.SEVERAL, said);
        }
        return found.get(0);
    }

    /** By the whole name, or the end of the phone's number. Nobody is guessed by a name that is only near. */
    private static boolean isCalled(Person person, String said) {
        return plain(person.name()).equals(plain(said))
                || (Character.isDigit(said.charAt(0)) && person.phone().endsWith(said));
    }

    /** A name without case, accents, spaces and signs. */
    private static String plain(String name) {
        return Normalizer.normalize(name, Normalizer.Form.NFKD)
                .toLowerCase(Locale.ROOT)
                .replaceAll("[^\\p{L}\\p{N}]", "");
    }

    private @Nullable String nameUnlessSender(WorkerId worker) {
        return worker.equals(sender.worker()) ? null : name(worker);
    }

    private String name(WorkerId worker) {
        return people.find(worker).map(Person::name).orElse(worker.pseudonym());
    }
}
