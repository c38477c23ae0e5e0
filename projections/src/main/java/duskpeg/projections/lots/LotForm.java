package duskpeg.projections.lots;

import duskpeg.core.act.Worded;
import duskpeg.core.germination.Counted;
import duskpeg.core.germination.Replicate;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * What somebody typed on the page of a lot. What can't be read is refused in words she can do something with.
 *
 * @param fields by name
 */
record LotForm(Map<String, String> fields) {

    private static final double MOST_GRAMS = 100_000_000;
    private static final int MOST_TIES = 5_000;
    private static final int LONGEST = 200;

    String text(String name) {
        String text = fields.getOrDefault(name, "").strip();
        if (text.length() > LONGEST) {
            throw new IllegalArgumentException("say it in " + LONGEST + " characters");
        }
        return text;
    }

    private String needed(String name, String what) {
        String text = text(name);
        if (text.isEmpty()) {
            throw new IllegalArgumentException(what);
        }
        return text;
    }

    boolean ticked(String name) {
        return fields.containsKey(name);
    }

    double grams(String name) {
        return number(needed(name, "say how many grams"), MOST_GRAMS, "grams");
    }

    @Nullable
    Double percent(String name) {
        String text = text(name);
        return text.isEmpty() ? null : Double.valueOf(number(text, 100, "percent"));
    }

    private static double number(String text, double most, String what) {
        try {
            double number = Double.parseDouble(text.replace(',', '.'));
            if (number > 0 && number <= most) {
                return number;
            }
        } catch (NumberFormatException e) {
            // said below
        }
        throw new IllegalArgumentException(text + " is no number of " + what);
    }

    int whole(String name, String what, int least, int most) {
        String text = needed(name, "say the " + what);
        try {
            int number = Integer.parseInt(text);
            if (number >= least && number <= most) {
                return number;
            }
        } catch (NumberFormatException e) {
            // said below
        }
        throw new IllegalArgumentException("the " + what + " is from " + least + " to " + most + ", not " + text);
    }

    LocalDate date(String name, String what) {
        return date(needed(name, "say " + what));
    }

    @Nullable
    LocalDate dateIfSaid(String name) {
        String text = text(name);
        return text.isEmpty() ? null : date(text);
    }

    private static LocalDate date(String text) {
        try {
            return LocalDate.parse(text);
        } catch (DateTimeException e) {
            throw new IllegalArgumentException(text + " is no date", e);
        }
    }

    <T extends Worded> T oneOf(String name, T[] all, String what) {
        String text = needed(name, "say " + what).toUpperCase(Locale.ROOT).replace('-', '_');
        for (T one : all) {
            if (one.name().equals(text)) {
                return one;
            }
        }
        throw new IllegalArgumentException("say " + what);
    }

    /** Tie numbers, each once: {@code 4711 4712-4716, 4801}. */
    Set<Long> ties(String name) {
        Set<Long> ties = new LinkedHashSet<>();
        String text = fields.getOrDefault(name, "").strip();
        if (text.isEmpty()) {
            throw new IllegalArgumentException("say which ties");
        }
        for (String word : text.split("[\\s,;]+", -1)) {
            if (!word.matches("[0-9]{1,9}(-[0-9]{1,9})?")) {
                throw new IllegalArgumentException(word + " is no tie number");
            }
            int dash = word.indexOf('-');
            long first = Long.parseLong(dash < 0 ? word : word.substring(0, dash));
            long last = dash < 0 ? first : Long.parseLong(word.substring(dash + 1));
            if (last < first || last - first >= MOST_TIES || ties.size() > MOST_TIES) {
                throw new IllegalArgumentException(word + " is no run of at most " + MOST_TIES + " ties");
            }
            for (long tie = first; tie <= last; tie++) {
                ties.add(tie);
            }
        }
        return ties;
    }

    /**
     * Replicates, one in a line: how many seeds, then what was taken out at the first count and what the rest were at the
     * final one, each as normal, abnormal, dead: {@code 100 60 1 0 30 3 6}.
     */
    List<Replicate> replicates(String name) {
        List<Replicate> replicates = new ArrayList<>();
        for (String line : fields.getOrDefault(name, "")
                .lines()
                .filter(one -> !one.isBlank())
                .toList()) {
            String[] number = line.strip().split("[\\s,;]+", -1);
            if (number.length != 7 || replicates.size() >= 100) {
                throw new IllegalArgumentException(
                        "a replicate is seven numbers in a line: seeds, then normal, abnormal and dead of both counts");
            }
            int[] n = new int[number.length];
            for (int i = 0; i < n.length; i++) {
                if (!number[i].matches("[0-9]{1,6}")) {
                    throw new IllegalArgumentException(number[i] + " is no number of seeds");
                }
                n[i] = Integer.parseInt(number[i]);
            }
            replicates.add(new Replicate(n[0], new Counted(n[1], n[2], n[3]), new Counted(n[4], n[5], n[6])));
        }
        if (replicates.isEmpty()) {
            throw new IllegalArgumentException("say what was counted");
        }
        return replicates;
    }
}
