import java.io.IOException;
import java.io.PrintStream;
import java.math.BigDecimal;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.MessageDigest;
import java.security.PublicKey;
import java.security.Signature;
import java.security.spec.X509EncodedKeySpec;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Base64;
import java.util.Comparator;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.zip.CRC32;

/**
 * Checks a Duskpeg audit bundle with nothing but a JDK, 17 or newer:
 *
 * <pre>java Verify.java bundle.zip [--checkpoint old.txt] [--key name+id+key]...</pre>
 *
 * <p>It shares no code with the server. What it does is written down in docs/audit.md, so that it can be written again
 * in any language. It checks the container, the seal, the signatures, the consistency and inclusion proofs, that no
 * event is missing, and derives the verdict and what each rule finds. It does not check two things that the server's own
 * {@code verify} does: which events each rule names as read, and the sentence that says why.
 *
 * <p>Exit status: 0 everything holds, 1 something does not, 2 something can't be read or checked.
 */
public final class Verify {

    // ---- What was found -------------------------------------------------------------------------------------------

    private final PrintStream out;
    private boolean fails;
    private boolean cannot;

    private Verify(PrintStream out) {
        this.out = out;
    }

    private void holds(boolean holds, String good, String bad) {
        out.println(holds ? "holds   " + good : "FAILS   " + bad);
        fails |= !holds;
    }

    private void cannot(String why) {
        out.println("cannot  " + why);
        cannot = true;
    }

    private static IllegalArgumentException wrong(String what) {
        return new IllegalArgumentException(what);
    }

    private interface Part {
        void look() throws Exception;
    }

    /** Looks at a part; what can't be read does not hold. */
    private void look(String part, Part look) {
        try {
            look.look();
        } catch (Exception | StackOverflowError e) {
            holds(false, "", part + " can't be read: " + e.getMessage());
        }
    }

    public static void main(String[] arguments) {
        System.exit(run(arguments, System.out));
    }

    /** Runs it, and gives the exit status. */
    public static int run(String[] arguments, PrintStream out) {
        Verify verify = new Verify(out);
        byte[] bundle = null;
        String kept = null;
        List<Key> given = new ArrayList<>();
        List<Key> witnesses = new ArrayList<>();
        try {
            for (int i = 0; i < arguments.length; i++) {
                if (arguments[i].equals("--checkpoint")) {
                    kept = Files.readString(Path.of(arguments[++i]));
                } else if (arguments[i].equals("--key")) {
                    given.add(Key.parse(arguments[++i], 1));
                } else if (arguments[i].equals("--witness")) {
                    witnesses.add(Key.parse(arguments[++i], 4));
                } else {
                    bundle = Files.readAllBytes(Path.of(arguments[i]));
                }
            }
        } catch (IOException | IllegalArgumentException | ArrayIndexOutOfBoundsException e) {
            out.println("Can't begin: " + e.getMessage());
            bundle = null;
        }
        if (bundle == null) {
            out.println(
                    "java Verify.java BUNDLE.zip [--checkpoint FILE] [--key NAME+ID+KEY]... [--witness NAME+ID+KEY]...");
            return 2;
        }
        return verify.bundle(bundle, kept, given, witnesses);
    }

    private int bundle(byte[] zip, String kept, List<Key> given, List<Key> witnesses) {
        try {
            files = unpack(zip);
            holds(
                    Arrays.equals(pack(files), zip),
                    "The file is written as bundles are: " + files.size() + " files in it.",
                    "The file is not written as bundles are: it was packed anew or changed.");
            all(kept, given, witnesses);
        } catch (IllegalArgumentException e) {
            cannot("The file can't be read: " + e.getMessage());
        }
        out.println(
                fails
                        ? "Something does not hold."
                        : cannot ? "Not everything could be checked." : "Everything that was checked holds.");
        return fails ? 1 : cannot ? 2 : 0;
    }

    // ---- The container: a zip of stored files ---------------------------------------------------------------------

    private Map<String, byte[]> files = Map.of();

    private static Map<String, byte[]> unpack(byte[] zip) {
        Map<String, byte[]> files = new LinkedHashMap<>();
        ByteBuffer in = ByteBuffer.wrap(zip).order(ByteOrder.LITTLE_ENDIAN);
        while (in.remaining() >= 30 && in.getInt(in.position()) == 0x04034b50) {
            int size = in.getInt(in.position() + 18);
            int nameSize = in.getShort(in.position() + 26) & 0xFFFF;
            in.position(in.position() + 30);
            if (size < 0 || (long) size + nameSize > in.remaining()) {
                throw wrong("it ends too soon");
            }
            byte[] name = new byte[nameSize];
            byte[] content = new byte[size];
            in.get(name).get(content);
            if (files.put(new String(name, StandardCharsets.US_ASCII), content) != null) {
                throw wrong("a file is there twice");
            }
        }
        if (files.isEmpty()) {
            throw wrong("not a bundle");
        }
        return files;
    }

    private static byte[] pack(Map<String, byte[]> files) {
        int size = 22;
        for (Map.Entry<String, byte[]> file : files.entrySet()) {
            size += 76 + 2 * file.getKey().length() + file.getValue().length;
        }
        ByteBuffer zip = ByteBuffer.allocate(size).order(ByteOrder.LITTLE_ENDIAN);
        List<Integer> places = new ArrayList<>();
        files.forEach((name, content) -> {
            places.add(zip.position());
            zip.putInt(0x04034b50);
            head(zip, name, content);
            zip.put(name.getBytes(StandardCharsets.US_ASCII)).put(content);
        });
        int central = zip.position();
        int number = 0;
        for (Map.Entry<String, byte[]> file : files.entrySet()) {
            zip.putInt(0x02014b50).putShort((short) 10);
            head(zip, file.getKey(), file.getValue());
            zip.put(new byte[10]).putInt(places.get(number++));
            zip.put(file.getKey().getBytes(StandardCharsets.US_ASCII));
        }
        short count = (short) files.size();
        int centralSize = zip.position() - central;
        zip.putInt(0x06054b50).putInt(0).putShort(count).putShort(count);
        zip.putInt(centralSize).putInt(central).putShort((short) 0);
        return zip.array();
    }

    private static void head(ByteBuffer zip, String name, byte[] content) {
        CRC32 crc = new CRC32();
        crc.update(content);
        zip.putShort((short) 10).putShort((short) 0).putShort((short) 0);
        zip.putShort((short) 0).putShort((short) 0x21);
        zip.putInt((int) crc.getValue()).putInt(content.length).putInt(content.length);
        zip.putShort((short) name.length()).putShort((short) 0);
    }

