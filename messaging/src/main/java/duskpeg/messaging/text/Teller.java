package duskpeg.messaging.text;

import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.Tell;
import duskpeg.messaging.reply.Gsm7;
import duskpeg.messaging.reply.Phrases;
import java.time.LocalDate;
import java.util.Optional;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.axonframework.commandhandling.CommandHandler;
import org.springframework.stereotype.Component;

/** Tells workers things by themselves: finds the person, says it in her language, and posts it. */
@Component
class Teller {

    private static final Pattern DATE = Pattern.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}");

    private final People people;
    private final Languages languages;
    private final Outbox outbox;

    Teller(People people, Languages languages, Outbox outbox) {
        this.people = people;
        this.languages = languages;
        this.outbox = outbox;
    }

    /**
     * @return whether there was somebody to tell
     * @throws IllegalArgumentException if there is no such phrase, or if it would be longer than a text
     */
    @CommandHandler
    boolean handle(Tell tell) {
        Optional<Person> person = people.find(tell.worker());
        person.ifPresent(one ->
                outbox.post(one.worker().farm(), one.phone(), words(tell, one), tell.once(), tell.urgent(), tell.at()));
        return person.isPresent();
    }

    private String words(Tell tell, Person person) {
        Phrases phrases = languages.of(person.language()).phrases();
        Object[] named = new TreeMap<>(tell.values())
                .entrySet().stream()
                        .flatMap(value -> Stream.of(value.getKey(), value(phrases, value.getValue())))
                        .toArray();
        String words = phrases.say(tell.phrase(), named);
        int septets = Gsm7.septets(words);
        if (septets > Gsm7.SEGMENT) {
            throw new IllegalArgumentException(
                    tell.phrase() + " would take " + septets + " of " + Gsm7.SEGMENT + ": " + words);
        }
        return words;
    }

    private static String value(Phrases phrases, String value) {
        return DATE.matcher(value).matches() ? phrases.day(LocalDate.parse(value)) : Gsm7.nearest(value);
    }
}
