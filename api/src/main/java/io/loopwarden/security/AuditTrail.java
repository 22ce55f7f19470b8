package io.loopwarden.security;

import io.loopwarden.service.LoopwardenService;
import io.loopwarden.store.AuditCheck;
import io.loopwarden.store.AuditEntry;
import io.loopwarden.store.AuditTable;
import jakarta.enterprise.context.ApplicationScoped;
import java.sql.SQLException;
import java.util.List;

/** Who changed what. Requests that change something are entered by themselves before they are carried out. */
@ApplicationScoped
public class AuditTrail {

    private static final int LONGEST_DETAIL = 4_000;

    private final AuditTable table;

    AuditTrail(LoopwardenService service) {
        this.table = service.store().audit();
    }

    /**
     * For what does not come as a request.
     *
     * @throws SQLException if it could not be written down; then what it is about must not be done either
     */
    public void append(String who, String action, String subject, String detail) throws SQLException {
        table.append(
                who,
                action,
                subject,
                detail.length() <= LONGEST_DETAIL
                        ? detail
                        : detail.substring(0, LONGEST_DETAIL) + "… (" + detail.length() + " characters)");
    }

    public List<AuditEntry> before(long number, int most) throws SQLException {
        return table.before(number, most);
    }

    public AuditCheck check() throws SQLException {
        return table.check();
    }
}
