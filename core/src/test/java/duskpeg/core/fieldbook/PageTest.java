package duskpeg.core.fieldbook;

import static duskpeg.core.Farm.row;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.Act;
import duskpeg.core.round.RoundId;
import java.util.List;
import java.util.function.Function;
import org.axonframework.common.caching.WeakReferenceCache;
import org.axonframework.eventsourcing.EventSourcingRepository;
import org.axonframework.eventsourcing.eventstore.EmbeddedEventStore;
import org.axonframework.eventsourcing.eventstore.inmemory.InMemoryEventStorageEngine;
import org.axonframework.messaging.unitofwork.DefaultUnitOfWork;
import org.junit.jupiter.api.Test;

class PageTest {

    private static final RoundId ROUND = row("12").round();

    private final EventSourcingRepository<Page> pages = EventSourcingRepository.builder(Page.class)
            .eventStore(EmbeddedEventStore.builder()
                    .storageEngine(new InMemoryEventStorageEngine())
                    .build())
            .cache(new WeakReferenceCache())
            .build();

    @Test
    void aBlankPageMayBeLookedAtAndWrittenOnLater() {
        Act opened = row("12").opened(14).by("w1").at("06:00");

        assertThat(open(Page::acts)).isEmpty();
        open(page -> {
            page.write(opened);
            return page;
        });

        assertThat(open(Page::acts)).isEqualTo(List.of(opened));
    }

    private <T> T open(Function<Page, T> use) {
        return DefaultUnitOfWork.startAndGet(null)
                .executeWithResult(() -> pages.loadOrCreate(ROUND.toString(), () -> new Page(ROUND))
                        .invoke(use))
                .getPayload();
    }
}
