package io.loopwarden.opcua;

import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.uint;

import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.FoundTag;
import io.loopwarden.collector.RawReading;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import java.io.IOException;
import java.security.GeneralSecurityException;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeoutException;
import org.eclipse.milo.opcua.sdk.client.OpcUaClient;
import org.eclipse.milo.opcua.stack.core.NodeIds;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.ExtensionObject;
import org.eclipse.milo.opcua.stack.core.types.builtin.NodeId;
import org.eclipse.milo.opcua.stack.core.types.enumerated.BrowseDirection;
import org.eclipse.milo.opcua.stack.core.types.enumerated.BrowseResultMask;
import org.eclipse.milo.opcua.stack.core.types.enumerated.NodeClass;
import org.eclipse.milo.opcua.stack.core.types.enumerated.TimestampsToReturn;
import org.eclipse.milo.opcua.stack.core.types.structured.BrowseDescription;
import org.eclipse.milo.opcua.stack.core.types.structured.BrowseResult;
import org.eclipse.milo.opcua.stack.core.types.structured.EUInformation;
import org.eclipse.milo.opcua.stack.core.types.structured.ReferenceDescription;

/** Browses a server once, to see which variables there are and what they show. Reads only. */
public final class OpcUaLook {

    private static final int MOST_VARIABLES = 5_000;
    private static final int MOST_FOLDERS = 1_000;
    private static final int DEEPEST = 8;
    private static final int BATCH = 200;

    private record Folder(NodeId id, String name, int depth) {}

    private record Variable(NodeId id, String folder, String name) {}

    private final OpcUaClient client;
    private final Clock clock;
    private final Set<NodeId> seen = new HashSet<>();
    private final List<Variable> variables = new ArrayList<>();
    private final Map<NodeId, NodeId> engineeringUnits = new HashMap<>();

    private OpcUaLook(OpcUaClient client, Clock clock) {
        this.client = client;
        this.clock = clock;
    }

    /**
     * @throws ConfigurationException with every fault of the connection's settings
     * @throws IOException if the server cannot be reached or refuses; the message says which
     */
    public static List<FoundTag> browse(Connection connection, Clock clock) throws IOException, InterruptedException {
        OpcUaSettings settings = OpcUaSettings.from(connection);
        OpcUaLink link = null;
        try {
            link = OpcUaLink.open(connection, settings, List.of(), null, new Unheard());
            return new OpcUaLook(link.client(), clock).look();
        } catch (UaException | ExecutionException | TimeoutException | GeneralSecurityException e) {
            throw new IOException(Reasons.of(e), e);
        } finally {
            if (link != null) {
                link.close();
            }
        }
    }

    private List<FoundTag> look() throws UaException {
        ArrayDeque<Folder> open = new ArrayDeque<>(List.of(new Folder(NodeIds.ObjectsFolder, "", 0)));
        int folders = 0;
        while (!open.isEmpty() && folders < MOST_FOLDERS && variables.size() < MOST_VARIABLES) {
            List<Folder> level = new ArrayList<>();
            while (!open.isEmpty() && level.size() < BATCH) {
                level.add(open.poll());
            }
            folders += level.size();
            List<BrowseResult> results = client.browse(
                    level.stream().map(folder -> children(folder.id())).toList());
            for (int n = 0; n < level.size(); n++) {
                enter(level.get(n), results.get(n), open);
            }
        }
        findEngineeringUnits();
        return read();
    }

    private static BrowseDescription children(NodeId of) {
        return browse(of, NodeIds.HierarchicalReferences, NodeClass.Object.getValue() | NodeClass.Variable.getValue());
    }

    private static BrowseDescription browse(NodeId of, NodeId reference, int classes) {
        return new BrowseDescription(
                of, BrowseDirection.Forward, reference, true, uint(classes), uint(BrowseResultMask.All.getValue()));
    }

