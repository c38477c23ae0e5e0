package duskpeg.server;

import com.fasterxml.jackson.annotation.JsonCreator;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.farm.Place;
import duskpeg.core.fieldbook.FieldBook;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.Neighbour;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Species;
import duskpeg.core.text.FarmNumbers;
import java.io.IOException;
import java.io.InputStream;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.function.BooleanSupplier;
import java.util.stream.IntStream;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.jspecify.annotations.Nullable;
import org.springframework.core.io.Resource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** Sets a farm up from a JSON file; {@code demo-farm.json} is one, and shows the form. */
final class FarmFile {

    private final CommandGateway commands;
    private final People people;
    private final FarmNumbers numbers;
    private final Index index;
    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final Clock clock;
    private final ObjectMapper json = new ObjectMapper()
            .registerModule(new JavaTimeModule())
            .enable(DeserializationFeature.FAIL_ON_MISSING_CREATOR_PROPERTIES);

    FarmFile(
            CommandGateway commands,
            People people,
            FarmNumbers numbers,
            Index index,
            JdbcClient jdbc,
            TransactionTemplate transaction,
            Clock clock) {
        this.commands = commands;
        this.people = people;
        this.numbers = numbers;
        this.index = index;
        this.jdbc = jdbc;
        this.transaction = transaction;
        this.clock = clock;
    }

    /**
     * The file.
     *
     * @param farm the farm's id
     * @param zone its time zone; left out for the server's own
     * @param place where it is, for its sun; may be left out
     * @param numbers at which it is texted and called, the one it texts from first; may be left out
     * @param neighbours what stands near its plantings; may be left out
     */
    record Form(
            String farm,
            @Nullable ZoneId zone,
            LocalTime target,
            LocalTime limit,
            int tieWidth,
            @Nullable Place place,
            @Nullable List<String> numbers,
            List<PlantingForm> plantings,
            @Nullable List<NeighbourForm> neighbours,
            List<WorkerForm> workers) {}

    /**
     * A planting whose rows are numbered one after the other.
     *
     * @param stock what was sown; may be left out
     */
    record PlantingForm(
            String name,
            String cultivar,
            Species species,
            int firstRow,
            int lastRow,
            int plantsPerRow,
            @Nullable String stock) {}

    /** What stands near a planting. */
    record NeighbourForm(String planting, String name, Species species, int metres) {}

    /** A worker with her strips. */
    record WorkerForm(String worker, String name, String phone, String language, Role role, List<StripForm> strips) {}

    /**
     * A strip of ties.
     *
     * @param printed whether they are tags whose last digit is a check digit; left out for ties that are bought
     */
    record StripForm(String first, String last, boolean printed) {

        @JsonCreator(mode = JsonCreator.Mode.DELEGATING)
        static StripForm of(Map<String, String> form) {
            if (!Set.of("first", "last", "printed").containsAll(form.keySet())) {
                throw new IllegalArgumentException("not a strip: " + form);
            }
            return new StripForm(
                    Objects.requireNonNull(form.get("first"), "a strip without its first number"),
                    Objects.requireNonNull(form.get("last"), "a strip without its last number"),
                    Boolean.parseBoolean(form.get("printed")));
        }
    }

    /**
     * What was done of a file.
     *
     * @param entered whether the farm is entered by this; otherwise it was there, and only its numbers were set
     */
    record Done(FarmId farm, boolean entered, List<String> numbers) {}

    /**
     * Enters the farm of the file if there is none at all yet: of several nodes that start at once, one does.
     *
     * @param isEmpty whether there is none, asked while no other node enters one
     * @throws IOException if it can't be read or has another form
     */
    void enterFirst(Resource file, BooleanSupplier isEmpty) throws IOException {
        if (isEmpty.getAsBoolean()) {
            Form form = read(file);
            inTurn(() -> {
                if (isEmpty.getAsBoolean()) {
                    enter(form);
                }
            });
        }
    }

    /**
     * Enters the farm of the file, all of it or nothing. Of a farm that there is, only the numbers are set: what else
     * changed about it is entered on the pages, and is in the log.
     *
     * @throws IOException if it can't be read or has another form
     * @throws IllegalArgumentException if one of its numbers is another farm's
     */
    Done enter(Resource file) throws IOException {
        Form form = read(file);
        FarmId farm = new FarmId(form.farm());
        boolean[] entered = new boolean[1];
        inTurn(() -> {
            entered[0] = !index.farms().contains(farm);
            if (entered[0]) {
                enter(form);
            } else {
                setNumbers(farm, form);
            }
        });
        return new Done(farm, entered[0], numbers.own(farm));
    }

    /** In one transaction, and in no other node at the same time. */
    private void inTurn(Runnable entering) {
        transaction.executeWithoutResult(status -> {
            jdbc.sql("select name from turn where name = 'farm' for update")
                    .query(String.class)
                    .single();
            entering.run();
        });
    }

    private Form read(Resource file) throws IOException {
        try (InputStream in = file.getInputStream()) {
            JsonNode written = json.readTree(in);
            mayBeLeftOut(written, "place", "neighbours", "numbers");
            written.path("plantings").forEach(planting -> mayBeLeftOut(planting, "stock"));
            return json.treeToValue(written, Form.class);
        }
    }

    private void setNumbers(FarmId farm, Form form) {
        numbers.set(farm, Optional.ofNullable(form.numbers()).orElse(List.of()));
    }

    private void enter(Form form) {
        FarmId farm = new FarmId(form.farm());
        setNumbers(farm, form);
        Instant now = clock.instant();
        List<FieldEvent> events = new ArrayList<>();
        ZoneId zone = form.zone() == null ? ZoneId.systemDefault() : form.zone();
        events.add(new FarmEvent.Opened(
                farm, new FarmSettings(zone, form.target(), form.limit(), form.tieWidth(), form.place()), now));
        form.plantings().forEach(planting -> events.add(new FarmEvent.LaidOut(farm, planting(farm, planting), now)));
        Optional.ofNullable(form.neighbours())
                .orElse(List.of())
                .forEach(near -> events.add(new FarmEvent.Measured(
                        farm, near.planting(), new Neighbour(near.name(), near.species(), near.metres()), null, now)));
        for (WorkerForm worker : form.workers()) {
            WorkerId id = new WorkerId(farm, worker.worker());
            people.add(new Person(id, worker.name(), worker.phone(), worker.language()));
            events.add(new FarmEvent.Enrolled(id, worker.role(), now));
            worker.strips()
                    .forEach(strip -> events.add(new CustodyEvent.StripIssued(
                            id,
                            new Strip(
                                    new TieNumber(strip.first()),
                                    new TieNumber(strip.last()),
                                    strip.printed() ? Numbering.CHECKED : Numbering.PLAIN),
                            now)));
        }
        commands.sendAndWait(new FieldBook.SetUp(events));
    }

    private static void mayBeLeftOut(JsonNode form, String... names) {
        if (form instanceof ObjectNode fields) {
            for (String name : names) {
                if (!fields.has(name)) {
                    fields.putNull(name);
                }
            }
        }
    }

    private static Planting planting(FarmId farm, PlantingForm form) {
        return new Planting(
                form.name(),
                form.cultivar(),
                form.species(),
                IntStream.rangeClosed(form.firstRow(), form.lastRow())
                        .mapToObj(row -> new Planting.Row(new RowId(farm, Integer.toString(row)), form.plantsPerRow()))
                        .toList(),
                form.stock());
    }
}
