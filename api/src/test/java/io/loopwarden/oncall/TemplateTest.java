package io.loopwarden.oncall;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Map;
import org.junit.jupiter.api.Test;

class TemplateTest {

    @Test
    void fieldsAreFilledAndOtherBracesAreLeft() {
        assertThat(TemplateChannel.fill("{\"to\":\"{address}\",\"x\":{}}", Map.of("address", "$1\\"), text -> text))
                .isEqualTo("{\"to\":\"$1\\\",\"x\":{}}");
    }
}
