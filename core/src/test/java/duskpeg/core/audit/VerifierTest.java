package duskpeg.core.audit;

import static duskpeg.core.Farm.fruit;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIOException;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.Farm;
import duskpeg.core.act.Act;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.audit.Check.Result;
import duskpeg.core.audit.Check.What;
import duskpeg.core.audit.Verifier.Outcome;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Entered;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.Strip;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.KeptInMemory;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.SignerKey;
import duskpeg.core.ledger.Tree;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Species;
import duskpeg.core.purity.Rules;
import duskpeg.core.store.EventJson;
import duskpeg.core.store.StoredEvents;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyPairGenerator;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import java.util.stream.IntStream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

/** What a farm that cheats, and has its own key to do it with, can and can't do unseen. */
class VerifierTest {

    private static final String ORIGIN = "log.example/hill";
    private static final String TIE = "004711";
    private static final Instant MAY = Instant.parse("2026-05-04T07:30:00Z");
    private static final SignerKey FARMS_OWN = key();

    private static final List<FieldEvent> SETUP = List.of(
            new FarmEvent.Opened(Farm.HILL, Farm.SETTINGS, MAY),
            new FarmEvent.LaidOut(
                    Farm.HILL,
                    new Planting(
                            "Dam side",
                            "Greycap",
                            Species.PEPO,
                            List.of(new Planting.Row(row("12").id(), 40))),
                    MAY),
            new FarmEvent.Enrolled(worker("w1"), Role.CREW, MAY),
            new CustodyEvent.StripIssued(
                    worker("w1"), new Strip(new TieNumber("004700"), new TieNumber("004749")), MAY));

    /** A fruit that is pure, and then another row's work. */
    private static List<FieldEvent> season() {
        List<FieldEvent> events = new ArrayList<>(SETUP);
        events.add(row("12").pegged(14).males(28).by("w2").at("17:10"));
        events.addAll(row("12").worked(1, TIE).at("07:10"));
        events.add(row("13").pegged(3).by("w2").at("17:20"));
        events.add(fruit(TIE).harvested().by("w3").daysLater(60).at("08:00"));
        return events;
    }

    private static SignerKey key() {
        try {
            return SignerKey.of(ORIGIN, KeyPairGenerator.getInstance("Ed25519").generateKeyPair());
        } catch (NoSuchAlgorithmException e) {
            throw new AssertionError(e);
        }
    }

    /** A log, and bundles of it. */
    private static final class Log {

        private final List<String> leaves = new ArrayList<>();
        private final KeptInMemory tiles;

        Log(List<FieldEvent> events) {
            Map<String, Integer> next = new HashMap<>();
            for (FieldEvent event : events) {
                String stream = event.subject().toString();
                String[] written = EventJson.write(event).split(" ", 2);
                leaves.add("{\"id\":\"e" + leaves.size() + "\",\"payload\":" + written[1] + ",\"sequence\":"
                        + (next.merge(stream, 1, Integer::sum) - 1) + ",\"stream\":\"" + stream + "\",\"type\":\""
                        + written[0] + "\"}");
            }
            tiles = KeptInMemory.of(leaves.stream()
                    .map(leaf -> Hash.ofLeaf(leaf.getBytes(StandardCharsets.UTF_8)))
                    .toList());
        }

        Note checkpoint(long size) {
            return Note.sign(new Checkpoint(ORIGIN, size, new Tree(size, tiles).root()).text(), FARMS_OWN);
        }

        List<Proved> proved(List<Integer> places) {
            Tree tree = new Tree(leaves.size(), tiles);
            return places.stream()
                    .map(place -> new Proved(place, leaves.get(place), tree.inclusion(place)))
                    .toList();
        }

        List<Integer> places() {
            return IntStream.range(0, leaves.size()).boxed().toList();
        }

        /** All but the other row's, as an honest farm gives. */
        List<Integer> honest() {
            return places().stream()
                    .filter(place -> !leaves.get(place).contains("hill/row/13"))
                    .toList();
        }

