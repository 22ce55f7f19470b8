package io.loopwarden.bench;

import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Semaphore;

/**
 * The least that a MQTT 3.1.1 client takes for a broker: accepts one connection and one subscription, then sends messages of one unit
 * as fast as they are acknowledged. A real broker is several times slower than its clients and would hide their difference.
 */
final class BlastServer implements AutoCloseable {

    /** Messages on their way without acknowledgement. */
    static final int WINDOW = 1000;

    /** Bytes of the nth message, all of one length; they may be overwritten for the next. */
    interface Payloads {
        byte[] payload(int n);
    }

    private final ServerSocket server = new ServerSocket(0, 1, InetAddress.getLoopbackAddress());
    private final CompletableFuture<Double> messagesPerSecond = new CompletableFuture<>();
    private final Semaphore window = new Semaphore(WINDOW);
    private final byte[] beforeId;
    private final Payloads payloads;
    private final int messages;

    BlastServer(String topic, Payloads payloads, int messages) throws IOException {
        this.payloads = payloads;
        this.messages = messages;
        this.beforeId = publishHeader(topic, payloads.payload(0).length);
        Thread thread = new Thread(this::serve, "blast-server");
        thread.setDaemon(true);
        thread.start();
    }

    int port() {
        return server.getLocalPort();
    }

    /** From the first message to the last acknowledgement. */
    CompletableFuture<Double> messagesPerSecond() {
        return messagesPerSecond;
    }

    private static byte[] publishHeader(String topic, int payloadLength) throws IOException {
        byte[] name = topic.getBytes(StandardCharsets.UTF_8);
        ByteArrayOutputStream header = new ByteArrayOutputStream();
        header.write(0x32); // PUBLISH, QoS 1
        int remaining = 2 + name.length + 2 + payloadLength;
        do {
            header.write(remaining > 127 ? remaining & 0x7F | 0x80 : remaining);
            remaining >>= 7;
        } while (remaining > 0);
        new DataOutputStream(header).writeUTF(topic);
        return header.toByteArray();
    }

    private void serve() {
        try (Socket socket = server.accept()) {
            socket.setTcpNoDelay(true);
            DataInputStream in = new DataInputStream(new BufferedInputStream(socket.getInputStream()));
            OutputStream out = new BufferedOutputStream(socket.getOutputStream(), 1 << 16);
            readPacket(in);
            out.write(new byte[] {0x20, 2, 0, 0}); // CONNACK
            out.flush();
            byte[] subscribe = readPacket(in);
            out.write(new byte[] {(byte) 0x90, 3, subscribe[0], subscribe[1], 1}); // SUBACK
            out.flush();
            long begin = System.nanoTime();
            Thread sender = new Thread(() -> send(out), "blast-sender");
            sender.start();
            for (int acknowledged = 0; acknowledged < messages; acknowledged++) {
                readPacket(in);
                window.release();
            }
            messagesPerSecond.complete(messages / ((System.nanoTime() - begin) / 1e9));
            sender.join();
            readPacket(in); // until the client leaves
        } catch (IOException | InterruptedException e) {
            messagesPerSecond.completeExceptionally(e);
        }
    }

    private void send(OutputStream out) {
        try {
            for (int i = 0; i < messages; i++) {
                if (!window.tryAcquire()) {
                    out.flush();
                    window.acquire();
                }
                int id = i % 65_535 + 1;
                out.write(beforeId);
                out.write(id >> 8);
                out.write(id);
                out.write(payloads.payload(i));
            }
            out.flush();
        } catch (IOException | InterruptedException e) {
            messagesPerSecond.completeExceptionally(e);
        }
    }

    private static byte[] readPacket(DataInputStream in) throws IOException {
        in.readByte();
        int length = 0;
        for (int shift = 0; ; shift += 7) {
            int part = in.readUnsignedByte();
            length |= (part & 0x7F) << shift;
            if (part < 128) {
                return in.readNBytes(length);
            }
        }
    }

    @Override
    public void close() throws IOException {
        server.close();
    }
}