    private String text(String name) throws CharacterCodingException {
        byte[] content = files.get(name);
        if (content == null) {
            throw wrong(name + " is not in the bundle");
        }
        return StandardCharsets.UTF_8
                .newDecoder()
                .decode(ByteBuffer.wrap(content))
                .toString();
    }

    private List<String> lines(String name) throws CharacterCodingException {
        return split(text(name));
    }

    private static List<String> split(String text) {
        if (!text.isEmpty() && !text.endsWith("\n")) {
            throw wrong("its last line has no end");
        }
        List<String> lines = new ArrayList<>(List.of(text.split("\n", -1)));
        lines.remove(lines.size() - 1);
        return lines;
    }

    // ---- Hashes and proofs: RFC 6962, RFC 9162 --------------------------------------------------------------------

    private static byte[] sha256(byte[]... parts) {
        try {
            MessageDigest sha = MessageDigest.getInstance("SHA-256");
            Arrays.stream(parts).forEach(sha::update);
            return sha.digest();
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException(e);
        }
    }

    private static byte[] leaf(String text) {
        return sha256(new byte[] {0}, text.getBytes(StandardCharsets.UTF_8));
    }

    private static byte[] node(byte[] left, byte[] right) {
        return sha256(new byte[] {1}, left, right);
    }

    /** RFC 9162, section 2.1.3.2. */
    private static boolean included(byte[] leaf, long index, long size, List<byte[]> proof, byte[] root) {
        if (index < 0 || index >= size) {
            return false;
        }
        long place = index;
        long last = size - 1;
        byte[] hash = leaf;
        for (byte[] next : proof) {
            if (last == 0) {
                return false;
            }
            if ((place & 1) == 1 || place == last) {
                hash = node(next, hash);
                while ((place & 1) == 0 && place != 0) {
                    place >>= 1;
                    last >>= 1;
                }
            } else {
                hash = node(hash, next);
            }
            place >>= 1;
            last >>= 1;
        }
        return last == 0 && Arrays.equals(hash, root);
    }

    /** RFC 9162, section 2.1.4.2. */
    private static boolean continues(Checkpoint then, Checkpoint now, List<byte[]> proof) {
        if (!then.origin.equals(now.origin) || then.size > now.size) {
            return false;
        }
        if (then.size == now.size) {
            return proof.isEmpty() && Arrays.equals(then.root, now.root);
        }
        if (then.size == 0) {
            return proof.isEmpty() && Arrays.equals(then.root, sha256());
        }
        List<byte[]> path = new ArrayList<>(proof);
        if (Long.bitCount(then.size) == 1) {
            path.add(0, then.root);
        }
        if (path.isEmpty()) {
            return false;
        }
        long place = then.size - 1;
        long last = now.size - 1;
        while ((place & 1) == 1) {
            place >>= 1;
            last >>= 1;
        }
        byte[] before = path.get(0);
        byte[] after = path.get(0);
        for (byte[] next : path.subList(1, path.size())) {
            if (last == 0) {
                return false;
            }
            if ((place & 1) == 1 || place == last) {
                before = node(next, before);
                after = node(next, after);
                while ((place & 1) == 0 && place != 0) {
                    place >>= 1;
                    last >>= 1;
                }
            } else {
                after = node(after, next);
            }
            place >>= 1;
            last >>= 1;
        }
        return last == 0 && Arrays.equals(before, then.root) && Arrays.equals(after, now.root);
    }

    /** A line of a number and hashes. */
    private record Numbered(long number, List<byte[]> hashes) {

        static Numbered parse(String line) {
            String[] part = line.split(" ", -1);
            if (!part[0].matches("0|[1-9][0-9]{0,17}")) {
                throw wrong("not a number: " + part[0]);
            }
            List<byte[]> hashes = new ArrayList<>();
            for (String hash : Arrays.asList(part).subList(1, part.length)) {
                hashes.add(hash(hash));
            }
            return new Numbered(Long.parseLong(part[0]), hashes);
        }
    }

    private static byte[] hash(String base64) {
        byte[] hash = Base64.getDecoder().decode(base64);
        if (hash.length != 32 || !Base64.getEncoder().encodeToString(hash).equals(base64)) {
            throw wrong("not a hash of 32 bytes in plain Base64");
        }
        return hash;
    }

    // ---- Signed notes and checkpoints: C2SP signed-note, tlog-checkpoint ------------------------------------------

    /** A key of type 1 signs notes; one of type 4 says that a witness saw a checkpoint (C2SP tlog-cosignature). */
    private record Key(String text, String name, int type, byte[] id, PublicKey key) {

        static Key parse(String text, int type) {
            String[] part = text.split("\\+", 3);
            byte[] typed = part.length == 3 ? Base64.getDecoder().decode(part[2]) : new byte[0];
            if (typed.length != 33 || typed[0] != type) {
                throw wrong("not a key: " + text);
            }
            byte[] id = Arrays.copyOf(sha256((part[0] + "\n").getBytes(StandardCharsets.UTF_8), typed), 4);
            if (!part[1].equals(HexFormat.of().formatHex(id))
                    || !part[2].equals(Base64.getEncoder().encodeToString(typed))) {
                throw wrong("the id is not that of the key: " + text);
            }
            byte[] encoded = HexFormat.of()
                    .parseHex("302a300506032b6570032100"
                            + HexFormat.of().formatHex(typed).substring(2));
            try {
                return new Key(
                        text,
                        part[0],
                        type,
                        id,
                        KeyFactory.getInstance("Ed25519").generatePublic(new X509EncodedKeySpec(encoded)));
            } catch (GeneralSecurityException e) {
                throw wrong("not an Ed25519 key");
            }
        }

        boolean signed(String body, byte[] signature) {
            if (type == 4) {
                if (signature.length != 72 || signature[0] < 0) {
                    return false;
                }
                long seconds = ByteBuffer.wrap(signature).getLong();
                return made("cosignature/v1\ntime " + seconds + "\n" + body, Arrays.copyOfRange(signature, 8, 72));
            }
            return made(body, signature);
        }

        private boolean made(String body, byte[] signature) {
            try {
                Signature ed25519 = Signature.getInstance("Ed25519");
                ed25519.initVerify(key);
                ed25519.update(body.getBytes(StandardCharsets.UTF_8));
                // The JDK lets zeros follow it; RFC 8032 has 64 bytes and no more.
                return signature.length == 64 && ed25519.verify(signature);
            } catch (GeneralSecurityException e) {
                return false;
            }
        }
    }

    /** The body of a note, and the keys that signed it. */
    private record Note(String body, List<Key> by) {

