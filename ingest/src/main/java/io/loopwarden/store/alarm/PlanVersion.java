package io.loopwarden.store.alarm;

import java.time.Instant;

/**
 * One version of the on-call plan.
 *
 * @param plan the whole plan, JSON
 */
public record PlanVersion(int version, Instant at, String who, String why, String plan) {}
