package io.loopwarden.inventory;

/**
 * One point of the plot that explains a suspicion.
 *
 * @param contentL coolant in the loop, at reference temperature and with make-up put back, relative to the first point shown
 * @param levelL what the level alone shows, relative to the first point shown
 */
public record ContentPoint(long epochS, double contentL, double levelL) {}
