package io.loopwarden.modbus;

import com.digitalpetri.modbus.ExceptionCode;
import io.loopwarden.collector.Collector;
import io.loopwarden.collector.CollectorContract;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ReadingSink;
import io.loopwarden.collector.RejectLog;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

class ModbusCollectorContractIT extends CollectorContract {

    @Override
    protected Rig newRig() throws Exception {
        return new DeviceRig(new TestDevice());
    }

    private record DeviceRig(TestDevice device) implements Rig {

        @Override
        public void start() throws Exception {
            device.start();
        }

        @Override
        public void stop() throws Exception {
            device.stop();
        }

        @Override
        public Collector collector(ReadingSink sink, RejectLog rejects, Clock clock) {
            var map = TestMaps.map(
                    "point: tcs.flow, source: holding/0, type: float32, words: high-first, unit: L/s",
                    "point: fws.flow, source: holding/4, type: int16, unit: L/s");
            Connection connection = TestMaps.connection(
                    device.endpoint(), List.of(TestMaps.served(unit(), "7", map)), TestMaps.quick());
            return new ModbusCollector(connection, ModbusSettings.from(connection), sink, rejects, clock);
        }

        @Override
        public String unit() {
            return "W-01";
        }

        @Override
        public String source() {
            return "holding/0";
        }

        @Override
        public Optional<Instant> set(double value) {
            device.refusedAddresses.remove(0);
            device.setFloat(0, value);
            return Optional.empty();
        }

        @Override
        public void setBad() {
            device.refusedAddresses.put(0, ExceptionCode.SLAVE_DEVICE_FAILURE);
        }

        @Override
        public void meetUnknownTag() {
            device.refusedAddresses.put(4, ExceptionCode.ILLEGAL_DATA_ADDRESS);
        }

        @Override
        public boolean isOutside(Thread thread) {
            return TestDevice.owns(thread);
        }

        @Override
        public void close() throws Exception {
            device.stop();
        }
    }
}
