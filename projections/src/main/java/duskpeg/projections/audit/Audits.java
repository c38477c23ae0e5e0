package duskpeg.projections.audit;

import duskpeg.core.audit.Bundle;
import duskpeg.core.audit.Extract;
import duskpeg.core.audit.Part;
import duskpeg.core.audit.Proved;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.Note;
import duskpeg.core.lot.LotId;
import duskpeg.core.purity.Rules;
import duskpeg.core.round.RoundId;
import duskpeg.core.store.EventSchema;
import duskpeg.core.store.StoredEvents;
import duskpeg.projections.history.Histories;
import duskpeg.projections.ledger.Ledger;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Makes bundles. The same log and the same checkpoints, signed and cosigned, give the same bytes. */
@Component
public class Audits {

    private final Ledger ledger;
    private final Index index;
    private final Histories histories;
    private final Map<String, String> words = new LinkedHashMap<>();

    Audits(Ledger ledger, Index index, Histories histories) {
        this.ledger = ledger;
        this.index = index;
        this.histories = histories;
        for (String name : List.of("README.txt", "audit.md", "Verify.java")) {
            words.put(name, resource(name));
        }
        words.put("schema.json", EventSchema.json());
    }

    private static String resource(String name) {
        try (InputStream in = Audits.class.getResourceAsStream("/duskpeg/audit/" + name)) {
            if (in == null) {
                throw new IllegalStateException(name + " is not in the jar");
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** What anything in the log says of the fruit of a round: the ties that were ever said to be put on in it. */
    List<FruitId> fruit(RoundId round) {
        return histories.ties(round).stream()
                .map(tie -> new FruitId(round.farm(), tie))
                .toList();
    }

    /**
     * The bundle of these fruit of one farm, as it stands now.
     *
     * @param fruit the fruit, at least one
     * @param rules the rules to judge by
     * @param since the size of a tree that an auditor has a checkpoint of; null for none
     * @param whole whether every event of the farm's log is wanted
     * @return empty where nothing in the log names any of them
     * @throws IllegalArgumentException if there was no tree of that size, or if it is more than a bundle holds
     */
    public Optional<Made> bundle(List<FruitId> fruit, Rules rules, @Nullable Long since, boolean whole)
            throws IOException {
        return bundle(fruit.get(0).farm(), fruit, null, rules, since, whole);
    }

    /**
     * The same of all fruit that seed of a lot may be of, with what was entered of it and of the lots it was drawn from:
     * so it is seen that these are its fruit.
     *
     * @return empty where nothing was taken into it
     */
    Optional<Made> bundle(LotId lot, Rules rules, @Nullable Long since, boolean whole) throws IOException {
        List<FruitId> fruit = List.copyOf(index.lots(lot.farm()).flowers(lot).keySet());
        return fruit.isEmpty() ? Optional.empty() : bundle(lot.farm(), fruit, lot, rules, since, whole);
    }

    private Optional<Made> bundle(
            FarmId farm, List<FruitId> fruit, @Nullable LotId lot, Rules rules, @Nullable Long since, boolean whole)
            throws IOException {
        Note note = ledger.checkpoint(farm);
        Checkpoint checkpoint = Checkpoint.parse(note.text());
        // Nothing else of the whole log weighs on a verdict, and it need not fit into memory.
        List<Proved> events = events(farm, fruit, lot, note);
        Extract extract = extract(events);
        if (fruit.stream().noneMatch(extract::names)) {
            return Optional.empty();
        }
        List<Note> earlier = ledger.earlier(farm, checkpoint.size());
        Set<Long> sizes = new TreeSet<>();
        earlier.forEach(one -> sizes.add(Checkpoint.parse(one.text()).size()));
        if (since != null) {
            sizes.add(since);
        }
        SortedMap<Long, List<Hash>> consistency = new TreeMap<>();
        sizes.forEach(size -> consistency.put(size, ledger.consistency(farm, size, checkpoint.size())));
        Spool spool = new Spool();
        try {
            if (whole) {
                ledger.each(farm, note, spool::add);
            } else {
                for (Proved event : events) {
                    spool.add(event);
                }
            }
            Map<String, Part> files = Bundle.files(
                    words,
                    ledger.keys(farm),
                    note,
                    earlier,
                    consistency,
                    spool.events(),
                    spool.proofs(),
                    lot == null ? extract.claim(fruit, rules) : extract.claim(lot, rules));
            return Optional.of(new Made(
                    Bundle.sealed(files, ledger.sign(farm, Bundle.seal(checkpoint, files))), spool));
        } catch (IOException | RuntimeException e) {
            spool.close();
            throw e;
        }
    }

    private static Extract extract(List<Proved> events) {
        return new Extract(events.stream()
                .map(one -> StoredEvents.read(one.leaf(), one.text()))
                .toList());
    }

    /** The events of every stream the verdicts rest on. What is found in them may lead to further streams. */
    private List<Proved> events(FarmId farm, List<FruitId> fruit, @Nullable LotId lot, Note checkpoint) {
        Set<String> streams = new LinkedHashSet<>();
        if (lot != null) {
            index.lots(farm).sources(lot).forEach(source -> streams.add(source.toString()));
        }
        for (FruitId id : fruit) {
            index.roundsOf(farm, id.tie()).forEach(round -> streams.add(round.toString()));
            streams.addAll(histories.rounds(id));
            index.strips().hands(id).forEach(worker -> streams.add(worker.toString()));
        }
        Set<String> known = new TreeSet<>();
        List<Proved> events = List.of();
        while (!known.containsAll(streams) || known.isEmpty()) {
            known.addAll(streams);
            events = ledger.ofStreams(farm, known, checkpoint);
            Extract extract = extract(events);
            fruit.forEach(id -> streams.addAll(extract.streams(id)));
        }
        return events;
    }
}
