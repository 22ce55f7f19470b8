package io.loopwarden.opcua;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;

/** A cable between client and server, on loopback, that can be cut or go silent while both ends live on. */
final class Wire implements AutoCloseable {

    private final ServerSocket entrance;
    private final int serverPort;
    private final Set<Socket> ends = ConcurrentHashMap.newKeySet();
    private volatile CountDownLatch silence = new CountDownLatch(0);
    private volatile boolean cut;

    Wire(int serverPort) throws IOException {
        this.serverPort = serverPort;
        this.entrance = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
        start("wire " + port(), this::accept);
    }

    int port() {
        return entrance.getLocalPort();
    }

    /** Closes all connections and lets none through until {@link #mend()}. */
    void cut() {
        cut = true;
        ends.forEach(Wire::close);
    }

    /** Nothing passes, nothing is closed, until {@link #mend()}. */
    void goSilent() {
        silence = new CountDownLatch(1);
    }

    void mend() {
        cut = false;
        silence.countDown();
    }

    @Override
    public void close() throws IOException {
        entrance.close();
        mend();
        ends.forEach(Wire::close);
    }

    private void accept() {
        while (!entrance.isClosed()) {
            try {
                Socket client = entrance.accept();
                if (cut) {
                    close(client);
                    continue;
                }
                Socket server = new Socket(InetAddress.getLoopbackAddress(), serverPort);
                ends.add(client);
                ends.add(server);
                start("wire to server", () -> pump(client, server));
                start("wire to client", () -> pump(server, client));
            } catch (IOException e) {
                // closed, or the server is away: the client sees it as it would see the server
            }
        }
    }

    private void pump(Socket from, Socket to) {
        byte[] buffer = new byte[8192];
        try (from;
                to) {
            InputStream in = from.getInputStream();
            OutputStream out = to.getOutputStream();
            for (int count = in.read(buffer); count >= 0; count = in.read(buffer)) {
                silence.await();
                out.write(buffer, 0, count);
            }
        } catch (IOException e) {
            // one end is gone, so the other goes too
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            ends.remove(from);
            ends.remove(to);
        }
    }

    private static void start(String name, Runnable task) {
        Thread thread = new Thread(task, name);
        thread.setDaemon(true);
        thread.start();
    }

    private static void close(Socket socket) {
        try {
            socket.close();
        } catch (IOException e) {
            // it is gone in any case
        }
    }
}
