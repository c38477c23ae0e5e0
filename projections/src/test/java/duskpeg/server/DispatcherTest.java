package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.farm.FarmId;
import duskpeg.core.text.JdbcOutbox;
import duskpeg.core.text.OptOuts;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.Outgoing;
import duskpeg.core.text.Outgoing.HeldFor;
import duskpeg.core.text.Outgoing.State;
import duskpeg.core.text.OutgoingTexts;
import duskpeg.messaging.carrier.Carrier;
import duskpeg.messaging.carrier.Carrier.Answer;
import duskpeg.messaging.carrier.Carrier.Known;
import duskpeg.messaging.carrier.Dispatcher;
import duskpeg.messaging.carrier.QuietHours;
import duskpeg.messaging.carrier.SendingRules;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import org.flywaydb.core.Flyway;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.jdbc.support.JdbcTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** What becomes of posted texts, on both engines, with a carrier that does as it is told and a clock that is set. */
class DispatcherTest {

    private static final FarmId FARM = new FarmId("hill");
    private static final ZoneId ZONE = ZoneId.of("America/New_York");
    private static final String NOMSA = "+15555550101";
    private static final String PIETER = "+15555550102";
    private static final OffsetDateTime NOON = OffsetDateTime.parse("2026-07-01T12:00:00-04:00");
    private static final Map<Engine, DriverManagerDataSource> DATABASES = new EnumMap<>(Engine.class);

    private final ToldCarrier carrier = new ToldCarrier();
    private final SetClock clock = new SetClock();
    private int perDay = 100;
    private Outbox outbox;
    private OutgoingTexts texts;
    private OptOuts optOuts;
    private TransactionTemplate transaction;

    @BeforeEach
    void atNoon() {
        clock.now = Instant.now();
    }

    @AfterAll
    static void forget() {
        DATABASES.clear();
    }

    private static DriverManagerDataSource database(Engine engine) {
        Map<String, String> settings = engine.settings().stream()
                .map(setting -> setting.substring(2).split("=", 2))
                .collect(Collectors.toMap(pair -> pair[0], pair -> pair[1]));
        DriverManagerDataSource database = engine == Engine.H2
                ? new DriverManagerDataSource("jdbc:h2:mem:" + UUID.randomUUID() + ";DB_CLOSE_DELAY=-1")
                : new DriverManagerDataSource(
                        settings.get("spring.datasource.url"),
                        settings.get("spring.datasource.username"),
                        settings.get("spring.datasource.password"));
        Flyway.configure().dataSource(database).locations("classpath:db").load().migrate();
        return database;
    }

    private void open(Engine engine) {
        DriverManagerDataSource database = DATABASES.computeIfAbsent(engine, DispatcherTest::database);
        JdbcClient jdbc = JdbcClient.create(database);
        List.of("outgoing", "outgoing_day", "opted_out")
                .forEach(table -> jdbc.sql("delete from " + table).update());
        JdbcTransactionManager transactions = new JdbcTransactionManager(database);
        transaction = new TransactionTemplate(transactions);
        outbox = new JdbcOutbox(jdbc, transactions, event -> {});
        texts = new OutgoingTexts(jdbc, transactions);
        optOuts = new OptOuts(jdbc, transactions);
    }

    private Dispatcher dispatcher() {
        return new Dispatcher(
                texts,
                optOuts,
                carrier,
                new SendingRules(QuietHours.parse("20:00-04:00"), perDay),
                farm -> ZONE,
                clock,
                transaction);
    }

    private void post(String recipient, String words) {
        post(recipient, words, false, NOON);
    }

    /** Words name a text here. */
    private void post(String recipient, String words, boolean urgent, OffsetDateTime made) {
        outbox.post(FARM, recipient, words, words, urgent, made.toInstant());
    }

    /** Sends all that may be sent now. */
    private void sendAll() {
        Dispatcher dispatcher = dispatcher();
        Optional<Outgoing> next = dispatcher.next();
        while (next.isPresent()) {
            dispatcher.send(next.get());
            next = dispatcher.next();
        }
    }

    private Outgoing text(String words) {
        return texts.newest(FARM, 1000).stream()
                .filter(text -> text.words().equals(words))
                .findFirst()
                .orElseThrow();
    }

    private State state(String words) {
        return text(words).state();
    }

    @ParameterizedTest
    @EnumSource
    void aTextWaitsForTheOneBeforeItToTheSameNumber(Engine engine) {
        open(engine);
        post(NOMSA, "n1");
        post(NOMSA, "n2");
        post(PIETER, "p1");
        Dispatcher dispatcher = dispatcher();

        Outgoing first = dispatcher.next().orElseThrow();
        assertThat(first.words()).isEqualTo("n1");
        assertThat(dispatcher.next())
                .hasValueSatisfying(text -> assertThat(text.words()).isEqualTo("p1"));
        assertThat(dispatcher.next()).isEmpty();

        dispatcher.send(first);
        assertThat(dispatcher.next())
                .hasValueSatisfying(text -> assertThat(text.words()).isEqualTo("n2"));
    }

