package io.loopwarden.rest;

import io.loopwarden.service.LoopwardenService;
import io.loopwarden.view.DataQuality;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** What comes in and what does not. */
@Path("/api/v1/data-quality")
@Tag(name = "data quality")
public class DataQualityResource {

    private final LoopwardenService service;

    DataQualityResource(LoopwardenService service) {
        this.service = service;
    }

    @GET
    @Operation(summary = "Connections, what was refused and why, faults of the fleet folder, the store")
    public DataQuality dataQuality() {
        return DataQuality.of(
                service.lines(),
                service.rejects().entries(),
                service.config().faults(),
                service.store().kind(),
                service.logStatus(),
                service.spoolStatus());
    }
}
