package duskpeg.messaging.carrier;

import duskpeg.core.farm.FarmId;
import duskpeg.core.text.OptOuts;
import duskpeg.core.text.Outgoing;
import duskpeg.core.text.Outgoing.HeldFor;
import duskpeg.core.text.Outgoing.State;
import duskpeg.core.text.OutgoingTexts;
import duskpeg.messaging.carrier.Carrier.Answer;
import duskpeg.messaging.carrier.Carrier.Known;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Function;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Sends what is due, and is honest about what came of it. A text whose answer never came is unknown: it is settled by
 * what the carrier says later, by looking it up there, or by a person, and never by sending it once more.
 */
public final class Dispatcher {

    private static final Logger LOG = LoggerFactory.getLogger(Dispatcher.class);

    /** Longer than any call to the carrier takes; a text that is being sent for longer has lost its process. */
    static final Duration LONGEST_CALL = Duration.ofMinutes(1);

    /** How long after the attempt an unknown text is looked for, the first time and the times after. */
    private static final List<Duration> LOOKS =
            List.of(Duration.ofSeconds(20), Duration.ofMinutes(5), Duration.ofHours(1));

    /** How far the carrier's clock may be behind this one. */
    private static final Duration CLOCKS_APART = Duration.ofMinutes(1);

    private static final Duration FIRST_WAIT = Duration.ofSeconds(2);
    private static final Duration LONGEST_WAIT = Duration.ofMinutes(5);

    /** With waits that double, the last is about half an hour after the first. */
    private static final int MOST_ATTEMPTS = 13;

    private static final int CANDIDATES = 50;

    /** The carrier's code for a number that asked it for no more texts. */
    private static final Integer OPTED_OUT_THERE = 21610;

    private final OutgoingTexts texts;
    private final OptOuts optOuts;
    private final Carrier carrier;
    private final SendingRules rules;
    private final Function<FarmId, ZoneId> zones;
    private final Clock clock;
    private final TransactionTemplate transaction;

    /**
     * @param zones the zone of each farm
     * @param clock the server's own
     */
    public Dispatcher(
            OutgoingTexts texts,
            OptOuts optOuts,
            Carrier carrier,
            SendingRules rules,
            Function<FarmId, ZoneId> zones,
            Clock clock,
            TransactionTemplate transaction) {
        this.texts = texts;
        this.optOuts = optOuts;
        this.carrier = carrier;
        this.rules = rules;
        this.zones = zones;
        this.clock = clock;
        this.transaction = transaction;
    }

    /** Takes the next text that may be sent now; it must then be given to {@link #send}. */
    public Optional<Outgoing> next() {
        Instant now = clock.instant();
        for (Outgoing text : texts.due(now, CANDIDATES)) {
            if (Boolean.TRUE.equals(transaction.execute(status -> take(text, now)))) {
                return texts.find(text.id());
            }
        }
        return Optional.empty();
    }

    private boolean take(Outgoing text, Instant now) {
        if (optOuts.contains(text.recipient())) {
            texts.hold(text, HeldFor.OPTED_OUT);
            return false;
        }
        ZoneId zone = zones.apply(text.farm());
        Instant farmTime = text.farmTime(now);
        Optional<Instant> quietUntil = text.urgent() || text.insisted()
                ? Optional.empty()
                : rules.quiet().endAfter(farmTime, zone);
        if (quietUntil.isPresent()) {
            texts.postpone(text, now.plus(Duration.between(farmTime, quietUntil.get())));
            return false;
        }
        if (!texts.claim(text, now)) {
            return false;
        }
        boolean counted = text.attempts() > 0 && !text.insisted();
        LocalDate day = farmTime.atZone(zone).toLocalDate();
        if (!counted && !texts.count(text.farm(), day, text.insisted() ? Integer.MAX_VALUE : rules.perDay())) {
            texts.find(text.id()).ifPresent(claimed -> texts.hold(claimed, HeldFor.LIMIT));
            LOG.warn("Farm {} has sent {} texts on {}: more are held", text.farm(), rules.perDay(), day);
            return false;
        }
        return true;
    }

    /** Hands over a text that {@link #next} took, and notes what came of it. */
    public void send(Outgoing text) {
        Answer answer = carrier.send(text);
        Instant now = clock.instant();
        if (answer instanceof Answer.Taken taken) {
            texts.sent(text, taken.sid(), taken.price(), now);
            if (taken.state() == State.DELIVERED) {
                texts.settle(text, State.DELIVERED, null, now);
            }
        } else if (answer instanceof Answer.Refused refused) {
            LOG.warn("Text {} was refused, code {}", text.id(), refused.error());
            texts.failed(text, refused.error(), now);
            if (Objects.equals(refused.error(), OPTED_OUT_THERE)) {
                optOuts.add(text.recipient(), now);
            }
        } else if (answer instanceof Answer.NotNow notNow) {
            later(text, notNow, now);
        } else if (answer instanceof Answer.Nothing nothing) {
            LOG.warn("Text {} was handed over and no answer came: {}", text.id(), nothing.why());
            texts.unknown(text, now.plus(LOOKS.get(0)));
        }
    }

    private void later(Outgoing text, Answer.NotNow notNow, Instant now) {
        if (text.attempts() >= MOST_ATTEMPTS) {
            LOG.warn("Text {} was not taken in {} attempts, code {}", text.id(), text.attempts(), notNow.error());
            texts.failed(text, notNow.error(), now);
            return;
        }
        Duration doubled = FIRST_WAIT.multipliedBy(1L << (text.attempts() - 1));
        Duration wait = doubled.compareTo(LONGEST_WAIT) < 0 ? doubled : LONGEST_WAIT;
        if (notNow.after() != null && notNow.after().compareTo(wait) > 0) {
            wait = notNow.after();
        }
        texts.tryAgain(text, notNow.error(), now.plus(wait));
    }

    /** Looks after what no answer came for: what a dead process was sending, and what the carrier may know of. */
    public void settle() {
        Instant now = clock.instant();
        int abandoned = texts.abandoned(now.minus(LONGEST_CALL), now);
        if (abandoned > 0) {
            LOG.warn("{} texts were being sent when a server ended: whether they arrived is unknown", abandoned);
        }
        texts.toLookFor(now).forEach(text -> lookFor(text, now));
    }

    private void lookFor(Outgoing text, Instant now) {
        int looks = texts.looks(text) + 1;
        texts.looked(text, looks < LOOKS.size() ? now.plus(LOOKS.get(looks)) : null);
        if (text.sid() != null || text.claimed() == null) {
            return;
        }
        Instant since = text.claimed().minus(CLOCKS_APART);
        List<Known> known;
        try {
            known = carrier.sentTo(text.farm(), text.recipient(), since);
        } catch (RuntimeException e) {
            // What the carrier says of it may have the number in it.
            LOG.warn(
                    "The carrier could not be asked about text {}: {}",
                    text.id(),
                    e.getClass().getName());
            return;
        }
        List<Known> same = known.stream()
                .filter(one -> one.words().equals(text.words()) && !one.made().isBefore(since))
                .filter(one -> texts.withSid(one.sid()).isEmpty())
                .toList();
        // Two that could be it would be a guess; none is no proof that there will be none.
        if (same.size() == 1) {
            Known found = same.get(0);
            if (texts.identify(text.id(), text.attempts(), text.recipient(), found.sid())) {
                texts.settle(text, found.state(), found.error(), now);
                if (found.price() != null) {
                    texts.price(text, found.price());
                }
            }
        }
    }
}
