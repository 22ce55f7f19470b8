package io.loopwarden.mqtt.payload;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonFactoryBuilder;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.json.JsonReadFeature;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import java.io.IOException;
import java.time.Instant;
import java.util.List;

/** Reads the JSON form of a message. Knows no topics, units or point maps. */
final class JsonPayload {

    /** A payload that was read, or the reason why not. */
    sealed interface Result permits Message, Refused {}

    /**
     * @param unit what the controller calls the unit; null if the message does not say
     * @param time of all values without their own; null if the message does not say
     * @param refusals single values that could not be used
     */
    record Message(String unit, Instant time, List<Value> values, List<Refusal> refusals) implements Result {}

    /** @param time null if the value has none of its own; {@code ucum} null if it states no unit of measure */
    record Value(String tag, Instant time, RawValue value, Quality quality, String ucum) {}

    record Refused(Refusal refusal) implements Result {}

    private static final JsonFactory FACTORY = new JsonFactoryBuilder()
            .streamReadConstraints(StreamReadConstraints.builder()
                    .maxNestingDepth(16)
                    .maxNameLength(1024)
                    .maxStringLength(4096)
                    .maxNumberLength(1000)
                    .build())
            .enable(JsonReadFeature.ALLOW_NON_NUMERIC_NUMBERS)
            .enable(StreamReadFeature.USE_FAST_DOUBLE_PARSER)
            .disable(StreamReadFeature.INCLUDE_SOURCE_IN_LOCATION)
            // Names come from outside: neither keep them in the JVM for ever nor fail on an attack against their
            // hashes.
            .disable(JsonFactory.Feature.INTERN_FIELD_NAMES)
            .disable(JsonFactory.Feature.FAIL_ON_SYMBOL_HASH_OVERFLOW)
            .build();

    private JsonPayload() {}

    /** @param maxBytes a longer payload is not parsed */
    static Result parse(byte[] payload, int maxBytes) {
        if (payload.length > maxBytes) {
            return new Refused(new Refusal(
                    RejectReason.PAYLOAD_TOO_LARGE, "payload of " + payload.length + " bytes, limit " + maxBytes));
        }
        try (JsonParser json = FACTORY.createParser(payload)) {
            return new JsonMessageReader(json).message();
        } catch (JsonProcessingException e) {
            return malformed(e.getOriginalMessage() + " at byte "
                    + (e.getLocation() == null ? -1 : e.getLocation().getByteOffset()) + " of " + payload.length);
        } catch (IOException e) {
            return malformed(e.getMessage());
        }
    }

    private static Refused malformed(String detail) {
        return new Refused(new Refusal(RejectReason.MALFORMED, detail));
    }
}
