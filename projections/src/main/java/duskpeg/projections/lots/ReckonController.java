package duskpeg.projections.lots;

import duskpeg.core.fieldbook.Index;
import duskpeg.core.growout.DesignEffect;
import duskpeg.core.growout.GrowOut;
import duskpeg.core.growout.RejectNumber;
import duskpeg.core.growout.SampleSize;
import duskpeg.core.lot.Release;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.seed.Moisture;
import duskpeg.core.seed.OvenTest;
import duskpeg.core.seed.Packets;
import duskpeg.core.seed.Retest;
import duskpeg.core.seed.SeedWeight;
import duskpeg.core.seed.StorageLife;
import duskpeg.projections.farm.CurrentFarm;
import jakarta.servlet.http.HttpServletResponse;
import java.math.BigDecimal;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
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
     * @param form {@code what} is one of {@code shown} ({@code plants}, {@code offTypes}, {@code fruit} and {@code alike}
     *     from 0 to 1, both may be empty), {@code bag} ({@code grams}, {@code moisture}, {@code now} in grams), {@code oven}
     *     ({@code portions}, three weights in a line), {@code packets} ({@code grams}, {@code thousand} seeds' grams, {@code
     *     seeds} in each), {@code plants} (with {@code share} in percent, {@code allowed}, {@code
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
                    case "shown" -> shown(form);
                    case "dry" -> dried(form);
                    case "bag" -> bag(form);
                    case "oven" -> OvenTest.of(portions(form), published).sentence();
                    case "packets" -> packets(form);
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

    /** Where the farm has no number for how alike seeds of a fruit are, each plant counts by itself, and that is said. */
    private static String shown(Map<String, String> form) {
        int plants = (int) number(form, "plants", 1, 1_000_000);
        int offTypes = (int) number(form, "offTypes", 0, plants);
        boolean ofFruit = !form.getOrDefault("fruit", "").isBlank();
        Integer fruit = ofFruit ? Integer.valueOf((int) number(form, "fruit", 1, plants)) : null;
        DesignEffect effect = fruit == null || form.getOrDefault("alike", "").isBlank()
                ? DesignEffect.NONE
                : DesignEffect.of(plants, fruit, number(form, "alike", 0, 1));
        GrowOut.Shown shown = new GrowOut(plants, offTypes, fruit).shows(Release.CONFIDENCE, effect);
        return Stream.concat(
                        Stream.of(shown.sentence()), shown.cautions().stream().map(GrowOut.Caution::sentence))
                .collect(Collectors.joining(" "));
    }

    private static String bag(Map<String, String> form) {
        double grams = number(form, "grams", 0.1, 1e8);
        double from = number(form, "moisture", 0, 99);
        double now = number(form, "now", 0.1, 1e8);
        return "A bag of " + Figures.plain(grams, 1) + " g at " + Figures.plain(from, 1) + "% moisture that weighs "
                + Figures.plain(now, 1) + " g now is at " + Figures.plain(Moisture.percentAt(grams, from, now), 1)
                + "%, wet basis, if nothing but water came or went.";
    }

    /** A portion in a line: the dish, then with seed before drying and after it. */
    private static List<OvenTest.Portion> portions(Map<String, String> form) {
        return form.getOrDefault("portions", "")
                .lines()
                .filter(line -> !line.isBlank())
                .limit(MOST_REPLICATES)
                .map(line -> {
                    String[] grams = line.strip().split("[\\s;]+", -1);
                    if (grams.length != 3) {
                        throw new IllegalArgumentException(
                                "a portion is three weights in a line: the dish, before drying, after drying");
                    }
                    double[] g = Stream.of(grams)
                            .mapToDouble(one -> number(Map.of("weight", one), "weight", 0, 1e5))
                            .toArray();
                    return new OvenTest.Portion(g[0], g[1], g[2]);
                })
                .toList();
    }

    private static String packets(Map<String, String> form) {
        BigDecimal grams = BigDecimal.valueOf(number(form, "grams", 0.1, 1e8));
        BigDecimal thousand = BigDecimal.valueOf(number(form, "thousand", 0.1, 10_000));
        int seeds = (int) number(form, "seeds", 1, 1_000_000);
        BigDecimal packet = Packets.gramsOf(seeds, thousand);
        return Figures.count(seeds, "seed") + " of " + Figures.plain(thousand, 1) + " g a thousand weigh "
                + Figures.plain(packet, 2) + " g on average, rounded up. "
                + Packets.of(grams, packet).sentence() + " A packet that must not have fewer is counted.";
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
