package io.loopwarden.virtual.serve;

import io.loopwarden.virtual.scenario.Tag;
import java.util.List;
import org.eclipse.milo.opcua.sdk.core.AccessLevel;
import org.eclipse.milo.opcua.sdk.core.Reference;
import org.eclipse.milo.opcua.sdk.server.ManagedNamespaceWithLifecycle;
import org.eclipse.milo.opcua.sdk.server.OpcUaServer;
import org.eclipse.milo.opcua.sdk.server.items.DataItem;
import org.eclipse.milo.opcua.sdk.server.items.MonitoredItem;
import org.eclipse.milo.opcua.sdk.server.nodes.UaFolderNode;
import org.eclipse.milo.opcua.sdk.server.nodes.UaVariableNode;
import org.eclipse.milo.opcua.sdk.server.util.SubscriptionModel;
import org.eclipse.milo.opcua.stack.core.NodeIds;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.LocalizedText;
import org.eclipse.milo.opcua.stack.core.types.builtin.NodeId;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;

/** The nodes of a hall: one folder for each unit, one variable for each tag. */
final class HallNamespace extends ManagedNamespaceWithLifecycle {

    private final SubscriptionModel sampling;

    HallNamespace(OpcUaServer server, String uri) {
        super(server, uri);
        sampling = new SubscriptionModel(server, this);
        getLifecycleManager().addLifecycle(sampling);
    }

    void addUnit(UnitTags unit) {
        UaFolderNode folder = new UaFolderNode(
                getNodeContext(),
                newNodeId(unit.nameAtSource()),
                newQualifiedName(unit.nameAtSource()),
                LocalizedText.english(unit.nameAtSource()));
        getNodeManager().addNode(folder);
        folder.addReference(new Reference(
                folder.getNodeId(), NodeIds.Organizes, NodeIds.ObjectsFolder.expanded(), Reference.Direction.INVERSE));
        for (Tag tag : unit.tags()) {
            NodeId id = NodeId.parse(tag.source(unit.nameAtSource()));
            String name = id.getIdentifier().toString();
            UaVariableNode variable = new UaVariableNode.UaVariableNodeBuilder(getNodeContext())
                    .setNodeId(id)
                    .setBrowseName(newQualifiedName(name.substring(name.indexOf('/') + 1)))
                    .setDisplayName(LocalizedText.english(name.substring(name.indexOf('/') + 1)))
                    .setDataType(dataType(tag))
                    .setTypeDefinition(NodeIds.BaseDataVariableType)
                    .setAccessLevel(AccessLevel.READ_ONLY)
                    .setUserAccessLevel(AccessLevel.READ_ONLY)
                    .build();
            variable.setValue(new DataValue(Variant.NULL_VALUE, new StatusCode(StatusCodes.Bad_WaitingForInitialData)));
            getNodeManager().addNode(variable);
            folder.addOrganizes(variable);
        }
    }

    private static NodeId dataType(Tag tag) {
        if (UnitTags.isFlag(tag)) {
            return NodeIds.Boolean;
        }
        return UnitTags.isCount(tag) ? NodeIds.Int64 : NodeIds.Double;
    }

    void put(String node, DataValue value) {
        UaVariableNode variable = (UaVariableNode) getNodeManager().get(NodeId.parse(node));
        variable.setValue(value);
    }

    @Override
    public void onDataItemsCreated(List<DataItem> items) {
        sampling.onDataItemsCreated(items);
    }

    @Override
    public void onDataItemsModified(List<DataItem> items) {
        sampling.onDataItemsModified(items);
    }

    @Override
    public void onDataItemsDeleted(List<DataItem> items) {
        sampling.onDataItemsDeleted(items);
    }

    @Override
    public void onMonitoringModeChanged(List<MonitoredItem> items) {
        sampling.onMonitoringModeChanged(items);
    }
}
