package duskpeg.core.lineage;

import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * What a pedigree is made of: plants bear fruits, fruits are bulked into lots, and of a fruit's or a lot's seed the next
 * plants grow. Ids are the caller's and tell one season from the next; they are unique among all three kinds.
 */
public sealed interface Stock {

    /** Probabilities and parts of a whole may be off by that much, for they come out of divisions. */
    double ROUNDING = 1e-9;

    /** Its name in the pedigree. */
    String id();

    /**
     * A plant, grown of one seed.
     *
     * @param seedOf the fruit or the lot its seed was of; null where that is not known, and then it counts as no kin of
     *     any other plant and as not inbred
     */
    record Plant(String id, @Nullable String seedOf) implements Stock {

        /** A plant of which nobody knows where it is from. */
        public static Plant founder(String id) {
            return new Plant(id, null);
        }
    }

    /**
     * A fruit.
     *
     * @param dam the plant that bore it; null where that is not known, and then it counts as one of its own, which all
     *     seeds of the fruit have in common
     * @param candidates the plants that each of its seeds may have as its father. Each seed draws its own father, with
     *     these probabilities, whatever the others drew
     */
    record Fruit(String id, @Nullable String dam, List<Candidate> candidates) implements Stock {

        /**
         * @throws IllegalArgumentException if the probabilities don't add up to 1, or a plant is named twice
         */
        public Fruit {
            candidates = List.copyOf(candidates);
            double sum = candidates.stream().mapToDouble(Candidate::probability).sum();
            if (Math.abs(sum - 1) > ROUNDING) {
                throw new IllegalArgumentException("fathers of " + id + " add up to " + sum + ", not to 1");
            }
            Set<@Nullable String> seen = new HashSet<>();
            for (Candidate candidate : candidates) {
                if (!seen.add(candidate.plant())) {
                    throw new IllegalArgumentException("a father of " + id + " is named twice: " + candidate.plant());
                }
            }
        }

        /**
         * A fruit of one father.
         *
         * @param sire its plant, which is the dam where she was selfed; null where that is not known
         */
        public static Fruit of(String id, @Nullable String dam, @Nullable String sire) {
            return new Fruit(id, dam, List.of(new Candidate(sire, 1)));
        }

        /** A fruit of a female that was given two males, of two plants: which of them is a seed's father is not known. */
        public static Fruit ofTwo(String id, @Nullable String dam, @Nullable String one, @Nullable String other) {
            return new Fruit(id, dam, List.of(new Candidate(one, 0.5), new Candidate(other, 0.5)));
        }
    }

    /**
     * A plant that may be the father.
     *
     * @param plant its id; null for plants nobody knows, and then each seed counts as having another one
     * @param probability that it is, above 0 to 1
     */
    record Candidate(@Nullable String plant, double probability) {

        /**
         * @throws IllegalArgumentException if the probability is out of its range
         */
        public Candidate {
            if (!(probability > 0 && probability <= 1 + ROUNDING)) {
                throw new IllegalArgumentException("not a father's probability: " + probability + " of " + plant);
            }
        }
    }

    /**
     * A lot that was bulked of the seed of fruits, or of other lots, well mixed.
     *
     * @param shares what is in it
     */
    record Lot(String id, List<Share> shares) implements Stock {

        /**
         * @throws IllegalArgumentException if the shares don't add up to 1, or one is named twice
         */
        public Lot {
            shares = List.copyOf(shares);
            double sum = shares.stream().mapToDouble(Share::part).sum();
            if (Math.abs(sum - 1) > ROUNDING) {
                throw new IllegalArgumentException("shares of " + id + " add up to " + sum + ", not to 1");
            }
            if (shares.stream().map(Share::of).distinct().count() < shares.size()) {
                throw new IllegalArgumentException("something is in " + id + " twice");
            }
        }

        /**
         * A lot by what went into it.
         *
         * @param amounts of each fruit or lot, above 0: seeds, or grams where seeds are taken to be equally heavy
         * @throws IllegalArgumentException if there is none, or one is not above 0
         */
        public static Lot of(String id, Map<String, Double> amounts) {
            if (amounts.isEmpty()) {
                throw new IllegalArgumentException("nothing is in " + id);
            }
            double all =
                    amounts.values().stream().mapToDouble(Double::doubleValue).sum();
            return new Lot(
                    id,
                    amounts.entrySet().stream()
                            .map(amount -> new Share(amount.getKey(), amount.getValue() / all))
                            .sorted(Comparator.comparing(Share::of))
                            .toList());
        }
    }

    /**
     * What is in a lot.
     *
     * @param of a fruit or another lot
     * @param part of the lot's seeds, above 0 to 1
     */
    record Share(String of, double part) {

        /**
         * @throws IllegalArgumentException if the part is out of its range
         */
        public Share {
            if (!(part > 0 && part <= 1 + ROUNDING)) {
                throw new IllegalArgumentException("not a share: " + part + " of " + of);
            }
        }
    }
}
