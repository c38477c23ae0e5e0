package duskpeg.messaging.text;

import duskpeg.core.act.TextId;
import duskpeg.core.crew.People;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Text;
import java.security.SecureRandom;
import java.time.Clock;
import java.util.HexFormat;
import java.util.List;
import java.util.stream.Stream;
import org.springframework.stereotype.Component;

/** Where what a carrier delivers comes in: it is given its farm, its id, its salt and the time. */
@Component
public class Reception {

    private static final int BYTES = 16;

    private final People people;
    private final Index index;
    private final Texts texts;
    private final Clock clock;
    private final SecureRandom random = new SecureRandom();

    Reception(People people, Index index, Texts texts, Clock clock) {
        this.people = people;
        this.index = index;
        this.texts = texts;
        this.clock = clock;
    }

    /**
     * A message as it came in. Nothing in it is trusted, and nothing makes this fail.
     *
     * @param sid the carrier's id; empty if there is none, and then the message is new
     * @param sender the sender's number as the carrier gives it
     * @param words what it says
     */
    public Text text(String sid, String sender, String words) {
        Text text = Incoming.text(
                farmOf(sender), sid.isEmpty() ? "n-" + hex() : sid, sender, words, hex(), clock.instant());
        return new Text(
                new TextId(farmThatHas(text.id()), text.id().value()),
                text.sender(),
                text.words(),
                text.salt(),
                text.heard());
    }

    /** A message that comes again from a number that was erased since is still that farm's. */
    private FarmId farmThatHas(TextId id) {
        List<FarmId> farms = index.farms();
        return farms.size() == 1
                ? id.farm()
                : Stream.concat(Stream.of(id.farm()), farms.stream())
                        .filter(farm ->
                                texts.reply(new TextId(farm, id.value())).isPresent())
                        .findFirst()
                        .orElse(id.farm());
    }

    /** A number in E.164 form, as far as it is one. */
    public String number(String sender) {
        return Incoming.phone(sender);
    }

    /** The farm on whose crew list the sender is; a stranger's message is kept by the first farm. */
    public FarmId farmOf(String sender) {
        List<FarmId> farms = people.farmsOf(number(sender));
        return (farms.isEmpty() ? index.farms() : farms).get(0);
    }

    private String hex() {
        byte[] value = new byte[BYTES];
        random.nextBytes(value);
        return HexFormat.of().formatHex(value);
    }
}
