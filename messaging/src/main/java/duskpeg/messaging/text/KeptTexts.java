package duskpeg.messaging.text;

import duskpeg.core.act.TextId;
import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Text;
import org.axonframework.commandhandling.CommandHandler;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.stereotype.Component;

/**
 * Hears what was keyed on calls, once. It is kept first and heard when it is confirmed; each is one transaction, as in
 * {@link TextDesk}.
 */
@Component
class KeptTexts {

    private final Texts texts;
    private final People people;
    private final TextDesk desk;

    KeptTexts(Texts texts, People people, TextDesk desk) {
        this.texts = texts;
        this.people = people;
        this.desk = desk;
    }

    /**
     * @return the answer
     * @throws AlreadyHeard if the same message was kept or heard before
     */
    @CommandHandler
    String handle(HearKeyed command) {
        once(command.text().id(), () -> texts.claim(command.text()));
        return hear(command.text(), command.language());
    }

    /**
     * @throws AlreadyHeard if the same message was kept or heard before
     */
    @CommandHandler
    void handle(KeepText command) {
        once(command.text().id(), () -> texts.keepUnconfirmed(command.text(), command.worker()));
    }

    /**
     * @return the answer
     * @throws AlreadyHeard if the message does not wait to be confirmed
     */
    @CommandHandler
    String handle(HearKept command) {
        Text text = texts.claimUnconfirmed(command.id()).orElseThrow(() -> new AlreadyHeard(command.id(), null));
        return hear(text, command.language());
    }

    /**
     * @throws AlreadyHeard if the message does not wait to be confirmed
     */
    @CommandHandler
    void handle(DropKept command) {
        if (!texts.dropUnconfirmed(command.id(), command.reply())) {
            throw new AlreadyHeard(command.id(), null);
        }
    }

    private static void once(TextId id, Runnable claim) {
        try {
            claim.run();
        } catch (DuplicateKeyException e) {
            throw new AlreadyHeard(id, e);
        }
    }

    /** Keys are the same in every language, so it is no matter that they are read in the one of the answer. */
    private String hear(Text text, String language) {
        Person caller = people.withPhone(text.id().farm(), text.sender()).orElseThrow();
        return desk.hear(text, new Person(caller.worker(), caller.name(), caller.phone(), language));
    }
}
