package duskpeg.messaging.phone;

import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.text.FarmNumbers;
import duskpeg.core.text.OutgoingTexts;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;

/** The page that is a phone for anybody on the crew. It posts to the same address as the carrier. */
@Controller
@ConditionalOnProperty("duskpeg.phone")
class PhoneController {

    private static final Duration OUT_OF_ORDER = Duration.ofSeconds(10);
    private static final int KEPT = 50;

    private final People people;
    private final Index index;
    private final OutgoingTexts outgoing;
    private final FarmNumbers numbers;

    PhoneController(People people, Index index, OutgoingTexts outgoing, FarmNumbers numbers) {
        this.people = people;
        this.index = index;
        this.outgoing = outgoing;
        this.numbers = numbers;
    }

    /** Somebody whose phone this page can be. */
    record Phone(String worker, String name, String phone, String role, String nextTie) {}

    /**
     * A text that came to a phone by itself.
     *
     * @param id its number
     * @param words what it says
     * @param made when it was made
     * @param delivered when it came, milliseconds since 1970-01-01T00:00Z by the server's clock
     */
    record Received(long id, String words, Instant made, long delivered) {}

    @GetMapping("/phone")
    String page(@RequestParam(required = false) @Nullable String farm, Model model) {
        FarmId id = farm(farm);
        Map<WorkerId, Role> roles = index.workers(id);
        List<Phone> crew = people.all(id).stream()
                .map(person -> new Phone(
                        person.worker().pseudonym(),
                        person.name(),
                        person.phone(),
                        roles.getOrDefault(person.worker(), Role.CREW).word(),
                        index.nextTie(person.worker()).map(TieNumber::digits).orElse("")))
                .toList();
        model.addAttribute("crew", crew);
        model.addAttribute("farm", id.value());
        model.addAttribute("farmNumber", numbers.of(id));
        return "phone";
    }

    private FarmId farm(@Nullable String asked) {
        return index.farms().stream()
                .filter(one -> asked == null || one.value().equals(asked))
                .findFirst()
                .orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND, "no such farm"));
    }

    /**
     * The texts that came by themselves to a phone, oldest first. A text may be given twice, but none is left out: two
     * may come in the same millisecond, and in another order than they were sent.
     *
     * @param after the {@code delivered} of the last one that is known
     * @param farm whose texts; where it is not said, the first farm's
     */
    @GetMapping("/phone/received")
    @ResponseBody
    List<Received> received(
            @RequestParam String phone,
            @RequestParam(defaultValue = "0") long after,
            @RequestParam(required = false) @Nullable String farm) {
        return outgoing.delivered(farm(farm), phone, Instant.ofEpochMilli(after).minus(OUT_OF_ORDER), KEPT).stream()
                .map(text -> new Received(
                        text.id(),
                        text.words(),
                        text.made(),
                        Objects.requireNonNull(text.delivered()).toEpochMilli()))
                .toList();
    }
}
