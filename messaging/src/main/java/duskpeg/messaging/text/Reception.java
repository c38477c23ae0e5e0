package duskpeg.messaging.text;

import duskpeg.core.act.TextId;
import duskpeg.core.crew.People;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.text.FarmNumbers;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Text;
import java.security.SecureRandom;
import java.time.Clock;
import java.util.HexFormat;
import java.util.List;
import org.springframework.stereotype.Component;

/** Where what a carrier delivers comes in: it is given its farm, its id, its salt and the time. */
@Component
public class Reception {

    private static final int BYTES = 16;

    private final People people;
    private final FarmNumbers numbers;
    private final Index index;
    private final Texts texts;
    private final Clock clock;
    private final SecureRandom random = new SecureRandom();

    Reception(People people, FarmNumbers numbers, Index index, Texts texts, Clock clock) {
        this.people = people;
        this.numbers = numbers;
        this.index = index;
        this.texts = texts;
        this.clock = clock;
    }

    /**
     * A message as it came in. Nothing in it is trusted, and nothing makes this fail.
     *
     * @param sid the carrier's id; empty if there is none, and then the message is new
     * @param sender the sender's number as the carrier gives it
     * @param to the number it was sent to; empty where nobody says
     * @param words what it says
     */
    public Text text(String sid, String sender, String to, String words) {
        Text text = Incoming.text(
                farmOf(sender, to), sid.isEmpty() ? "n-" + hex() : sid, sender, words, hex(), clock.instant());
        return new Text(
                new TextId(farmThatHas(text.id()), text.id().value()),
                text.sender(),
                text.words(),
                text.salt(),
                text.heard());
    }

    /** A message that comes again is still that farm's which answered it, whoever has these numbers by now. */
    private FarmId farmThatHas(TextId id) {
        List<FarmId> answered = texts.farmsThatAnswered(id.value());
        return answered.isEmpty() || answered.contains(id.farm()) ? id.farm() : answered.get(0);
    }

    /** A number in E.164 form, as far as it is one. */
    public String number(String sender) {
        return Incoming.phone(sender);
    }

    /**
     * The farm that is meant: the one whose number was texted or called; where that is no farm's, the one on whose crew
     * list the sender is, of several the first by id. A stranger's message to no farm's number is kept by the first farm.
     */
    public FarmId farmOf(String sender, String to) {
        return numbers.farm(number(to))
                .or(() -> people.farmsOf(number(sender)).stream().findFirst())
                .orElseGet(() -> index.farms().get(0));
    }

    private String hex() {
        byte[] value = new byte[BYTES];
        random.nextBytes(value);
        return HexFormat.of().formatHex(value);
    }
}
