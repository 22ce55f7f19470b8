-- The figures of a unit at one minute, in the order of the keys of its layout. Value and standard uncertainty in the unit of the
-- key, single precision; where there is no value, reason holds the number that ReasonCode documents.
CREATE TABLE figure_layout (
    layout_id integer GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    keys      text[] NOT NULL UNIQUE
);

CREATE TABLE figure_minute (
    minute_at   timestamptz NOT NULL,
    unit_id     integer     NOT NULL,
    layout_id   integer     NOT NULL,
    value       real[]      NOT NULL,
    uncertainty real[]      NOT NULL,
    reason      smallint[]  NOT NULL,
    PRIMARY KEY (unit_id, minute_at)
) PARTITION BY RANGE (minute_at);

-- One key over the 24 hours of a day (UTC) that is over. value_count: minutes with a value; gap_count: minutes with a reason.
CREATE TABLE figure_hour (
    day_start   timestamptz NOT NULL,
    unit_id     integer     NOT NULL,
    key         text        NOT NULL,
    value_count smallint[]  NOT NULL,
    gap_count   smallint[]  NOT NULL,
    min_value   real[]      NOT NULL,
    max_value   real[]      NOT NULL,
    mean_value  real[]      NOT NULL,
    uncertainty real[]      NOT NULL,
    reason      smallint[]  NOT NULL,
    PRIMARY KEY (unit_id, key, day_start)
) PARTITION BY RANGE (day_start);

-- Days whose hours are rolled up.
CREATE TABLE figure_day_closed (
    day_start timestamptz PRIMARY KEY
);
