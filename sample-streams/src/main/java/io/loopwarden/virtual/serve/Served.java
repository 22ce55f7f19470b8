package io.loopwarden.virtual.serve;

import io.loopwarden.virtual.Readings;

/** What shows the readings of some units to the outside, over one protocol. */
public interface Served extends AutoCloseable {

    /** Shows a unit's readings; at once, whatever the time of the last ones. */
    void show(String unit, Readings readings);

    /** The unit's controller has gone silent; the next {@link #show} brings it back. */
    void silence(String unit);

    /** What the fleet file has to say as endpoint. */
    String endpoint();

    @Override
    void close();
}
