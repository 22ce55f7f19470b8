package io.loopwarden;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

@AnalyzeClasses(packages = "io.loopwarden", importOptions = ImportOption.DoNotIncludeTests.class)
class ApiArchitectureTest {

    @ArchTest
    static final ArchRule fleetStateKnowsNoFramework = noClasses()
            .that()
            .resideInAPackage("io.loopwarden.fleetstate..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("io.quarkus..", "jakarta..");

    @ArchTest
    static final ArchRule pagesAreTheLastToKnow = noClasses()
            .that()
            .resideInAnyPackage("io.loopwarden.fleetstate..", "io.loopwarden.view..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("io.loopwarden.rest..", "io.loopwarden.live..");
}
