package duskpeg.server;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchRule;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.Tell;
import java.time.Clock;
import java.time.Instant;
import org.axonframework.eventhandling.EventHandler;
import org.junit.jupiter.api.Test;

/** messaging and projections know core and not each other; only the server knows all three. */
class ModulesTest {

    private static final JavaClasses DUSKPEG = new ClassFileImporter()
            .withImportOption(new ImportOption.DoNotIncludeTests())
            .importPackages("duskpeg");

    @Test
    void coreKnowsNoOther() {
        mayNotKnow("duskpeg.core..", "duskpeg.messaging..", "duskpeg.projections..", "duskpeg.server..");
    }

    @Test
    void messagingKnowsOnlyCore() {
        mayNotKnow("duskpeg.messaging..", "duskpeg.projections..", "duskpeg.server..");
    }

    @Test
    void projectionsKnowOnlyCore() {
        mayNotKnow("duskpeg.projections..", "duskpeg.messaging..", "duskpeg.server..");
    }

    @Test
    void nothingInTheServerKnowsThePrinterOfCards() {
        // It is not in the server's jar.
        noClasses()
                .that()
                .resideOutsideOfPackage("duskpeg.messaging.card..")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("duskpeg.messaging.card..")
                .check(DUSKPEG);
    }

    @Test
    void onlyWhatPrintsKnowsHow() {
        noClasses()
                .that()
                .resideOutsideOfPackages(
                        "duskpeg.core.paper..", "duskpeg.messaging.card..", "duskpeg.projections.export..")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("org.apache.pdfbox..", "duskpeg.core.paper..")
                .check(DUSKPEG);
    }

    @Test
    void theLanguageAndItsRepliesArePure() {
        String[] frameworks = {
            "org.springframework..", "org.axonframework..", "java.sql..", "javax.sql..", "jakarta..", "com.twilio.."
        };
        mayNotKnow("duskpeg.messaging.language..", frameworks);
        mayNotKnow("duskpeg.messaging.reply..", frameworks);
    }

    @Test
    void nothingInTheDomainReadsTheClock() {
        noClasses()
                .that()
                .resideInAnyPackage("duskpeg.core..", "duskpeg.messaging.language..", "duskpeg.messaging.reply..")
                .should()
                .callMethod(Instant.class, "now")
                .orShould()
                .callMethod(Clock.class, "systemUTC")
                .check(DUSKPEG);
    }

    /** Events are told again when a projection is rebuilt; people are not. */
    @Test
    void whoHearsEventsTellsNobody() {
        WHO_HEARS_EVENTS_TELLS_NOBODY.check(DUSKPEG);
    }

    @Test
    void theRuleSeesWhoTells() {
        // A rule that can't fail says nothing.
        assertThatExceptionOfType(AssertionError.class)
                .isThrownBy(() -> WHO_HEARS_EVENTS_TELLS_NOBODY.check(
                        new ClassFileImporter().importClasses(Gossip.class, Outbox.class)));
    }

    /** Hears of a planting and tells about it: what no class may do. */
    record Gossip(Outbox outbox) {

        @EventHandler
        void on(FarmEvent.LaidOut event) {
            outbox.post(
                    event.farm(),
                    "+15555550101",
                    "Have you heard?",
                    event.planting().name(),
                    event.at());
        }
    }

    private static final ArchRule WHO_HEARS_EVENTS_TELLS_NOBODY = noClasses()
            .that(DescribedPredicate.describe(
                    "handle events",
                    type -> type.getMethods().stream()
                            .anyMatch(method -> method.isAnnotatedWith(EventHandler.class)
                                    || method.isMetaAnnotatedWith(EventHandler.class))))
            .should()
            .transitivelyDependOnClassesThat(DescribedPredicate.describe(
                    "tell people", type -> type.isAssignableTo(Outbox.class) || type.isAssignableTo(Tell.class)));

    private static void mayNotKnow(String who, String... whom) {
        noClasses()
                .that()
                .resideInAPackage(who)
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage(whom)
                .check(DUSKPEG);
    }
}
