package io.loopwarden.fuzz;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Random;

/** Makes broken inputs from sound ones: bits, bytes, whole stretches, tokens that parsers trip over, and pieces of other inputs. */
final class Mutator {

    private static final List<byte[]> TOKENS = List.of(
                    "0",
                    "-0",
                    "-1",
                    "1e999",
                    "-1e-999",
                    "NaN",
                    "Infinity",
                    "9223372036854775807",
                    "-9223372036854775808",
                    "18446744073709551616",
                    "0x",
                    "null",
                    "true",
                    "\"",
                    "'",
                    "{",
                    "}",
                    "[",
                    "]",
                    ":",
                    ",",
                    ";",
                    "\n",
                    "\r",
                    "\t",
                    "\u0000",
                    "\uFEFF",
                    "\uD800",
                    "&a",
                    "*a",
                    "!!java",
                    "---",
                    "<<: *a",
                    "? ",
                    "|\n",
                    "- - - - ",
                    "${HOME}",
                    "../..",
                    "2026-02-30T25:61:61Z",
                    "\\u0000",
                    "\\",
                    "{\"a\":",
                    "[[[[[[[[",
                    "%s%n",
                    "é",
                    "𝛥")
            .stream()
            .map(token -> token.getBytes(StandardCharsets.UTF_8))
            .toList();

    private final List<byte[]> corpus;
    private final Random random;
    private final int mostBytes;

    Mutator(List<byte[]> corpus, Random random, int mostBytes) {
        this.corpus = corpus;
        this.random = random;
        this.mostBytes = mostBytes;
    }

    byte[] next() {
        byte[] input = any().clone();
        int changes = 1 + (int) Math.abs(random.nextGaussian() * 3);
        for (int n = 0; n < changes; n++) {
            input = change(input);
        }
        return input.length <= mostBytes ? input : java.util.Arrays.copyOf(input, mostBytes);
    }

    private byte[] any() {
        return corpus.get(random.nextInt(corpus.size()));
    }

    private byte[] change(byte[] input) {
        if (input.length == 0) {
            return token();
        }
        int at = random.nextInt(input.length);
        int length = 1 + random.nextInt(Math.min(32, input.length - at));
        return switch (random.nextInt(9)) {
            case 0 -> {
                input[at] ^= (byte) (1 << random.nextInt(8));
                yield input;
            }
            case 1 -> {
                input[at] = (byte) random.nextInt(256);
                yield input;
            }
            case 2 -> splice(input, at, length, new byte[0]);
            case 3 -> splice(input, at, 0, token());
            case 4 -> splice(input, at, length, token());
            case 5 -> splice(input, at, 0, stretch(input, at, length));
            case 6 -> splice(input, at, 0, repeated(stretch(input, at, Math.min(length, 4))));
            case 7 -> {
                byte[] other = any();
                int from = other.length == 0 ? 0 : random.nextInt(other.length);
                yield splice(input, at, input.length - at, stretch(other, from, other.length - from));
            }
            default -> java.util.Arrays.copyOf(input, at);
        };
    }

    private byte[] token() {
        return TOKENS.get(random.nextInt(TOKENS.size()));
    }

    private byte[] repeated(byte[] piece) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        int times = 1 << random.nextInt(10);
        for (int n = 0; n < times; n++) {
            out.writeBytes(piece);
        }
        return out.toByteArray();
    }

    private static byte[] stretch(byte[] from, int at, int length) {
        return java.util.Arrays.copyOfRange(from, at, Math.min(from.length, at + length));
    }

    private static byte[] splice(byte[] input, int at, int cut, byte[] put) {
        ByteArrayOutputStream out = new ByteArrayOutputStream(input.length + put.length);
        out.write(input, 0, at);
        out.writeBytes(put);
        out.write(input, at + cut, input.length - at - cut);
        return out.toByteArray();
    }
}
