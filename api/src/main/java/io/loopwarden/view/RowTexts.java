package io.loopwarden.view;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.view.UnitRow.ConnectionState;
import java.io.ByteArrayOutputStream;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;

/**
 * Units' rows as JSON, each written once an evaluation however many pages and requests want it: a row takes far longer to write than
 * to send.
 */
public final class RowTexts {

    private record Written(UnitNow now, ConnectionState connection, byte[] text) {

        boolean isOf(UnitNow other, ConnectionState connectionNow) {
            return now == other && connection.equals(connectionNow);
        }
    }

    private final Views views;
    private final ObjectMapper json;
    private final Map<UnitId, Written> written = new ConcurrentHashMap<>();

    public RowTexts(Views views, ObjectMapper json) {
        this.views = views;
        this.json = json;
    }

    /** What {@link FleetView} of these units is as JSON, in UTF-8. */
    public byte[] fleet(Collection<UnitNow> units) {
        return with(views.fleet(List.of()), units);
    }

    /**
     * An object as JSON in UTF-8 with the units' rows as its last part.
     *
     * @param head has an empty list {@code units} at its end
     */
    public byte[] with(Object head, Collection<UnitNow> units) {
        byte[] around = write(head);
        int before = around.length - "]}".length();
        ByteArrayOutputStream text = new ByteArrayOutputStream(1 << 16);
        text.write(around, 0, before);
        boolean first = true;
        for (UnitNow unit : units) {
            if (!first) {
                text.write(',');
            }
            text.writeBytes(row(unit));
            first = false;
        }
        text.write(around, before, around.length - before);
        return text.toByteArray();
    }

    private byte[] row(UnitNow now) {
        UnitId id = now.unit().id();
        ConnectionState connection = views.connection(id);
        Written known = written.get(id);
        if (known == null || !known.isOf(now, connection)) {
            known = new Written(now, connection, write(views.row(now)));
            written.put(id, known);
        }
        return known.text();
    }

    private byte[] write(Object value) {
        try {
            return json.writeValueAsBytes(value);
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("a row cannot be written as JSON", e);
        }
    }
}
