package io.loopwarden.indicator;

import io.loopwarden.exchanger.SensorBalance;
import io.loopwarden.exchanger.SteadyState;
import io.loopwarden.statistics.Computed;
import java.util.function.Supplier;

/**
 * What was worked out of the last steady window. A window ends every ten seconds and figures are asked for more often: as long as
 * the inputs are equal, so is the answer. Kept from one evaluation to the next, for one unit and one thread.
 */
public final class SteadyMemo {

    final Slot<SteadyExchanger> exchanger = new Slot<>();
    final Slot<SteadyState> steadyState = new Slot<>();
    final Slot<SensorBalance> sensorBalance = new Slot<>();

    /** One answer and the inputs it belongs to. */
    static final class Slot<T> {

        private Object inputs;
        private Computed<T> answer;

        /** @param asked everything that the work looks at and that may change */
        Computed<T> of(Object asked, Supplier<Computed<T>> work) {
            if (!asked.equals(inputs)) {
                answer = work.get();
                inputs = asked;
            }
            return answer;
        }
    }
}
