-- Ticks of steps as they were made, each under an id of the device it was made
-- on: one that arrives late, or twice, must not undo a later one.

CREATE TABLE step_tick (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    step TEXT NOT NULL REFERENCES step (id),
    done INTEGER NOT NULL CHECK (done IN (0, 1)),
    made_at TEXT NOT NULL
) STRICT;
CREATE INDEX step_tick_of_step ON step_tick (step, made_at);
INSERT INTO step_tick (id, step, done, made_at)
    SELECT id, id, 1, done_at FROM step WHERE done_at IS NOT NULL;

-- A stop made before the timer was let run on again is no stop of it.
ALTER TABLE timer ADD COLUMN resumed_at TEXT;
