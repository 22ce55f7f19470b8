package io.loopwarden.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What a definition would have done over a stretch of history: judged and delayed as in service, one source at a time. */
public final class TestFire {

    /**
     * One stretch with the alarm there.
     *
     * @param until empty if it was still there at the end
     */
    public record Span(String source, Instant from, Optional<Instant> until) {}

    private final Delay.Times delays;
    private final List<Span> spans = new ArrayList<>();
    private Delay delay = Delay.settled(false);
    private Instant since;
    private long judged;
    private long unknown;

    public TestFire(Delay.Times delays) {
        this.delays = delays;
    }

    /** The next judgement of a source, in order of time. */
    public void judge(String source, Instant at, Verdict.Kind verdict) {
        judged++;
        unknown += verdict == Verdict.Kind.UNKNOWN ? 1 : 0;
        delay = delay.next(verdict, at, delays);
        if (delay.there() && since == null) {
            since = at;
        } else if (!delay.there() && since != null) {
            spans.add(new Span(source, since, Optional.of(at)));
            since = null;
        }
    }

    /** Ends the history of a source; the next one begins anew. */
    public void end(String source) {
        if (since != null) {
            spans.add(new Span(source, since, Optional.empty()));
        }
        since = null;
        delay = Delay.settled(false);
    }

    public List<Span> spans() {
        return List.copyOf(spans);
    }

    /** Judgements made, those without a value included. */
    public long judged() {
        return judged;
    }

    /** Judgements for which there was no value. */
    public long unknown() {
        return unknown;
    }

    /** Mean length of the spans, one that is still there counted up to {@code end}; empty without any. */
    public Optional<Duration> meanDuration(Instant end) {
        if (spans.isEmpty()) {
            return Optional.empty();
        }
        Duration sum = Duration.ZERO;
        for (Span span : spans) {
            sum = sum.plus(Duration.between(span.from(), span.until().orElse(end)));
        }
        return Optional.of(sum.dividedBy(spans.size()));
    }
}
