import java.io.ByteArrayOutputStream;
import java.net.URLEncoder;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.zone.ZoneOffsetTransition;
import java.util.List;
import java.util.Random;

/**
 * Makes requests to the webhook for texts as nobody should send them. Each is made of a seed and an index alone, so
 * that any of them can be sent again.
 */
final class HostileTexts {

    /** What a request is, and how many of 10,000 are of that kind. */
    enum Kind {
        VALID(1200),
        NEAR_MISS(3244),
        LINES(250),
        UNICODE(900),
        BYTES(600),
        DIGITS(500),
        CODE(400),
        SIGNS(600),
        HOMOGLYPHS(400),
        CHARSET(300),
        FORM(400),
        SID(200),
        SID_AGAIN(500),
        STRANGER(300),
        CLOCK(150),
        LONG(2),
        HUGE(4),
        HTTP(50);

        private final int share;

        Kind(int share) {
            this.share = share;
        }

        static Kind of(int point) {
            int rest = point;
            for (Kind kind : values()) {
                rest -= kind.share;
                if (rest < 0) {
                    return kind;
                }
            }
            throw new IllegalArgumentException("not one of 10,000: " + point);
        }
    }

    /** How a text is found again in the database. */
    enum Stored {
        /** Under its own sid. */
        SID,
        /** Under the digest of its sid, which is no sid a carrier gives. */
        DIGEST,
        /** Under an id that the server gave. */
        NEW_ID,
        /** There was nothing in it, so not at all. */
        NOT
    }

    /**
     * A request.
     *
     * @param bytes all of it, as it goes over the wire
     * @param kind what it is
     * @param stored how it is found again
     * @param sid its sid; empty if it has none
     * @param mayRefuse whether it is no proper request, so that it may be refused, but not left without an answer
     * @param last whether the connection must end with it
     */
    record Request(byte[] bytes, Kind kind, Stored stored, String sid, boolean mayRefuse, boolean last) {

        /** The request with its bytes made readable, for people. */
        String shown() {
            String text = new String(bytes, 0, Math.min(bytes.length, 1200), StandardCharsets.ISO_8859_1);
            StringBuilder shown = new StringBuilder();
            text.chars()
                    .forEach(character -> shown.append(
                            character >= ' ' && character < 127 || character == '\n'
                                    ? String.valueOf((char) character)
                                    : character == '\r' ? "" : "\\x%02x".formatted(character)));
            return bytes.length > 1200 ? shown + "... (" + bytes.length + " bytes)" : shown.toString();
        }
    }

    static final int TO_A_SHARED_SID = 64;
    private static final int MORNINGS = 2000;
    private static final LocalDate FIRST = LocalDate.of(2024, 1, 1);
    private static final String FORM = "application/x-www-form-urlencoded";
    private static final List<String> CODE = List.of(
            "'; drop table event; --",
            "1 12 14'); delete from field_text; --",
            "' or '1'='1",
            "<Response><Message>hi</Message></Response>",
            "</Message></Response>",
            "]]>",
            "<!DOCTYPE a [<!ENTITY b SYSTEM \"file:///etc/passwd\">]><a>&b;</a>",
            "&lt;&amp;&#0;&#x1F;",
            "${jndi:ldap://127.0.0.1/a}",
            "#{T(java.lang.Runtime).getRuntime()}",
            "__${7*7}__::.x",
            "{0} {count} {count, plural, one {x} other {y}}",
            "{{7*7}} <%= 7*7 %> $(id) `id`",
            "%s%n%x%1$s",
            "\\u0000 \\x00 \\n",
            "1 12 14\r\nX-Injected: yes\r\n\r\n",
            "../../../../etc/passwd",
            "javascript:alert(1)//");
    private static final List<String> SIGNS = List.of(
            "\uD83C\uDF3C",
            "\uD83D\uDC68\u200D\uD83D\uDC69\u200D\uD83D\uDC67",
            "1\uFE0F\u20E3",
            "\uD83C\uDFFD",
            "\uD83C\uDDFF\uD83C\uDDE6",
            "\u202E",
            "\u2066",
            "\u200F",
            "\u200B",
            "\u00AD",
            "\uFEFF",
            "\uFFFD",
            "\u0007",
            "\u0000",
            "\u001B[2J",
            "\u007F",
            "\u0085",
            "\u2028",
            "\u2029",
            "\uD800",
            "\uDC00",
            "\u0301\u0301\u0301",
            "\u05D0\u05D1",
            "\u0627\u0644",
            "\u0661\u0662",
            "\u00BD",
            "\u2162",
            "\u3000",
            "\u2012",
            "\u2212",
            "\uFF11",
            "\uDB40\uDC41",
            "\u0489",
            "\uFDFA",
            "\u1D7CF");
    private static final String PLAIN = "aceiopxyABEHKMOPT01";
    private static final String ALIKE = "асеіорхуАВЕНКМОРТОl";

