package io.loopwarden.collector;

import java.util.List;

/** A configuration that cannot be used; carries every fault found, not the first. */
public final class ConfigurationException extends RuntimeException {

    private static final long serialVersionUID = 1L;

    private final transient List<String> faults;

    /** @param faults one sentence each: file or connection, line or key, value, what to do */
    public ConfigurationException(List<String> faults) {
        super(String.join(System.lineSeparator(), faults));
        this.faults = List.copyOf(faults);
    }

    public List<String> faults() {
        return faults;
    }
}