        static Note parse(String note, List<Key> keys) {
            int gap = note.lastIndexOf("\n\n");
            if (gap < 0 || !note.endsWith("\n") || note.codePoints().anyMatch(c -> c != '\n' && c < ' ')) {
                throw wrong("not a signed note");
            }
            String body = note.substring(0, gap + 1);
            Set<Key> right = new LinkedHashSet<>();
            Set<Key> false_ = new HashSet<>();
            for (String line : split(note.substring(gap + 2))) {
                String[] part = line.split(" ", -1);
                if (part.length != 3 || !part[0].equals("\u2014")) {
                    throw wrong("not a signature line");
                }
                byte[] bytes = Base64.getDecoder().decode(part[2]);
                if (bytes.length < 5
                        || !Base64.getEncoder().encodeToString(bytes).equals(part[2])) {
                    throw wrong("not a signature");
                }
                for (Key key : keys) {
                    if (key.name.equals(part[1]) && Arrays.equals(key.id, Arrays.copyOf(bytes, 4))) {
                        boolean is = key.signed(body, Arrays.copyOfRange(bytes, 4, bytes.length));
                        (is ? right : false_).add(key);
                    }
                }
            }
            right.removeAll(false_);
            return new Note(body, List.copyOf(right));
        }
    }

    private record Checkpoint(String origin, long size, byte[] root) {

        static Checkpoint parse(String body) {
            String[] line = body.split("\n", -1);
            if (line.length < 4 || line[0].isEmpty() || !line[1].matches("0|[1-9][0-9]{0,17}")) {
                throw wrong("not a checkpoint");
            }
            return new Checkpoint(line[0], Long.parseLong(line[1]), hash(line[2]));
        }
    }

    // ---- The checks, in order -------------------------------------------------------------------------------------

    private List<Key> keys = List.of();
    private Checkpoint newest;
    private Map<Long, List<byte[]>> consistency = Map.of();

    private void all(String kept, List<Key> given, List<Key> witnesses) {
        look("The key", () -> {
            keys = given;
            if (given.isEmpty()) {
                keys = lines("key.txt").stream().map(line -> Key.parse(line, 1)).toList();
                keys.forEach(
                        key -> out.println("note    The key is the bundle's own. Compare it with one you were given"
                                + " elsewhere: " + key.text));
            }
        });
        look("The seal", this::seal);
        look("The checkpoint", () -> {
            Note note = Note.parse(text("checkpoint.txt"), keys);
            Checkpoint checkpoint = Checkpoint.parse(note.body);
            holds(
                    note.by.stream().anyMatch(key -> key.name.equals(checkpoint.origin)),
                    "The checkpoint is signed: " + checkpoint.origin + ", " + checkpoint.size + " events.",
                    "The checkpoint is not signed with the key of the log that it names.");
            newest = checkpoint;
        });
        if (newest == null) {
            return;
        }
        for (Key witness : witnesses) {
            look("The word of a witness", () -> {
                String checkpoint = text("checkpoint.txt");
                if (!checkpoint.contains("\n\u2014 " + witness.name + " ")) {
                    cannot("The checkpoint has no word of " + witness.name + ".");
                } else {
                    holds(
                            !Note.parse(checkpoint, List.of(witness)).by.isEmpty(),
                            witness.name + " saw the checkpoint, and that the log went on from all he had seen of it.",
                            "What is said to be the word of " + witness.name + " is not.");
                }
            });
        }
        look("An earlier checkpoint or its proof", this::earlier);
        if (kept != null) {
            look("Your checkpoint", () -> kept(kept));
        }
        look("An event or its proof", this::events);
        if (log != null) {
            look("The claim or an event", this::verdict);
        }
    }

    private void seal() throws CharacterCodingException {
        Note note = Note.parse(text("bundle.txt"), keys);
        Checkpoint checkpoint = Checkpoint.parse(Note.parse(text("checkpoint.txt"), List.of()).body);
        List<String> is =
                new ArrayList<>(List.of("duskpeg audit bundle 1", checkpoint.origin, Long.toString(checkpoint.size)));
        files.forEach((name, content) -> {
            if (!name.equals("bundle.txt")) {
                is.add(HexFormat.of().formatHex(sha256(content)) + " " + name);
            }
        });
        holds(
                !note.by.isEmpty() && is.equals(split(note.body)),
                "Every file is as it was when the farm signed the list of them.",
                "Files are not as they were signed, or the list of them is not signed with the key.");
    }

    private void earlier() throws CharacterCodingException {
        consistency = new TreeMap<>();
        for (String line : lines("consistency.txt")) {
            Numbered numbered = Numbered.parse(line);
            consistency.put(numbered.number, numbered.hashes);
        }
        int count = 0;
        for (String name : files.keySet()) {
            if (name.startsWith("earlier/")) {
                Note note = Note.parse(text(name), keys);
                Checkpoint then = Checkpoint.parse(note.body);
                List<byte[]> proof = consistency.get(then.size);
                if (note.by.isEmpty() || proof == null || !continues(then, newest, proof)) {
                    holds(false, "", name + " is not signed, or the log was changed after it.");
                    return;
                }
                count++;
            }
        }
        holds(true, count + " earlier checkpoints are signed, and the log of each is the beginning of this one.", "");
    }

    private void kept(String text) {
        // What was copied off a text message has no signature: origin, size and root, and nothing else.
        boolean copied = text.strip().lines().count() == 3;
        Note note = copied ? null : Note.parse(text, keys);
        Checkpoint then = Checkpoint.parse(copied ? text.strip() + "\n" : note.body);
        List<byte[]> proof = then.size == newest.size ? List.of() : consistency.get(then.size);
        if (note != null && note.by.isEmpty()) {
            holds(false, "", "Your checkpoint is not signed with the key.");
        } else if (then.size > newest.size) {
            cannot("Your checkpoint is newer than the bundle. Ask for a newer bundle.");
        } else if (proof == null) {
            cannot("The bundle has no proof from your checkpoint. Ask for it with since=" + then.size + ".");
        } else {
            holds(
                    continues(then, newest, proof),
                    "The log of your checkpoint, of " + then.size + " events, is the beginning of this one."
                            + (copied ? " It has no signature: it shows as much as you trust your copy." : ""),
                    "The log was changed since your checkpoint, or it is of another log.");
        }
    }

