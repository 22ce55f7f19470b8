package io.loopwarden.modbus;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

@AnalyzeClasses(packages = "io.loopwarden.modbus", importOptions = ImportOption.DoNotIncludeTests.class)
class ModbusReadsOnlyTest {

    @ArchTest
    static final ArchRule noRequestThatWritesIsKnown =
            noClasses().should().dependOnClassesThat().haveNameMatching(".*\\.pdu\\.(Write|Mask|ReadWrite).*");

    @ArchTest
    static final ArchRule noCallThatWritesIsMade = noClasses()
            .should()
            .accessTargetWhere(JavaAccess.Predicates.target(
                    com.tngtech.archunit.core.domain.properties.HasName.Predicates.nameMatching(
                            "(write|maskWrite|readWrite|sendRaw).*")));
}
