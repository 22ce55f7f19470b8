package io.loopwarden.architecture;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZonedDateTime;
import org.junit.jupiter.api.Test;

class ArchitectureTest {

    private static final JavaClasses ANALYTICS = new ClassFileImporter()
            .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
            .importPackages("io.loopwarden");

    @Test
    void analyticsKnowsNoFrameworkAndNoIO() {
        noClasses()
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage(
                        "java.sql..",
                        "javax.sql..",
                        "java.net..",
                        "java.nio.file..",
                        "java.nio.channels..",
                        "java.io..",
                        "java.util.logging..",
                        "org.slf4j..",
                        "org.jboss..",
                        "io.quarkus..",
                        "jakarta..",
                        "com.fasterxml..")
                .check(ANALYTICS);
    }

    @Test
    void analyticsKnowsNoClock() {
        noClasses()
                .should()
                .callMethod(System.class, "currentTimeMillis")
                .orShould()
                .callMethod(System.class, "nanoTime")
                .orShould()
                .dependOnClassesThat()
                .areAssignableTo(Clock.class)
                .orShould()
                .callMethod(Instant.class, "now")
                .orShould()
                .callMethod(LocalDate.class, "now")
                .orShould()
                .callMethod(LocalDateTime.class, "now")
                .orShould()
                .callMethod(OffsetDateTime.class, "now")
                .orShould()
                .callMethod(ZonedDateTime.class, "now")
                .check(ANALYTICS);
    }

    @Test
    void packagesDoNotDependOnEachOtherInACircle() {
        slices().matching("io.loopwarden.(*)..").should().beFreeOfCycles().check(ANALYTICS);
    }
}
