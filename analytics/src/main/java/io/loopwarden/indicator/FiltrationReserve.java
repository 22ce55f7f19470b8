package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Terminal differential pressure over that of the most loaded filter at rated flow: 1 is due, below 1 overdue. */
final class FiltrationReserve extends Figure {

    FiltrationReserve() {
        super("filtration-reserve", UnitFunction.FILTRATION, "1", Basis.RECENT);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        double terminalPa = evidence.design().nameplate().filterTerminalDpPa();
        return evidence.hydraulics().filters().map(bank -> {
            double ratio = terminalPa / bank.atRatedFlow().value();
            return new Estimate(
                    ratio,
                    ratio
                            * bank.atRatedFlow().standardUncertainty()
                            / bank.atRatedFlow().value());
        });
    }

    @Override
    public String subject(Evidence evidence) {
        return evidence.hydraulics().filters().fold(bank -> "filter " + bank.worst(), gap -> "");
    }
}
