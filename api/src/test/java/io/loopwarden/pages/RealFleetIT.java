package io.loopwarden.pages;

/** The pages' main tasks before the service itself and the virtual fleet. */
class RealFleetIT extends MainTasks {

    @Override
    ServiceUnderTest start() {
        return new RealFleet();
    }
}
