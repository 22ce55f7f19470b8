package io.loopwarden.opcua;

import java.util.concurrent.TimeoutException;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;

/** What went wrong, in one sentence for a person. */
final class Reasons {

    private Reasons() {}

    static String of(Throwable failure) {
        Throwable root = rootOf(failure);
        String rootMessage = root.getMessage() == null ? root.getClass().getSimpleName() : root.getMessage();
        for (Throwable t = failure; t != null; t = t.getCause()) {
            if (t instanceof UaException ua) {
                String name = name(ua.getStatusCode());
                String own = ua.getMessage() == null ? "" : ua.getMessage();
                String text = ua.getCause() == null || !own.contains(rootMessage) ? own : rootMessage;
                return text.isBlank() || text.contains(name) ? name : text + " (" + name + ")";
            }
        }
        return root instanceof TimeoutException ? "no answer in time" : rootMessage;
    }

    static String name(StatusCode status) {
        return StatusCodes.lookup(status.value())
                .map(nameAndText -> nameAndText[0])
                .orElse("status 0x%08X".formatted(status.value()));
    }

    static Throwable rootOf(Throwable failure) {
        Throwable root = failure;
        while (root.getCause() != null && root.getCause() != root) {
            root = root.getCause();
        }
        return root;
    }
}
