package duskpeg.projections.farm;

import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.purity.Rules;
import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.server.ResponseStatusException;

/** Which farm and which morning a page is asked for, and by which rules. */
@Component
public class CurrentFarm {

    private final Index index;
    private final Clock clock;

    CurrentFarm(Index index, Clock clock) {
        this.index = index;
        this.clock = clock;
    }

    /**
     * The farm asked for, or the first one where none was named.
     *
     * @throws ResponseStatusException 404 if there is no such farm
     */
    public FarmId farm(@Nullable String asked) {
        List<FarmId> farms = index.farms();
        Optional<FarmId> farm = asked == null
                ? farms.stream().findFirst()
                : farms.stream().filter(one -> one.value().equals(asked)).findFirst();
        return farm.orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND, "no such farm"));
    }

    /**
     * The rules asked for, or the latest where none were named.
     *
     * @throws ResponseStatusException 400 if there are no such rules
     */
    public Rules rules(@Nullable String asked) {
        return asked == null
                ? Rules.latest()
                : Rules.of(asked)
                        .orElseThrow(() -> new ResponseStatusException(
                                HttpStatus.BAD_REQUEST, "There are no rules " + asked + "."));
    }

    /** The morning asked for; where none was named, today's, or from noon on tomorrow's. */
    public LocalDate morning(FarmId farm, @Nullable LocalDate asked) {
        if (asked != null) {
            return asked;
        }
        FarmSettings settings = index.settings(farm);
        return settings.openingOfPeggedAt(clock.instant());
    }
}
