package duskpeg.messaging.voice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.twilio.exception.ApiException;
import com.twilio.http.HttpClient;
import com.twilio.http.Request;
import com.twilio.http.Response;
import com.twilio.http.TwilioRestClient;
import duskpeg.core.farm.FarmId;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** What is asked of the carrier, seen where its SDK would send it. */
class CarrierCallBackTest {

    private final List<Request> asked = new ArrayList<>();

    private CallBack answering(String body, int status) {
        HttpClient network = new HttpClient() {
            @Override
            public Response makeRequest(Request request) {
                asked.add(request);
                return new Response(body, status);
            }
        };
        TwilioRestClient carrier = new TwilioRestClient.Builder("ACtest", "token")
                .httpClient(network)
                .build();
        return new CarrierCallBack(carrier, farm -> "+15555550100", "https://farm.example.org");
    }

    @Test
    void asksForACallThatComesBackHere() {
        answering("{\"sid\":\"CA1\"}", 201).call(new FarmId("hill"), "+15555550101");

        assertThat(asked).singleElement().satisfies(request -> {
            assertThat(request.getUrl()).endsWith("/2010-04-01/Accounts/ACtest/Calls.json");
            assertThat(request.getPostParams().get("To")).containsExactly("+15555550101");
            assertThat(request.getPostParams().get("From")).containsExactly("+15555550100");
            assertThat(request.getPostParams().get("Url")).containsExactly("https://farm.example.org/field/voice");
        });
    }

    @Test
    void aRefusalIsSaid() {
        CallBack refused = answering("{\"code\":21211,\"message\":\"no such number\",\"status\":400}", 400);

        assertThatThrownBy(() -> refused.call(new FarmId("hill"), "+15555550101"))
                .isInstanceOf(ApiException.class);
        assertThat(asked).hasSize(1);
    }
}
