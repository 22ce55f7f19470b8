package io.loopwarden.virtual.control;

/**
 * What the controller is told to hold.
 *
 * @param tcsDpPa differential pressure at the racks
 * @param approachK TCS supply minus FWS supply temperature
 */
public record Setpoints(double tcsDpPa, double approachK) {}
