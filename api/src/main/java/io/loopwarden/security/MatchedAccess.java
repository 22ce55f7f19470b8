package io.loopwarden.security;

import jakarta.annotation.Priority;
import jakarta.ws.rs.HttpMethod;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.Priorities;
import jakarta.ws.rs.container.ContainerRequestContext;
import jakarta.ws.rs.container.ContainerRequestFilter;
import jakarta.ws.rs.container.ContainerResponseContext;
import jakarta.ws.rs.container.ContainerResponseFilter;
import jakarta.ws.rs.container.ResourceInfo;
import jakarta.ws.rs.core.Context;
import jakarta.ws.rs.core.Response;
import jakarta.ws.rs.ext.Provider;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.lang.annotation.Annotation;
import java.lang.reflect.Method;
import java.nio.charset.StandardCharsets;
import java.sql.SQLException;
import java.util.Optional;
import org.jboss.logging.Logger;

/**
 * Once the method that will answer is known: checks that it is the one whose role was checked, so that no odd spelling of an address
 * gets past {@link AccessFilter}, and enters changes in the audit trail before they happen.
 */
@Provider
@Priority(Priorities.AUTHORIZATION)
class MatchedAccess implements ContainerRequestFilter, ContainerResponseFilter {

    private static final Logger LOG = Logger.getLogger(MatchedAccess.class);

    @Context
    ResourceInfo matched;

    private final AuditTrail trail;
    private final Who who;

    MatchedAccess(AuditTrail trail, Who who) {
        this.trail = trail;
        this.who = who;
    }

    @Override
    public void filter(ContainerRequestContext request) throws IOException {
        String path = request.getUriInfo().getRequestUri().getRawPath();
        Optional<Access> access = AccessTable.find(request.getMethod(), path);
        String template = template(matched.getResourceClass(), matched.getResourceMethod());
        if (access.filter(row -> row.template().equals(template)).isEmpty()) {
            request.abortWith(Response.status(Response.Status.NOT_FOUND).build());
            return;
        }
        if (isEntered(access.get())) {
            String body = body(request);
            try {
                enter(access.get(), request, body);
            } catch (SQLException e) {
                LOG.error("a change was refused since it could not be entered in the audit trail", e);
                request.abortWith(
                        Response.status(Response.Status.SERVICE_UNAVAILABLE).build());
            }
        }
    }

    private static boolean isEntered(Access access) {
        return access.isChange() && !access.auditsItself();
    }

    private static String body(ContainerRequestContext request) throws IOException {
        byte[] bytes = request.getEntityStream().readAllBytes();
        request.setEntityStream(new ByteArrayInputStream(bytes));
        return new String(bytes, StandardCharsets.UTF_8);
    }

    private void enter(Access access, ContainerRequestContext request, String detail) throws SQLException {
        trail.append(
                who.name(),
                access.method() + " " + access.template(),
                request.getUriInfo().getRequestUri().getRawPath(),
                detail);
    }

    /** What was refused after all is entered as well; what is entered alone was carried out. */
    @Override
    public void filter(ContainerRequestContext request, ContainerResponseContext response) {
        if (response.getStatus() < 400 || matched == null || matched.getResourceMethod() == null) {
            return;
        }
        AccessTable.find(
                        request.getMethod(),
                        request.getUriInfo().getRequestUri().getRawPath())
                .filter(MatchedAccess::isEntered)
                .ifPresent(access -> {
                    try {
                        enter(access, request, "not done: answered " + response.getStatus());
                    } catch (SQLException e) {
                        LOG.error("the refusal of a change could not be entered in the audit trail", e);
                    }
                });
    }

    static String template(Class<?> resource, Method method) {
        return join(path(resource), path(method));
    }

    private static String path(java.lang.reflect.AnnotatedElement element) {
        Path path = element.getAnnotation(Path.class);
        return path == null ? "" : path.value();
    }

    private static String join(String first, String second) {
        String joined = "/" + first + "/" + second;
        return joined.replaceAll("/+", "/").replaceAll("(.)/$", "$1");
    }

    /** The HTTP method a resource method answers, if it answers any. */
    static Optional<String> method(Method method) {
        for (Annotation annotation : method.getAnnotations()) {
            HttpMethod http = annotation.annotationType().getAnnotation(HttpMethod.class);
            if (http != null) {
                return Optional.of(http.value());
            }
        }
        return Optional.empty();
    }
}
