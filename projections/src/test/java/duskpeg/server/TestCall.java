package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringReader;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.atomic.AtomicInteger;
import javax.xml.parsers.DocumentBuilderFactory;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

/** A call to the farm, led as the carrier leads one: it knows nothing but what the server's answers say. */
final class TestCall {

    private static final AtomicInteger SIDS = new AtomicInteger();

    private final TestFarm farm;
    private final String number;
    private final String sid = "CAtest" + SIDS.incrementAndGet();
    private Element response;

    TestCall(TestFarm farm, String number) {
        this.farm = farm;
        this.number = number;
        response = post("/field/voice", Map.of("CallStatus", "ringing"));
    }

    String sid() {
        return sid;
    }

    /** Keys a report and #. */
    TestCall keys(String digits) {
        return answer(digits, "#");
    }

    /** Presses one key where one is waited for. */
    TestCall key(String key) {
        assertThat(gather().getAttribute("numDigits")).isEqualTo("1");
        return answer(key, "");
    }

    /** Waits until nothing more is waited for. */
    TestCall waits() {
        return answer("", "");
    }

    TestCall answer(String digits, String endedBy) {
        response = step(digits, endedBy);
        return this;
    }

    /** Keys and confirms, and gives what was answered. */
    String reports(String digits) {
        return keys(digits).key("1").said();
    }

    /** What the server answers to that, without going on. */
    Element step(String digits, String endedBy) {
        return post(
                gather().getAttribute("action"),
                Map.of("CallStatus", "in-progress", "Digits", digits, "FinishedOnKey", endedBy));
    }

    /** What is said, in order. */
    String said() {
        return said(response);
    }

    static String said(Element response) {
        NodeList all = response.getElementsByTagName("*");
        List<String> said = new ArrayList<>();
        for (int i = 0; i < all.getLength(); i++) {
            if (List.of("Say", "Play").contains(all.item(i).getNodeName())) {
                said.add(all.item(i).getTextContent());
            }
        }
        return String.join(" ", said);
    }

    boolean has(String verb) {
        return response.getElementsByTagName(verb).getLength() > 0;
    }

    String attribute(String verb, String name) {
        return ((Element) response.getElementsByTagName(verb).item(0)).getAttribute(name);
    }

    private Element gather() {
        assertThat(has("Gather")).as(said()).isTrue();
        return (Element) response.getElementsByTagName("Gather").item(0);
    }

    private Element post(String path, Map<String, String> more) {
        Map<String, String> form =
                new TreeMap<>(Map.of("CallSid", sid, "From", number, "To", "+15555550100", "Direction", "inbound"));
        form.putAll(more);
        HttpResponse<String> answer = farm.post(path, form);
        assertThat(answer.statusCode()).isEqualTo(200);
        return parse(answer.body());
    }

    static Element parse(String xml) {
        try {
            Element response = DocumentBuilderFactory.newInstance()
                    .newDocumentBuilder()
                    .parse(new InputSource(new StringReader(xml)))
                    .getDocumentElement();
            assertThat(response.getNodeName()).isEqualTo("Response");
            return response;
        } catch (Exception e) {
            throw new AssertionError(xml, e);
        }
    }
}
