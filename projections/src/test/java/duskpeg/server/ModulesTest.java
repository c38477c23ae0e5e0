package duskpeg.server;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** messaging and projections know core and not each other; only the server knows all three. */
@AnalyzeClasses(packages = "duskpeg", importOptions = ImportOption.DoNotIncludeTests.class)
class ModulesTest {

    @ArchTest
    static final ArchRule CORE_KNOWS_NO_OTHER = noClasses()
            .that()
            .resideInAPackage("duskpeg.core..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("duskpeg.messaging..", "duskpeg.projections..", "duskpeg.server..");

    @ArchTest
    static final ArchRule MESSAGING_KNOWS_ONLY_CORE = noClasses()
            .that()
            .resideInAPackage("duskpeg.messaging..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("duskpeg.projections..", "duskpeg.server..");

    @ArchTest
    static final ArchRule PROJECTIONS_KNOW_ONLY_CORE = noClasses()
            .that()
            .resideInAPackage("duskpeg.projections..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("duskpeg.messaging..", "duskpeg.server..");

    @ArchTest
    static final ArchRule LANGUAGE_AND_REPLIES_ARE_PURE = noClasses()
            .that()
            .resideInAnyPackage("duskpeg.messaging.language..", "duskpeg.messaging.reply..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("org.springframework..", "org.axonframework..", "java.sql..", "jakarta..", "com.twilio..");

    @ArchTest
    static final ArchRule THE_DOMAIN_READS_NO_CLOCK = noClasses()
            .that()
            .resideInAnyPackage("duskpeg.core..", "duskpeg.messaging.language..", "duskpeg.messaging.reply..")
            .should()
            .callMethod(java.time.Instant.class, "now")
            .orShould()
            .callMethod(java.time.Clock.class, "systemUTC");
}