    private final long seed;
    private final FieldLines lines;
    private final List<String> phones;
    private final ZoneId zone;

    HostileTexts(long seed, FieldLines lines, List<String> phones, ZoneId zone) {
        this.seed = seed;
        this.lines = lines;
        this.phones = phones;
        this.zone = zone;
    }

    /** The randomness of an index: any two of them have nothing to do with each other. */
    static Random random(long seed, int index) {
        long mixed = (seed * 0x9E3779B97F4A7C15L) ^ (index * 0xBF58476D1CE4E5B9L);
        mixed = (mixed ^ (mixed >>> 31)) * 0x94D049BB133111EBL;
        return new Random(mixed ^ (mixed >>> 29));
    }

    Request request(int index) {
        Random random = random(seed, index);
        Kind kind = Kind.of(random.nextInt(10_000));
        Form form = new Form(index, kind, random);
        switch (kind) {
            case VALID -> form.words = lines.line(random);
            case NEAR_MISS, SID, SID_AGAIN, CLOCK -> form.words = FieldLines.slip(lines.line(random), random);
            case STRANGER -> form.words = lines.line(random);
            case LINES -> form.words = several(random, 2 + random.nextInt(12));
            case UNICODE -> form.words = unicode(random, 1 + random.nextInt(80));
            case BYTES -> form.bytes = bytes(random);
            case DIGITS -> form.words = digits(random, 1 + random.nextInt(60));
            case CODE -> form.words = mixed(CODE, random);
            case SIGNS -> form.words = mixed(SIGNS, random);
            case HOMOGLYPHS -> form.words = homoglyphs(random);
            case CHARSET, FORM, HTTP -> form.words = random.nextBoolean() ? lines.line(random) : digits(random, 9);
            case LONG -> form.words = endless(random);
            case HUGE -> form.words = "1 12 14\n".repeat(random.nextInt(130_000));
        }
        return form.request();
    }

