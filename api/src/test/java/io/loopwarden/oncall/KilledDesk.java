package io.loopwarden.oncall;

import io.loopwarden.alarm.Incident;
import io.loopwarden.store.EmbeddedStore;
import io.loopwarden.store.SampleStore;
import io.loopwarden.store.StoreSettings;
import io.loopwarden.store.alarm.OutboxMessage;
import java.io.IOException;
import java.io.OutputStream;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Clock;
import java.util.List;
import java.util.concurrent.locks.LockSupport;

/**
 * A service to be killed: raises one alarm after another and prints the number of each once it is kept. With no alarms to raise it only
 * delivers, prints "idle" when nothing waits, and ends. Ends when its input does.
 */
final class KilledDesk {

    private KilledDesk() {}

    /** Arguments: folder of the store, address of the receiver, first number, how many. */
    public static void main(String[] args) throws Exception {
        endWithInput();
        int first = Integer.parseInt(args[2]);
        int count = Integer.parseInt(args[3]);
        EmbeddedStore server = EmbeddedStore.start(Path.of(args[0]));
        SampleStore samples = SampleStore.open(server.dataSource(), StoreSettings.DEFAULT, Clock.systemUTC());
        Channel webhook = new WebhookChannel(
                "webhook",
                URI.create(args[1]),
                "test",
                "a key of the test, long enough".getBytes(StandardCharsets.UTF_8),
                URI.create("https://loopwarden.example.org"),
                DeskRig.JSON,
                Clock.systemUTC());
        DeskRig rig = new DeskRig(server.dataSource(), List.of(webhook), Clock.systemUTC());
        for (int n = first; n < first + count; n++) {
            int number = n;
            rig.set(n, true);
            while (!rig.desk.snapshot().alarms().containsKey(DeskRig.alarm(number))
                    || !rig.desk.snapshot().kept()) {
                LockSupport.parkNanos(1_000_000);
            }
            System.out.println(n);
        }
        if (count == 0) {
            while (!everythingIsDelivered(rig)) {
                LockSupport.parkNanos(20_000_000);
            }
            System.out.println("idle");
            rig.close();
            samples.close();
            server.close();
            Runtime.getRuntime().halt(0);
        }
    }

    private static boolean everythingIsDelivered(DeskRig rig) throws SQLException {
        List<String> open =
                rig.desk.snapshot().open().stream().map(Incident::id).toList();
        List<OutboxMessage> messages = rig.outbox.ofIncidents(open);
        return messages.size() == open.size()
                && messages.stream().allMatch(each -> each.state().equals("delivered"));
    }

    private static void endWithInput() {
        Thread watch = new Thread(() -> {
            try {
                System.in.transferTo(OutputStream.nullOutputStream());
            } catch (IOException e) {
                System.err.println("input broke: " + e);
            }
            Runtime.getRuntime().halt(0);
        });
        watch.setDaemon(true);
        watch.start();
    }
}
