package duskpeg.core.store;

import duskpeg.core.store.EventTypes.EventType;
import java.util.Optional;
import org.axonframework.serialization.SerializedType;
import org.axonframework.serialization.SimpleSerializedType;
import org.axonframework.serialization.json.JacksonSerializer;

/** Writes events as JSON under their names of {@link EventTypes}; everything else as the framework would. */
final class EventSerializer extends JacksonSerializer {

    EventSerializer() {
        super(JacksonSerializer.builder().objectMapper(EventJson.mapper()));
    }

    @Override
    @SuppressWarnings("rawtypes") // as the framework declares it
    public SerializedType typeForClass(Class type) {
        return EventTypes.of(type)
                .<SerializedType>map(known -> new SimpleSerializedType(known.name(), known.revision()))
                .orElseGet(() -> super.typeForClass(type));
    }

    @Override
    @SuppressWarnings("rawtypes") // as the framework declares it
    public Class classForType(SerializedType type) {
        Optional<Class<?>> known = EventTypes.named(type.getName()).map(EventType::type);
        return known.orElseGet(() -> super.classForType(type));
    }
}