    @ParameterizedTest
    @EnumSource
    void whatTheCarrierDidNotTakeIsTriedAgainWhenItSaysAndTheNextWaits(Engine engine) {
        open(engine);
        post(NOMSA, "n1");
        post(NOMSA, "n2");
        carrier.answers.add(new Answer.NotNow(20429, Duration.ofSeconds(30)));

        sendAll();
        assertThat(text("n1"))
                .returns(State.WAITING, Outgoing::state)
                .returns(20429, Outgoing::error)
                .returns(1, Outgoing::attempts);
        clock.forward(Duration.ofSeconds(29));
        sendAll();
        assertThat(carrier.sent).containsExactly("n1");
        clock.forward(Duration.ofSeconds(2));
        sendAll();

        assertThat(carrier.sent).containsExactly("n1", "n1", "n2");
        assertThat(text("n1"))
                .returns(State.SENT, Outgoing::state)
                .returns(null, Outgoing::error)
                .returns(2, Outgoing::attempts);
    }

    @ParameterizedTest
    @EnumSource
    void anUrgentTextDoesNotWaitForOthers(Engine engine) {
        open(engine);
        post(NOMSA, "later");
        post(NOMSA, "now", true, NOON);

        sendAll();

        assertThat(carrier.sent).containsExactly("now", "later");
    }

    @ParameterizedTest
    @EnumSource(names = "H2")
    void waitsGrowAndInTheEndItIsGivenUp(Engine engine) {
        open(engine);
        post(NOMSA, "n1");
        Instant began = clock.instant();
        for (int i = 0; i < 100; i++) {
            carrier.answers.add(new Answer.NotNow(null, null));
        }

        for (int i = 0; i < 60 * 60 && state("n1") == State.WAITING; i++) {
            sendAll();
            clock.forward(Duration.ofSeconds(1));
        }

        assertThat(state("n1")).isEqualTo(State.FAILED);
        assertThat(carrier.sent).hasSize(13);
        assertThat(Duration.between(began, clock.instant())).isBetween(Duration.ofMinutes(25), Duration.ofMinutes(40));
    }

    @ParameterizedTest
    @EnumSource
    void anUnknownOutcomeIsNeverSentAgainAndACallbackSettlesIt(Engine engine) {
        open(engine);
        post(NOMSA, "n1");
        post(NOMSA, "n2");
        carrier.answers.add(new Answer.Nothing("timeout"));

        sendAll();
        for (int hours = 0; hours < 24; hours++) {
            dispatcher().settle();
            sendAll();
            clock.forward(Duration.ofHours(1));
        }
        assertThat(carrier.sent).containsExactly("n1", "n2");
        Outgoing unknown = text("n1");
        assertThat(unknown.state()).isEqualTo(State.UNKNOWN);

        // Not of that attempt, nor to that number: not about this text.
        assertThat(texts.identify(unknown.id(), 2, NOMSA, "SM9")).isFalse();
        assertThat(texts.identify(unknown.id(), 1, PIETER, "SM9")).isFalse();
        assertThat(texts.identify(unknown.id(), 1, NOMSA, "SM9")).isTrue();
        assertThat(texts.identify(unknown.id(), 1, NOMSA, "SM8")).isFalse();
        texts.settle(texts.withSid("SM9").orElseThrow(), State.DELIVERED, null, clock.instant());

        assertThat(text("n1")).returns(State.DELIVERED, Outgoing::state).returns("SM9", Outgoing::sid);
    }

    @ParameterizedTest
    @EnumSource
    void aTextOnlyMovesForwards(Engine engine) {
        open(engine);
        post(NOMSA, "n1");
        Dispatcher dispatcher = dispatcher();
        Outgoing text = dispatcher.next().orElseThrow();

        // Both callbacks are faster than the answer, and come in the wrong order.
        assertThat(texts.identify(text.id(), text.attempts(), NOMSA, "SM1")).isTrue();
        assertThat(texts.settle(text, State.DELIVERED, null, clock.instant())).isTrue();
        assertThat(texts.settle(text, State.SENT, null, clock.instant())).isFalse();
        assertThat(texts.settle(text, State.FAILED, 30003, clock.instant())).isFalse();
        assertThat(texts.sent(text, "SM1", "-0.0079 USD", clock.instant())).isFalse();

        assertThat(text("n1"))
                .returns(State.DELIVERED, Outgoing::state)
                .returns("SM1", Outgoing::sid)
                .returns(null, Outgoing::error);
    }

