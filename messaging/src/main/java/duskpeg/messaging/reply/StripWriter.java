package duskpeg.messaging.reply;

import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Handled;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.StripInHand;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** Says in whose hands ties are, and what became of what was said of them. */
final class StripWriter {

    private static final int LONGEST_NAME = 20;
    private static final int MOST_STRIPS = 3;

    private final Words words;

    StripWriter(Words words) {
        this.words = words;
    }

    /** The strips with ties left, as many as fit. */
    String inHand(Outcome.Strips strips) {
        List<String> said = new ArrayList<>();
        for (StripInHand inHand : strips.inHand()) {
            inHand.next()
                    .ifPresent(next -> said.add(words.say(
                            "strip.one",
                            "strip",
                            inHand.strip(),
                            "tie",
                            next,
                            "left",
                            inHand.unused().count())));
        }
        if (said.isEmpty()) {
            return about(strips.name(), words.say("strip.none"));
        }
        int all = said.size();
        String text = about(strips.name(), words.say("strip.own", "strips", String.join("; ", said)));
        while (!Words.fits(text) && said.size() > 1) {
            said.remove(said.size() - 1);
            text = about(
                    strips.name(),
                    words.say("strip.own", "strips", String.join("; ", said) + "; +" + (all - said.size())));
        }
        return text;
    }

    /** What became of a line, from the fullest wording to the briefest. */
    List<String> wordings(Outcome.OfStrip outcome) {
        Handled handled = outcome.entry().handled();
        String name = outcome.name();
        String other = outcome.other() == null ? "" : name(outcome.other());
        if (handled instanceof Handled.Done done) {
            return done(name, other, done);
        }
        if (handled instanceof Handled.NotFree notFree) {
            String text = words.say(
                    notFree.holder().isPresent() ? "strip.not-free" : "strip.not-free.used",
                    "strip",
                    notFree.claim().strip(),
                    "tie",
                    notFree.tie(),
                    "name",
                    other);
            return List.of(about(name, text), text);
        }
        if (handled instanceof Handled.WhichStrip which) {
            String text = words.say(
                    "strip.which",
                    "strips",
                    which.strips().stream()
                            .limit(MOST_STRIPS)
                            .map(Strip::toString)
                            .collect(Collectors.joining(" ")));
            return List.of(about(name, text), text, words.say("strip.which.brief"));
        }
        String nothing = words.say("strip.nothing");
        return List.of(about(name, nothing), nothing);
    }

    private List<String> done(@Nullable String name, String other, Handled.Done done) {
        CustodyEvent event = done.events().get(0);
        String said = event.kind() == CustodyEvent.Kind.DAMAGED
                ? words.say(
                        "strip.damaged",
                        "ties",
                        words.ties(done.events().stream()
                                .map(one -> one.ties().first())
                                .toList()))
                : words.say(
                        "strip." + event.kind().word(),
                        "strip",
                        event.ties(),
                        "count",
                        event.ties().size(),
                        "name",
                        other);
        // After handing over it is the other who goes on with them.
        String next = event.kind() == CustodyEvent.Kind.HANDED_OVER
                ? ""
                : done.next()
                        .map(tie -> " " + words.say("next.tie", "tie", tie))
                        .orElse("");
        return List.of(about(name, said + next), about(name, said), said);
    }

    /** Says of whom it is, where it is not of her who is answered. */
    private String about(@Nullable String name, String what) {
        return name == null ? what : words.say("strip.about", "name", name(name), "what", what);
    }

    private static String name(String name) {
        return Gsm7.echo(name, LONGEST_NAME);
    }
}
