package duskpeg.messaging.text;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import duskpeg.core.act.TextId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Texts.Text;
import java.lang.reflect.Proxy;
import java.sql.SQLRecoverableException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(30)
class HearingTest {

    /** The ids of the texts of each command, in the order in which the commands came. */
    private final List<List<String>> heard = Collections.synchronizedList(new ArrayList<>());

    private final CountDownLatch firstIsHeard = new CountDownLatch(1);
    private final CountDownLatch othersWait = new CountDownLatch(1);

    private Hearing hearing(Function<List<String>, List<String>> desk) {
        CommandGateway gateway = (CommandGateway) Proxy.newProxyInstance(
                HearingTest.class.getClassLoader(), new Class<?>[] {CommandGateway.class}, (proxy, method, values) -> {
                    boolean several = values[0] instanceof HearTexts;
                    List<HearText> texts =
                            values[0] instanceof HearTexts many ? many.texts() : List.of((HearText) values[0]);
                    List<String> ids =
                            texts.stream().map(text -> text.text().id().value()).toList();
                    heard.add(ids);
                    List<String> answers = desk.apply(ids);
                    return several ? answers : answers.get(0);
                });
        return new Hearing(gateway);
    }

    private static HearText text(String id) {
        return new HearText(
                new Text(new TextId(new FarmId("farm"), id), "+15555550101", "2 12 7", "00", Instant.EPOCH));
    }

    /** The first is being heard while the others come. */
    private List<String> firstHoldsUp(List<String> ids) {
        if (ids.contains("first")) {
            firstIsHeard.countDown();
            try {
                assertThat(othersWait.await(20, TimeUnit.SECONDS)).isTrue();
            } catch (InterruptedException e) {
                throw new IllegalStateException(e);
            }
        }
        return ids.stream().map(id -> "heard " + id).toList();
    }

    private Map<String, CompletableFuture<String>> send(Hearing hearing, List<String> others) throws Exception {
        Map<String, CompletableFuture<String>> answers = new TreeMap<>();
        answers.put("first", CompletableFuture.supplyAsync(() -> hearing.hear(text("first")), this::run));
        assertThat(firstIsHeard.await(20, TimeUnit.SECONDS)).isTrue();
        List<Thread> threads = new ArrayList<>();
        for (String other : others) {
            answers.put(
                    other,
                    CompletableFuture.supplyAsync(() -> hearing.hear(text(other)), work -> threads.add(run(work))));
        }
        for (Thread thread : threads) {
            while (thread.getState() != Thread.State.WAITING) {
                Thread.onSpinWait();
            }
        }
        othersWait.countDown();
        return answers;
    }

    private Thread run(Runnable work) {
        Thread thread = new Thread(work);
        thread.start();
        return thread;
    }

    @Test
    void whoComesAloneIsHeardAtOnce() {
        Hearing hearing = hearing(ids -> List.of("heard"));

        assertThat(hearing.hear(text("one"))).isEqualTo("heard");
        assertThat(hearing.hear(text("two"))).isEqualTo("heard");

        assertThat(heard).containsExactly(List.of("one"), List.of("two"));
    }

    @Test
    void thoseThatComeMeanwhileAreHeardTogetherAndEachHasItsOwnAnswer() throws Exception {
        Hearing hearing = hearing(this::firstHoldsUp);

        Map<String, CompletableFuture<String>> answers = send(hearing, List.of("a", "b", "c"));

        for (String id : answers.keySet()) {
            assertThat(answers.get(id).get()).isEqualTo("heard " + id);
        }
        assertThat(heard).hasSize(2);
        assertThat(heard.get(1)).containsExactlyInAnyOrder("a", "b", "c");
    }

    @Test
    void oneThatCantBeHeardFailsAlone() throws Exception {
        Hearing hearing = hearing(ids -> {
            if (ids.contains("bad")) {
                throw new IllegalStateException("no");
            }
            return firstHoldsUp(ids);
        });

        Map<String, CompletableFuture<String>> answers = send(hearing, List.of("a", "bad", "c"));

        assertThat(answers.get("a").get()).isEqualTo("heard a");
        assertThat(answers.get("c").get()).isEqualTo("heard c");
        assertThatThrownBy(() -> answers.get("bad").get())
                .isInstanceOf(ExecutionException.class)
                .hasRootCauseMessage("no");
        assertThat(hearing.hear(text("later"))).isEqualTo("heard later");
    }

    @Test
    void anErrorOfTheJvmLeavesNobodyWaiting() throws Exception {
        Hearing hearing = hearing(ids -> {
            if (ids.contains("deep")) {
                throw new StackOverflowError("too deep");
            }
            return firstHoldsUp(ids);
        });

        Map<String, CompletableFuture<String>> answers = send(hearing, List.of("a", "deep", "c"));

        assertThat(answers.get("a").get()).isEqualTo("heard a");
        assertThat(answers.get("c").get()).isEqualTo("heard c");
        assertThatThrownBy(() -> answers.get("deep").get()).hasRootCauseInstanceOf(StackOverflowError.class);
    }

    @Test
    void nobodyIsTriedAloneWhereTheDatabaseIsGone() throws Exception {
        Hearing hearing = hearing(ids -> {
            if (ids.contains("a")) {
                throw new IllegalStateException(new SQLRecoverableException("gone"));
            }
            return firstHoldsUp(ids);
        });

        Map<String, CompletableFuture<String>> answers = send(hearing, List.of("a", "b"));

        for (String id : List.of("a", "b")) {
            assertThatThrownBy(() -> answers.get(id).get()).hasRootCauseMessage("gone");
        }
        assertThat(heard).hasSize(2);
    }
}
