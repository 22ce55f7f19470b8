package io.loopwarden.yaml;

import java.util.Collection;
import java.util.Comparator;
import java.util.Locale;
import java.util.Optional;

/** Proposes the known word that was probably meant. */
public final class Nearest {

    private Nearest() {}

    /** The known word nearest to {@code word}; empty if none is near enough to be worth saying. */
    public static Optional<String> to(String word, Collection<String> known) {
        String folded = word.toLowerCase(Locale.ROOT);
        int limit = folded.length() < 3 ? 0 : folded.length() / 3;
        return known.stream()
                .filter(candidate -> Math.abs(candidate.length() - folded.length()) <= limit)
                .filter(candidate -> distance(candidate.toLowerCase(Locale.ROOT), folded) <= limit)
                .min(Comparator.comparingInt((String candidate) -> distance(candidate.toLowerCase(Locale.ROOT), folded))
                        .thenComparing(Comparator.naturalOrder()));
    }

    /** {@code , did you mean 'x'?} or nothing. */
    public static String hint(String word, Collection<String> known) {
        return to(word, known)
                .map(candidate -> ", did you mean '" + candidate + "'?")
                .orElse("");
    }

    /** Levenshtein's edit distance, with two neighbours swapped counted as one edit. */
    static int distance(String a, String b) {
        int[][] edits = new int[a.length() + 1][b.length() + 1];
        for (int i = 0; i <= a.length(); i++) {
            for (int j = 0; j <= b.length(); j++) {
                edits[i][j] = i == 0 || j == 0 ? i + j : cheapest(edits, a, b, i, j);
            }
        }
        return edits[a.length()][b.length()];
    }

    private static int cheapest(int[][] edits, String a, String b, int i, int j) {
        int same = a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1;
        int least = Math.min(edits[i - 1][j - 1] + same, Math.min(edits[i - 1][j], edits[i][j - 1]) + 1);
        boolean swapped = i > 1 && j > 1 && a.charAt(i - 1) == b.charAt(j - 2) && a.charAt(i - 2) == b.charAt(j - 1);
        return swapped ? Math.min(least, edits[i - 2][j - 2] + 1) : least;
    }
}
