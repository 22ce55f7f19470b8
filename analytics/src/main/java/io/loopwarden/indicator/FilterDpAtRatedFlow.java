package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Differential pressure of the most loaded filter, carried to rated flow and coolant of 40 °C. */
final class FilterDpAtRatedFlow extends Figure {

    FilterDpAtRatedFlow() {
        super("filter-dp-at-rated-flow", UnitFunction.FILTRATION, "Pa", Basis.RECENT);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.hydraulics().filters().map(FilterBank::atRatedFlow);
    }

    @Override
    public String subject(Evidence evidence) {
        return evidence.hydraulics().filters().fold(bank -> "filter " + bank.worst(), gap -> "");
    }
}
