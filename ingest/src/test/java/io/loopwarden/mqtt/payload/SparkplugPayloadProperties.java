package io.loopwarden.mqtt.payload;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.mqtt.TestUnits;
import java.net.URI;
import java.time.Instant;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.eclipse.tahu.protobuf.SparkplugBProto;

class SparkplugPayloadProperties {

    private static final byte[] BIRTH = SparkplugBProto.Payload.newBuilder()
            .setTimestamp(1_795_593_600_000L)
            .setSeq(0)
            .addMetrics(SparkplugBProto.Payload.Metric.newBuilder()
                    .setName("bdSeq")
                    .setDatatype(4)
                    .setLongValue(0))
            .addMetrics(SparkplugBProto.Payload.Metric.newBuilder()
                    .setName("T_SUP")
                    .setAlias(3)
                    .setDatatype(10)
                    .setDoubleValue(31.4)
                    .setProperties(SparkplugBProto.Payload.PropertySet.newBuilder()
                            .addKeys("Quality")
                            .addValues(SparkplugBProto.Payload.PropertyValue.newBuilder()
                                    .setType(3)
                                    .setIntValue(192))))
            .build()
            .toByteArray();

    private final SparkplugDecoder decoder = new SparkplugDecoder(
            TestUnits.connection("mqtt-sparkplug", URI.create("mqtt://localhost:1883"), List.of("GW1")), 1000);

    @Property
    void anyBytesAreAnswered(@ForAll @Size(max = 400) byte[] bytes) {
        assertThat(decode("spBv1.0/plant/NBIRTH/GW1", bytes)).isNotNull();
        assertThat(decode("spBv1.0/plant/NDATA/GW1", bytes)).isNotNull();
    }

    @Property
    void anyChangedByteIsAnswered(@ForAll @IntRange(min = 0, max = 1000) int at, @ForAll byte replacement) {
        byte[] changed = BIRTH.clone();
        changed[at % changed.length] = replacement;
        assertThat(decode("spBv1.0/plant/NBIRTH/GW1", changed)).isNotNull();
        assertThat(decode("spBv1.0/plant/DDATA/GW1/dev", changed)).isNotNull();
    }

    @Property
    void anyTopicIsAnswered(@ForAll String topic) {
        assertThat(decode(topic, BIRTH)).isNotNull();
        assertThat(decode("spBv1.0/" + topic, BIRTH)).isNotNull();
    }

    private Decoded decode(String topic, byte[] payload) {
        return decoder.decode(new Arrival(topic, payload, false, false, Instant.EPOCH));
    }
}
