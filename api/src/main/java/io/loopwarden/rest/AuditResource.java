package io.loopwarden.rest;

import io.loopwarden.security.AuditTrail;
import io.loopwarden.store.AuditCheck;
import io.loopwarden.store.AuditEntry;
import jakarta.ws.rs.DefaultValue;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.QueryParam;
import java.sql.SQLException;
import java.util.List;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** Who changed what. */
@Path("/api/v1/audit")
@Tag(name = "audit trail")
public class AuditResource {

    private static final int MOST = 1_000;

    private final AuditTrail trail;

    AuditResource(AuditTrail trail) {
        this.trail = trail;
    }

    @GET
    @Operation(summary = "Entries with numbers below `before`, newest first")
    public List<AuditEntry> entries(
            @QueryParam("before") @DefaultValue("9223372036854775807") long before,
            @QueryParam("most") @DefaultValue("100") int most)
            throws SQLException {
        if (most < 1 || most > MOST) {
            throw Problem.badRequest("'most' is " + most + ", must be 1 to " + MOST);
        }
        return trail.before(before, most);
    }

    @GET
    @Path("check")
    @Operation(summary = "Follow the chain of hashes over the whole trail: was anything changed or taken out?")
    public AuditCheck check() throws SQLException {
        return trail.check();
    }
}
