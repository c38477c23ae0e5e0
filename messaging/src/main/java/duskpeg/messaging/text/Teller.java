package duskpeg.messaging.text;

import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.Tell;
import duskpeg.messaging.reply.Gsm7;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.axonframework.commandhandling.CommandHandler;
import org.springframework.stereotype.Component;

/** Tells workers things by themselves: finds the person, says it in her language, and posts it. */
@Component
class Teller {

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
        Object[] named = new TreeMap<>(tell.values())
                .entrySet().stream()
                        .flatMap(value -> Stream.of(value.getKey(), Gsm7.nearest(value.getValue())))
                        .toArray();
        String words = languages.of(person.language()).phrases().say(tell.phrase(), named);
        int septets = Gsm7.septets(words);
        if (septets > Gsm7.SEGMENT) {
            throw new IllegalArgumentException(
                    tell.phrase() + " would take " + septets + " of " + Gsm7.SEGMENT + ": " + words);
        }
        return words;
    }
}
