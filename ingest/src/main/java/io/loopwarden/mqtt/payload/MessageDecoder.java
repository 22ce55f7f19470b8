package io.loopwarden.mqtt.payload;

/** From a message to readings. Not safe for several threads: a connection's messages come one after the other. */
public interface MessageDecoder {

    /** Never throws, whatever the bytes. */
    Decoded decode(Arrival arrival);

    /** The connection was away: messages may have been missed. */
    default void connectionWasAway() {}
}
