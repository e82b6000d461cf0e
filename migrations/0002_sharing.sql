-- What the maker shows of a project's materials, and the links it is shown by.

CREATE TABLE choice (
    project TEXT NOT NULL REFERENCES project (id),
    key TEXT NOT NULL CHECK (key <> ''),
    position INTEGER NOT NULL,
    shown INTEGER NOT NULL CHECK (shown IN (0, 1)),
    remark TEXT NOT NULL,
    PRIMARY KEY (project, key)
) STRICT;

-- Found by the hash of the token, so that how long a look-up takes says
-- nothing about how much of a guessed token is right.
CREATE TABLE share (
    token_hash TEXT PRIMARY KEY CHECK (length(token_hash) = 64),
    token TEXT NOT NULL,
    project TEXT NOT NULL REFERENCES project (id),
    made_at TEXT NOT NULL,
    revoked_at TEXT
) STRICT;
-- One link in force for a project.
CREATE UNIQUE INDEX share_in_force ON share (project) WHERE revoked_at IS NULL;
