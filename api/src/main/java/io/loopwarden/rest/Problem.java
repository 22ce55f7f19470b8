package io.loopwarden.rest;

import jakarta.ws.rs.WebApplicationException;
import jakarta.ws.rs.core.Response;

/**
 * Problem details of RFC 9457.
 *
 * @param type always {@code about:blank}: the title is that of the HTTP status
 * @param detail one sentence: what was asked, what is wrong with it, what to do
 */
public record Problem(String type, String title, int status, String detail) {

    static final String MEDIA_TYPE = "application/problem+json";

    static Problem of(Response.StatusType status, String detail) {
        return new Problem("about:blank", status.getReasonPhrase(), status.getStatusCode(), detail);
    }

    static Response response(Response.StatusType status, String detail) {
        return Response.status(status)
                .type(MEDIA_TYPE)
                .entity(of(status, detail))
                .build();
    }

    static WebApplicationException notFound(String detail) {
        return new WebApplicationException(response(Response.Status.NOT_FOUND, detail));
    }

    static WebApplicationException badRequest(String detail) {
        return new WebApplicationException(response(Response.Status.BAD_REQUEST, detail));
    }

    static WebApplicationException conflict(String detail) {
        return new WebApplicationException(response(Response.Status.CONFLICT, detail));
    }

    static WebApplicationException unavailable(String detail) {
        return new WebApplicationException(response(Response.Status.SERVICE_UNAVAILABLE, detail));
    }

    static WebApplicationException forbidden(String detail) {
        return new WebApplicationException(response(Response.Status.FORBIDDEN, detail));
    }
}
