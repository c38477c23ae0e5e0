package duskpeg.projections.signin;

import duskpeg.core.act.Worded;

/** What an account may do; {@link Access} says which pages that is. */
public enum AccountRole implements Worded {
    /** Looks at the board. */
    WORKER,
    /** Does everything on the farm but accounts; acts under her own pseudonym only. */
    SUPERVISOR,
    /** Reads histories, lots and proofs, and enters nothing. */
    AUDITOR,
    /** A supervisor's pages, and the accounts. */
    OWNER
}