    @ParameterizedTest
    @EnumSource
    void whatWasBeingSentWhenAProcessDiedIsUnknown(Engine engine) {
        open(engine);
        post(NOMSA, "n1");
        assertThat(dispatcher().next()).isPresent();

        dispatcher().settle();
        assertThat(state("n1")).isEqualTo(State.SENDING);
        clock.forward(Duration.ofSeconds(61));
        dispatcher().settle();

        assertThat(state("n1")).isEqualTo(State.UNKNOWN);
        assertThat(carrier.sent).isEmpty();
    }

    @ParameterizedTest
    @EnumSource
    void whatTheCarrierHasIsFoundThere(Engine engine) {
        open(engine);
        post(NOMSA, "n1");
        carrier.answers.add(new Answer.Nothing("timeout"));
        sendAll();
        Instant sent = clock.instant();
        carrier.known.add(new Known("SM7", "another", sent, State.SENT, null, null));
        carrier.known.add(new Known("SM8", "n1", sent.minusSeconds(600), State.SENT, null, null));
        carrier.known.add(new Known("SM9", "n1", sent, State.FAILED, 30003, "-0.0079 USD"));

        dispatcher().settle();
        assertThat(state("n1")).isEqualTo(State.UNKNOWN);
        clock.forward(Duration.ofSeconds(21));
        dispatcher().settle();

        assertThat(text("n1"))
                .returns(State.FAILED, Outgoing::state)
                .returns("SM9", Outgoing::sid)
                .returns(30003, Outgoing::error)
                .returns("-0.0079 USD", Outgoing::price);
    }

    @ParameterizedTest
    @EnumSource(names = "H2")
    void twoThatItCouldBeAreNoAnswer(Engine engine) {
        open(engine);
        post(NOMSA, "n1");
        carrier.answers.add(new Answer.Nothing("timeout"));
        sendAll();
        Instant sent = clock.instant();
        carrier.known.add(new Known("SM8", "n1", sent, State.SENT, null, null));
        carrier.known.add(new Known("SM9", "n1", sent, State.SENT, null, null));

        for (int i = 0; i < 100; i++) {
            clock.forward(Duration.ofMinutes(5));
            dispatcher().settle();
        }

        assertThat(state("n1")).isEqualTo(State.UNKNOWN);
        assertThat(carrier.asked).hasSize(3);
    }

    @ParameterizedTest
    @EnumSource
    void aRefusalFailsWithItsCodeAndAnOptOutThereIsHeededHere(Engine engine) {
        open(engine);
        post(NOMSA, "n1");
        post(NOMSA, "n2");
        post(PIETER, "p1");
        carrier.answers.add(new Answer.Refused(21610));

        sendAll();

        assertThat(text("n1")).returns(State.FAILED, Outgoing::state).returns(21610, Outgoing::error);
        assertThat(text("n2")).returns(State.HELD, Outgoing::state).returns(HeldFor.OPTED_OUT, Outgoing::heldFor);
        assertThat(state("p1")).isEqualTo(State.SENT);
    }

    @ParameterizedTest
    @EnumSource
    void nothingIsSentToANumberThatAskedForNoMoreWhoeverInsists(Engine engine) {
        open(engine);
        optOuts.add(NOMSA, clock.instant());
        optOuts.add(NOMSA, clock.instant());
        post(NOMSA, "n1", true, NOON);

        sendAll();
        assertThat(texts.sendAgain(FARM, text("n1").id())).isTrue();
        sendAll();
        assertThat(state("n1")).isEqualTo(State.HELD);
        assertThat(carrier.sent).isEmpty();

        optOuts.remove(NOMSA);
        texts.sendAgain(FARM, text("n1").id());
        sendAll();
        assertThat(state("n1")).isEqualTo(State.SENT);
    }

    @ParameterizedTest
    @EnumSource
    void aFarmSendsNoMoreThanItsLimitOnADayOfItsOwn(Engine engine) {
        open(engine);
        perDay = 2;
        OffsetDateTime lateEvening = OffsetDateTime.parse("2026-07-01T23:30:00-04:00");
        post(NOMSA, "n1", true, lateEvening);
        carrier.answers.add(new Answer.NotNow(null, null));
        sendAll();
        clock.forward(Duration.ofSeconds(3));
        // A second attempt is not a second text.
        sendAll();
        post(NOMSA, "n2", true, lateEvening);
        post(PIETER, "p1", true, lateEvening);
        sendAll();

        assertThat(state("n2")).isEqualTo(State.SENT);
        assertThat(text("p1")).returns(State.HELD, Outgoing::state).returns(HeldFor.LIMIT, Outgoing::heldFor);

        post(PIETER, "tomorrow", true, OffsetDateTime.parse("2026-07-02T00:30:00-04:00"));
        texts.sendAgain(FARM, text("p1").id());
        sendAll();
        assertThat(state("tomorrow")).isEqualTo(State.SENT);
        assertThat(state("p1")).isEqualTo(State.SENT);
    }

