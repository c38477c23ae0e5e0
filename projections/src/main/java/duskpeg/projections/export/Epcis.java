package duskpeg.projections.export;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import duskpeg.core.act.Act;
import duskpeg.core.act.LossReason;
import duskpeg.core.act.Subject;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import duskpeg.core.purity.Rules;
import duskpeg.core.report.Question;
import duskpeg.core.round.RoundId;
import duskpeg.projections.history.FruitView;
import duskpeg.projections.history.Histories;
import duskpeg.projections.history.Histories.Recorded;
import duskpeg.projections.history.Histories.Told;
import duskpeg.projections.history.Verdicts;
import duskpeg.projections.history.Verdicts.VerdictView;
import duskpeg.projections.ledger.Ledger;
import java.io.IOException;
import java.io.OutputStream;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * Acts in the form of GS1 EPCIS 2.0 (ISO/IEC 19987) and its Core Business Vocabulary (ISO/IEC 19988), as JSON-LD;
 * {@code docs/exports.md} says which act becomes what.
 *
 * <p>Flowers have no numbers: they are so many of a class, which is their row's morning. Putting ties on makes numbered
 * fruit of some of them. Everything is named by an address under the name of the farm's ledger, which is the farm's own;
 * no key of GS1's is claimed. What was taken back is there with an error declaration.
 */
@Component
class Epcis {

    /** Words of our own; {@code .invalid} never is anybody's (RFC 2606). */
    static final String NAMESPACE = "https://duskpeg.invalid/ns/epcis#";

    private static final String CONTEXT = "https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld";

    private static final List<String> CAUTIONS = List.of(Words.TIE, Words.TIMES, Words.ROW);

    private static final int AT_ONCE = 200;

    private final Histories histories;
    private final Verdicts verdicts;
    private final Index index;
    private final Ledger ledger;
    private final Clock clock;
    private final JsonFactory json = new JsonFactory();

    Epcis(Histories histories, Verdicts verdicts, Index index, Ledger ledger, Clock clock) {
        this.histories = histories;
        this.verdicts = verdicts;
        this.index = index;
        this.ledger = ledger;
        this.clock = clock;
    }

    /** Writes the history of a fruit: the acts that {@link Histories#fruit(FruitId)} tells of. */
    void fruit(FruitId id, FruitView view, OutputStream out) throws IOException {
        Map<String, String> grades = new HashMap<>();
        Stream.concat(view.acts().stream(), view.takenBack().stream())
                .forEach(act -> grades.put(act.event(), act.grade()));
        Document document = new Document(id.farm(), out);
        List<Subject> subjects = Stream.concat(
                        Stream.of((Subject) id), histories.rounds(id).stream().map(Subject::parse))
                .flatMap(subject -> subject instanceof RoundId round
                        ? Stream.of(subject, (Subject) round.row())
                        : Stream.of(subject))
                .distinct()
                .toList();
        document.events(
                subjects.stream()
                        .flatMap(subject -> entries(histories.recorded(subject)).stream())
                        .filter(entry -> grades.containsKey(entry.event()))
                        .sorted(Comparator.comparing(entry -> entry.act().told().done()))
                        .toList(),
                grades);
        document.endEvents();
        document.about(List.of(id));
        document.end();
    }

    /**
     * Writes all acts, or those on the flowers of a morning and on the fruit tied then.
     *
     * @param morning null for all
     */
    void farm(FarmId farm, @Nullable LocalDate morning, OutputStream out) throws IOException {
        Document document = new Document(farm, out);
        if (morning == null) {
            histories.eachSubject(farm, told -> document.events(entries(told.recorded()), Map.of()));
            document.endEvents();
            histories.eachFruit(farm, document::about);
        } else {
            List<FruitId> fruit = histories.tied(farm, morning);
            List<String> subjects = Stream.concat(
                            index.plantings(farm).stream()
                                    .flatMap(planting -> planting.rows().stream())
                                    .map(row -> new RoundId(row.id(), morning).toString()),
                            fruit.stream().map(FruitId::toString))
                    .sorted()
                    .toList();
            for (int from = 0; from < subjects.size(); from += AT_ONCE) {
                for (Told told : histories.told(subjects.subList(from, Math.min(from + AT_ONCE, subjects.size())))) {
                    document.events(entries(told.recorded()), Map.of());
                }
            }
            document.endEvents();
            for (int from = 0; from < fruit.size(); from += AT_ONCE) {
                document.about(fruit.subList(from, Math.min(from + AT_ONCE, fruit.size())));
            }
        }
        document.end();
    }

    /**
     * An act that becomes an event.
     *
     * @param around all acts on the same subject
     */
    private record Entry(String event, Act act, List<Act> around) {}

