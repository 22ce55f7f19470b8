package io.loopwarden;

import static com.tngtech.archunit.base.DescribedPredicate.describe;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.domain.JavaMethodCall;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** Nothing writes to a controller. */
@AnalyzeClasses(packages = "io.loopwarden", importOptions = ImportOption.DoNotIncludeTests.class)
class ReadOnlyArchitectureTest {

    @ArchTest
    static final ArchRule nothingWritesOverModbusOrOpcUa = noClasses()
            .should()
            .callMethodWhere(describe(
                    "a write, a call or a change of nodes of the protocol's library",
                    call -> isOf(call, "com.digitalpetri.modbus.client", "org.eclipse.milo.opcua.sdk.client")
                            && call.getName()
                                    .matches("(write|maskWrite|readWrite|call|addNode|deleteNode|historyUpdate).*")));

    @ArchTest
    static final ArchRule noRequestThatWritesIsMade = noClasses()
            .should()
            .dependOnClassesThat()
            .haveNameMatching(".*\\.(Write|MaskWrite|ReadWrite|Call|HistoryUpdate)[A-Za-z]*Request(Pdu)?");

    /** Sparkplug's rebirth request, made only when the connection's settings allow it. */
    @ArchTest
    static final ArchRule onlyARebirthIsPublished = noClasses()
            .that()
            .haveSimpleNameNotStartingWith("RebirthRequester")
            .should()
            .callMethodWhere(describe(
                    "publish of the MQTT library",
                    call -> isOf(call, "org.eclipse.paho") && call.getName().equals("publish")));

    private static boolean isOf(JavaMethodCall call, String... packages) {
        for (String each : packages) {
            if (call.getTargetOwner().getPackageName().startsWith(each)) {
                return true;
            }
        }
        return false;
    }
}
