package duskpeg.server;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.time.Clock;
import java.time.Instant;
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
        // Neither is in the server's jar.
        noClasses()
                .that()
                .resideOutsideOfPackage("duskpeg.messaging.card..")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("duskpeg.messaging.card..", "org.apache.pdfbox..")
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
