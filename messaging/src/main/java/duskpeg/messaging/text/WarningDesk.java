package duskpeg.messaging.text;

import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.Caution;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.Warn;
import duskpeg.core.text.Warned;
import duskpeg.core.watch.Alert;
import duskpeg.messaging.reply.AlertWriter;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.BiFunction;
import java.util.stream.Collectors;
import org.axonframework.commandhandling.CommandHandler;
import org.springframework.stereotype.Component;

/** Warns people, each once of each thing: that they are warned and the text that warns them are one transaction. */
@Component
class WarningDesk {

    private static final DateTimeFormatter UNTIL = DateTimeFormatter.ofPattern("d MMM HH:mm", Locale.ENGLISH);

    private final Warned warned;
    private final People people;
    private final Index index;
    private final Languages languages;
    private final Outbox outbox;

    WarningDesk(Warned warned, People people, Index index, Languages languages, Outbox outbox) {
        this.warned = warned;
        this.people = people;
        this.index = index;
        this.languages = languages;
        this.outbox = outbox;
    }

    /** A text for each supervisor and kind. */
    @CommandHandler
    int handle(Warn.Supervisors warn) {
        Map<Alert.Kind, List<Alert>> byKind = warn.alerts().stream()
                .collect(Collectors.groupingBy(Alert::kind, LinkedHashMap::new, Collectors.toList()));
        FarmSettings settings = index.settings(warn.farm());
        List<WorkerId> supervisors = index.workers(warn.farm(), Role.SUPERVISOR);
        int posted = 0;
        for (List<Alert> alerts : byKind.values()) {
            posted += tell(
                    settings,
                    supervisors,
                    warn.morning(),
                    alerts,
                    warn.at(),
                    (writer, fresh) -> writer.alerts(fresh, warn.morning()));
        }
        return posted;
    }

    /** A text for everybody who is enrolled, rostered or not: somebody may come who was not expected. */
    @CommandHandler
    int handle(Warn.Everybody warn) {
        FarmId farm = warn.farm();
        FarmSettings settings = index.settings(farm);
        Caution caution = warn.caution();
        String where = caution.planting() == null ? "the whole farm" : caution.planting();
        String words = where + ", until " + UNTIL.format(caution.until().atZone(settings.zone()));
        Alert alert = new Alert(Alert.Kind.valueOf(caution.kind().name()), caution.key(), words);
        return tell(
                settings,
                index.workers(farm).keySet(),
                settings.dateAt(caution.from()),
                List.of(alert),
                warn.at(),
                (writer, fresh) -> writer.caution(caution));
    }

    private int tell(
            FarmSettings settings,
            Collection<WorkerId> workers,
            LocalDate day,
            List<Alert> alerts,
            Instant at,
            BiFunction<AlertWriter, List<Alert>, String> say) {
        int posted = 0;
        for (People.Person person : people.those(workers)) {
            WorkerId worker = person.worker();
            List<Alert> fresh = alerts.stream()
                    .filter(alert -> warned.note(worker, day, alert, at))
                    .toList();
            if (!fresh.isEmpty()) {
                AlertWriter writer =
                        new AlertWriter(languages.of(person.language()).phrases(), settings, at);
                Alert first = fresh.get(0);
                String once = first.kind().word() + "-" + first.about() + "-" + day + "-" + worker.pseudonym();
                outbox.post(worker.farm(), person.phone(), say.apply(writer, fresh), once, true, at);
                posted++;
            }
        }
        return posted;
    }
}
