package io.loopwarden.virtual.sense;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.virtual.control.Controller;
import io.loopwarden.virtual.fault.Fault;
import io.loopwarden.virtual.plant.Plant;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;

/** All sensors of one unit: what each shows at the end of a step. */
public final class Instruments {

    private final Channels channels;
    private final Instrument[] instruments;
    private final SplittableRandom random;
    private final double[] lagged;
    private final double[] shown;
    private final double[] faultOffset;
    private final double[] addedNoise;
    private final boolean[] stuck;
    private final boolean[] dead;
    private final double[] manualOffset;
    private final double[] override;
    private final double[] alpha;
    private double alphaForS = Double.NaN;
    private boolean first = true;

    public Instruments(Channels channels, SensorClass accuracy, SplittableRandom random) {
        this.channels = channels;
        this.random = random;
        int size = channels.size();
        instruments = new Instrument[size];
        for (int i = 0; i < size; i++) {
            instruments[i] = Instrument.draw(channels.point(i), accuracy, random);
        }
        lagged = new double[size];
        shown = new double[size];
        faultOffset = new double[size];
        addedNoise = new double[size];
        stuck = new boolean[size];
        dead = new boolean[size];
        manualOffset = new double[size];
        alpha = new double[size];
        override = new double[size];
        Arrays.fill(override, Double.NaN);
    }

    public void read(Plant plant, Controller controller, List<Fault> faults, double epochS, double dtS) {
        prepare(dtS);
        sensorFaults(faults, epochS);
        restlessPumps(plant);
        for (int i = 0; i < shown.length; i++) {
            double truth = channels.truth(i, plant, controller);
            lagged[i] = first ? truth : lagged[i] + alpha[i] * (truth - lagged[i]);
            if (!stuck[i] || first) {
                shown[i] = show(i);
            }
        }
        first = false;
    }

    private double show(int i) {
        if (!Double.isNaN(override[i])) {
            return override[i];
        }
        Instrument instrument = instruments[i];
        if (instrument == Instrument.EXACT) {
            return lagged[i] + faultOffset[i] + manualOffset[i];
        }
        double value = lagged[i] * instrument.gain() + instrument.offset() + faultOffset[i] + manualOffset[i];
        double noise = instrument.noise() + instrument.noiseOfReading() * Math.abs(value) + addedNoise[i];
        if (noise > 0) {
            value += noise * random.nextGaussian();
        }
        if (instrument.quantum() > 0) {
            value = Math.rint(value / instrument.quantum()) * instrument.quantum();
        }
        return Math.max(instrument.low(), value);
    }

    private void prepare(double dtS) {
        if (dtS != alphaForS) {
            alphaForS = dtS;
            for (int i = 0; i < alpha.length; i++) {
                alpha[i] = instruments[i].lagS() == 0 ? 1 : 1 - Math.exp(-dtS / instruments[i].lagS());
            }
        }
    }

    private void restlessPumps(Plant plant) {
        double[] share = plant.condition().pumpRestlessness;
        for (int n = 0; n < share.length; n++) {
            if (share[n] > 0) {
                addedNoise[channels.require("pump." + (n + 1) + ".dp")] += share[n] * plant.pumpDpPa(n);
            }
        }
    }

    private void sensorFaults(List<Fault> faults, double epochS) {
        Arrays.fill(faultOffset, 0);
        Arrays.fill(addedNoise, 0);
        Arrays.fill(stuck, false);
        Arrays.fill(dead, false);
        for (Fault fault : faults) {
            double severity = fault.point().isPresent() ? fault.severity(epochS) : 0;
            if (severity == 0) {
                continue;
            }
            int i = channels.require(fault.point().orElseThrow());
            switch (fault.kind()) {
                case SENSOR_OFFSET -> faultOffset[i] += severity;
                case SENSOR_NOISY -> addedNoise[i] += severity;
                case SENSOR_CHATTERS -> faultOffset[i] += ((long) (epochS / severity) & 1) - lagged[i];
                case SENSOR_STUCK -> stuck[i] = true;
                case SENSOR_DEAD -> dead[i] = true;
                default -> throw new IllegalStateException(fault.kind() + " has a point");
            }
        }
    }

    /** From the next read on, that sensor shows so much more than it would. */
    public void setManualOffset(PointName point, double offset) {
        manualOffset[channels.require(point.value())] = offset;
    }

    /** From now on, that sensor shows exactly this, until NaN takes the override away. */
    public void override(PointName point, double value) {
        int i = channels.require(point.value());
        override[i] = value;
        if (!Double.isNaN(value)) {
            shown[i] = value;
        }
    }

    public double shown(int channel) {
        return shown[channel];
    }

    public boolean isDead(int channel) {
        return dead[channel];
    }

    /** What that sensor shows beyond the truth now, noise and lag apart. */
    public double error(int channel) {
        return instruments[channel].offset()
                + (instruments[channel].gain() - 1) * lagged[channel]
                + faultOffset[channel]
                + manualOffset[channel];
    }
}