    private static List<Entry> entries(List<Recorded> recorded) {
        List<Act> around = recorded.stream().map(Recorded::act).toList();
        return recorded.stream()
                .filter(one -> !(one.act() instanceof Act.TakenBack))
                .map(one -> new Entry(one.event(), one.act(), around))
                .toList();
    }

    /** A document while it is written. One that is not brought to its end stays open, so that nobody takes it for whole. */
    private final class Document {

        private final FarmId farm;
        private final JsonGenerator out;
        private final ZoneId zone;
        private final Checkpoint checkpoint;
        private final String name;

        Document(FarmId farm, OutputStream to) throws IOException {
            this.farm = farm;
            this.zone = index.settings(farm).zone();
            this.checkpoint = Checkpoint.parse(ledger.checkpoint(farm).text());
            // The log is named after the ledger's name and the farm; subjects begin with the farm.
            this.name = "https://"
                    + checkpoint
                            .origin()
                            .substring(
                                    0,
                                    checkpoint.origin().length() - farm.value().length());
            this.out = json.createGenerator(to)
                    .disable(JsonGenerator.Feature.AUTO_CLOSE_JSON_CONTENT)
                    .useDefaultPrettyPrinter();
            out.writeStartObject();
            out.writeArrayFieldStart("@context");
            out.writeString(CONTEXT);
            out.writeStartObject();
            out.writeStringField("duskpeg", NAMESPACE);
            out.writeEndObject();
            out.writeEndArray();
            out.writeStringField("type", "EPCISDocument");
            out.writeStringField("schemaVersion", "2.0");
            out.writeStringField("creationDate", clock.instant().toString());
            out.writeObjectFieldStart("epcisBody");
            out.writeArrayFieldStart("eventList");
        }

        private String uri(Object subject) {
            return name + subject;
        }

        /**
         * Writes events.
         *
         * @param grades how near each comes to a fruit, by event; empty where the document is about more than one
         */
        void events(List<Entry> entries, Map<String, String> grades) throws IOException {
            Map<String, Long> leaves =
                    ledger.leaves(farm, entries.stream().map(Entry::event).toList());
            for (Entry entry : entries) {
                event(entry, leaves.get(entry.event()), grades.get(entry.event()));
            }
        }

        private void event(Entry entry, @Nullable Long leaf, @Nullable String grade) throws IOException {
            Act act = entry.act();
            boolean makesFruit = act instanceof Act.Tied tied && !tied.ties().isEmpty();
            out.writeStartObject();
            out.writeStringField("type", makesFruit ? "TransformationEvent" : "ObjectEvent");
            out.writeStringField("eventID", "urn:uuid:" + entry.event());
            Instant done = act.told().done();
            out.writeStringField("eventTime", done.toString());
            out.writeStringField("eventTimeZoneOffset", offset(done));
            out.writeStringField("recordTime", act.told().heard().toString());
            Optional<Act.TakenBack> back = Act.only(Act.TakenBack.class, entry.around())
                    .filter(one -> one.takesBack(act))
                    .findFirst();
            if (back.isPresent()) {
                out.writeObjectFieldStart("errorDeclaration");
                out.writeStringField(
                        "declarationTime", back.get().told().heard().toString());
                out.writeEndObject();
            }
            if (makesFruit) {
                quantity("inputQuantityList", act);
                uris("outputEPCList", fruit(act, ((Act.Tied) act).ties()));
            } else {
                out.writeStringField("action", action(act));
                if (act.subject() instanceof FruitId) {
                    uris("epcList", List.of(uri(act.subject())));
                } else {
                    quantity("quantityList", act);
                }
            }
            out.writeStringField(
                    "bizStep",
                    act instanceof Act.Tied
                            ? "commissioning"
                            : NAMESPACE + act.deed().word());
            disposition(act);
            readPoint(act);
            extensions(act, entry.around(), leaf, grade);
            out.writeEndObject();
        }

        private String offset(Instant at) {
            String id = zone.getRules().getOffset(at).getId();
            return id.equals(ZoneOffset.UTC.getId()) ? "+00:00" : id;
        }

        private List<String> fruit(Act act, Collection<TieNumber> ties) {
            return ties.stream()
                    .distinct()
                    .map(tie -> uri(new FruitId(act.subject().farm(), tie)))
                    .toList();
        }

        private void uris(String field, List<String> uris) throws IOException {
            out.writeArrayFieldStart(field);
            for (String uri : uris) {
                out.writeString(uri);
            }
            out.writeEndArray();
        }

        private void quantity(String field, Act act) throws IOException {
            out.writeArrayFieldStart(field);
            out.writeStartObject();
            out.writeStringField("epcClass", uri(act.subject()));
            if (act instanceof Act.Counted counted) {
                out.writeNumberField("quantity", counted.count());
            }
            out.writeEndObject();
            out.writeEndArray();
        }

