package io.loopwarden.opcua;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchCondition;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.lang.ConditionEvents;
import com.tngtech.archunit.lang.SimpleConditionEvent;
import java.util.List;
import java.util.Set;
import org.eclipse.milo.opcua.sdk.client.OpcUaClient;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.junit.jupiter.api.Test;

/** The collector has no way to change anything in a controller. */
class ReadOnlyTest {

    /** All that may be asked of the client; its services to write, call, or change nodes are not among it. */
    private static final Set<String> CLIENT_METHODS = Set.of(
            "create",
            "connectAsync",
            "disconnectAsync",
            "addSessionActivityListener",
            "getTransport",
            "deleteSubscriptionsAsync",
            "getNamespaceTable",
            "readNamespaceTable",
            // Looking at what a server offers.
            "browse",
            "readValues",
            "getStaticEncodingContext");

    /** The transport could send any request; only these of its methods are used. */
    private static final Set<String> TRANSPORT_METHODS = Set.of("disconnect");

    private static final ArchRule READS_ONLY = classes().should(new ArchCondition<>("only read") {
        @Override
        public void check(JavaClass from, ConditionEvents events) {
            for (JavaAccess<?> access : from.getAccessesFromSelf()) {
                String owner = access.getTargetOwner().getName();
                String name = access.getName();
                boolean allowed = switch (owner) {
                    case "org.eclipse.milo.opcua.sdk.client.OpcUaClient" -> CLIENT_METHODS.contains(name);
                    case "org.eclipse.milo.opcua.stack.transport.client.OpcClientTransport" ->
                        TRANSPORT_METHODS.contains(name);
                    default ->
                        !owner.matches("org\\.eclipse\\.milo\\..*"
                                + "(\\.client\\.nodes\\.|\\.client\\.methods\\.|\\.AddressSpace"
                                + "|\\.(Write|Call|AddNodes|DeleteNodes|AddReferences|DeleteReferences"
                                + "|HistoryUpdate)[A-Za-z]*$).*");
                };
                if (!allowed) {
                    events.add(SimpleConditionEvent.violated(from, access.getDescription()));
                }
            }
        }
    });

    @Test
    void packageReadsOnly() {
        JavaClasses main = new ClassFileImporter()
                .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
                .importPackages("io.loopwarden.opcua");
        assertThat(main.contain(OpcUaLink.class)).isTrue();
        READS_ONLY.check(main);
    }

    @Test
    void ruleSeesAWriteAndACall() {
        JavaClasses writer = new ClassFileImporter().importClasses(Writer.class);
        assertThat(READS_ONLY.evaluate(writer).getFailureReport().getDetails())
                .anyMatch(line -> line.contains("OpcUaClient.write("))
                .anyMatch(line -> line.contains("OpcUaClient.call("));
    }

    /** What must not be in the collector. */
    private static final class Writer {

        void write(OpcUaClient client) throws UaException {
            client.write(List.of());
            client.call(List.of());
        }
    }
}
