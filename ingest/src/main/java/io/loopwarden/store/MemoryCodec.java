package io.loopwarden.store;

import com.fasterxml.jackson.annotation.JsonAutoDetect.Visibility;
import com.fasterxml.jackson.annotation.PropertyAccessor;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import io.loopwarden.exchanger.Exchanger;
import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.watch.UnitMemory;
import java.io.IOException;
import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * A unit's memory as JSON and back, to the last bit. Each component of {@link UnitMemory} is a member of its own: one that is
 * missing or cannot be read begins anew, and the others stay.
 */
public final class MemoryCodec {

    private final ObjectMapper json = JsonMapper.builder()
            .addModules(new Jdk8Module(), new JavaTimeModule(), MemoryForms.module())
            .visibility(PropertyAccessor.ALL, Visibility.NONE)
            .visibility(PropertyAccessor.FIELD, Visibility.ANY)
            .visibility(PropertyAccessor.CREATOR, Visibility.ANY)
            .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS, SerializationFeature.WRITE_DURATIONS_AS_TIMESTAMPS)
            .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
            .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
            .build();

    /**
     * What could be read.
     *
     * @param faults why a component begins anew, one sentence each
     */
    public record Decoded(UnitMemory memory, List<String> faults) {}

    public String encode(UnitMemory memory) {
        ObjectNode members = json.createObjectNode();
        try {
            for (RecordComponent component : UnitMemory.class.getRecordComponents()) {
                members.set(
                        component.getName(),
                        json.valueToTree(component.getAccessor().invoke(memory)));
            }
            return json.writeValueAsString(members);
        } catch (ReflectiveOperationException | JsonProcessingException e) {
            throw new IllegalStateException("a unit's memory cannot be written as JSON: " + e.getMessage(), e);
        }
    }

    /** @param fresh what a watch of this unit begins with: it says which coolants the unit has, and stands in for gaps */
    public Decoded decode(String text, UnitMemory fresh) {
        JsonNode members;
        try {
            members = json.readTree(text);
        } catch (JsonProcessingException e) {
            return new Decoded(fresh, List.of("it is not JSON: " + e.getOriginalMessage()));
        }
        if (!members.isObject()) {
            return new Decoded(fresh, List.of("it is not a JSON object"));
        }
        List<String> faults = new ArrayList<>();
        Optional<Exchanger> exchanger =
                fresh.fouling().map(FoulingHistory::model).map(model -> model.exchanger());
        RecordComponent[] components = UnitMemory.class.getRecordComponents();
        Object[] values = new Object[components.length];
        for (int i = 0; i < components.length; i++) {
            values[i] = component(components[i], members.get(components[i].getName()), fresh, exchanger, faults);
        }
        return new Decoded(memory(components, values), List.copyOf(faults));
    }

    private Object component(
            RecordComponent component,
            JsonNode member,
            UnitMemory fresh,
            Optional<Exchanger> exchanger,
            List<String> faults) {
        if (member == null) {
            return fresh(component, fresh);
        }
        try {
            Object read = json.readerFor(json.constructType(component.getGenericType()))
                    .withAttribute(MemoryForms.EXCHANGER, exchanger.orElse(null))
                    .readValue(member);
            if (read != null) {
                return read;
            }
            faults.add(component.getName() + " is empty");
        } catch (IOException | IllegalArgumentException e) {
            faults.add(component.getName() + ": " + firstLine(e));
        }
        return fresh(component, fresh);
    }

    private static String firstLine(Exception e) {
        return String.valueOf(e.getMessage()).lines().findFirst().orElse("");
    }

    private static Object fresh(RecordComponent component, UnitMemory fresh) {
        try {
            return component.getAccessor().invoke(fresh);
        } catch (ReflectiveOperationException e) {
            throw new IllegalStateException(e);
        }
    }

    private static UnitMemory memory(RecordComponent[] components, Object[] values) {
        Class<?>[] types =
                Arrays.stream(components).map(RecordComponent::getType).toArray(Class<?>[]::new);
        try {
            return UnitMemory.class.getConstructor(types).newInstance(values);
        } catch (ReflectiveOperationException e) {
            throw new IllegalStateException("a unit's memory cannot be put together", e);
        }
    }
}
