package io.loopwarden.pages;

import java.net.URI;

/** What the browser tests open, and the two things they must be able to do to it. */
interface ServiceUnderTest extends AutoCloseable {

    /** Where the fleet page is, with a slash at the end; stays the same when the service comes back. */
    URI address();

    /** Stops answering, open web sockets included. */
    void goAway();

    void comeBack();

    /** The cookie, {@code name=value}, of somebody who may do everything; empty where nobody has to sign in. */
    default String cookie() {
        return "";
    }

    @Override
    void close();
}
