package duskpeg.projections.window;

import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Species;
import duskpeg.core.window.Window;
import java.time.LocalDate;
import java.util.List;
import org.springframework.stereotype.Component;

/** Reckons windows. */
@Component
public class Windows {

    private final Index index;

    Windows(Index index) {
        this.index = index;
    }

    /** The farm's own window of a morning. */
    public WindowView window(FarmId farm, LocalDate date) {
        FarmSettings settings = index.settings(farm);
        return WindowView.of(settings, Window.of(settings, date, species(farm)), List.of());
    }

    /** The species a farm grows; a farm that grows nothing yet is taken to ask for all. */
    List<Species> species(FarmId farm) {
        List<Species> grown =
                index.plantings(farm).stream().map(Planting::species).distinct().toList();
        return grown.isEmpty() ? List.of(Species.values()) : grown;
    }
}
