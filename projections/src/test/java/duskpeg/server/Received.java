package duskpeg.server;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/** What came to a phone by itself. */
final class Received {

    private static final Duration PATIENCE = Duration.ofSeconds(10);

    private Received() {}

    /** The words that came to a phone, once there are as many as that. */
    static List<String> by(TestFarm farm, String who, int atLeast) {
        return at(farm, TestFarm.PHONES.get(who), atLeast);
    }

    /** The same, of any number. */
    static List<String> at(TestFarm farm, String phone, int atLeast) {
        Instant patience = Instant.now().plus(PATIENCE);
        while (true) {
            List<String> words = new ArrayList<>();
            for (JsonNode text : farm.json("/phone/received?phone=" + phone.replace("+", "%2B"))) {
                words.add(text.get("words").asText());
            }
            if (words.size() >= atLeast || Instant.now().isAfter(patience)) {
                return words;
            }
        }
    }
}