    private void enter(Folder folder, BrowseResult result, ArrayDeque<Folder> open) {
        if (result.getReferences() == null) {
            return;
        }
        for (ReferenceDescription each : result.getReferences()) {
            Optional<NodeId> id = each.getNodeId().toNodeId(client.getNamespaceTable());
            boolean ours = id.isPresent() && id.get().getNamespaceIndex().intValue() != 0 && seen.add(id.get());
            if (!ours) {
                continue;
            }
            String name = String.valueOf(each.getBrowseName().name());
            if (each.getNodeClass() == NodeClass.Variable) {
                variables.add(new Variable(id.get(), folder.name(), name));
            } else if (folder.depth() < DEEPEST) {
                open.add(new Folder(id.get(), name, folder.depth() + 1));
            }
        }
    }

    private void findEngineeringUnits() throws UaException {
        for (int at = 0; at < variables.size(); at += BATCH) {
            List<Variable> part = variables.subList(at, Math.min(variables.size(), at + BATCH));
            List<BrowseResult> results = client.browse(part.stream()
                    .map(each -> browse(each.id(), NodeIds.HasProperty, NodeClass.Variable.getValue()))
                    .toList());
            for (int n = 0; n < part.size(); n++) {
                for (ReferenceDescription each : references(results.get(n))) {
                    if ("EngineeringUnits".equals(each.getBrowseName().name())) {
                        NodeId of = part.get(n).id();
                        each.getNodeId()
                                .toNodeId(client.getNamespaceTable())
                                .ifPresent(id -> engineeringUnits.put(of, id));
                    }
                }
            }
        }
    }

    private static List<ReferenceDescription> references(BrowseResult result) {
        return result.getReferences() == null ? List.of() : List.of(result.getReferences());
    }

    private List<FoundTag> read() throws UaException {
        List<FoundTag> found = new ArrayList<>();
        Instant now = clock.instant();
        for (int at = 0; at < variables.size(); at += BATCH) {
            List<Variable> part = variables.subList(at, Math.min(variables.size(), at + BATCH));
            List<DataValue> values = values(part.stream().map(Variable::id).toList());
            List<NodeId> asked = part.stream()
                    .map(each -> engineeringUnits.getOrDefault(each.id(), each.id()))
                    .toList();
            List<DataValue> units = engineeringUnits.isEmpty() ? List.of() : values(asked);
            for (int n = 0; n < part.size(); n++) {
                Variable variable = part.get(n);
                String source = variable.id().toParseableString();
                DataValues.Decoded decoded = DataValues.decode(source, values.get(n), now);
                RawReading reading = decoded instanceof DataValues.Taken taken
                        ? taken.reading()
                        : new RawReading(source, now, RawValue.NONE, new Quality(Quality.Level.BAD, 0));
                boolean stated = engineeringUnits.containsKey(variable.id());
                found.add(new FoundTag(
                        variable.folder(),
                        source,
                        variable.name(),
                        stated ? unitOf(units.get(n)) : Optional.empty(),
                        reading));
            }
        }
        return found;
    }

    private List<DataValue> values(List<NodeId> ids) throws UaException {
        return client.readValues(0, TimestampsToReturn.Both, ids);
    }

    private Optional<String> unitOf(DataValue value) {
        Object held = value.value() == null ? null : value.value().value();
        Object decoded = held instanceof ExtensionObject coded ? coded.decode(client.getStaticEncodingContext()) : held;
        return decoded instanceof EUInformation unit && unit.getDisplayName().text() != null
                ? Optional.of(unit.getDisplayName().text())
                : Optional.empty();
    }

    /** The look is over before a lost session would matter. */
    private static final class Unheard implements OpcUaLink.Listener {
        @Override
        public void sessionActive(OpcUaLink link) {}

        @Override
        public void sessionInactive(OpcUaLink link) {}

        @Override
        public void subscriptionGone(OpcUaLink link, String why) {}
    }
}
