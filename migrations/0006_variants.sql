-- Two variants of a plan, set beside each other before one is decided on.

-- As `revision`, never changed: each save of a variant is a new row, so that
-- nothing typed is lost. Versions run on over every pair of a project.
CREATE TABLE variant_plan (
    project TEXT NOT NULL REFERENCES project (id),
    letter TEXT NOT NULL CHECK (letter IN ('a', 'b')),
    version INTEGER NOT NULL CHECK (version >= 1),
    made_at TEXT NOT NULL,
    what TEXT NOT NULL,
    plan TEXT NOT NULL CHECK (json_valid(plan)),
    PRIMARY KEY (project, letter, version)
) STRICT;

-- Of each project the pair last set up; taken or given up it lies in the bin.
CREATE TABLE variant (
    project TEXT NOT NULL REFERENCES project (id),
    letter TEXT NOT NULL CHECK (letter IN ('a', 'b')),
    -- The revision it began as a copy of.
    revision_from INTEGER NOT NULL,
    version INTEGER NOT NULL,
    note TEXT NOT NULL,
    changed_at TEXT NOT NULL,
    binned_at TEXT,
    PRIMARY KEY (project, letter),
    FOREIGN KEY (project, revision_from) REFERENCES revision (project, number),
    FOREIGN KEY (project, letter, version) REFERENCES variant_plan (project, letter, version)
) STRICT;
