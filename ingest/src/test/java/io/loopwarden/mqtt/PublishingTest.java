package io.loopwarden.mqtt;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import org.junit.jupiter.api.Test;

/** Reading only is a property of the code, not of a setting. */
class PublishingTest {

    private static final JavaClasses CLASSES = new ClassFileImporter()
            .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
            .importPackages("io.loopwarden.mqtt");

    @Test
    void onlyTheRebirthRequesterCanPublish() {
        noClasses()
                .that()
                .doNotHaveFullyQualifiedName(RebirthRequester.class.getName())
                .should()
                .accessTargetWhere(DescribedPredicate.describe(
                        "something of the client library is published",
                        (JavaAccess<?> access) ->
                                access.getTargetOwner().getPackageName().startsWith("org.eclipse.paho")
                                        && (access.getName().equals("publish")
                                                || access.getName().equals("setWill"))))
                .check(CLASSES);
    }

    @Test
    void payloadReadersKnowNoConnection() {
        noClasses()
                .that()
                .resideInAPackage("io.loopwarden.mqtt.payload")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("org.eclipse.paho..", "io.loopwarden.mqtt", "java.net..", "java.nio.file..")
                .check(CLASSES);
    }
}
