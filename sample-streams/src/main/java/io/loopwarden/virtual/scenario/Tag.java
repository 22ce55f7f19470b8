package io.loopwarden.virtual.scenario;

import io.loopwarden.fleet.PointName;

/**
 * One tag of a virtual controller: {@code inner = raw · factor + offset}.
 *
 * @param type {@code int16}, {@code float32}, {@code bit} …; empty for protocols that carry their own types
 * @param lowWordFirst order of the 16-bit words of longer Modbus values
 */
public record Tag(PointName point, String source, double factor, double offset, String type, boolean lowWordFirst) {

    public double raw(double inner) {
        return (inner - offset) / factor;
    }

    public String source(String nameAtSource) {
        return source.replace("{unit}", nameAtSource);
    }
}