        byte[] bundle(List<Proved> events, long since, UnaryOperator<String> lie) {
            String claim = new Extract(events.stream()
                            .map(one -> StoredEvents.read(one.leaf(), one.text()))
                            .toList())
                    .claim(List.of(fruit(TIE).id()), Rules.latest());
            Map<String, Part> files = Bundle.files(
                    Map.of("README.txt", "Words.\n"),
                    List.of(FARMS_OWN.verifier()),
                    checkpoint(leaves.size()),
                    List.of(checkpoint(4)),
                    new TreeMap<>(Map.of(
                            4L,
                            new Tree(leaves.size(), tiles).consistency(4),
                            since,
                            new Tree(leaves.size(), tiles).consistency(since))),
                    lines(events, Bundle::event),
                    lines(events, Bundle::proof),
                    lie.apply(claim));
            Checkpoint now = Checkpoint.parse(checkpoint(leaves.size()).text());
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            try {
                Container.write(Bundle.sealed(files, Note.sign(Bundle.seal(now, files), FARMS_OWN)), out::write);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
            return out.toByteArray();
        }

        private static Part lines(List<Proved> events, Function<Proved, byte[]> line) {
            ByteArrayOutputStream lines = new ByteArrayOutputStream();
            events.stream().map(line).forEach(lines::writeBytes);
            return Part.of(lines.toByteArray());
        }

        byte[] bundle() {
            return bundle(proved(honest()), 6, UnaryOperator.identity());
        }
    }

    private static Outcome verify(byte[] bundle, @Nullable Note kept) {
        return Verifier.verify(
                bundle,
                List.of(FARMS_OWN.verifier()),
                List.of(),
                kept == null ? null : kept.toString(),
                StoredEvents::read);
    }

    private static List<What> failing(Outcome outcome) {
        return outcome.checks().stream()
                .filter(check -> check.result() == Result.FAILS)
                .map(Check::what)
                .toList();
    }

    private static List<What> cannot(Outcome outcome) {
        return outcome.checks().stream()
                .filter(check -> check.result() == Result.CANNOT)
                .map(Check::what)
                .toList();
    }

    @Test
    void anHonestBundleHolds() {
        Log log = new Log(season());
        Outcome outcome = verify(log.bundle(), log.checkpoint(6));
        assertThat(failing(outcome)).as(outcome.toString()).isEmpty();
        assertThat(cannot(outcome)).isEmpty();
        assertThat(outcome.derived()).startsWith("rules 2\nfruit hill/tie/004711 pure\n");
        assertThat(outcome.checks().stream().map(Check::what).distinct())
                .containsExactlyElementsOf(Arrays.stream(What.values())
                        // No witness was named.
                        .filter(what -> what != What.WITNESSED)
                        .toList());
    }

    @Test
    void aLogThatIsWrittenAnewWithTheFarmsOwnKeyIsFoundOutByAnOlderCheckpointAndByNothingElse() {
        List<FieldEvent> lie = season();
        lie.set(4, row("12").pegged(20).males(40).by("w2").at("17:10"));
        byte[] forged = new Log(lie).bundle();
        assertThat(failing(verify(forged, null))).isEmpty();
        assertThat(failing(verify(forged, new Log(season()).checkpoint(6)))).containsExactly(What.KEPT);
    }

    @Test
    void anEventLeftOutBetweenOthersIsMissed() {
        Log log = new Log(season());
        List<Integer> places = new ArrayList<>(log.honest());
        places.remove(Integer.valueOf(5));
        assertThat(failing(verify(log.bundle(log.proved(places), 6, UnaryOperator.identity()), null)))
                .containsExactly(What.COMPLETE);
    }

