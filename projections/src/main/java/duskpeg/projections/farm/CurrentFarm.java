package duskpeg.projections.farm;

import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
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
     * The fruit asked for by its tie, whether or not anything is known of it. Leading zeros may be left out: a path holds
     * nothing else that a number could mean.
     *
     * @return empty if that is no tie number
     * @throws ResponseStatusException 404 if there is no such farm
     */
    public Optional<FruitId> fruit(@Nullable String asked, String tie) {
        FarmId farm = farm(asked);
        int width = index.settings(farm).tieWidth();
        return tie.matches("[0-9]{1," + width + "}")
                ? Optional.of(new FruitId(farm, TieNumber.of(Long.parseLong(tie), width)))
                : Optional.empty();
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
