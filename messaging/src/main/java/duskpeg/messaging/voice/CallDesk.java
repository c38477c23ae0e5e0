package duskpeg.messaging.voice;

import duskpeg.core.act.TextId;
import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Known;
import duskpeg.core.text.Texts.Text;
import duskpeg.messaging.language.Line;
import duskpeg.messaging.language.Reading;
import duskpeg.messaging.text.AlreadyHeard;
import duskpeg.messaging.text.DropKept;
import duskpeg.messaging.text.HearKept;
import duskpeg.messaging.text.HearKeyed;
import duskpeg.messaging.text.HearText;
import duskpeg.messaging.text.KeepText;
import duskpeg.messaging.text.Languages;
import duskpeg.messaging.text.Reception;
import duskpeg.messaging.text.Scribe;
import java.util.List;
import java.util.Optional;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.springframework.stereotype.Component;

/**
 * Leads a call, one step at a time. What is keyed is stored before it is read back, as a message without an answer, so
 * that a call may be cut at any moment: what was confirmed is a report, and what was not is there to be looked at.
 */
@Component
class CallDesk {

    private static final String RIGHT = "1";
    private static final String WRONG = "0";

    private final CommandGateway commands;
    private final Reception reception;
    private final People people;
    private final Scribe scribe;
    private final Texts texts;
    private final Languages languages;
    private final Recordings recordings;
    private final MissedCalls missedCalls;

    CallDesk(
            CommandGateway commands,
            Reception reception,
            People people,
            Scribe scribe,
            Texts texts,
            Languages languages,
            Recordings recordings,
            MissedCalls missedCalls) {
        this.commands = commands;
        this.reception = reception;
        this.people = people;
        this.scribe = scribe;
        this.texts = texts;
        this.languages = languages;
        this.recordings = recordings;
        this.missedCalls = missedCalls;
    }

    /**
     * What is said next. The same step asked for again is answered alike, and nothing is noted twice.
     *
     * @param step where the call is
     * @param keys what was keyed since
     */
    Turn next(Call call, Step step, Keys keys) {
        if (call.over()) {
            return new Turn.Over();
        }
        FarmId farm = reception.farmOf(call.number(), call.farmNumber());
        Optional<Person> caller = people.withPhone(farm, reception.number(call.number()));
        if (step.stage() == Step.Stage.START
                && call.incoming()
                && caller.isPresent()
                && missedCalls.callsBack(caller.get())) {
            return new Turn.Busy();
        }
        return new Conversation(call, step, farm, caller).next(keys);
    }

    /** What is said where something went wrong inside: the same step again, a few times. */
    Turn failed(Step step) {
        Step same = step.stage() == Step.Stage.START ? step.nextReport() : step;
        return speaker(Languages.ENGLISH).phrase("voice.failed").then(same.isLast() ? null : same.again());
    }

    private Speaker speaker(String language) {
        return new Speaker(languages, recordings, language);
    }

    /** One step of one call. */
    private final class Conversation {

        private final Call call;
        private final Step step;
        private final FarmId farm;
        private final Optional<Person> caller;
        private final Speaker speaker;

        Conversation(Call call, Step step, FarmId farm, Optional<Person> caller) {
            this.call = call;
            this.step = step;
            this.farm = farm;
            this.caller = caller;
            this.speaker = speaker(caller.map(Person::language).orElse(Languages.ENGLISH));
        }

        Turn next(Keys keys) {
            return switch (step.stage()) {
                case START ->
                    speaker.phrase(caller.isPresent() ? "voice.greeting" : "voice.unknown")
                            .then(step.nextReport());
                case REPORT -> keys.words().isEmpty() ? nothingKeyed(keys) : keyed(keys);
                case CONFIRM -> confirm(keys.digits());
            };
        }

        private Turn nothingKeyed(Keys keys) {
            if (keys.ended()) {
                return speaker.phrase("voice.help").then(step);
            }
            speaker.phrase("voice.silence");
            return step.isLast()
                    ? speaker.phrase("voice.goodbye").then(null)
                    : speaker.phrase("voice.help").then(step.again());
        }

        private Turn keyed(Keys keys) {
            Text text = text(keys.words());
            try {
                if (caller.isEmpty()) {
                    return heard(text, commands.sendAndWait(new HearText(text)));
                }
                if (read(text).stream().map(Line::reading).noneMatch(Conversation::isToConfirm)) {
                    return heard(text, commands.sendAndWait(new HearKeyed(text, speaker.language())));
                }
                commands.sendAndWait(new KeepText(text, caller.get().worker()));
                return readBack(text, step.confirm());
            } catch (AlreadyHeard e) {
                return again(step.confirm());
            }
        }

        private static boolean isToConfirm(Reading reading) {
            return !(reading instanceof Reading.Asked || reading instanceof Reading.Unread);
        }

        private Turn confirm(String key) {
            TextId id = text("").id();
            try {
                if (key.equals(RIGHT)) {
                    String reply = commands.sendAndWait(new HearKept(id, speaker.language()));
                    return speaker.answer(reply).phrase("voice.next").then(step.nextReport());
                }
                if (key.equals(WRONG)) {
                    commands.sendAndWait(new DropKept(id, speaker.wording("voice.again")));
                    return speaker.phrase("voice.again").then(step.nextReport());
                }
            } catch (AlreadyHeard e) {
                return again(step);
            }
            return step.isLast() ? speaker.phrase("voice.kept").then(null) : again(step.again());
        }

        /** As the store has it: read back while it waits to be confirmed, answered as it was answered after that. */
        private Turn again(Step confirm) {
            Optional<Known> known = texts.known(text("").id());
            Optional<Text> kept = known.flatMap(Known::text);
            if (known.isEmpty() || kept.isEmpty()) {
                return speaker.phrase("voice.again").then(step.nextReport());
            }
            Text text = kept.get();
            return known.get().reply().map(reply -> heard(text, reply)).orElseGet(() -> readBack(text, confirm));
        }

        private Turn readBack(Text text, Step confirm) {
            return speaker.text(speaker.readBack().of(read(text)))
                    .phrase("voice.confirm")
                    .then(confirm);
        }

        /** The answer as it is spoken; what could not be read is said in words that can be heard. */
        private Turn heard(Text text, String reply) {
            Optional<Reading.Unread> unread = caller.isEmpty()
                    ? Optional.empty()
                    : read(text).stream()
                            .map(Line::reading)
                            .filter(Reading.Unread.class::isInstance)
                            .map(Reading.Unread.class::cast)
                            .findFirst();
            unread.ifPresentOrElse(
                    problem -> speaker.text(speaker.readBack().unread(problem.problem()))
                            .phrase("voice.help"),
                    () -> speaker.answer(reply).phrase("voice.next"));
            return speaker.then(step.nextReport());
        }

        /** Every report of a call is a message of its own, named by the call and its number in it. */
        private Text text(String words) {
            return reception.text(
                    call.sid().isEmpty() ? "" : call.sid() + "-" + step.number(),
                    call.number(),
                    call.farmNumber(),
                    words);
        }

        private List<Line> read(Text text) {
            return scribe.read(caller.map(Person::language).orElse(Languages.ENGLISH), farm, text.words());
        }
    }
}