        /** Where it was done, as far as the report says; of a fruit whose row was not said, the fruit does. */
        private void readPoint(Act act) throws IOException {
            RowId said = act instanceof Act.OnFruit fruit ? fruit.rowSaid() : null;
            Optional<RowId> row = act.subject().inRow().or(() -> Optional.ofNullable(said));
            if (row.isPresent()) {
                out.writeObjectFieldStart("readPoint");
                out.writeStringField("id", uri(row.get()));
                out.writeEndObject();
            }
        }

        private void disposition(Act act) throws IOException {
            String disposition = switch (act.deed()) {
                case TIED -> "active";
                case PEGGED, OPENED, POLLINATED, BAGGED, UNBAGGED -> "in_progress";
                default -> null;
            };
            if (disposition != null) {
                out.writeStringField("disposition", disposition);
            }
        }

        private void extensions(Act act, List<Act> around, @Nullable Long leaf, @Nullable String grade)
                throws IOException {
            own("act", act.deed().word());
            if (grade != null) {
                own("grade", grade);
            }
            if (act instanceof Act.OnFlowers flowers) {
                List<TieNumber> ties = Act.only(Act.Tied.class, around)
                        .filter(tied -> tied.told().sameLine(act.told()))
                        .flatMap(tied -> tied.ties().stream())
                        .toList();
                if (!ties.isEmpty()) {
                    uris("duskpeg:fruit", fruit(act, ties));
                }
                own("row", flowers.round().row().label());
                own("morning", flowers.round().morning().toString());
                Integer plant = flowers.plant();
                if (plant != null) {
                    out.writeNumberField("duskpeg:plant", plant);
                }
                List<PlantId> sires = flowers.sires();
                if (sires != null) {
                    uris("duskpeg:sires", sires.stream().map(PlantId::label).toList());
                }
            }
            if (act instanceof Act.Pegged pegged && pegged.males() != null) {
                out.writeNumberField("duskpeg:males", pegged.males());
            }
            if (act instanceof Act.Lost lost) {
                LossReason reason = lost.reason();
                if (reason != null) {
                    own("reason", reason.word());
                }
            }
            own("worker", act.told().by().pseudonym());
            own("text", act.told().text().value());
            out.writeNumberField("duskpeg:line", act.told().line());
            if (leaf != null) {
                out.writeNumberField("duskpeg:leaf", leaf);
            }
        }

        private void own(String name, String value) throws IOException {
            out.writeStringField("duskpeg:" + name, value);
        }

        /** Ends the events; what is known of each fruit follows. */
        void endEvents() throws IOException {
            out.writeEndArray();
            out.writeEndObject();
            out.writeArrayFieldStart("duskpeg:about");
        }

        void about(List<FruitId> ids) throws IOException {
            TieUses uses = index.uses(farm, ids.stream().map(FruitId::tie).toList());
            Map<TieNumber, Fruit> known = histories.fruits(farm, ids);
            for (Map.Entry<FruitId, VerdictView> judged :
                    verdicts.of(farm, ids, Rules.latest()).entrySet()) {
                VerdictView verdict = judged.getValue();
                out.writeStartObject();
                out.writeStringField("id", uri(judged.getKey()));
                own("verdict", verdict.verdict());
                own("rules", verdict.rules());
                own("asKnownAt", verdict.asKnownAt().toString());
                out.writeArrayFieldStart("duskpeg:questions");
                for (Question question :
                        open(Objects.requireNonNull(known.get(judged.getKey().tie())), uses)) {
                    out.writeStartObject();
                    own("kind", question.kind().word());
                    own("question", question.sentence());
                    out.writeEndObject();
                }
                out.writeEndArray();
                out.writeEndObject();
            }
        }

        private List<Question> open(Fruit fruit, TieUses uses) {
            List<Subject> subjects = Stream.concat(
                            Stream.of(fruit.id()), fruit.acts().stream().map(Act::subject))
                    .distinct()
                    .toList();
            return index.settlements(farm, subjects).open(fruit.id(), fruit.questions(uses));
        }

        void end() throws IOException {
            out.writeEndArray();
            own("checkpoint", checkpoint.text());
            uris("duskpeg:cautions", CAUTIONS);
            out.writeEndObject();
            out.flush();
        }
    }

    /** An act that brings flowers into the record adds them, one that takes them or a fruit out of it deletes them. */
    private static String action(Act act) {
        return switch (act.deed()) {
            case PEGGED -> "ADD";
            case LOST, CULLED -> "DELETE";
            default -> "OBSERVE";
        };
    }
}
