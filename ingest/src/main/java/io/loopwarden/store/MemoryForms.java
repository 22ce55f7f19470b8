package io.loopwarden.store;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.JsonDeserializer;
import com.fasterxml.jackson.databind.JsonSerializer;
import com.fasterxml.jackson.databind.KeyDeserializer;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.module.SimpleModule;
import io.loopwarden.exchanger.Exchanger;
import io.loopwarden.exchanger.Stream;
import io.loopwarden.fleet.PointName;
import io.loopwarden.statistics.Covariance;
import java.io.IOException;

/** JSON forms of what is remembered and is no record: covariances, points, and the exchanger a model was learnt for. */
final class MemoryForms {

    /** Attribute of a reading: the exchanger as the nameplate has it today. */
    static final String EXCHANGER = "exchanger";

    private MemoryForms() {}

    static SimpleModule module() {
        SimpleModule module = new SimpleModule("unit-memory");
        module.addSerializer(Covariance.class, writer((c, out) -> out.writeObject(rows(c))));
        module.addDeserializer(
                Covariance.class, reader((in, context) -> Covariance.of(in.readValueAs(double[][].class))));
        module.addSerializer(PointName.class, writer((point, out) -> out.writeString(point.value())));
        module.addDeserializer(PointName.class, reader((in, context) -> PointName.of(in.getText())));
        module.addKeyDeserializer(PointName.class, new KeyDeserializer() {
            @Override
            public Object deserializeKey(String key, DeserializationContext context) {
                return PointName.of(key);
            }
        });
        // Coolants are functions; they come from the nameplate and are only checked against what was learnt with.
        module.addSerializer(Exchanger.class, writer((e, out) -> out.writeString(words(e))));
        module.addDeserializer(Exchanger.class, reader(MemoryForms::exchanger));
        return module;
    }

    private static double[][] rows(Covariance c) {
        double[][] rows = new double[c.size()][c.size()];
        for (int i = 0; i < c.size(); i++) {
            for (int j = 0; j < c.size(); j++) {
                rows[i][j] = c.get(i, j);
            }
        }
        return rows;
    }

    private static Exchanger exchanger(JsonParser in, DeserializationContext context) throws IOException {
        String learntFor = in.getText();
        Exchanger today = (Exchanger) context.getAttribute(EXCHANGER);
        if (today == null) {
            throw new IllegalArgumentException("the nameplate no longer says enough of the exchanger");
        }
        if (!words(today).equals(learntFor)) {
            throw new IllegalArgumentException(
                    "it was learnt with " + learntFor + ", the nameplate now says " + words(today));
        }
        return today;
    }

    private static String words(Exchanger e) {
        return words(e.hot()) + " against " + words(e.cold());
    }

    private static String words(Stream s) {
        return s.coolant().source() + " (" + s.meter() + ")";
    }

    private interface Write<T> {
        void write(T value, JsonGenerator out) throws IOException;
    }

    private interface Read<T> {
        T read(JsonParser in, DeserializationContext context) throws IOException;
    }

    private static <T> JsonSerializer<T> writer(Write<T> write) {
        return new JsonSerializer<>() {
            @Override
            public void serialize(T value, JsonGenerator out, SerializerProvider provider) throws IOException {
                write.write(value, out);
            }
        };
    }

    private static <T> JsonDeserializer<T> reader(Read<T> read) {
        return new JsonDeserializer<>() {
            @Override
            public T deserialize(JsonParser in, DeserializationContext context) throws IOException {
                return read.read(in, context);
            }
        };
    }
}
