package io.loopwarden.service;

import io.loopwarden.collector.Collector;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Intake;

/** One connection in service: what reads it and what its readings go through. */
public record Line(Connection connection, Collector collector, Intake intake) {}
