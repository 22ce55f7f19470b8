package io.loopwarden.virtual;

import java.io.IOException;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/** Keeps a process alive until it is told to stop, its parent goes away, or, if asked, its standard input ends. */
final class Lifetime {

    private final CountDownLatch over = new CountDownLatch(1);

    /** Runs until the end, then closes what is given; a TERM signal waits for that. */
    void run(boolean watchStdin, AutoCloseable closing) throws Exception {
        CountDownLatch closed = new CountDownLatch(1);
        Runtime.getRuntime()
                .addShutdownHook(new Thread(
                        () -> {
                            over.countDown();
                            awaitQuietly(closed);
                        },
                        "end"));
        watchParent();
        if (watchStdin) {
            daemon("standard-input", this::untilEndOfInput);
        }
        over.await();
        try {
            closing.close();
        } finally {
            closed.countDown();
        }
    }

    private void watchParent() {
        ProcessHandle.current().parent().ifPresent(parent -> parent.onExit().thenRun(over::countDown));
    }

    private void untilEndOfInput() throws IOException {
        while (System.in.read() >= 0) {
            // What is written does not matter, only that the other end is there.
        }
        over.countDown();
    }

    private interface Task {
        void run() throws IOException;
    }

    private void daemon(String name, Task task) {
        Thread thread = new Thread(
                () -> {
                    try {
                        task.run();
                    } catch (IOException e) {
                        over.countDown();
                    }
                },
                name);
        thread.setDaemon(true);
        thread.start();
    }

    private static void awaitQuietly(CountDownLatch closed) {
        try {
            closed.await(10, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
