package io.loopwarden.virtual;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** The model that makes data must not be the model that judges it. */
@AnalyzeClasses(packages = "io.loopwarden.virtual", importOptions = ImportOption.DoNotIncludeTests.class)
class VirtualArchitectureTest {

    private static final DescribedPredicate<JavaClass> PROJECT_BEYOND_VOCABULARY = DescribedPredicate.describe(
            "of the project, neither virtual nor fleet vocabulary",
            type -> type.getPackageName().startsWith("io.loopwarden")
                    && !type.getPackageName().startsWith("io.loopwarden.virtual")
                    && !type.getPackageName().equals("io.loopwarden.fleet"));

    @ArchTest
    static final ArchRule virtualUnitsUseTheVocabularyOnly = noClasses()
            .that()
            .resideInAPackage("io.loopwarden.virtual..")
            .should()
            .dependOnClassesThat(PROJECT_BEYOND_VOCABULARY);

    @ArchTest
    static final ArchRule physicsKnowsNoProtocol = noClasses()
            .that()
            .resideInAnyPackage("..virtual.plant..", "..virtual.control..", "..virtual.fault..", "..virtual.sense..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("..virtual.serve..", "..virtual.scenario..", "org.eclipse..", "com.digitalpetri..");
}
