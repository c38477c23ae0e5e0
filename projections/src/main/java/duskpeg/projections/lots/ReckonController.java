package duskpeg.projections.lots;

import duskpeg.core.fieldbook.Index;
import duskpeg.core.growout.DesignEffect;
import duskpeg.core.growout.RejectNumber;
import duskpeg.core.growout.SampleSize;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.seed.Moisture;
import duskpeg.core.seed.Retest;
import duskpeg.core.seed.SeedWeight;
import duskpeg.core.seed.StorageLife;
import duskpeg.projections.farm.CurrentFarm;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;

/** What is reckoned before a test or a season in store: nothing of it is kept. */
@Controller
class ReckonController {

    /** The procedure has sixteen at most. */
    private static final int MOST_REPLICATES = 100;

    private final CurrentFarm current;
    private final Index index;
    private final Clock clock;

    ReckonController(CurrentFarm current, Index index, Clock clock) {
        this.current = current;
        this.index = index;
        this.clock = clock;
    }

    /** An answer in one sentence, with what it rests on. */
    record Answer(String what, String sentence) {}

    /**
     * Reckons one thing.
     *
     * @param form {@code what} is one of {@code plants} (with {@code share} in percent, {@code allowed}, {@code
     *     confidence} in percent), {@code reject} ({@code plants}, {@code purity}, {@code alpha} in percent), {@code store}
     *     ({@code moisture}, {@code celsius}, {@code moistureTo}, {@code celsiusTo}), {@code dry} ({@code grams}, {@code
     *     moisture}, {@code moistureTo}), {@code weight} ({@code replicates}, the grams of each hundred seeds with spaces
     *     between), {@code retest} ({@code tested}, {@code container}, open or sealed)
     */
    @GetMapping("/api/reckon")
    @ResponseBody
    Answer api(@RequestParam Map<String, String> form) {
        try {
            return answer(form);
        } catch (IllegalArgumentException e) {
            throw new ResponseStatusException(HttpStatus.UNPROCESSABLE_ENTITY, e.getMessage(), e);
        }
    }

    @GetMapping("/reckon")
    String page(@RequestParam Map<String, String> form, Model model, HttpServletResponse response) {
        current.farm(form.get("farm"));
        model.addAttribute("form", form);
        if (form.containsKey("what")) {
            try {
                model.addAttribute("answer", answer(form));
            } catch (IllegalArgumentException e) {
                response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
                model.addAttribute("problem", "It can't be reckoned: " + e.getMessage() + ".");
            }
        }
        return "reckon";
    }

    private Answer answer(Map<String, String> form) {
        String what = form.getOrDefault("what", "");
        Published published = index.published(current.farm(form.get("farm")));
        return new Answer(
                what,
                switch (what) {
                    case "plants" ->
                        SampleSize.of(
                                        number(form, "share", 0.001, 50) / 100,
                                        (int) number(form, "allowed", 0, 1000),
                                        number(form, "confidence", 50, 99.99) / 100,
                                        DesignEffect.NONE)
                                .sentence();
                    case "reject" ->
                        RejectNumber.of(
                                        (int) number(form, "plants", 1, 1_000_000),
                                        number(form, "purity", 50, 99.999),
                                        number(form, "alpha", 0.01, 50) / 100)
                                .sentence();
                    case "store" ->
                        StorageLife.of(
                                        new StorageLife.Store(
                                                number(form, "moisture", 0, 100), number(form, "celsius", -50, 80)),
                                        new StorageLife.Store(
                                                number(form, "moistureTo", 0, 100), number(form, "celsiusTo", -50, 80)),
                                        published)
                                .sentence();
                    case "dry" -> dried(form);
                    case "weight" -> SeedWeight.of(replicates(form), published).sentence();
                    case "retest" -> retest(form);
                    default -> throw new IllegalArgumentException("say what");
                });
    }

    private static String dried(Map<String, String> form) {
        double grams = number(form, "grams", 0.1, 1e8);
        double from = number(form, "moisture", 0, 99);
        double to = number(form, "moistureTo", 0, 99);
        return Figures.plain(grams, 1) + " g at " + Figures.plain(from, 1) + "% moisture are "
                + Figures.plain(Moisture.weightAt(grams, from, to), 1) + " g at " + Figures.plain(to, 1)
                + "%, wet basis, if nothing but water comes or goes.";
    }

    /** Commas are of the numbers. */
    private static List<Double> replicates(Map<String, String> form) {
        return Stream.of(form.getOrDefault("replicates", "").strip().split("[\\s;]+", MOST_REPLICATES))
                .map(one -> number(Map.of("replicates", one), "replicates", 0.01, 1000))
                .toList();
    }

    private String retest(Map<String, String> form) {
        try {
            LocalDate tested = LocalDate.parse(form.getOrDefault("tested", ""));
            LocalDate today = index.settings(current.farm(form.get("farm"))).dateAt(clock.instant());
            Published published = index.published(current.farm(form.get("farm")));
            return Retest.of(tested, form.getOrDefault("container", "open"), published)
                    .on(today);
        } catch (DateTimeException e) {
            throw new IllegalArgumentException("say when it was tested", e);
        }
    }

    private static double number(Map<String, String> form, String name, double least, double most) {
        String text = form.getOrDefault(name, "").strip().replace(',', '.');
        try {
            double number = Double.parseDouble(text);
            if (number >= least && number <= most) {
                return number;
            }
        } catch (NumberFormatException e) {
            // said below
        }
        throw new IllegalArgumentException(name + " is from " + Figures.plain(least, 3) + " to "
                + Figures.plain(most, 3) + ", not \"" + text + "\"");
    }
}
