package io.loopwarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.store.MemoryCodec.Decoded;
import io.loopwarden.watch.UnitMemory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class MemoryCodecTest {

    private final MemoryCodec codec = new MemoryCodec();
    private final UnitMemory fresh = Memories.FRESH;

    /** Before the first window, while the baseline is learnt, and after some days. */
    @ParameterizedTest
    @ValueSource(ints = {0, 2, 9})
    void whatIsReadIsWhatWasWrittenToTheLastBit(int days) {
        UnitMemory memory = Memories.after(days);
        Decoded decoded = codec.decode(codec.encode(memory), fresh);
        assertThat(decoded.faults()).isEmpty();
        assertThat(decoded.memory()).isEqualTo(memory);
    }

    @Test
    void theLongestOfThemHoldsDaysAndALearntModel() {
        var history = Memories.after(9).fouling().orElseThrow();
        assertThat(history.learntAt()).isPresent();
        assertThat(history.days()).isNotEmpty();
    }

    @Test
    void aComponentThatCannotBeReadBeginsAnewAndTheOthersStay() {
        UnitMemory memory = Memories.after(9);
        String text = codec.encode(memory).replaceFirst("\"days\":\\[", "\"days\":[{},");
        Decoded decoded = codec.decode(text, fresh);
        assertThat(decoded.memory().fouling()).isEqualTo(fresh.fouling());
        assertThat(decoded.memory().pumps()).isEqualTo(memory.pumps());
        assertThat(decoded.faults()).singleElement().asString().startsWith("fouling: ");
    }

    @Test
    void aMissingComponentBeginsAnewWithoutAFault() {
        String text = codec.encode(Memories.after(9)).replaceFirst("\"pumps\":", "\"ofAnotherVersion\":");
        Decoded decoded = codec.decode(text, fresh);
        assertThat(decoded.memory().pumps()).isEqualTo(fresh.pumps());
        assertThat(decoded.faults()).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "[]", "nonsense", "{\"fouling\":", "{\"fouling\":7,\"pumps\":[]}"})
    void whatIsNoMemoryIsNamedAndNothingIsThrown(String text) {
        Decoded decoded = codec.decode(text, fresh);
        assertThat(decoded.memory()).isEqualTo(fresh);
        assertThat(decoded.faults()).isNotEmpty();
    }

    @Test
    void whatWasLearntWithAnotherCoolantIsNotTaken() {
        Decoded decoded = codec.decode(codec.encode(Memories.after(9)), Memories.OF_ANOTHER_COOLANT);
        assertThat(decoded.memory().fouling()).isEqualTo(Memories.OF_ANOTHER_COOLANT.fouling());
        assertThat(decoded.faults()).singleElement().asString().contains("25.0 %", "35.0 %");
    }
}
