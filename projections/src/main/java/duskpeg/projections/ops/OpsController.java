package duskpeg.projections.ops;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.springframework.http.CacheControl;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RestController;

/** How the server is doing, for load balancers and whoever keeps it. Nothing personal and nothing secret is in it. */
@RestController
class OpsController {

    private final Health health;
    private final Metrics metrics;

    OpsController(Health health, Metrics metrics) {
        this.health = health;
        this.metrics = metrics;
    }

    @GetMapping("/health")
    ResponseEntity<Health.Report> health() {
        Health.Report report = health.report();
        return ResponseEntity.status(
                        report.status().equals(Health.Status.DOWN.word())
                                ? HttpStatus.SERVICE_UNAVAILABLE
                                : HttpStatus.OK)
                .cacheControl(CacheControl.noStore())
                .body(report);
    }

    @GetMapping("/metrics")
    void metrics(HttpServletResponse response) throws IOException {
        response.setContentType("text/plain; version=0.0.4; charset=utf-8");
        metrics.write(response.getOutputStream());
    }
}
