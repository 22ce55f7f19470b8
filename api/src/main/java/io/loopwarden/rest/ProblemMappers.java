package io.loopwarden.rest;

import jakarta.ws.rs.WebApplicationException;
import jakarta.ws.rs.core.Response;
import java.sql.SQLException;
import org.jboss.logging.Logger;
import org.jboss.resteasy.reactive.server.ServerExceptionMapper;

/** Every failure of a request leaves as a problem, with no inner detail of ours in it. */
final class ProblemMappers {

    private static final Logger LOG = Logger.getLogger(ProblemMappers.class);

    @ServerExceptionMapper
    Response requestProblem(WebApplicationException e) {
        Response response = e.getResponse();
        if (response.getEntity() instanceof Problem) {
            return response;
        }
        return Problem.response(
                response.getStatusInfo(), response.getStatusInfo().getReasonPhrase());
    }

    @ServerExceptionMapper
    Response storeAway(SQLException e) {
        LOG.warn("a request failed at the store", e);
        return Problem.response(
                Response.Status.SERVICE_UNAVAILABLE, "the store does not answer; samples are kept and stored later");
    }

    @ServerExceptionMapper
    Response fault(Exception e) {
        LOG.error("a request failed", e);
        return Problem.response(
                Response.Status.INTERNAL_SERVER_ERROR, "the service failed on this request; its log says why");
    }
}
