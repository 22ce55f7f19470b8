package io.loopwarden.mqtt;

/**
 * One connection to a broker, from connect to loss; used once, so that no acknowledgement can reach a later connection. It only
 * listens: there is nothing here to publish with.
 */
interface MqttLink {

    /** Of a message with QoS 0: it will not come again. */
    Runnable NO_ACKNOWLEDGEMENT = () -> {};

    /** Called on the client library's threads. */
    interface Listener {

        /** @param acknowledge what to call, once, when the broker may forget the message */
        void arrived(String topic, byte[] payload, boolean retained, boolean redelivered, Runnable acknowledge);

        void lost(String why);
    }

    /** Connects and subscribes, within the connect time-out of each step. */
    void open() throws LinkException, InterruptedException;

    /** Never throws, may be called at any time and again. */
    void close();
}