    private String several(Random random, int count) {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < count; i++) {
            String line = lines.line(random);
            text.append(random.nextInt(3) == 0 ? FieldLines.slip(line, random) : line)
                    .append(random.nextInt(4) == 0 ? ";" : "\n");
        }
        return text.toString();
    }

    private static String unicode(Random random, int length) {
        StringBuilder text = new StringBuilder();
        int block = random.nextInt(0x300) << 8;
        for (int i = 0; i < length; i++) {
            int point = switch (random.nextInt(4)) {
                case 0 -> random.nextInt(0x110000);
                case 1 -> random.nextInt(0x180);
                default -> Math.min(0x10FFFF, block + random.nextInt(0x100));
            };
            text.appendCodePoint(point); // halves of surrogate pairs among them
        }
        return text.toString();
    }

    private static byte[] bytes(Random random) {
        byte[] bytes = new byte[1 + random.nextInt(120)];
        random.nextBytes(bytes);
        return bytes;
    }

    private static String digits(Random random, int length) {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < length; i++) {
            text.append("0123456789012345678901234567890 *#-+.,/\n".charAt(random.nextInt(40)));
        }
        return text.toString();
    }

    private String mixed(List<String> pieces, Random random) {
        StringBuilder text = new StringBuilder(random.nextBoolean() ? "" : lines.line(random));
        for (int times = 1 + random.nextInt(3); times > 0; times--) {
            text.insert(random.nextInt(text.length() + 1), pieces.get(random.nextInt(pieces.size())));
        }
        return text.toString();
    }

    private String homoglyphs(Random random) {
        StringBuilder text = new StringBuilder(lines.line(random));
        for (int i = 0; i < text.length(); i++) {
            int alike = PLAIN.indexOf(text.charAt(i));
            if (alike >= 0 && random.nextBoolean()) {
                text.setCharAt(i, ALIKE.charAt(alike));
            }
        }
        return text.toString();
    }

    /** As much as the server keeps of a text, and more: 10,000 lines, 10,000 digits, one line without an end. */
    private String endless(Random random) {
        return switch (random.nextInt(8)) {
            case 0 -> several(random, 10_000);
            case 1 -> "1 12 14\n".repeat(10_000);
            case 2 -> digits(random, 10_000).replaceAll("[^0-9]", "7");
            case 3 -> "2345 12 6 " + "004711 ".repeat(10_000);
            case 4 -> "9 12\n0\n".repeat(5_000);
            case 5 -> "5 3 004711-005709\n".repeat(2_000);
            case 6 -> unicode(random, 60_000);
            default -> "\n;".repeat(50_000) + lines.line(random);
        };
    }

    /** A time in some season of six years, often where clocks change, at noon, at midnight or at the cut-off. */
    Instant clock(Random random) {
        Instant at = FIRST.plusDays(random.nextInt(MORNINGS))
                .atTime(random.nextInt(24), random.nextInt(60), random.nextInt(60))
                .atZone(zone)
                .toInstant();
        int odd = random.nextInt(10);
        if (odd == 0) {
            ZoneOffsetTransition change = zone.getRules().nextTransition(at);
            return (change == null ? at : change.getInstant()).plusSeconds(random.nextInt(14_401) - 7_200L);
        }
        if (odd == 1) {
            LocalTime edge = List.of(LocalTime.MIDNIGHT, LocalTime.NOON, LocalTime.of(10, 0))
                    .get(random.nextInt(3));
            return at.atZone(zone)
                    .toLocalDate()
                    .atTime(edge)
                    .atZone(zone)
                    .toInstant()
                    .plusMillis(random.nextInt(2_001) - 1_000L);
        }
        return at;
    }

    private static byte[] utf8(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    /** One form on its way to the wire. */
    private final class Form {

        private final Kind kind;
        private final Random random;
        private String path = "/field/text";
        private String sid;
        private String from;
        private String words = "";
        private byte[] bytes;
        private String now;
        private String type = FORM;
        private Stored stored = Stored.SID;

        Form(int index, Kind kind, Random random) {
            this.kind = kind;
            this.random = random;
            sid = kind == Kind.SID_AGAIN ? "fa" + seed + "-" + index / TO_A_SHARED_SID : "fz" + seed + "-" + index;
            from = phones.get(random.nextInt(phones.size()));
            now = clock(random).toString();
        }

        Request request() {
            return switch (kind) {
                case SID -> oddSid();
                case STRANGER -> {
                    from = stranger();
                    yield done(body(false), false);
                }
                case CLOCK -> oddClock();
                case CHARSET -> charset();
                case FORM -> oddForm();
                case HTTP -> oddHttp();
                case HUGE -> huge();
                default -> done(body(kind == Kind.BYTES && random.nextInt(3) == 0), false);
            };
        }

        private Request oddSid() {
            String more = switch (random.nextInt(4)) {
                case 0 -> "x".repeat(1 + random.nextInt(20_000));
                case 1 -> " \u00e9\uD83C\uDF3C<&>";
                case 2 -> "'; drop table event; --";
                default -> "\n\u0000";
            };
            sid = sid + more;
            stored = sid.matches("[A-Za-z0-9_-]{1,64}") ? Stored.SID : Stored.DIGEST;
            return done(body(false), false);
        }

        private String stranger() {
            return switch (random.nextInt(6)) {
                case 0 -> "+1555555%04d".formatted(130 + random.nextInt(70));
                case 1 -> phones.get(0).substring(1);
                case 2 -> "+".repeat(1 + random.nextInt(9_999));
                case 3 -> unicode(random, 30);
                case 4 -> "anonymous";
                default -> from + " ";
            };
        }

        private Request oddClock() {
            now = List.of(
                            "1970-01-01T00:00:00Z",
                            "1900-01-01T00:00:00Z",
                            "2999-12-31T23:59:59+18:00",
                            "+999999999-12-31T23:59:59-18:00",
                            "-999999999-01-01T00:00:00+18:00",
                            "0000-01-01T00:00:00Z",
                            "yesterday",
                            "",
                            "2026-02-30T00:00:00Z",
                            "\u00e9",
                            "2011-12-30T12:00:00+13:00",
                            "2016-12-31T23:59:60Z")
                    .get(random.nextInt(12));
            return done(body(false), true);
        }

        /** The carrier always sends UTF-8; what says that it is something else must be answered all the same. */
        private Request charset() {
            String name = List.of("utf-16", "utf-16le", "iso-8859-1", "utf-7", "nonesuch", "\"", "us-ascii")
                    .get(random.nextInt(7));
            type = FORM + "; charset=" + name;
            words = words + " é\u0416";
            Charset charset = switch (name) {
                case "utf-16" -> StandardCharsets.UTF_16;
                case "utf-16le" -> StandardCharsets.UTF_16LE;
                default -> StandardCharsets.ISO_8859_1;
            };
            bytes = words.getBytes(charset);
            return done(body(random.nextInt(3) == 0), false);
        }

        private Request oddForm() {
            switch (random.nextInt(14)) {
                case 0 -> {
                    return done(concat(body(false), utf8("&Body=9&From=%2B15555550199&MessageSid=second")), false);
                }
                case 1 -> {
                    return done(utf8("MessageSid=" + sid), false);
                }
                case 2 -> {
                    return done(utf8("MessageSid=" + sid + "&From=" + Wire.encode(from)), false);
                }
                case 3 -> {
                    stored = Stored.NEW_ID;
                    return done(utf8("From=" + Wire.encode(from) + "&Body=" + Wire.encode(words)), false);
                }
                case 4 -> {
                    return done(utf8("MessageSid=" + sid + "&Body=" + Wire.encode(words)), false);
                }
                case 5 -> {
                    stored = Stored.NOT;
                    return done(new byte[0], false);
                }
                case 6 -> {
                    stored = Stored.NOT;
                    type = "application/json";
                    return done(utf8("{\"From\":\"" + from + "\",\"Body\":\"1 12 14\"}"), false);
                }
                case 7 -> {
                    stored = Stored.NOT;
                    type = "multipart/form-data; boundary=b";
                    return done(
                            utf8("--b\r\nContent-Disposition: form-data; name=\"Body\"\r\n\r\n1 12 14\r\n--b--\r\n"),
                            false);
                }
                case 8 -> {
                    stored = Stored.NOT;
                    type = random.nextBoolean() ? "" : "text/plain;;;=";
                    return done(body(false), false);
                }
                case 9 -> {
                    path = "/field/text?" + new String(body(false), StandardCharsets.ISO_8859_1);
                    return done(new byte[0], false);
                }
                case 10 -> {
                    return done(concat(body(false), utf8("&%zz=%&%=%f&&&==&a=%u0041&Body=%C3%28")), false);
                }
                case 11 -> {
                    return done(concat(body(false), utf8("&p=1".repeat(1 + random.nextInt(3_000)))), false);
                }
                case 12 -> {
                    return done(utf8("MessageSid=" + sid + "&From=" + Wire.encode(from) + "&Body=%" + words), false);
                }
                default -> {
                    stored = Stored.NOT;
                    byte[] garbage = HostileTexts.bytes(random);
                    type = random.nextBoolean() ? "application/octet-stream" : "application/xml";
                    return done(garbage, false);
                }
            }
        }

        /** Up to 1 MB; and more than the server reads, which it cannot keep but must answer. */
        private Request huge() {
            if (random.nextInt(4) > 0) {
                return done(body(false), false);
            }
            stored = Stored.NOT;
            return done(concat(body(false), utf8("&Pad=" + "9".repeat(4_200_000 + random.nextInt(500_000)))), false);
        }

        /** What is no HTTP, or not enough of it: it may be refused. */
        private Request oddHttp() {
            byte[] body = body(false);
            String head = "POST /field/text HTTP/1.1\r\nHost: 127.0.0.1\r\n";
            byte[] garbage = HostileTexts.bytes(random);
            garbage[0] = 'x';
            byte[] all = switch (random.nextInt(10)) {
                case 0 -> concat(garbage, utf8("\r\n\r\n"));
                case 1 -> utf8("POST /field/text HTTP/1.1\r\nContent-Length: 0\r\n\r\n");
                case 2 ->
                    utf8(head + "Content-Type: " + FORM + "\r\nContent-Length: " + (body.length + 500)
                            + "\r\n\r\nFrom=");
                case 3 ->
                    utf8(head + "Content-Type: " + FORM
                            + "\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\nFrom=\r\n0\r\n\r\n");
                case 4 -> utf8(head + "Content-Length: 1\r\nContent-Length: 2\r\n\r\nxx");
                case 5 -> utf8(head + "X-Long: " + "a".repeat(100_000) + "\r\nContent-Length: 0\r\n\r\n");
                case 6 -> utf8("GET /field/text HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n");
                case 7 -> utf8("POST /field/text%00 HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 0\r\n\r\n");
                case 8 -> utf8("POST /field/text HTTP/9.9\r\nHost: 127.0.0.1\r\nContent-Length: 0\r\n\r\n");
                default -> utf8(head + "Content-Length: -1\r\n\r\n");
            };
            return new Request(all, kind, Stored.NOT, "", true, true);
        }

        /** The usual form, with its sid first. */
        private byte[] body(boolean raw) {
            byte[] said = bytes == null ? utf8(words.replaceAll("[\uD800-\uDFFF]", "")) : bytes;
            if (bytes == null && words.length() != new String(said, StandardCharsets.UTF_8).length()) {
                said = loneSurrogatesToo();
            }
            return concat(
                    utf8("MessageSid=" + Wire.encode(sid) + "&From=" + Wire.encode(from) + "&To=%2B15555550100&Body="),
                    raw ? said : percent(said));
        }

        /** UTF-8 as careless programs make it, with half of a surrogate pair as three bytes. */
        private byte[] loneSurrogatesToo() {
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            words.codePoints().forEach(point -> {
                if (point >= 0xD800 && point <= 0xDFFF) {
                    out.write(0xE0 | point >> 12);
                    out.write(0x80 | point >> 6 & 0x3F);
                    out.write(0x80 | point & 0x3F);
                } else {
                    out.writeBytes(utf8(Character.toString(point)));
                }
            });
            return out.toByteArray();
        }

        private Request done(byte[] body, boolean mayRefuse) {
            String head = "POST " + path + " HTTP/1.1\r\nHost: 127.0.0.1\r\n"
                    + (type.isEmpty() ? "" : "Content-Type: " + type + "\r\n")
                    + "Content-Length: " + body.length + "\r\nX-Duskpeg-Now: " + now + "\r\n\r\n";
            boolean has = stored == Stored.SID || stored == Stored.DIGEST;
            return new Request(concat(utf8(head), body), kind, stored, has ? sid : "", mayRefuse, false);
        }
    }

    private static byte[] percent(byte[] bytes) {
        return utf8(URLEncoder.encode(new String(bytes, StandardCharsets.ISO_8859_1), StandardCharsets.ISO_8859_1));
    }

    private static byte[] concat(byte[] one, byte[] other) {
        byte[] both = new byte[one.length + other.length];
        System.arraycopy(one, 0, both, 0, one.length);
        System.arraycopy(other, 0, both, one.length, other.length);
        return both;
    }
}
