package duskpeg.core.fruit;

import duskpeg.core.crew.WorkerId;
import java.util.Optional;

/** What the farm knows of its ties, as far as questions need it. */
public interface TieUses {

    /** Whose strip the tie is of; empty where it is on no strip that was issued. */
    Optional<WorkerId> owner(TieNumber tie);

    /** In how many standing reports the tie was put on. */
    int times(TieNumber tie);
}