    @Test
    void theLastEventOfAStreamIsOnlyMissedWhereAllOfTheLogIsGiven() {
        Log log = new Log(season());
        List<Integer> places = new ArrayList<>(log.honest());
        places.remove(places.size() - 1);
        Outcome outcome = verify(log.bundle(log.proved(places), 6, UnaryOperator.identity()), null);
        assertThat(failing(outcome)).isEmpty();
        assertThat(outcome.checks()).anyMatch(check -> check.what() == What.COMPLETE && check.result() == Result.NOTE);
        Outcome whole = verify(log.bundle(log.proved(log.places()), 6, UnaryOperator.identity()), null);
        assertThat(failing(whole)).isEmpty();
        assertThat(whole.checks())
                .noneMatch(check -> check.result() == Result.NOTE)
                .anyMatch(check -> check.sentence().contains("none was left out"));
    }

    @Test
    void aWorkerWhoWasGivenTheTieIsMissedWhereHerStreamIsNotThere() {
        List<FieldEvent> events = season();
        events.add(3, new FarmEvent.Enrolled(worker("w2"), Role.CREW, MAY));
        events.add(new CustodyEvent.StripHandedOver(
                worker("w1"),
                worker("w2"),
                new Strip(new TieNumber(TIE), new TieNumber("004749")),
                MAY,
                Entered.onPage(worker("w1"))));
        Log log = new Log(events);
        assertThat(failing(verify(log.bundle(), null))).isEmpty();
        List<Integer> without =
                log.honest().stream().filter(place -> place != 3).toList();
        assertThat(failing(verify(log.bundle(log.proved(without), 6, UnaryOperator.identity()), null)))
                .containsExactly(What.COMPLETE);
    }

    @Test
    void aClaimThatDoesNotFollowIsFound() {
        Log log = new Log(season());
        for (UnaryOperator<String> lie : List.<UnaryOperator<String>>of(
                claim -> claim.replace("004711 pure", "004711 not-pure"),
                claim -> claim.replace("males-pegged holds row", "males-pegged holds fruit"),
                claim -> claim.replace("28 males", "29 males"),
                claim -> claim + "fruit hill/tie/004712 pure\n",
                claim -> "rules 1\n",
                claim -> "")) {
            assertThat(failing(verify(log.bundle(log.proved(log.honest()), 6, lie), null)))
                    .containsExactly(What.VERDICT);
        }
        assertThat(cannot(verify(
                        log.bundle(log.proved(log.honest()), 6, claim -> claim.replace("rules 2", "rules 99")), null)))
                .containsExactly(What.VERDICT);
    }

    @Test
    void anEventThatIsNotTheLeafOrIsThereTwiceIsFound() {
        Log log = new Log(season());
        List<Proved> events = new ArrayList<>(log.proved(log.honest()));
        Proved one = events.get(4);
        events.set(4, new Proved(one.leaf(), one.text().replace("28", "29"), one.proof()));
        assertThat(failing(verify(log.bundle(events, 6, UnaryOperator.identity()), null)))
                .contains(What.EVENTS);
        events.set(4, one);
        events.add(one);
        assertThat(failing(verify(log.bundle(events, 6, UnaryOperator.identity()), null)))
                .contains(What.EVENTS, What.COMPLETE);
    }

    @Test
    void anEventFiledElsewhereIsFound() {
        List<FieldEvent> events = season();
        int lost = events.size();
        events.add(fruit("004712").culled().at("09:00"));
        Log other = new Log(events);
        other.leaves.set(lost, other.leaves.get(lost).replace("hill/tie/004712\",\"type", "hill/tie/004711\",\"type"));
        assertThat(failing(verify(other.bundle(), null))).contains(What.EVENTS, What.COMPLETE);
    }

    @Test
    void whatCantBeCheckedIsSaid() {
        Log log = new Log(season());
        assertThat(cannot(verify(log.bundle(), log.checkpoint(5)))).containsExactly(What.KEPT);
        List<FieldEvent> longer = season();
        longer.add(row("14").pegged(3).by("w2").at("17:30"));
        Log later = new Log(longer);
        assertThat(cannot(verify(log.bundle(), later.checkpoint(longer.size()))))
                .containsExactly(What.KEPT);
        assertThat(failing(verify(log.bundle(), log.checkpoint(log.leaves.size()))))
                .isEmpty();
        assertThat(cannot(verify(new byte[] {'P', 'K'}, null))).containsExactly(What.CONTAINER);
    }

