import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javax.xml.stream.XMLInputFactory;
import javax.xml.stream.XMLStreamConstants;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamReader;

/**
 * An answer to the carrier, taken apart by the JDK's own XML reader.
 *
 * @param verbs the names of the elements in {@code Response}, at any depth, in order
 * @param words what is in each of them that is not blank
 * @param next where the carrier posts next: the first {@code action}, or the address in a {@code Redirect}
 */
record Twiml(List<String> verbs, List<String> words, Optional<String> next) {

    private static final XMLInputFactory XML = xml();

    private static XMLInputFactory xml() {
        XMLInputFactory factory = XMLInputFactory.newInstance();
        factory.setProperty(XMLInputFactory.SUPPORT_DTD, false);
        factory.setProperty(XMLInputFactory.IS_COALESCING, true);
        return factory;
    }

    /**
     * @throws IOException if it is not well-formed, or no {@code Response}
     */
    static Twiml of(byte[] body) throws IOException {
        List<String> verbs = new ArrayList<>();
        List<String> words = new ArrayList<>();
        String next = null;
        int depth = 0;
        String open = "";
        try {
            XMLStreamReader reader = XML.createXMLStreamReader(new ByteArrayInputStream(body));
            while (reader.hasNext()) {
                int event = reader.next();
                if (event == XMLStreamConstants.START_ELEMENT) {
                    open = reader.getLocalName();
                    if (depth++ == 0) {
                        if (!open.equals("Response")) {
                            throw new IOException("not a Response: " + open);
                        }
                        continue;
                    }
                    verbs.add(open);
                    next = next == null ? reader.getAttributeValue(null, "action") : next;
                } else if (event == XMLStreamConstants.END_ELEMENT) {
                    depth--;
                } else if (event == XMLStreamConstants.CHARACTERS && !reader.isWhiteSpace()) {
                    words.add(reader.getText());
                    next = next == null && open.equals("Redirect")
                            ? reader.getText().strip()
                            : next;
                }
            }
        } catch (XMLStreamException e) {
            throw new IOException("not well-formed: " + e.getMessage(), e);
        }
        return new Twiml(List.copyOf(verbs), List.copyOf(words), Optional.ofNullable(next));
    }

    /** What is wrong with it as the answer to a text; empty if nothing is. */
    Optional<String> wrongAsText() {
        if (!verbs.equals(List.of("Message")) || words.size() != 1) {
            return Optional.of("not one message: " + this);
        }
        int septets = Segment.septets(words.get(0));
        return septets >= 1 && septets <= Segment.LONGEST
                ? Optional.empty()
                : Optional.of((septets < 0 ? "a character no text can have: " : septets + " septets: ") + words.get(0));
    }

    /**
     * One text segment, counted here once more and on its own: 160 septets of the GSM 7-bit default alphabet (3GPP TS
     * 23.038, 6.2.1), two for a character of its extension (6.2.1.1).
     */
    private static final class Segment {

        static final int LONGEST = 160;
        private static final byte[] SEPTETS = new byte[0x2100];

        static {
            String one = "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?¡ABCDEFGHIJKLMNOPQRSTUVWXYZ"
                    + "ÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà";
            one.chars().forEach(character -> SEPTETS[character] = 1);
            "\f^{}\\[~]|€".chars().forEach(character -> SEPTETS[character] = 2);
        }

        /** How long it is; -1 if it has a character that a segment can't have. */
        static int septets(String words) {
            int septets = 0;
            for (int i = 0; i < words.length(); i++) {
                char character = words.charAt(i);
                if (character >= SEPTETS.length || SEPTETS[character] == 0) {
                    return -1;
                }
                septets += SEPTETS[character];
            }
            return septets;
        }
    }
}
