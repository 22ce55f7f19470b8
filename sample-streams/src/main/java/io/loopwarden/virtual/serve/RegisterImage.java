package io.loopwarden.virtual.serve;

import io.loopwarden.virtual.Readings;
import io.loopwarden.virtual.scenario.Tag;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/** All registers and bits of one unit at one time. Addresses that nothing is at, up to the last used, read as zero. */
final class RegisterImage {

    /** What a scaled 16-bit value says when its sensor has failed. */
    private static final int FAILED_INT16 = -32768;

    private final Map<String, short[]> tables = new HashMap<>();

    static RegisterImage of(UnitTags unit, Readings readings) {
        RegisterImage image = new RegisterImage();
        for (Tag tag : unit.tags()) {
            image.put(tag, unit.raw(tag, readings), readings.isBad(tag.point().value()));
        }
        return image;
    }

    private void put(Tag tag, double raw, boolean bad) {
        String table = tag.source().substring(0, tag.source().indexOf('/'));
        int address = Integer.parseInt(tag.source().substring(table.length() + 1));
        switch (tag.type()) {
            case "bit" -> words(table, address, Math.round(raw), 1, tag.lowWordFirst());
            case "int16" -> {
                long value = Math.max(-32767, Math.min(32767, Math.round(raw)));
                words(table, address, bad ? FAILED_INT16 : value, 1, tag.lowWordFirst());
            }
            case "uint16" -> words(table, address, bad ? 0xFFFF : Math.round(raw) & 0xFFFF, 1, tag.lowWordFirst());
            case "int32", "uint32" -> words(table, address, Math.round(raw), 2, tag.lowWordFirst());
            case "float32" ->
                words(table, address, Float.floatToIntBits(bad ? Float.NaN : (float) raw), 2, tag.lowWordFirst());
            case "int64", "uint64" -> words(table, address, Math.round(raw), 4, tag.lowWordFirst());
            case "float64" ->
                words(table, address, Double.doubleToLongBits(bad ? Double.NaN : raw), 4, tag.lowWordFirst());
            default -> throw new IllegalArgumentException(tag.source() + " has unknown type '" + tag.type() + "'");
        }
    }

    private void words(String table, int address, long value, int count, boolean lowFirst) {
        short[] registers = tables.getOrDefault(table, new short[0]);
        if (registers.length < address + count) {
            registers = Arrays.copyOf(registers, address + count);
            tables.put(table, registers);
        }
        for (int i = 0; i < count; i++) {
            int shift = 16 * (lowFirst ? i : count - 1 - i);
            registers[address + i] = (short) (value >>> shift);
        }
    }

    /** Big-endian bytes of the registers; empty if any lies beyond the last used. */
    Optional<byte[]> registers(String table, int address, int quantity) {
        short[] registers = tables.getOrDefault(table, new short[0]);
        if (address + quantity > registers.length) {
            return Optional.empty();
        }
        byte[] bytes = new byte[2 * quantity];
        for (int i = 0; i < quantity; i++) {
            bytes[2 * i] = (byte) (registers[address + i] >>> 8);
            bytes[2 * i + 1] = (byte) registers[address + i];
        }
        return Optional.of(bytes);
    }

    /** Bits, the first in the lowest place of the first byte. */
    Optional<byte[]> bits(String table, int address, int quantity) {
        short[] registers = tables.getOrDefault(table, new short[0]);
        if (address + quantity > registers.length) {
            return Optional.empty();
        }
        byte[] bytes = new byte[(quantity + 7) / 8];
        for (int i = 0; i < quantity; i++) {
            bytes[i / 8] |= (byte) (registers[address + i] << (i % 8));
        }
        return Optional.of(bytes);
    }
}