    @Test
    void aFileMoreOrLessIsFound() {
        byte[] bundle = new Log(season()).bundle();
        Map<String, byte[]> files = new LinkedHashMap<>(Container.read(bundle));
        files.put("more.txt", new byte[] {1});
        assertThat(failing(verify(Container.write(files), null))).containsExactly(What.SEAL);
        for (String name : Container.read(bundle).keySet()) {
            Map<String, byte[]> fewer = new LinkedHashMap<>(Container.read(bundle));
            fewer.remove(name);
            assertThat(failing(verify(Container.write(fewer), null))).as(name).contains(What.SEAL);
        }
    }

    @Test
    void aContainerHasOneFormOnly() {
        Map<String, byte[]> files = new LinkedHashMap<>();
        files.put("a", new byte[] {1, 2, 3});
        files.put("empty", new byte[0]);
        byte[] container = Container.write(files);
        Map<String, byte[]> read = Container.read(container);
        assertThat(read).containsOnlyKeys("a", "empty");
        assertThat(read.get("a")).isEqualTo(files.get("a"));
        for (int size = 0; size < container.length; size++) {
            byte[] cut = Arrays.copyOf(container, size);
            try {
                assertThat(Container.write(Container.read(cut))).isNotEqualTo(cut);
            } catch (IllegalArgumentException e) {
                assertThat(e).hasMessageStartingWith("not a bundle");
            }
        }
        byte[] once = Container.write(Map.of("a", new byte[0]));
        byte[] twice = new byte[62];
        System.arraycopy(once, 0, twice, 0, 31);
        System.arraycopy(once, 0, twice, 31, 31);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Container.read(twice))
                .withMessageContaining("twice");
    }

    /** The JDK's own reader of zips, which shares nothing with ours, finds the same files. */
    @Test
    void aContainerIsAZip() throws IOException {
        Map<String, byte[]> files = new LinkedHashMap<>();
        files.put("a", new byte[] {1, 2, 3});
        files.put("b/large", new byte[300_000]);
        Path zip = Files.createTempFile("container", ".zip");
        try (OutputStream out = Files.newOutputStream(zip)) {
            Container.write(Part.of(files), out::write);
        }
        try (ZipFile read = new ZipFile(zip.toFile())) {
            assertThat(read.stream().map(ZipEntry::getName)).containsExactly("a", "b/large");
            for (Map.Entry<String, byte[]> file : files.entrySet()) {
                assertThat(read.getInputStream(read.getEntry(file.getKey())).readAllBytes())
                        .isEqualTo(file.getValue());
            }
        }
        assertThat(Files.readAllBytes(zip)).isEqualTo(Container.write(files));
        Files.delete(zip);
    }

    @Test
    void whatIsMoreThanAContainerHoldsIsRefusedBeforeAnythingIsWritten() {
        Part half = new Part(1L << 30, 0, "", to -> {
            throw new AssertionError("was read");
        });
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Container.write(Map.of("a", half, "b", half), (bytes, from, count) -> {}))
                .withMessageContaining("more than a container holds");
    }

    @Test
    void aFileThatChangesMeanwhileIsFound() {
        Part longer = new Part(1, 0, "", to -> to.take(new byte[2], 0, 2));
        assertThatIOException()
                .isThrownBy(() -> Container.write(Map.of("a", longer), (bytes, from, count) -> {}))
                .withMessageContaining("was changed");
    }

    @Test
    void aTieOnTwoFruitCountsTwice() {
        List<FieldEvent> events = season();
        Act again = row("13").tied(1, TIE).at("07:40");
        events.add(again);
        Log log = new Log(events);
        Outcome outcome = verify(log.bundle(log.proved(log.places()), 6, UnaryOperator.identity()), null);
        assertThat(failing(outcome)).isEmpty();
        assertThat(outcome.derived())
                .contains("in-question")
                .contains("tie-of-own-strip-used-once fails fruit")
                .contains("tie 004711 was reported 2 times");
    }
}
