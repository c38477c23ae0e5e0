package duskpeg.core.forecast;

import duskpeg.core.act.Deed;
import java.util.function.DoubleBinaryOperator;

/** A number for each deed of the visit: how many flowers, or what part of the work. */
record Flowers(double opened, double pollinated, double bagged, double tied) {

    static final Flowers NONE = new Flowers(0, 0, 0, 0);

    /** With so many more of that deed; any deed that is not of the visit changes nothing. */
    Flowers plus(Deed deed, double more) {
        return switch (deed) {
            case OPENED -> new Flowers(opened + more, pollinated, bagged, tied);
            case POLLINATED -> new Flowers(opened, pollinated + more, bagged, tied);
            case BAGGED -> new Flowers(opened, pollinated, bagged + more, tied);
            case TIED -> new Flowers(opened, pollinated, bagged, tied + more);
            default -> this;
        };
    }

    /** Each number with the other's of the same deed. */
    Flowers with(Flowers other, DoubleBinaryOperator of) {
        return new Flowers(
                of.applyAsDouble(opened, other.opened),
                of.applyAsDouble(pollinated, other.pollinated),
                of.applyAsDouble(bagged, other.bagged),
                of.applyAsDouble(tied, other.tied));
    }

    Flowers plus(Flowers other) {
        return with(other, Double::sum);
    }

    Flowers minus(Flowers other) {
        return with(other, (mine, others) -> mine - others);
    }

    Flowers times(Flowers other) {
        return with(other, (mine, others) -> mine * others);
    }

    Flowers times(double factor) {
        return with(this, (mine, same) -> mine * factor);
    }

    double sum() {
        return opened + pollinated + bagged + tied;
    }

    /** Flowers past each deed, where these were said: never fewer than are past a later one. */
    Flowers past() {
        double pastBagging = Math.max(bagged, tied);
        double pastPollinating = Math.max(pollinated, pastBagging);
        return new Flowers(Math.max(opened, pastPollinating), pastPollinating, pastBagging, tied);
    }

    /** So many flowers less these, never under 0: those that a deed is still to be done on. */
    Flowers still(double of) {
        return with(this, (past, same) -> Math.max(0, of - past));
    }
}
