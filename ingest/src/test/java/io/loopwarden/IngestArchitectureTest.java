package io.loopwarden;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

@AnalyzeClasses(packages = "io.loopwarden", importOptions = ImportOption.DoNotIncludeTests.class)
class IngestArchitectureTest {

    @ArchTest
    static final ArchRule ingestKnowsNoFramework = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("io.quarkus..", "jakarta.enterprise..", "jakarta.inject..", "jakarta.ws..");

    @ArchTest
    static final ArchRule onlyTheStoreKnowsSql = noClasses()
            .that()
            .resideOutsideOfPackage("io.loopwarden.store..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("java.sql..", "javax.sql..", "org.postgresql..", "org.flywaydb..");

    @ArchTest
    static final ArchRule collectorsDoNotKnowEachOther = noClasses()
            .that()
            .resideInAnyPackage("io.loopwarden.opcua..", "io.loopwarden.mqtt..", "io.loopwarden.modbus..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("io.loopwarden.samplelog..", "io.loopwarden.store..", "io.loopwarden.fleetfile..");
}
