package io.loopwarden.bench;

/** Times of something done again and again. */
final class Timed {

    /** What is timed. */
    interface Task {
        Object run() throws Exception;
    }

    private Timed() {}

    /** Milliseconds of each call, after as many calls that are not counted as {@code before}. */
    static Runs ms(int before, int counted, Task task) throws Exception {
        for (int i = 0; i < before; i++) {
            task.run();
        }
        double[] ms = new double[counted];
        for (int i = 0; i < counted; i++) {
            long startNs = System.nanoTime();
            task.run();
            ms[i] = (System.nanoTime() - startNs) / 1e6;
        }
        return Runs.of(ms);
    }
}
