package io.loopwarden.oncall;

/** A message that did not get through; the text says where to and why, without any secret. */
public final class DeliveryException extends Exception {

    private final boolean permanent;

    /** @param permanent whether trying again as it is would be in vain */
    DeliveryException(String message, boolean permanent, Throwable cause) {
        super(message, cause);
        this.permanent = permanent;
    }

    static DeliveryException permanent(String message) {
        return new DeliveryException(message, true, null);
    }

    static DeliveryException passing(String message, Throwable cause) {
        return new DeliveryException(message, false, cause);
    }

    boolean permanent() {
        return permanent;
    }
}
