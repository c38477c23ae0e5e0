package duskpeg.projections.export;

import duskpeg.core.act.FieldEvent;
import duskpeg.core.germination.Replicate;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.Lots;
import duskpeg.core.store.EventTypes;
import duskpeg.core.store.EventTypes.EventType;
import java.io.IOException;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** What was entered of lots, an entry in a line; reasons and places that people typed are left out. */
final class LotEntries {

    static final String HEADER =
            "lot,entry,entered,zone,by,event,withdrawn,what,on,until,ties,to,first,last,test,grams,"
                    + "moisture,counted";

    private static final List<String> COLUMNS = List.of(HEADER.split(",", -1));

    private static final Map<Class<? extends FieldEvent>, String> NAMES =
            EventTypes.ALL.stream().collect(Collectors.toUnmodifiableMap(EventType::type, EventType::name));

    private LotEntries() {}

    static void write(Lots lots, ZoneId zone, Csv out) throws IOException {
        for (Lot lot : lots.all()) {
            for (Lot.Entry entry : lot.entries()) {
                LotEvent event = entry.event();
                Map<String, Object> said = said(event);
                said.put("lot", lot.id().name());
                said.put("entry", entry.number());
                said.put("entered", event.at().atZone(zone).toOffsetDateTime());
                said.put("zone", zone.getId());
                said.put("by", event.by().pseudonym());
                said.put("event", NAMES.getOrDefault(event.getClass(), ""));
                said.put("withdrawn", entry.withdrawn() != null);
                out.line(COLUMNS.stream().map(said::get).toArray());
            }
        }
    }

    private static Map<String, Object> said(LotEvent event) {
        Map<String, Object> said = new HashMap<>();
        if (event instanceof LotEvent.Begun begun) {
            said.put("what", begun.cultivar());
        } else if (event instanceof LotEvent.FruitTaken taken) {
            said.put(
                    "ties",
                    taken.fruit().stream()
                            .map(one -> one.fruit().tie().digits())
                            .collect(Collectors.joining(" ")));
        } else if (event instanceof LotEvent.Worked worked) {
            said.putAll(Map.of("what", worked.step().word(), "on", worked.from(), "until", worked.until()));
        } else if (event instanceof LotEvent.Weighed weighed) {
            said.putAll(Map.of("on", weighed.on(), "grams", weighed.grams()));
            Stream.ofNullable(weighed.moisture()).forEach(moisture -> said.put("moisture", moisture));
        } else if (event instanceof LotEvent.Lost lost) {
            said.putAll(Map.of("on", lost.on(), "grams", lost.grams()));
        } else if (event instanceof LotEvent.SeedWeighed weighed) {
            said.putAll(Map.of("on", weighed.on(), "grams", weighed.grams()));
        } else if (event instanceof LotEvent.Drawn drawn) {
            said.putAll(Map.of("on", drawn.on(), "to", drawn.to().name(), "grams", drawn.grams()));
        } else if (event instanceof LotEvent.Packed packed) {
            said.putAll(
                    Map.of("on", packed.on(), "first", packed.first(), "last", packed.last(), "grams", packed.grams()));
        } else if (event instanceof LotEvent.Germinated test) {
            said.putAll(Map.of(
                    "test",
                    test.test(),
                    "on",
                    test.finalCount(),
                    "counted",
                    test.replicates().stream().map(LotEntries::counted).collect(Collectors.joining(" "))));
        } else if (event instanceof LotEvent.GrownOut test) {
            said.putAll(Map.of("test", test.test(), "on", test.on(), "counted", test.plants() + "/" + test.offTypes()));
        } else if (event instanceof LotEvent.Decided decided) {
            said.put("what", decided.decision().word());
            Stream.ofNullable(decided.until()).forEach(until -> said.put("until", until));
        } else if (event instanceof LotEvent.Withdrawn withdrawn) {
            said.put("what", withdrawn.entry());
        }
        return said;
    }

    private static String counted(Replicate one) {
        return Stream.of(
                        one.seeds(),
                        one.first().normal(),
                        one.first().abnormal(),
                        one.first().dead(),
                        one.last().normal(),
                        one.last().abnormal(),
                        one.last().dead())
                .map(String::valueOf)
                .collect(Collectors.joining("/"));
    }
}
