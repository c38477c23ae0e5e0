package duskpeg.projections.ops;

import duskpeg.projections.farm.CurrentFarm;
import duskpeg.projections.parking.Parking;
import duskpeg.projections.rebuild.Rebuild;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** How the server is, for people: events that are parked, and making projections anew while it runs. */
@Controller
class OperationsController {

    private static final Logger LOG = LoggerFactory.getLogger(OperationsController.class);

    private static final Map<String, String> SAID = Map.of(
            "begun", "Begun. This page says how far it is when it is loaded again.",
            "already", "It goes on already.",
            "taken", "Taken. It waits no longer.",
            "waits", "Not taken. It waits on.");

    private final Health health;
    private final Parking parking;
    private final Rebuild rebuild;
    private final CurrentFarm current;

    OperationsController(Health health, Parking parking, Rebuild rebuild, CurrentFarm current) {
        this.health = health;
        this.parking = parking;
        this.rebuild = rebuild;
        this.current = current;
    }

    @GetMapping("/operations")
    String page(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @Nullable String said,
            Model model) {
        String prefix = current.farm(farm) + "/";
        model.addAttribute("health", health.report());
        model.addAttribute(
                "parked",
                parking.waiting().stream()
                        .filter(one -> (one.subject() + "/").startsWith(prefix))
                        .toList());
        model.addAttribute("progress", rebuild.progress().orElse(null));
        model.addAttribute("said", said == null ? null : SAID.get(said));
        return "operations";
    }

    /** Begins, and answers at once. */
    @PostMapping("/operations/rebuild")
    String rebuild() {
        if (rebuild.isRunning()) {
            return "redirect:/operations?said=already";
        }
        Thread thread = new Thread(
                () -> {
                    try {
                        rebuild.projections();
                    } catch (RuntimeException e) {
                        LOG.error("Projections were not made anew; they are as they were", e);
                    }
                },
                "rebuild");
        thread.setDaemon(true);
        thread.start();
        return "redirect:/operations?said=begun";
    }

    @PostMapping("/operations/parked")
    String tryAgain(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam String projection,
            @RequestParam String subject) {
        boolean taken = (subject + "/").startsWith(current.farm(farm) + "/") && parking.tryAgain(projection, subject);
        return "redirect:/operations?said=" + (taken ? "taken" : "waits");
    }
}
