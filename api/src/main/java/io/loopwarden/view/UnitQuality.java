package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;

/**
 * How a unit's samples come in, since the start of the service.
 *
 * @param delayMs from source time to receipt, newest scan
 * @param leastDelayMs least of the last one to two minutes; below zero the source's clock is ahead of ours
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record UnitQuality(
        String unit,
        String connection,
        long stored,
        long duplicates,
        long conflicts,
        long late,
        long refused,
        Long delayMs,
        Long leastDelayMs) {}
