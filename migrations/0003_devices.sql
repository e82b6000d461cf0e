-- The phones and other devices that were let in from the home network.

-- The token itself stands in the device's cookie alone: a copy of the notebook
-- lets nobody in. A revoked device keeps its row, and is never let in again.
CREATE TABLE device (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    name TEXT NOT NULL CHECK (name <> ''),
    token_hash TEXT NOT NULL UNIQUE CHECK (length(token_hash) = 64),
    made_at TEXT NOT NULL,
    last_seen_at TEXT NOT NULL,
    revoked_at TEXT
) STRICT;
