package duskpeg.messaging.reply;

import duskpeg.core.crew.Holdings;
import duskpeg.core.day.Caution;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.watch.Alert;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Writes what somebody is warned of: one segment, in her language. */
public final class AlertWriter {

    private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);
    private static final int LONGEST_NAME = 24;

    private final Words words;
    private final FarmSettings settings;
    private final Instant now;

    /**
     * @param phrases her language
     * @param now when it is said: what is of the same day is told without it
     */
    public AlertWriter(Phrases phrases, FarmSettings settings, Instant now) {
        this.words = new Words(phrases, settings, now, new Holdings(List.of()));
        this.settings = settings;
        this.now = now;
    }

    /**
     * What is wrong on a morning.
     *
     * @param alerts of one kind, at least one; as many are named as there is room for, and the others are counted
     */
    public String alerts(List<Alert> alerts, LocalDate morning) {
        List<String> named = new ArrayList<>(
                alerts.stream().map(alert -> Gsm7.nearest(alert.words())).toList());
        String said = alerts(alerts, morning, named);
        while (!Words.fits(said) && named.size() > 1) {
            named.remove(named.size() - 1);
            said = alerts(alerts, morning, named);
        }
        return said;
    }

    private String alerts(List<Alert> alerts, LocalDate morning, List<String> named) {
        int more = alerts.size() - named.size();
        return words.say(
                "alert." + alerts.get(0).kind().word(),
                "list",
                String.join(", ", named) + (more == 0 ? "" : ", +" + more),
                "limit",
                settings.limit().toString(),
                "day",
                words.day(morning));
    }

    /** What to beware of. */
    public String caution(Caution caution) {
        String planting = caution.planting();
        return words.say(
                "alert." + caution.kind().word(),
                "where",
                planting == null ? words.say("alert.everywhere") : Gsm7.echo(planting, LONGEST_NAME),
                "from",
                time(caution.from()),
                "until",
                time(caution.until()));
    }

    private String time(Instant at) {
        String clock = CLOCK.format(at.atZone(settings.zone()));
        LocalDate date = settings.dateAt(at);
        return date.equals(settings.dateAt(now)) ? clock : words.day(date) + " " + clock;
    }
}
