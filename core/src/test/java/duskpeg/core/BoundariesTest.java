package duskpeg.core;

import static com.tngtech.archunit.base.DescribedPredicate.not;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.type;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaMethodCall;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchRule;
import duskpeg.core.crew.JdbcPeople;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.time.Clock;
import java.util.List;
import java.util.random.RandomGenerator;
import org.junit.jupiter.api.Test;

/**
 * What happened and what it means is plain Java. Packages of the pure part may refer to each other in circles (an id
 * is a subject, and a subject is read back as an id), so no rule forbids that.
 */
class BoundariesTest {

    private static final String[] PURE = {
        "duskpeg.core.act..",
        "duskpeg.core.round..",
        "duskpeg.core.fruit..",
        "duskpeg.core.planting..",
        "duskpeg.core.farm..",
        "duskpeg.core.report..",
        "duskpeg.core.settle..",
        "duskpeg.core.crew..",
        "duskpeg.core.ledger..",
        "duskpeg.core.audit..",
        "duskpeg.core.purity..",
        "duskpeg.core.window..",
        "duskpeg.core.forecast..",
        "duskpeg.core.day..",
        "duskpeg.core.lot..",
        "duskpeg.core.isolation..",
        "duskpeg.core.plan..",
        "duskpeg.core.watch..",
        "duskpeg.core.csv..",
        "duskpeg.core.published..",
        "duskpeg.core.germination..",
        "duskpeg.core.growout..",
        "duskpeg.core.maturity..",
        "duskpeg.core.harvest..",
        "duskpeg.core.seed..",
        "duskpeg.core.lineage.."
    };

    private static final JavaClasses CORE = new ClassFileImporter()
            .withImportOption(new ImportOption.DoNotIncludeTests())
            .importPackages("duskpeg.core");

    private static final DescribedPredicate<JavaClass> PURE_CLASSES =
            resideInAnyPackage(PURE).and(not(type(JdbcPeople.class)));

    /**
     * The language, its nullness marks, the pure part itself, and libraries that are pure functions: everything else is
     * somebody's framework.
     */
    private static ArchRule plainJava(DescribedPredicate<JavaClass> who) {
        return classes()
                .that(who)
                .should()
                .onlyDependOnClassesThat(resideInAnyPackage(PURE)
                        .or(resideInAnyPackage(
                                "java.lang..",
                                "java.util..",
                                "java.math..",
                                "java.time..",
                                "java.text..",
                                "java.nio.charset..",
                                "java.security..",
                                "org.jspecify.annotations..",
                                "org.shredzone.commons.suncalc..",
                                "org.apache.commons.statistics..",
                                "org.apache.commons.csv..",
                                "org.jgrapht.."))
                        .or(readingWhatIsShipped())
                        .or(alwaysPrimitive()));
    }

    /** A stream and its failure, for tables on the class path; what opens files or sockets is not among them. */
    private static DescribedPredicate<JavaClass> readingWhatIsShipped() {
        return DescribedPredicate.describe(
                "are streams or their failures",
                one -> List.of(InputStream.class, IOException.class, UncheckedIOException.class).stream()
                        .anyMatch(one::isEquivalentTo));
    }

    private static DescribedPredicate<JavaClass> alwaysPrimitive() {
        return DescribedPredicate.describe("are primitives or arrays", type -> type.isPrimitive() || type.isArray());
    }

    private static ArchRule noFrameworks(DescribedPredicate<JavaClass> who) {
        return noClasses()
                .that(who)
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage(
                        "org.springframework..", "org.axonframework..", "java.sql..", "javax.sql..", "com.fasterxml..");
    }

    @Test
    void thePurePartKnowsNoFramework() {
        noFrameworks(PURE_CLASSES).check(CORE);
    }

    @Test
    void thePurePartIsPlainJava() {
        plainJava(PURE_CLASSES).check(CORE);
    }

    @Test
    void theRuleSeesAFrameworkWhereThereIsOne() {
        // A rule that can't fail says nothing.
        assertThatExceptionOfType(AssertionError.class)
                .isThrownBy(() -> noFrameworks(type(JdbcPeople.class)).check(CORE));
    }

    @Test
    void thePurePartReadsNoClock() {
        noClasses()
                .that(PURE_CLASSES)
                .should()
                .dependOnClassesThat()
                .areAssignableTo(Clock.class)
                .orShould()
                .callMethodWhere(calls("java.time..", "now"))
                .orShould()
                .callMethodWhere(calls("java.lang..", "currentTimeMillis", "nanoTime"))
                .check(CORE);
    }

    @Test
    void thePurePartThrowsNoDice() {
        noClasses()
                .that(PURE_CLASSES)
                .should()
                .dependOnClassesThat()
                .areAssignableTo(RandomGenerator.class)
                .orShould()
                .callMethodWhere(calls("java.util..", "randomUUID"))
                .orShould()
                .callMethodWhere(calls("java.lang..", "random"))
                .check(CORE);
    }

    private static DescribedPredicate<JavaMethodCall> calls(String owners, String... names) {
        return DescribedPredicate.describe(
                owners + " " + List.of(names),
                call -> resideInAnyPackage(owners).test(call.getTargetOwner())
                        && List.of(names).contains(call.getName()));
    }

    @Test
    void thePurePartKnowsNothingOfWhatIsBuiltOnIt() {
        noClasses()
                .that(PURE_CLASSES)
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("duskpeg.core.store..", "duskpeg.core.fieldbook..", "duskpeg.core.text..")
                .check(CORE);
    }

    @Test
    void theStoreKnowsNothingOfTheFieldBook() {
        noClasses()
                .that()
                .resideInAPackage("duskpeg.core.store..")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("duskpeg.core.fieldbook..", "duskpeg.core.text..")
                .check(CORE);
    }

    @Test
    void keptWordsKnowNeitherTheStoreNorTheFieldBook() {
        // Words can be erased, the log can't: they share nothing but ids.
        noClasses()
                .that()
                .resideInAPackage("duskpeg.core.text..")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("duskpeg.core.store..", "duskpeg.core.fieldbook..")
                .check(CORE);
    }

    @Test
    void coreKnowsNothingOfTextsOrBoards() {
        noClasses()
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("duskpeg.messaging..", "duskpeg.projections..", "duskpeg.server..")
                .check(CORE);
    }
}