    private void events() throws CharacterCodingException {
        List<String> leaves = lines("events.jsonl");
        List<String> proofs = lines("proofs.txt");
        if (leaves.size() != proofs.size()) {
            throw wrong(leaves.size() + " events have " + proofs.size() + " proofs");
        }
        List<Event> read = new ArrayList<>();
        Set<Long> places = new HashSet<>();
        List<Long> bad = new ArrayList<>();
        for (int i = 0; i < leaves.size(); i++) {
            Numbered proof = Numbered.parse(proofs.get(i));
            if (!places.add(proof.number)
                    || !included(leaf(leaves.get(i)), proof.number, newest.size, proof.hashes, newest.root)) {
                bad.add(proof.number);
            }
            read.add(Event.parse(proof.number, leaves.get(i)));
        }
        holds(
                bad.isEmpty(),
                "Each of the " + leaves.size() + " events is in the log, to the byte.",
                "Events are not in the log as they are given here: leaves " + bad + ".");
        read.sort(Comparator.comparingLong(Event::leaf));
        log = read;
    }

    // ---- JSON: RFC 8259, as much as canonical JSON needs ----------------------------------------------------------

    private static final class Json {

        private static final int DEEPEST = 50;
        private final String text;
        private int at;
        private int depth;

        private Json(String text) {
            this.text = text;
        }

        static Object parse(String text) {
            Json json = new Json(text);
            Object value = json.value();
            if (json.at != text.length()) {
                throw wrong("something behind the JSON");
            }
            return value;
        }

        private char next() {
            if (at >= text.length()) {
                throw wrong("the JSON ends too soon");
            }
            return text.charAt(at++);
        }

        private void expect(String word) {
            if (!text.startsWith(word, at)) {
                throw wrong("not JSON at " + at);
            }
            at += word.length();
        }

        private boolean take(char c) {
            boolean there = at < text.length() && text.charAt(at) == c;
            at += there ? 1 : 0;
            return there;
        }

        private Object value() {
            if (++depth > DEEPEST) {
                throw wrong("the JSON is too deep");
            }
            char first = next();
            at--;
            Object value = switch (first) {
                case '{' -> object();
                case '[' -> array();
                case '"' -> string();
                case 't' -> word("true", true);
                case 'f' -> word("false", false);
                case 'n' -> word("null", null);
                default -> number();
            };
            depth--;
            return value;
        }

        private Object word(String word, Object value) {
            expect(word);
            return value;
        }

        private Map<String, Object> object() {
            expect("{");
            Map<String, Object> object = new LinkedHashMap<>();
            if (take('}')) {
                return object;
            }
            do {
                String name = string();
                expect(":");
                if (object.put(name, value()) != null) {
                    throw wrong("a name is there twice: " + name);
                }
            } while (take(','));
            expect("}");
            return object;
        }

        private List<Object> array() {
            expect("[");
            List<Object> array = new ArrayList<>();
            if (take(']')) {
                return array;
            }
            do {
                array.add(value());
            } while (take(','));
            expect("]");
            return array;
        }

        private String string() {
            expect("\"");
            StringBuilder string = new StringBuilder();
            for (char c = next(); c != '"'; c = next()) {
                if (c != '\\') {
                    string.append(c);
                    continue;
                }
                char escaped = next();
                switch (escaped) {
                    case '"', '\\', '/' -> string.append(escaped);
                    case 'b' -> string.append('\b');
                    case 'f' -> string.append('\f');
                    case 'n' -> string.append('\n');
                    case 'r' -> string.append('\r');
                    case 't' -> string.append('\t');
                    case 'u' -> {
                        String hex = "" + next() + next() + next() + next();
                        string.append((char) Integer.parseInt(hex, 16));
                    }
                    default -> throw wrong("not JSON at " + at);
                }
            }
            return string.toString();
        }

        private BigDecimal number() {
            int from = at;
            while (at < text.length() && "+-.eE0123456789".indexOf(text.charAt(at)) >= 0) {
                at++;
            }
            return new BigDecimal(text.substring(from, at));
        }
    }

    /** A JSON object whose fields are asked for by their kind. */
    private record Fields(Map<String, Object> all) {

        static Fields of(Object value) {
            if (!(value instanceof Map<?, ?> map)) {
                throw wrong("not a JSON object: " + value);
            }
            Map<String, Object> all = new LinkedHashMap<>();
            map.forEach((name, field) -> all.put((String) name, field));
            return new Fields(all);
        }

        boolean has(String name) {
            return all.get(name) != null;
        }

        String text(String name) {
            if (all.get(name) instanceof String text) {
                return text;
            }
            throw wrong("no " + name + " in " + all.keySet());
        }

        String textOr(String name, String other) {
            return has(name) ? text(name) : other;
        }

        long number(String name) {
            if (all.get(name) instanceof BigDecimal number) {
                return number.longValueExact();
            }
            throw wrong("no " + name + " in " + all.keySet());
        }

        List<Object> list(String name) {
            return all.get(name) instanceof List<?> list ? List.copyOf(list) : List.of();
        }

        List<String> texts(String name) {
            return list(name).stream().map(String::valueOf).toList();
        }

        Fields object(String name) {
            return of(all.get(name));
        }

        Instant time(String name) {
            return Instant.parse(text(name));
        }
    }

    // ---- Events ---------------------------------------------------------------------------------------------------

    private record Event(long leaf, String id, String stream, long sequence, String type, Fields payload) {

        static Event parse(long leaf, String text) {
            Fields event = Fields.of(Json.parse(text));
            return new Event(
                    leaf,
                    event.text("id"),
                    event.text("stream"),
                    event.number("sequence"),
                    event.text("type"),
                    event.object("payload"));
        }

        /** What it is about, by its payload. */
        String subject() {
            return switch (type) {
                case "farm-opened", "planting-laid-out", "standards-chosen", "neighbour-measured" ->
                    payload.text("farm");
                case "worker-enrolled",
                        "strip-issued",
                        "strip-claimed",
                        "strip-handed-over",
                        "strip-returned",
                        "strip-lost",
                        "tie-damaged" -> payload.text("worker");
                case "pegged", "opened", "pollinated", "bagged", "tied", "lost", "finished" -> payload.text("round");
                case "unbagged", "culled", "harvested", "taken-back", "question-settled" -> payload.text("subject");
                case "text-settled" -> payload.text("text");
                case "fruit-taken", "seed-drawn", "lot-entry-withdrawn" -> payload.text("lot");
                // Of a kind that no rule reads.
                default -> stream;
            };
        }

        boolean isAct() {
            return ACTS.contains(type);
        }

        boolean onFlowers() {
            return FLOWERS.contains(type);
        }

        Fields told() {
            return payload.object("told");
        }

        String by() {
            return told().text("by");
        }

        Instant done() {
            return told().time("done");
        }

        String message() {
            return told().text("text");
        }

        boolean sameLine(Event other) {
            return message().equals(other.message())
                    && told().number("line") == other.told().number("line");
        }

        int count() {
            return (int) payload.number("count");
        }

        boolean ties(String tie) {
            return type.equals("tied") && payload.texts("ties").contains(tie);
        }
    }

