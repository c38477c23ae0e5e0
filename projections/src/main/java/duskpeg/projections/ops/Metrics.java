package duskpeg.projections.ops;

import duskpeg.projections.board.Audience;
import io.prometheus.metrics.core.metrics.CounterWithCallback;
import io.prometheus.metrics.core.metrics.GaugeWithCallback;
import io.prometheus.metrics.core.metrics.Histogram;
import io.prometheus.metrics.expositionformats.PrometheusTextFormatWriter;
import io.prometheus.metrics.instrumentation.jvm.JvmMetrics;
import io.prometheus.metrics.model.registry.PrometheusRegistry;
import java.io.IOException;
import java.io.OutputStream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Numbers for whoever keeps the server, in the text format of Prometheus. */
@Component
public class Metrics {

    /** What a text is answered with; the carrier waits no longer than the last. */
    private static final double[] SECONDS = {0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 15};

    private static final double NANOS = 1e9;

    private final PrometheusRegistry registry = new PrometheusRegistry();
    private final Health health;
    private final Audience audience;
    private final Histogram texts = Histogram.builder()
            .name("duskpeg_text_seconds")
            .help("From a text's coming in to its answer, by the status of the answer.")
            .labelNames("status")
            .classicOnly()
            .classicUpperBounds(SECONDS)
            .withoutExemplars()
            .register(registry);
    private boolean complete;

    Metrics(Health health, Audience audience) {
        this.health = health;
        this.audience = audience;
    }

    /** A text was answered. */
    void answered(int status, long nanos) {
        texts.labelValues(Integer.toString(status)).observe(nanos / NANOS);
    }

    /** Writes them all. */
    public void write(OutputStream out) throws IOException {
        complete();
        PrometheusTextFormatWriter.create().write(out, registry.scrape());
    }

    /** What nobody asks for costs nothing at the start. */
    private synchronized void complete() {
        if (complete) {
            return;
        }
        complete = true;
        GaugeWithCallback.builder()
                .name("duskpeg_up")
                .help("1 while reports can be taken.")
                .callback(gauge -> gauge.call(health.report().status().equals(Health.Status.DOWN.word()) ? 0 : 1))
                .register(registry);
        GaugeWithCallback.builder()
                .name("duskpeg_behind_seconds")
                .help("How long the oldest event waits that an event processor has not seen.")
                .labelNames("processor")
                .callback(gauge -> {
                    var projections = health.report().projections();
                    if (projections != null) {
                        projections.forEach((name, behind) -> gauge.call((double) behind.seconds(), name));
                    }
                })
                .register(registry);
        GaugeWithCallback.builder()
                .name("duskpeg_behind_positions")
                .help("How many places of the log an event processor has not seen.")
                .labelNames("processor")
                .callback(gauge -> {
                    var projections = health.report().projections();
                    if (projections != null) {
                        projections.forEach((name, behind) -> gauge.call((double) behind.positions(), name));
                    }
                })
                .register(registry);
        GaugeWithCallback.builder()
                .name("duskpeg_outgoing_texts")
                .help("Texts that are not settled, by state.")
                .labelNames("state")
                .callback(gauge -> {
                    var outgoing = health.report().outgoing();
                    if (outgoing != null) {
                        outgoing.forEach((state, count) -> gauge.call((double) count, state));
                    }
                })
                .register(registry);
        GaugeWithCallback.builder()
                .name("duskpeg_parked_events")
                .help("Events that wait aside because a projection could not take them, or one before them.")
                .labelNames("processor")
                .callback(gauge -> {
                    var report = health.report();
                    var projections = report.projections();
                    var parked = report.parked();
                    if (projections != null && parked != null) {
                        projections.keySet().forEach(name -> gauge.call((double) parked.getOrDefault(name, 0L), name));
                    }
                })
                .register(registry);
        GaugeWithCallback.builder()
                .name("duskpeg_free_bytes")
                .help("What may still be written where the data is.")
                .callback(gauge -> call(gauge, health.report().freeBytes()))
                .register(registry);
        GaugeWithCallback.builder()
                .name("duskpeg_backup_age_seconds")
                .help("How long ago the newest backup was made.")
                .callback(gauge -> call(gauge, health.report().backupSeconds()))
                .register(registry);
        GaugeWithCallback.builder()
                .name("duskpeg_board_viewers")
                .help("Who watches a live board of this server.")
                .callback(gauge -> gauge.call(audience.viewers()))
                .register(registry);
        CounterWithCallback.builder()
                .name("duskpeg_board_pushes")
                .help("Snapshots and changes sent to viewers of live boards.")
                .callback(counter -> counter.call((double) audience.pushes()))
                .register(registry);
        JvmMetrics.builder().register(registry);
    }

    private static void call(GaugeWithCallback.Callback gauge, @Nullable Long value) {
        if (value != null) {
            gauge.call((double) value);
        }
    }
}
