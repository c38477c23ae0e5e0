import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Random;
import java.util.function.Consumer;

/**
 * Calls the server as nobody should: keys anything, hangs up anywhere, and goes wherever an answer says. A call is made
 * of a seed and an index and of the answers it gets.
 */
final class HostileCalls {

    private static final String PATH = "/field/voice";
    private static final int MOST_STEPS = 9;
    private static final List<String> STATUSES = List.of("ringing", "in-progress", "completed", "no-answer", "", "é");

    private static final List<String> ENDED = List.of("completed", "no-answer");

    private final long seed;
    private final List<String> phones;
    private final HostileTexts texts;
    private final String failedPhrase;

    /**
     * @param phones the crew's numbers
     * @param texts says when a call is
     * @param failedPhrase what is said where the server failed inside
     */
    HostileCalls(long seed, List<String> phones, HostileTexts texts, String failedPhrase) {
        this.seed = seed;
        this.phones = phones;
        this.texts = texts;
        this.failedPhrase = failedPhrase;
    }

    /**
     * One step of a call.
     *
     * @param shown what was sent
     * @param answer what came back
     * @param wrong what is wrong with that; empty if nothing is
     * @param nanos how long it took
     */
    record Step(String shown, String answer, String wrong, long nanos) {}

    /** Makes a call, step by step, until it is over. */
    void call(int index, Wire wire, Consumer<Step> judge) {
        Random random = HostileTexts.random(~seed, index);
        String from = random.nextInt(12) == 0 ? "+15555550199" : phones.get(random.nextInt(phones.size()));
        boolean outbound = random.nextInt(10) == 0;
        String now = texts.clock(random).toString();
        String head = "CallSid=" + sid(index, random)
                + (outbound ? "&Direction=outbound-api&To=" : "&Direction=inbound&From=") + Wire.encode(from);
        String path = PATH;
        for (int step = 0; step < MOST_STEPS && !path.isEmpty(); step++) {
            boolean over = step > 0 && random.nextInt(12) == 0;
            String status = over ? STATUSES.get(random.nextInt(STATUSES.size())) : "in-progress";
            String form = head + "&CallStatus=" + Wire.encode(status) + (step == 0 ? "" : keyed(random));
            // The carrier asks a step again when an answer was lost.
            for (int times = random.nextInt(15) == 0 ? 2 : 1; times > 0; times--) {
                long started = System.nanoTime();
                String next = "";
                Step made;
                try {
                    Wire.Answer answer = wire.post(path, form, now);
                    String wrong = wrong(answer, ENDED.contains(status));
                    next = answer.status() == 200
                            ? Twiml.of(answer.body()).next().orElse("")
                            : "";
                    made = new Step(path + " " + form, answer.text(), wrong, System.nanoTime() - started);
                } catch (IOException | RuntimeException e) {
                    made = new Step(path + " " + form, "", "no answer: " + e, System.nanoTime() - started);
                }
                judge.accept(made);
                path = times == 1 ? wayward(next, random) : path;
            }
        }
    }

    private String sid(int index, Random random) {
        String sid = "fc" + seed + "-" + index;
        return random.nextInt(20) > 0
                ? sid
                : Wire.encode(sid + List.of("<&>", "'", "\n", "x".repeat(3_000)).get(random.nextInt(4)));
    }

    /** Where the answer leads, or somewhere near it. */
    private static String wayward(String next, Random random) {
        if (next.isEmpty() || random.nextInt(12) > 0) {
            return next;
        }
        return List.of(
                        PATH + "?step=confirm&report=9999&tries=2",
                        PATH + "?step=report&report=-1&tries=x",
                        PATH + "?step=%00&report=&report=2",
                        PATH)
                .get(random.nextInt(4));
    }

    private static String keyed(Random random) {
        String keys = switch (random.nextInt(10)) {
            case 0 -> "";
            case 1, 2, 3 -> "1";
            case 4 -> "0";
            case 5 -> (1 + random.nextInt(5)) + "*" + (1 + random.nextInt(26)) + "*" + (1 + random.nextInt(30));
            case 6 -> "2345*" + (1 + random.nextInt(24)) + "*" + (1 + random.nextInt(6));
            case 7 -> "9*" + random.nextInt(30);
            case 8 ->
                random.ints(1 + random.nextInt(30), 0, 12)
                        .collect(
                                StringBuilder::new,
                                (all, key) -> all.append("0123456789*#".charAt(key)),
                                StringBuilder::append)
                        .toString();
            default ->
                List.of("hangup", "\u0661\u0662", "1 12 14", "<&>", "\u0000", "7".repeat(10_000))
                        .get(random.nextInt(6));
        };
        String form = "&Digits=" + Wire.encode(keys);
        return switch (random.nextInt(20)) {
            case 0 -> "";
            case 1 -> form + "&FinishedOnKey=%23" + form;
            default -> form + (random.nextBoolean() ? "&FinishedOnKey=%23" : "");
        };
    }

    /**
     * @param ended whether nobody is there to hear an answer
     */
    private String wrong(Wire.Answer answer, boolean ended) throws IOException {
        if (answer.status() != 200) {
            return "status " + answer.status();
        }
        Twiml twiml = Twiml.of(answer.body());
        if (twiml.words().contains(failedPhrase)) {
            return "the server failed inside";
        }
        if (twiml.verbs().isEmpty() && !ended) {
            return "an empty answer";
        }
        boolean fair = twiml.words().stream().allMatch(words -> words.length() < 4_096)
                && answer.body().length < 65_536
                && StandardCharsets.UTF_8.newEncoder().canEncode(answer.text());
        return fair ? "" : "longer than a carrier says: " + answer.body().length + " bytes";
    }
}
