package io.loopwarden.samplelog;

import io.loopwarden.fleet.Scan;
import java.util.List;

/** Where the log's writer puts scans; one writer at a time. */
public interface ScanStore {

    /**
     * Stores all the scans or none. When it returns they are on disk. Repeating a call is harmless.
     *
     * @throws StoreUnavailableException if they could not be stored now; the same call may succeed later
     */
    StoredCounts store(List<Scan> scans) throws StoreUnavailableException;
}
