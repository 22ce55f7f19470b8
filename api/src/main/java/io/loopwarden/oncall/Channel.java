package io.loopwarden.oncall;

import io.loopwarden.store.alarm.OutboxMessage;

/** A way out: sends one message, or says why not. Called by several threads. */
public interface Channel {

    String name();

    /** What it is, in a word: mail, webhook, http, file. */
    String kind();

    /** Returns once the other side has taken the message. */
    void send(OutboxMessage envelope, Message message) throws DeliveryException;
}
