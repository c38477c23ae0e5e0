package starter;

import static org.axonframework.modelling.command.AggregateLifecycle.apply;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.axonframework.commandhandling.CommandHandler;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.axonframework.eventsourcing.EventSourcingHandler;
import org.axonframework.modelling.command.AggregateCreationPolicy;
import org.axonframework.modelling.command.AggregateIdentifier;
import org.axonframework.modelling.command.CreationPolicy;
import org.axonframework.modelling.command.TargetAggregateIdentifier;
import org.axonframework.spring.stereotype.Aggregate;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.context.ConfigurableApplicationContext;

/**
 * The framework's JPA starter as it comes: one event a command, on pages of 28 as the bench's texts fill them. Nothing is
 * read, indexed, answered or projected. {@code java -jar starter.jar CLIENTS SECONDS WARM [settings]} prints a line:
 * commands a second, the median and the 99th percentile in ms.
 */
@SpringBootApplication
public class Starter {

    private static final int PAGES = 24;
    private static final int EVENTS = 28;

    public record Write(@TargetAggregateIdentifier String page, String event) {}

    public record Written(String page, String event) {}

    @Aggregate
    public static class Page {

        @AggregateIdentifier
        private String page;

        private final List<String> events = new ArrayList<>();

        public Page() {}

        @CommandHandler
        @CreationPolicy(AggregateCreationPolicy.CREATE_IF_MISSING)
        public void handle(Write write) {
            apply(new Written(write.page(), write.event()));
        }

        @EventSourcingHandler
        public void on(Written written) {
            page = written.page();
            events.add(written.event());
        }
    }

    public static void main(String[] arguments) throws Exception {
        int clients = Integer.parseInt(arguments[0]);
        int seconds = Integer.parseInt(arguments[1]);
        int warm = Integer.parseInt(arguments[2]);
        String[] settings = Arrays.copyOfRange(arguments, 3, arguments.length);
        AtomicInteger failed = new AtomicInteger();
        try (ConfigurableApplicationContext context = SpringApplication.run(Starter.class, settings)) {
            CommandGateway commands = context.getBean(CommandGateway.class);
            AtomicInteger next = new AtomicInteger();
            run(commands, next, failed, clients, warm);
            long[] nanos = run(commands, next, failed, clients, seconds);
            System.out.printf(
                    "RESULT %.1f %.3f %.3f, %d failed%n",
                    nanos.length / (double) seconds,
                    nanos[nanos.length / 2] / 1e6,
                    nanos[(int) (nanos.length * 0.99)] / 1e6,
                    failed.get());
            System.out.flush();
            Runtime.getRuntime().halt(0);
        }
    }

    private static long[] run(CommandGateway commands, AtomicInteger next, AtomicInteger failed, int clients, int seconds) throws Exception {
        String event = "x".repeat(275);
        long end = System.nanoTime() + TimeUnit.SECONDS.toNanos(seconds);
        List<List<Long>> took = new ArrayList<>();
        List<Thread> threads = new ArrayList<>();
        for (int i = 0; i < clients; i++) {
            List<Long> own = new ArrayList<>();
            took.add(own);
            threads.add(new Thread(() -> {
                while (System.nanoTime() < end) {
                    int number = next.getAndIncrement();
                    String page = "bench/row/" + number % PAGES + "/" + number / (PAGES * EVENTS);
                    long began = System.nanoTime();
                    try {
                        commands.sendAndWait(new Write(page, event));
                        own.add(System.nanoTime() - began);
                    } catch (RuntimeException e) {
                        failed.incrementAndGet();
                    }
                }
            }));
        }
        threads.forEach(Thread::start);
        for (Thread thread : threads) {
            thread.join();
        }
        return took.stream().flatMap(List::stream).mapToLong(Long::longValue).sorted().toArray();
    }
}