    private static final List<String> FLOWERS = List.of("pegged", "opened", "pollinated", "bagged", "tied", "lost");
    private static final List<String> FRUIT = List.of("unbagged", "culled", "harvested");
    private static final Set<String> ACTS = new HashSet<>(FLOWERS);

    static {
        ACTS.addAll(FRUIT);
        ACTS.addAll(List.of("finished", "taken-back"));
    }

    private List<Event> log;

    private static List<Event> kind(String type, List<Event> events) {
        return events.stream().filter(event -> event.type.equals(type)).toList();
    }

    /** The acts that still stand. */
    private static List<Event> standing(List<Event> acts) {
        List<Event> takenBack = kind("taken-back", acts);
        return acts.stream()
                .filter(act -> !act.type.equals("taken-back"))
                .filter(act -> takenBack.stream()
                        .noneMatch(back -> back.payload.text("subject").equals(act.subject())
                                && back.payload.text("text").equals(act.message())
                                && (!back.payload.has("line")
                                        || back.payload.number("line")
                                                == act.told().number("line"))))
                .toList();
    }

    // ---- That nothing is missing, and the verdict -----------------------------------------------------------------

    private static final Set<String> RULES = Set.of("rules 1", "rules 2");

    private void verdict() throws CharacterCodingException {
        List<String> claim = lines("claim.txt");
        List<String> fruit = claim.stream()
                .filter(line -> line.startsWith("fruit "))
                .map(line -> line.split(" ", -1)[1])
                .toList();
        if (fruit.isEmpty()) {
            throw wrong("it names no fruit");
        }
        String lot = claim.stream()
                .filter(line -> line.startsWith("lot "))
                .map(line -> line.substring(4))
                .findFirst()
                .orElse(null);
        complete(lot, fruit);
        if (!RULES.contains(claim.get(0))) {
            cannot("This program knows the rules 1 and 2, not: " + claim.get(0));
            return;
        }
        List<String> derived = new ArrayList<>();
        derived.add(claim.get(0));
        if (lot != null) {
            derived.add("lot " + lot);
        }
        for (String id : lot == null ? fruit : fruitOf(lot)) {
            derived.addAll(new Fruit(log, id).verdict(claim.get(0)));
        }
        List<String> claimed = claim.stream()
                .map(line -> line.startsWith("rules ") || line.startsWith("lot ") || line.startsWith("fruit ")
                        ? line
                        : String.join(" ", Arrays.asList(line.split(" ", 4)).subList(0, 3)))
                .toList();
        holds(
                derived.equals(claimed),
                "What is claimed follows from the events:",
                "What is claimed does not follow from the events, which give:");
        derived.forEach(line -> out.println("        " + line));
    }

    /** What was entered of lots and not withdrawn; entries of a lot are counted from 1. */
    private List<Event> entered(String type) {
        return kind(type, log).stream()
                .filter(entry -> kind("lot-entry-withdrawn", log).stream()
                        .noneMatch(gone ->
                                gone.stream.equals(entry.stream) && gone.payload.number("entry") == entry.sequence + 1))
                .toList();
    }

    /** A lot and those it was drawn from. */
    private Set<String> sources(String lot) {
        Set<String> sources = new TreeSet<>(Set.of(lot));
        List<Event> drawn = entered("seed-drawn");
        int before = 0;
        while (sources.size() > before) {
            before = sources.size();
            for (Event event : drawn) {
                if (sources.contains(event.payload.text("to"))) {
                    sources.add(event.stream);
                }
            }
        }
        return sources;
    }

    /** The fruit that seed of a lot may be of. */
    private Set<String> fruitOf(String lot) {
        Set<String> sources = sources(lot);
        Set<String> fruit = new TreeSet<>();
        for (Event taken : entered("fruit-taken")) {
            if (sources.contains(taken.stream)) {
                taken.payload
                        .list("fruit")
                        .forEach(one -> fruit.add(Fields.of(one).text("fruit")));
            }
        }
        return fruit;
    }

    private void complete(String lot, List<String> fruit) {
        Set<String> streams = new TreeSet<>();
        fruit.forEach(id -> streams.addAll(streams(id)));
        if (lot != null) {
            streams.addAll(sources(lot));
        }
        List<String> bad = new ArrayList<>();
        for (String stream : streams) {
            List<Long> numbers = log.stream()
                    .filter(event -> event.stream.equals(stream))
                    .map(Event::sequence)
                    .sorted()
                    .toList();
            for (int i = 0; i < numbers.size(); i++) {
                if (numbers.get(i) != i) {
                    bad.add("number " + i + " of " + stream + " is missing, or one is there twice");
                    break;
                }
            }
            if (numbers.isEmpty() && !fruit.contains(stream)) {
                bad.add("there is nothing of " + stream);
            }
        }
        for (Event event : log) {
            if (!event.stream.equals(event.subject())
                    || !newest.origin.endsWith("/" + event.stream.split("/", 2)[0])) {
                bad.add("leaf " + event.leaf + " is not of the stream or the farm it says");
            }
        }
        boolean whole = log.size() == newest.size;
        holds(
                bad.isEmpty(),
                whole
                        ? "All events of the log are here, so none was left out."
                        : "No event is missing before the last one given of each of the " + streams.size()
                                + " streams that the verdict rests on.",
                "Events were left out: " + String.join("; ", bad) + ".");
        if (!whole) {
            out.println(
                    "note    Not shown: that these streams have no later event, and that no other stream tells of the"
                            + " fruit. A bundle with whole=true shows it.");
        }
    }

    /** The streams that the verdict on a fruit rests on. */
    private Set<String> streams(String id) {
        String tie = id.substring(id.lastIndexOf('/') + 1);
        Set<String> streams = new TreeSet<>(List.of(id.split("/", 2)[0], id));
        for (Event event : log) {
            if (event.ties(tie)) {
                streams.add(event.subject());
            }
            Strip strip = Strip.of(event);
            if (strip != null && strip.spans(tie)) {
                streams.add(event.subject());
                if (event.type.equals("strip-handed-over")) {
                    streams.add(event.payload.text("to"));
                }
            }
        }
        return streams;
    }

    // ---- Ties: strips and whose hands they are in -----------------------------------------------------------------

    /** H. M. Damm's check digit: the table of order ten. */
    private static final String[] DAMM = {
        "0317598642", "7092154863", "4206871359", "1750983426", "6123045978",
        "3674209581", "5869720134", "8945362017", "9438617205", "2581436790"
    };

    private record Strip(String first, String last, boolean checked) {

