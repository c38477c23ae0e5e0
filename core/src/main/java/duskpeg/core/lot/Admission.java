package duskpeg.core.lot;

import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.purity.Finding;
import duskpeg.core.purity.Rule;
import duskpeg.core.purity.Verdict;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Whether a fruit may go into a lot. */
public final class Admission {

    private Admission() {}

    /**
     * A fruit that is to go into a lot.
     *
     * @param fruit the fruit
     * @param state how far it has come; empty where no report tells of it
     * @param cultivar what is planted in its row; null where that is not known
     * @param stock what its row was sown with; null where the farm does not say
     * @param verdict its verdict; null where no report tells of it
     */
    public record Candidate(
            FruitId fruit,
            Optional<Fruit.State> state,
            @Nullable String cultivar,
            @Nullable String stock,
            @Nullable Verdict verdict) {}

    /**
     * What stands against taking a fruit into a lot, each in a sentence; none where nothing does.
     *
     * @param lot the lot as it is
     */
    public static List<String> against(Candidate fruit, Lot lot, Lots lots) {
        List<String> against = new ArrayList<>();
        Verdict verdict = fruit.verdict();
        if (fruit.state().isEmpty() || verdict == null) {
            against.add("No report tells of a fruit with this tie.");
        } else {
            if (fruit.state().get() != Fruit.State.HARVESTED) {
                against.add(fruit.state().get() == Fruit.State.CULLED ? "It was cut." : "It was not brought in.");
            }
            switch (verdict.kind()) {
                case PURE -> {}
                case NOT_PURE -> against.add("It is not pure: " + deciding(verdict));
                case IN_QUESTION -> against.add("It is in question: " + deciding(verdict));
                case UNFINISHED -> against.add("Its history is not finished.");
            }
        }
        lot.begun().ifPresent(begun -> {
            if (fruit.cultivar() != null && !fruit.cultivar().equals(begun.cultivar())) {
                against.add("It is " + fruit.cultivar() + ", the lot is " + begun.cultivar() + ".");
            }
        });
        Set<String> stocks = new HashSet<>();
        lot.fruit().forEach(taken -> stocks.add(taken.stock() == null ? "" : taken.stock()));
        String stock = fruit.stock() == null ? "" : fruit.stock();
        if (!stocks.isEmpty() && !stocks.contains(stock)) {
            against.add("Its row was sown with " + (stock.isEmpty() ? "stock that is not known" : stock)
                    + ", the other fruit's with "
                    + String.join(
                            ", ",
                            stocks.stream()
                                    .map(one -> one.isEmpty() ? "stock that is not known" : one)
                                    .sorted()
                                    .toList())
                    + ".");
        }
        Set<LotId> already = lots.takenInto(fruit.fruit());
        if (!already.isEmpty()) {
            against.add("It was taken into "
                    + String.join(
                            ", ", already.stream().map(LotId::name).sorted().toList()) + " already.");
        }
        return List.copyOf(against);
    }

    /** The sentence of the rule that decided against it. */
    private static String deciding(Verdict verdict) {
        return verdict.findings().stream()
                .filter(finding -> finding.rule().weight() != Rule.Weight.CARE)
                .filter(finding -> finding.result() != Finding.Result.HOLDS)
                .filter(finding -> verdict.kind() != Verdict.Kind.NOT_PURE
                        || (finding.result() == Finding.Result.FAILS
                                && finding.rule().weight() == Rule.Weight.PURITY))
                .map(Finding::because)
                .findFirst()
                .orElse("");
    }
}
