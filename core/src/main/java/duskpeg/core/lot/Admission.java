package duskpeg.core.lot;

import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.purity.Finding;
import duskpeg.core.purity.Rule;
import duskpeg.core.purity.Verdict;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** Whether a fruit, or seed of another lot, may go into a lot. */
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
        Set<String> stocks = lots.stocks(lot.id());
        String stock = fruit.stock() == null ? "" : fruit.stock();
        if (!stocks.isEmpty() && !stocks.contains(stock)) {
            against.add(
                    "Its row was sown with " + said(Set.of(stock)) + ", the other fruit's with " + said(stocks) + ".");
        }
        Set<LotId> already = lots.takenInto(fruit.fruit());
        if (!already.isEmpty()) {
            against.add("It was taken into "
                    + String.join(
                            ", ", already.stream().map(LotId::name).sorted().toList()) + " already.");
        }
        return List.copyOf(against);
    }

    /**
     * What stands against drawing seed of a lot into another, each in a sentence; none where nothing does. The verdicts on
     * its fruit are not asked again: they were when each was taken in.
     *
     * @param from the lot that is drawn from
     * @param to the lot that it is drawn into
     * @param lots all lots of the farm
     */
    public static List<String> against(Lot from, Lot to, Lots lots) {
        List<String> against = new ArrayList<>();
        String name = "Lot " + from.id().name();
        from.begun()
                .ifPresent(one -> to.begun()
                        .filter(other -> !other.cultivar().equals(one.cultivar()))
                        .ifPresent(other -> against.add(name + " is " + one.cultivar() + ", lot "
                                + to.id().name() + " is " + other.cultivar() + ".")));
        Set<String> stocks = lots.stocks(from.id());
        Set<String> others = lots.stocks(to.id());
        if (!others.isEmpty() && !others.containsAll(stocks)) {
            against.add("The rows behind lot " + from.id().name() + " were sown with " + said(stocks)
                    + ", those of lot " + to.id().name() + " with " + said(others) + ".");
        }
        from.decided()
                .filter(decided -> decided.decision() != LotEvent.Decision.RELEASED)
                .ifPresent(decided ->
                        against.add(name + " is " + decided.decision().word() + ": " + decided.why() + "."));
        return List.copyOf(against);
    }

    /** Stocks in words. */
    static String said(Set<String> stocks) {
        return stocks.stream()
                .map(one -> one.isEmpty() ? "stock that is not known" : one)
                .sorted()
                .collect(Collectors.joining(", "));
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