        /** The ties a custody event is about; null for any other event. */
        static Strip of(Event event) {
            return switch (event.type) {
                case "strip-issued", "strip-claimed" -> of(event.payload.object("strip"));
                case "strip-handed-over", "strip-returned", "strip-lost" -> of(event.payload.object("left"));
                case "tie-damaged" -> new Strip(event.payload.text("tie"), event.payload.text("tie"), false);
                default -> null;
            };
        }

        private static Strip of(Fields strip) {
            return new Strip(
                    strip.text("first"),
                    strip.text("last"),
                    strip.textOr("numbering", "PLAIN").equals("CHECKED"));
        }

        /** Whether that number lies on it, be its check digit right or wrong. */
        boolean spans(String tie) {
            String low = checked ? first.substring(0, first.length() - 1) + "0" : first;
            String high = checked ? last.substring(0, last.length() - 1) + "9" : last;
            return tie.length() == first.length() && tie.compareTo(low) >= 0 && tie.compareTo(high) <= 0;
        }

        boolean has(String tie) {
            return spans(tie) && (!checked || isRight(tie));
        }

        private static boolean isRight(String digits) {
            char interim = '0';
            for (char digit : digits.toCharArray()) {
                interim = DAMM[interim - '0'].charAt(digit - '0');
            }
            return interim == '0';
        }
    }

    /** That somebody had a tie in her hands: from when, and until when and why, as far as it ended. */
    private static final class Holding {
        private final String worker;
        private final Instant since;
        private String ended = "";
        private Instant until = Instant.MAX;

        Holding(String worker, Instant since) {
            this.worker = worker;
            this.since = since;
        }

        /** What was done in the very moment of its end was done before it. */
        String stateAt(Instant at) {
            return at.isAfter(until) ? ended : "";
        }
    }

    /** A question, as far as it is needed to see whether it was settled. */
    private record Question(String kind, boolean ofTie, List<String> values, Set<String> messages) {

        static Question of(String kind, boolean ofTie, List<Event> read, Object... values) {
            return new Question(
                    kind,
                    ofTie,
                    Arrays.stream(values).map(String::valueOf).toList(),
                    read.stream().map(Event::message).collect(Collectors.toSet()));
        }
    }

    // ---- A fruit, and what each rule finds ------------------------------------------------------------------------

    private static final class Fruit {

        private static final Duration ONE_VISIT = Duration.ofMinutes(30);

        private final List<Event> log;
        private final String id;
        private final String tie;
        /** Every act on the fruit and on the rounds in which its tie was put on, also those taken back. */
        private final List<Event> known;
        /** The standing acts that name its tie, by when they were heard. */
        private final List<Event> own;

        private final List<Event> tyings;
        /** The report of its tying: the latest. */
        private final Event tied;
        /** The standing acts on flowers of its round. */
        private final List<Event> round;
        /** The standing acts said of this fruit, and those of its row, by when they were done. */
        private final List<Event> ofFruit = new ArrayList<>();

        private final List<Event> history = new ArrayList<>();
        private final Set<String> subjects = new HashSet<>();
        private final ZoneId zone;
        private final LocalTime limit;
        private final List<String> findings = new ArrayList<>();
        private boolean pure = true;
        private boolean notPure;
        private boolean inQuestion;

        Fruit(List<Event> log, String id) {
            this.log = log;
            this.id = id;
            this.tie = id.substring(id.lastIndexOf('/') + 1);
            log.stream().filter(event -> event.ties(tie)).forEach(event -> subjects.add(event.subject()));
            subjects.add(id);
            known = log.stream()
                    .filter(event -> event.isAct() && subjects.contains(event.subject()))
                    .toList();
            List<Event> standing = standing(known);
            own = standing.stream()
                    .filter(act -> act.subject().equals(id) || act.ties(tie))
                    .sorted(Comparator.comparing(act -> act.told().time("heard")))
                    .toList();
            tyings = kind("tied", own);
            tied = tyings.isEmpty() ? null : tyings.get(tyings.size() - 1);
            round = tied == null
                    ? List.of()
                    : standing.stream()
                            .filter(act -> act.onFlowers() && act.subject().equals(tied.subject()))
                            .toList();
            history(standing);
            Fields settings = kind("farm-opened", log).stream()
                    .findFirst()
                    .orElseThrow(() -> wrong("no event says the farm's hours"))
                    .payload
                    .object("settings");
            zone = ZoneId.of(settings.text("zone"));
            limit = LocalTime.parse(settings.text("limit"));
        }

        private String row() {
            return tied.subject().substring(0, tied.subject().lastIndexOf('/'));
        }

        private LocalDate morning(Event act) {
            return LocalDate.parse(act.subject().substring(act.subject().lastIndexOf('/') + 1));
        }

        private String plant() {
            return tied != null && tied.payload.has("plant") ? row() + "/plant/" + tied.payload.number("plant") : null;
        }

        private void history(List<Event> standing) {
            List<Event> flowers = standing.stream().filter(Event::onFlowers).toList();
            List<Event> tyingsOfAll = kind("tied", flowers);
            for (Event act : flowers) {
                List<Event> sameLine =
                        tyingsOfAll.stream().filter(act::sameLine).toList();
                boolean numbered = sameLine.stream()
                        .anyMatch(one -> one.payload.list("ties").size() == one.count());
                if (sameLine.stream().anyMatch(one -> one.ties(tie))) {
                    ofFruit.add(act);
                    history.add(act);
                } else if (!numbered && canBeOf(act)) {
                    history.add(act);
                }
            }
            own.stream().filter(act -> FRUIT.contains(act.type)).forEach(act -> {
                ofFruit.add(act);
                history.add(act);
            });
            ofFruit.sort(Comparator.comparing(Event::done));
            history.sort(Comparator.comparing(Event::done));
        }

        /** Whether an act on a plant can be of this fruit: not if it hangs on another plant of that row. */
        private boolean canBeOf(Event act) {
            String plant = plant();
            return plant == null
                    || !act.payload.has("plant")
                    || !act.subject().startsWith(row() + "/")
                    || plant.equals(row() + "/plant/" + act.payload.number("plant"));
        }

        private int count(String type) {
            return sum(kind(type, round));
        }

        private static int sum(List<Event> acts) {
            return acts.stream().mapToInt(Event::count).sum();
        }

        /** Flowers tied, less those that it was done to. */
        private int strays(String type) {
            return tied == null ? 1 : count("tied") - count(type);
        }

        private boolean late(Event act) {
            return act.done().isAfter(morning(act).atTime(limit).atZone(zone).toInstant());
        }

        private static int males(List<Event> pegged) {
            return pegged.stream()
                    .mapToInt(act -> act.payload.has("males") ? (int) act.payload.number("males") : 2 * act.count())
                    .sum();
        }

