package duskpeg.core.fruit;

import duskpeg.core.crew.Holding;
import duskpeg.core.crew.Strip;
import java.time.Instant;
import java.util.Optional;

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
}
