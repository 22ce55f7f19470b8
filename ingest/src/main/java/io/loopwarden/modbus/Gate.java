package io.loopwarden.modbus;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.concurrent.CompletableFuture;
import java.util.function.Supplier;

/** Lets a bounded number of requests run at once; the rest wait in order. A unit has one request at a time, so few wait. */
final class Gate {

    private final int most;
    private final Deque<Runnable> waiting = new ArrayDeque<>();
    private int running;

    Gate(int most) {
        this.most = most;
    }

    <T> CompletableFuture<T> pass(Supplier<CompletableFuture<T>> request) {
        CompletableFuture<T> result = new CompletableFuture<>();
        Runnable run = () -> request.get().whenComplete((value, failure) -> {
            Runnable next = left();
            if (failure == null) {
                result.complete(value);
            } else {
                result.completeExceptionally(failure);
            }
            if (next != null) {
                next.run();
            }
        });
        if (entered(run)) {
            run.run();
        }
        return result;
    }

    private synchronized boolean entered(Runnable run) {
        if (running < most) {
            running++;
            return true;
        }
        waiting.add(run);
        return false;
    }

    /** Gives the place to the next in line, if any. */
    private synchronized Runnable left() {
        Runnable next = waiting.poll();
        if (next == null) {
            running--;
        }
        return next;
    }
}
