package duskpeg.messaging.phone;

import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.TieNumber;
import java.util.List;
import java.util.Map;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** The page that is a phone for anybody on the crew. It posts to the same address as the carrier. */
@Controller
@ConditionalOnProperty("duskpeg.phone")
class PhoneController {

    private final People people;
    private final Index index;
    private final String farmNumber;

    PhoneController(People people, Index index, @Value("${duskpeg.farm-number}") String farmNumber) {
        this.people = people;
        this.index = index;
        this.farmNumber = farmNumber;
    }

    /** Somebody whose phone this page can be. */
    record Phone(String worker, String name, String phone, String role, String nextTie) {}

    @GetMapping("/phone")
    String page(Model model) {
        FarmId farm = index.farms().get(0);
        Map<WorkerId, Role> roles = index.workers(farm);
        List<Phone> crew = people.all(farm).stream()
                .map(person -> new Phone(
                        person.worker().pseudonym(),
                        person.name(),
                        person.phone(),
                        roles.getOrDefault(person.worker(), Role.CREW).word(),
                        index.nextTie(person.worker()).map(TieNumber::digits).orElse("")))
                .toList();
        model.addAttribute("crew", crew);
        model.addAttribute("farm", farm.value());
        model.addAttribute("farmNumber", farmNumber);
        return "phone";
    }
}
