package duskpeg.core.store;

import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.deser.std.StdScalarDeserializer;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.ToStringSerializer;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.DayId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.lot.LotId;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.RoundId;
import java.io.IOException;
import java.util.function.Function;

/**
 * How events are written as JSON: a mapper of their own, so that no framework upgrade and no web setting changes what
 * is stored. Ids are their text forms, instants ISO-8601, absent values are left out.
 */
public final class EventJson {

    private static final ObjectMapper MAPPER = mapper();

    private EventJson() {}

    /** An event in one line, as projections keep it: its name in the log, a space, and its JSON. */
    public static String write(FieldEvent event) {
        try {
            return EventTypes.of(event.getClass()).orElseThrow().name() + " " + MAPPER.writeValueAsString(event);
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("every event can be written", e);
        }
    }

    /**
     * Reads back what {@link #write} wrote.
     *
     * @throws IllegalArgumentException if it is something else
     */
    public static FieldEvent read(String written) {
        int space = written.indexOf(' ');
        try {
            FieldEvent event = MAPPER.readValue(
                    written.substring(space + 1),
                    EventTypes.named(written.substring(0, Math.max(0, space)))
                            .orElseThrow(() -> new IllegalArgumentException("not an event: " + written))
                            .type());
            if (event == null) {
                throw new IllegalArgumentException("not an event: " + written);
            }
            return event;
        } catch (JsonProcessingException e) {
            throw new IllegalArgumentException("not an event: " + written, e);
        }
    }

    /** A new mapper. */
    public static ObjectMapper mapper() {
        SimpleModule ids = new SimpleModule("ids");
        text(ids, Subject.class, Subject::parse);
        text(ids, FarmId.class, FarmId::new);
        text(ids, RowId.class, text -> (RowId) Subject.parse(text));
        text(ids, RoundId.class, text -> (RoundId) Subject.parse(text));
        text(ids, FruitId.class, text -> (FruitId) Subject.parse(text));
        text(ids, PlantId.class, PlantId::parse);
        text(ids, WorkerId.class, text -> (WorkerId) Subject.parse(text));
        text(ids, LotId.class, text -> (LotId) Subject.parse(text));
        text(ids, DayId.class, text -> (DayId) Subject.parse(text));
        text(ids, TextId.class, TextId::parse);
        text(ids, TieNumber.class, TieNumber::new);
        return new ObjectMapper()
                .registerModule(new JavaTimeModule())
                .registerModule(ids)
                .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
                .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
                .setDefaultPropertyInclusion(JsonInclude.Include.NON_NULL);
    }

    private static <T> void text(SimpleModule module, Class<T> type, Function<String, T> parse) {
        module.addSerializer(type, new ToStringSerializer(type));
        module.addDeserializer(type, new StdScalarDeserializer<T>(type) {
            @Override
            public T deserialize(JsonParser parser, DeserializationContext context) throws IOException {
                return parse.apply(parser.getValueAsString());
            }
        });
    }
}
