package duskpeg.core.window;

import duskpeg.core.planting.Species;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * When the flowers of a species are expected to open on one morning. An estimate: look at the flower.
 *
 * @param species the species
 * @param about when the females are expected to open
 * @param earliest how early that may be
 * @param latest how late that may be
 * @param males when the males are expected to open; null where no source tells it apart from the females
 */
public record Opening(
        Species species,
        Instant about,
        Instant earliest,
        Instant latest,
        @Nullable Instant males) {

    /** On a morning with that sunrise. */
    static Opening of(Species species, Instant sunrise) {
        Anthesis anthesis = Anthesis.of(species);
        Instant about = sunrise.plus(anthesis.about());
        return new Opening(
                species,
                about,
                sunrise.plus(anthesis.earliest()),
                sunrise.plus(anthesis.latest()),
                anthesis.malesBefore() == null ? null : about.minus(anthesis.malesBefore()));
    }

    /** What is published of it, and what is expected where nothing is. */
    public Anthesis anthesis() {
        return Anthesis.of(species);
    }
}
