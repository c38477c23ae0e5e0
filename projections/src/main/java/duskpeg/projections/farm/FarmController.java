package duskpeg.projections.farm;

import com.fasterxml.jackson.annotation.JsonInclude;
import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.TieNumber;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** What a stranger's script needs to live a night on the demo farm. It shows phone numbers, so: demo only. */
@RestController
@ConditionalOnProperty("duskpeg.demo")
class FarmController {

    private final CurrentFarm current;
    private final Index index;
    private final People people;

    FarmController(CurrentFarm current, Index index, People people) {
        this.current = current;
        this.index = index;
        this.people = people;
    }

    /** A farm with its rows and crew. */
    record FarmView(String farm, String zone, int tieWidth, List<RowView> rows, List<WorkerView> workers) {}

    /** A row. */
    record RowView(String row, String planting, String cultivar, String species, int plants) {}

    /** A worker with her phone and strips. */
    record WorkerView(String worker, String name, String phone, String role, List<StripView> strips) {}

    /** A strip; {@code next} is left out where it is used up. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record StripView(String first, String last, @Nullable String next) {}

    @GetMapping("/api/farm")
    FarmView farm(@RequestParam(required = false) @Nullable String farm) {
        FarmId id = current.farm(farm);
        Map<WorkerId, Role> roles = index.workers(id);
        return new FarmView(
                id.value(),
                index.settings(id).zone().getId(),
                index.settings(id).tieWidth(),
                index.plantings(id).stream()
                        .flatMap(planting -> planting.rows().stream()
                                .map(row -> new RowView(
                                        row.id().label(),
                                        planting.name(),
                                        planting.cultivar(),
                                        planting.species().scientificName(),
                                        row.plants())))
                        .toList(),
                people.all(id).stream()
                        .map(person -> new WorkerView(
                                person.worker().pseudonym(),
                                person.name(),
                                person.phone(),
                                roles.getOrDefault(person.worker(), Role.CREW).word(),
                                strips(person.worker())))
                        .toList());
    }

    private List<StripView> strips(WorkerId worker) {
        return index.strips(worker).stream()
                .map(inHand -> new StripView(
                        inHand.strip().first().digits(),
                        inHand.strip().last().digits(),
                        inHand.next().map(TieNumber::digits).orElse(null)))
                .toList();
    }
}
