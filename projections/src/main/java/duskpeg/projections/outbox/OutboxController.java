package duskpeg.projections.outbox;

import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.Outgoing;
import duskpeg.core.text.OutgoingTexts;
import duskpeg.projections.farm.CurrentFarm;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;

/** Texts that went out by themselves: a page, JSON, and a person's decisions. */
@Controller
class OutboxController {

    private static final int NEWEST = 200;

    private final OutgoingTexts texts;
    private final People people;
    private final Index index;
    private final CurrentFarm current;
    private final ApplicationEventPublisher events;

    OutboxController(
            OutgoingTexts texts, People people, Index index, CurrentFarm current, ApplicationEventPublisher events) {
        this.texts = texts;
        this.people = people;
        this.index = index;
        this.current = current;
        this.events = events;
    }

    @GetMapping("/outbox")
    String page(@RequestParam(required = false) @Nullable String farm, Model model) {
        FarmId id = current.farm(farm);
        Map<Boolean, List<OutgoingView>> texts =
                views(id).stream().collect(Collectors.partitioningBy(OutgoingView::toDecide));
        model.addAttribute("farm", id.value());
        model.addAttribute("toDecide", texts.get(true));
        model.addAttribute("others", texts.get(false));
        return "outbox";
    }

    /** What a person must decide about first, all of it, oldest first; then the newest of the others. */
    @GetMapping("/api/outbox")
    @ResponseBody
    List<OutgoingView> api(@RequestParam(required = false) @Nullable String farm) {
        return views(current.farm(farm));
    }

    private List<OutgoingView> views(FarmId farm) {
        ZoneId zone = index.settings(farm).zone();
        Map<String, String> names =
                people.all(farm).stream().collect(Collectors.toMap(Person::phone, Person::name, (one, other) -> one));
        Stream<Outgoing> settled =
                texts.newest(farm, NEWEST).stream().filter(text -> !text.state().open());
        return Stream.concat(texts.open(farm).stream(), settled)
                .map(text -> OutgoingView.of(text, to(text, names), zone))
                .toList();
    }

    private static String to(Outgoing text, Map<String, String> names) {
        return text.recipient().isEmpty()
                ? "a number no longer kept"
                : names.getOrDefault(text.recipient(), text.recipient());
    }

    @PostMapping("/outbox/{id}/again")
    String sendAgain(@PathVariable long id, @RequestParam String farm) {
        if (texts.sendAgain(current.farm(farm), id)) {
            events.publishEvent(new Outbox.Posted());
        }
        return "redirect:/outbox?farm=" + farm;
    }

    @PostMapping("/outbox/{id}/drop")
    String drop(@PathVariable long id, @RequestParam String farm) {
        texts.drop(current.farm(farm), id);
        return "redirect:/outbox?farm=" + farm;
    }
}