        List<String> verdict(String rules) {
            if (own.isEmpty()) {
                return List.of("fruit " + id + " no-report");
            }
            found("pegged-the-evening-before", "purity", pegged());
            found("still-shut-in-the-morning", "purity", shut());
            found("males-pegged", "purity", malesPegged());
            found("males-of-two-other-plants", "care", otherPlants());
            found("pollinated-in-the-window", "purity", inTheWindow());
            found("bagged-and-tied-in-one-visit", "purity", oneVisit());
            if (!rules.equals("rules 1")) {
                found("neighbours-far-or-bagged", "purity", neighbours());
            }
            found("tie-of-own-strip-used-once", "identity", ownStrip());
            found("two-people-behind-it", "identity", twoPeople());
            found("no-open-questions", "identity", questions().isEmpty() ? "holds fruit" : "fails row");
            found("tied-at-harvest", "purity", atHarvest());
            found("mature-at-harvest", "care", mature());
            String verdict = notPure ? "not-pure" : inQuestion ? "in-question" : pure ? "pure" : "unfinished";
            findings.add(0, "fruit " + id + " " + verdict);
            return findings;
        }

        private void found(String rule, String weight, String finding) {
            findings.add(rule + " " + finding);
            if (finding.startsWith("holds") || weight.equals("care")) {
                return;
            }
            pure = false;
            if (finding.startsWith("fails") && weight.equals("purity")) {
                notPure = true;
            } else if (!rule.equals("tied-at-harvest")) {
                inQuestion = true;
            }
        }

        private static final String NOT_SHOWN = "not-shown row";

        private static String row(boolean holds) {
            return holds ? "holds row" : NOT_SHOWN;
        }

        private String pegged() {
            if (tied == null) {
                return NOT_SHOWN;
            }
            Instant midnight = morning(tied).atStartOfDay(zone).toInstant();
            int evening = sum(kind("pegged", round).stream()
                    .filter(act -> act.done().isBefore(midnight))
                    .toList());
            return row(evening > 0 && count("tied") + count("lost") <= evening);
        }

        private String shut() {
            return kind("opened", ofFruit).isEmpty() ? byCounts("opened") : "holds fruit";
        }

        private String byCounts(String type) {
            return row(!kind(type, round).isEmpty() && strays(type) <= 0);
        }

        private String malesPegged() {
            List<Event> pegged = kind("pegged", round);
            return row(!pegged.isEmpty()
                    && pegged.stream().allMatch(act -> act.payload.has("males"))
                    && males(pegged) >= 2 * sum(pegged));
        }

        private String otherPlants() {
            Set<String> sires = new LinkedHashSet<>();
            kind("pollinated", ofFruit).forEach(act -> sires.addAll(act.payload.texts("sires")));
            String dam = plant();
            if (dam != null && sires.contains(dam)) {
                return "fails fruit";
            }
            return sires.size() < 2 || dam == null ? NOT_SHOWN : "holds fruit";
        }

        private String inTheWindow() {
            List<Event> pollinated = kind("pollinated", ofFruit);
            if (tied == null) {
                return NOT_SHOWN;
            }
            if (!pollinated.isEmpty()) {
                return pollinated.stream().anyMatch(this::late) ? "fails fruit" : "holds fruit";
            }
            return kind("pollinated", round).stream().anyMatch(this::late) ? NOT_SHOWN : byCounts("pollinated");
        }

        private String oneVisit() {
            if (tied == null) {
                return NOT_SHOWN;
            }
            if (kind("bagged", ofFruit).stream().anyMatch(tied::sameLine)) {
                return "holds fruit";
            }
            int bagged = sum(kind("bagged", round).stream()
                    .filter(act -> act.by().equals(tied.by())
                            && Duration.between(act.done(), tied.done()).abs().compareTo(ONE_VISIT) <= 0)
                    .toList());
            return row(bagged >= tied.count() && strays("bagged") <= 0);
        }

        private String ownStrip() {
            if (tyings.isEmpty()) {
                return NOT_SHOWN;
            }
            Event only = tyings.get(0);
            Holding holding = holding(only.done());
            return tyings.size() == 1
                            && holding != null
                            && holding.stateAt(only.done()).isEmpty()
                            && holding.worker.equals(only.by())
                    ? "holds fruit"
                    : "fails fruit";
        }

        private String twoPeople() {
            Set<String> all = history.stream().map(Event::by).collect(Collectors.toSet());
            Set<String> ofThis = ofFruit.stream().map(Event::by).collect(Collectors.toSet());
            return ofThis.size() > 1 ? "holds fruit" : row(all.size() > 1);
        }

        private String atHarvest() {
            if (!kind("culled", ofFruit).isEmpty()) {
                return "fails fruit";
            }
            return kind("harvested", ofFruit).isEmpty() ? NOT_SHOWN : "holds fruit";
        }

        private String mature() {
            List<Event> harvested = kind("harvested", ofFruit);
            if (tied == null || harvested.isEmpty()) {
                return NOT_SHOWN;
            }
            Instant last = harvested.get(harvested.size() - 1).done();
            long days = ChronoUnit.DAYS.between(morning(tied), last.atZone(zone).toLocalDate());
            if (days < 45) {
                return "fails fruit";
            }
            return days < ("ARGYROSPERMA".equals(species()) ? 60 : 55) ? NOT_SHOWN : "holds fruit";
        }

        /** What is planted in its row; the last that was laid out there. */
        /** Bagged in time, or nothing of its species nearer than the farm's own distance. */
        private String neighbours() {
            String bagged = oneVisit();
            Fields planting = tied == null ? null : planting();
            List<Event> chosen = kind("standards-chosen", log);
            if (bagged.startsWith("holds") || planting == null || chosen.isEmpty()) {
                return bagged;
            }
            Fields standards = chosen.get(chosen.size() - 1).payload.object("standards");
            Map<String, Fields> near = new TreeMap<>();
            kind("neighbour-measured", log).stream()
                    .map(Event::payload)
                    .filter(measured -> measured.text("planting").equals(planting.text("name")))
                    .forEach(measured ->
                            near.put(measured.object("neighbour").text("name"), measured.object("neighbour")));
            return row(standards.has("isolationMetres")
                    && !near.isEmpty()
                    && near.values().stream()
                            .noneMatch(one -> one.text("species").equals(planting.text("species"))
                                    && one.number("metres") < standards.number("isolationMetres")));
        }

        private String species() {
            Fields planting = planting();
            return planting == null ? null : planting.text("species");
        }

