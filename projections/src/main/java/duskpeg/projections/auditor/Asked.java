package duskpeg.projections.auditor;

import java.util.Locale;
import java.util.Optional;

/**
 * What an auditor asks for, read from what stands behind the token.
 *
 * @param what the page or the download
 * @param name the tie or the lot; empty for the first page and the checkpoint
 */
record Asked(What what, String name) {

    /** What can be asked for. */
    enum What {
        START,
        CHECKPOINT,
        FRUIT,
        FRUIT_BUNDLE,
        LOT,
        LOT_BUNDLE
    }

    /** Reads it; empty where there is nothing of that kind. */
    static Optional<Asked> read(String path) {
        String[] part = path.replaceFirst("^/", "").split("/", -1);
        boolean bundle = part.length == 3 && part[2].equals("bundle");
        if (part.length == 1) {
            return part[0].isEmpty()
                    ? Optional.of(new Asked(What.START, ""))
                    : part[0].equals("checkpoint") ? Optional.of(new Asked(What.CHECKPOINT, "")) : Optional.empty();
        }
        if (part.length > 3 || (part.length == 3 && !bundle)) {
            return Optional.empty();
        }
        return switch (part[0]) {
            case "fruit" ->
                part[1].matches("[0-9]{1,9}")
                        ? Optional.of(new Asked(bundle ? What.FRUIT_BUNDLE : What.FRUIT, part[1]))
                        : Optional.empty();
            case "lot" ->
                part[1].matches("[A-Za-z0-9-]{1,20}")
                        ? Optional.of(new Asked(bundle ? What.LOT_BUNDLE : What.LOT, part[1].toUpperCase(Locale.ROOT)))
                        : Optional.empty();
            default -> Optional.empty();
        };
    }
}
