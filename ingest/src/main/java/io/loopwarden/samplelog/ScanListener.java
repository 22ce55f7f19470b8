package io.loopwarden.samplelog;

import io.loopwarden.fleet.Scan;

/** Hears of every scan as it is appended, in order. Called from a thread of its own; may be slow, but then loses scans. */
public interface ScanListener {

    void onScan(Scan scan);

    /** So many scans were dropped before the next one, because this listener was behind. */
    void onDropped(long scans);
}