        private Fields planting() {
            Fields found = null;
            for (Event event : kind("planting-laid-out", log)) {
                Fields planting = event.payload.object("planting");
                if (planting.list("rows").stream()
                        .anyMatch(one -> Fields.of(one).text("id").equals(row()))) {
                    found = planting;
                }
            }
            return found;
        }

        // -- whose hands its tie was in --

        /** The custody events that stand. */
        private List<Event> custody() {
            List<Event> custody = new ArrayList<>();
            for (Event event : log) {
                if (Strip.of(event) != null) {
                    custody.add(event);
                } else if (event.type.equals("taken-back") && !event.payload.has("line")) {
                    custody.removeIf(one -> one.subject().equals(event.payload.text("subject"))
                            && one.payload.has("entered")
                            && Objects.equals(
                                    one.payload.object("entered").textOr("text", null), event.payload.text("text")));
                }
            }
            return custody;
        }

        /** In whose hands the tie was at that time; null where it was never given out. */
        private Holding holding(Instant at) {
            List<Holding> holdings = new ArrayList<>();
            for (Event event : custody()) {
                Strip strip = Strip.of(event);
                Instant when = event.payload.time("at");
                boolean within = tie.compareTo(strip.first) >= 0 && tie.compareTo(strip.last) <= 0;
                switch (event.type) {
                    case "strip-issued" -> {
                        if (strip.has(tie)) {
                            holdings.add(new Holding(event.payload.text("worker"), when));
                        }
                    }
                    case "strip-returned", "strip-lost", "strip-handed-over" -> {
                        for (Holding holding : holdings) {
                            if (within && holding.until.equals(Instant.MAX)) {
                                holding.until = when;
                                holding.ended = event.type.equals("strip-handed-over") ? "" : event.type;
                            }
                        }
                        if (event.type.equals("strip-handed-over") && strip.has(tie)) {
                            holdings.add(new Holding(event.payload.text("to"), when));
                        }
                    }
                    default -> {}
                }
            }
            return holdings.stream()
                    .reduce((earlier, later) -> later.since.isAfter(at) ? earlier : later)
                    .orElse(null);
        }

        // -- what is asked and not settled --

        private List<Question> questions() {
            List<Question> open = new ArrayList<>();
            ofFruitAsked().stream().filter(question -> !settled(id, question)).forEach(open::add);
            if (tied != null) {
                ofRoundAsked().stream()
                        .filter(question -> !settled(tied.subject(), question))
                        .forEach(open::add);
            }
            return open;
        }

        private boolean settled(String asked, Question question) {
            return kind("question-settled", log).stream()
                    .map(Event::payload)
                    .filter(settled -> subjects.contains(settled.text("subject")))
                    .anyMatch(settled -> settled.text("kind").equals(question.kind)
                            && (question.ofTie || settled.text("subject").equals(asked))
                            && settled.texts("values").equals(question.values)
                            && new HashSet<>(settled.texts("texts")).equals(question.messages));
        }

        private List<Question> ofFruitAsked() {
            List<Question> asked = new ArrayList<>();
            if (tyings.isEmpty()) {
                asked.add(Question.of("TIE_NOT_REPORTED", true, own, tie));
            }
            if (holding(own.get(0).done()) == null) {
                asked.add(Question.of("TIE_ON_NO_STRIP", true, own, tie));
            } else if (tyings.isEmpty()) {
                gone(own.get(0), asked);
            } else {
                for (Event one : tyings) {
                    if (!gone(one, asked) && !holding(one.done()).worker.equals(one.by())) {
                        asked.add(Question.of("TIE_OF_ANOTHER", true, List.of(one), tie));
                    }
                }
            }
            if (custody().stream()
                    .anyMatch(event -> event.type.equals("tie-damaged")
                            && event.payload.text("tie").equals(tie))) {
                asked.add(Question.of("TIE_DAMAGED", true, own, tie));
            }
            int times = (int) standing(known).stream()
                    .filter(act -> act.type.equals("tied"))
                    .flatMap(act -> act.payload.texts("ties").stream())
                    .filter(tie::equals)
                    .count();
            if (times > 1) {
                asked.add(Question.of("TIE_USED_TWICE", true, tyings, tie, times));
            }
            List<Event> harvested = kind("harvested", own);
            if (harvested.size() > 1) {
                asked.add(Question.of("HARVESTED_TWICE", false, harvested, tie, harvested.size()));
            }
            if (!harvested.isEmpty() && !kind("culled", own).isEmpty()) {
                asked.add(Question.of("CULLED_AND_HARVESTED", false, read(own, "culled", "harvested"), tie));
            }
            for (Event act : own) {
                if (tied != null && FRUIT.contains(act.type) && act.payload.has("rowSaid")) {
                    String said = act.payload.text("rowSaid");
                    if (!said.equals(row())) {
                        asked.add(
                                Question.of("ROW_DIFFERS", false, List.of(act, tied), label(said), tie, label(row())));
                    }
                }
            }
            return asked;
        }

        private boolean gone(Event act, List<Question> asked) {
            String state = holding(act.done()).stateAt(act.done());
            if (!state.isEmpty()) {
                String kind = state.equals("strip-lost") ? "TIE_OF_LOST_STRIP" : "TIE_OF_RETURNED_STRIP";
                asked.add(Question.of(kind, true, List.of(act), tie));
            }
            return !state.isEmpty();
        }

        private static String label(String row) {
            return row.substring(row.lastIndexOf('/') + 1);
        }

        private static List<Event> read(List<Event> acts, String... types) {
            return acts.stream()
                    .filter(act -> List.of(types).contains(act.type))
                    .toList();
        }

        private List<Question> ofRoundAsked() {
            List<Question> asked = new ArrayList<>();
            int pegged = count("pegged");
            int males = males(kind("pegged", round));
            if (males < 2 * pegged) {
                asked.add(Question.of("MALES_SHORT", false, kind("pegged", round), males, pegged, 2 * pegged - males));
            }
            over("OPENED_OVER_PEGGED", "opened", "pegged", asked);
            over("POLLINATED_OVER_OPENED", "pollinated", "opened", asked);
            over("BAGGED_OVER_POLLINATED", "bagged", "pollinated", asked);
            over("TIED_OVER_BAGGED", "tied", "bagged", asked);
            int ties = count("tied");
            int lost = count("lost");
            if (lost > 0 && ties + lost > pegged) {
                asked.add(Question.of(
                        "MORE_THAN_PEGGED", false, read(round, "pegged", "tied", "lost"), ties, lost, pegged));
            }
            return asked;
        }

        private void over(String kind, String later, String earlier, List<Question> asked) {
            if (count(later) > count(earlier)) {
                asked.add(Question.of(kind, false, read(round, later, earlier), count(later), count(earlier)));
            }
        }
    }
}
