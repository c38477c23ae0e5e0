package duskpeg.core.fruit;

import duskpeg.core.act.Act;
import duskpeg.core.crew.Holding;
import duskpeg.core.crew.Strip;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToIntFunction;

/** What the farm knows of its ties, as far as questions need it. */
public interface TieUses {

    /**
     * In whose hands the tie was.
     *
     * @param at when: a tie put on before its strip was handed over was still its former holder's
     * @return empty where it is on no strip that was ever issued
     */
    Optional<Holding> holding(TieNumber tie, Instant at);

    /** In how many standing reports the tie was put on. */
    int times(TieNumber tie);

    /** Whether it was reported damaged. */
    boolean isDamaged(TieNumber tie);

    /**
     * The ties right before this one on the same strip that were neither put on nor damaged.
     *
     * @return empty where the one before it was
     */
    Optional<Strip> skippedBefore(TieNumber tie);

    /**
     * The same as it was known at an earlier time, as far as reports go: how often a tie was put on is counted in them. Who
     * held a strip, which is often entered late, and what is damaged or skipped is as known now.
     *
     * @param known every act that was known then and may have put on one of the ties that are asked about
     */
    default TieUses asKnown(List<? extends Act> known) {
        Map<TieNumber, Integer> times = new HashMap<>();
        Act.only(Act.Tied.class, Act.standing(known))
                .flatMap(tied -> tied.ties().stream())
                .forEach(tie -> times.merge(tie, 1, Integer::sum));
        return counting(tie -> times.getOrDefault(tie, 0));
    }

    /**
     * The same, but for how often a tie was put on.
     *
     * @param times in how many standing reports
     */
    default TieUses counting(ToIntFunction<TieNumber> times) {
        TieUses now = this;
        return new TieUses() {
            @Override
            public Optional<Holding> holding(TieNumber tie, Instant at) {
                return now.holding(tie, at);
            }

            @Override
            public int times(TieNumber tie) {
                return times.applyAsInt(tie);
            }

            @Override
            public boolean isDamaged(TieNumber tie) {
                return now.isDamaged(tie);
            }

            @Override
            public Optional<Strip> skippedBefore(TieNumber tie) {
                return now.skippedBefore(tie);
            }
        };
    }
}