    /** Clocks in New York are put forward in the night of 2026-03-08, so six hours of quiet are five. */
    @ParameterizedTest
    @EnumSource
    void inQuietHoursOnlyUrgentTextsGoOut(Engine engine) {
        open(engine);
        OffsetDateTime night = OffsetDateTime.parse("2026-03-07T22:00:00-05:00");
        post(NOMSA, "can wait", false, night);
        post(NOMSA, "asked for", true, night);

        sendAll();
        assertThat(carrier.sent).containsExactly("asked for");
        clock.forward(Duration.ofHours(5).minusMinutes(1));
        sendAll();
        assertThat(state("can wait")).isEqualTo(State.WAITING);
        clock.forward(Duration.ofMinutes(2));
        sendAll();

        assertThat(carrier.sent).containsExactly("asked for", "can wait");
    }

    @ParameterizedTest
    @EnumSource
    void aPersonDecides(Engine engine) {
        open(engine);
        post(NOMSA, "n1");
        post(NOMSA, "n2");
        carrier.answers.add(new Answer.Nothing("timeout"));
        carrier.answers.add(new Answer.Refused(30003));
        sendAll();
        long unknown = text("n1").id();
        long failed = text("n2").id();
        assertThat(texts.open(FARM)).extracting(Outgoing::id).containsExactly(unknown, failed);

        assertThat(texts.sendAgain(new FarmId("other"), unknown)).isFalse();
        assertThat(texts.sendAgain(FARM, unknown)).isTrue();
        assertThat(texts.sendAgain(FARM, unknown)).isFalse();
        assertThat(texts.drop(FARM, failed)).isTrue();
        assertThat(texts.sendAgain(FARM, failed)).isFalse();
        sendAll();

        assertThat(state("n1")).isEqualTo(State.SENT);
        assertThat(state("n2")).isEqualTo(State.DROPPED);
        assertThat(carrier.sent).containsExactly("n1", "n2", "n1");
        assertThat(texts.open(FARM)).isEmpty();
    }

    @ParameterizedTest
    @EnumSource
    void manyNodesSendEachTextOnce(Engine engine) throws InterruptedException {
        open(engine);
        perDay = 30;
        for (int i = 0; i < 40; i++) {
            post("+155555501" + (10 + i), "n" + i);
        }
        List<Thread> nodes = new ArrayList<>();
        List<Throwable> failures = new CopyOnWriteArrayList<>();
        for (int i = 0; i < 4; i++) {
            Thread node = new Thread(this::sendAll);
            node.setUncaughtExceptionHandler((thread, failure) -> failures.add(failure));
            node.start();
            nodes.add(node);
        }
        for (Thread node : nodes) {
            node.join(TimeUnit.MINUTES.toMillis(1));
        }

        assertThat(failures).isEmpty();
        assertThat(carrier.sent).hasSize(30).doesNotHaveDuplicates();
        assertThat(texts.open(FARM)).hasSize(10).allMatch(text -> text.heldFor() == HeldFor.LIMIT);
    }

    /** Gives the answers it was told to, then takes everything. */
    private static final class ToldCarrier implements Carrier {

        final ConcurrentLinkedQueue<Answer> answers = new ConcurrentLinkedQueue<>();
        final List<String> sent = new CopyOnWriteArrayList<>();
        final List<Known> known = new ArrayList<>();
        final List<String> asked = new ArrayList<>();

        @Override
        public Answer send(Outgoing text) {
            sent.add(text.words());
            Answer told = answers.poll();
            return told == null ? new Answer.Taken("SM" + text.id() + "x" + text.attempts(), State.SENT, null) : told;
        }

        @Override
        public List<Known> sentTo(FarmId farm, String recipient, Instant since) {
            asked.add(recipient);
            return known;
        }

        @Override
        public boolean answersStop() {
            return true;
        }
    }

    /** A clock that stands until it is put forward. */
    private static final class SetClock extends Clock {

        private volatile Instant now = Instant.EPOCH;

        void forward(Duration by) {
            now = now.plus(by);
        }

        @Override
        public Instant instant() {
            return now;
        }

        @Override
        public ZoneId getZone() {
            return ZoneOffset.UTC;
        }

        @Override
        public Clock withZone(ZoneId zone) {
            throw new UnsupportedOperationException("it tells instants only");
        }
    }
}
