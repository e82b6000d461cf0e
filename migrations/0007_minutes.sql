-- Minutes of work in the log: a kind of entry more, so its table is built anew.
-- References to it are checked before this step is kept.

CREATE TABLE entry_with_minutes (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    project TEXT NOT NULL REFERENCES project (id),
    kind TEXT NOT NULL CHECK (kind IN ('note', 'photo', 'decision', 'measure', 'work')),
    happened_at TEXT NOT NULL,
    text TEXT NOT NULL,
    why TEXT NOT NULL,
    length INTEGER,
    piece TEXT,
    revision_from INTEGER,
    revision_to INTEGER,
    effect TEXT NOT NULL CHECK (json_type(effect) = 'array'),
    would_do_again INTEGER CHECK (would_do_again IN (0, 1)),
    second_thought TEXT,
    version INTEGER NOT NULL CHECK (version >= 1),
    changed_at TEXT NOT NULL,
    binned_at TEXT,
    -- Of work: its kind, in the plan's words, and how long it took.
    work TEXT,
    minutes INTEGER CHECK (minutes > 0),
    CHECK ((revision_from IS NULL) = (revision_to IS NULL)),
    CHECK (revision_from <= revision_to),
    CHECK ((would_do_again IS NULL) = (second_thought IS NULL)),
    CHECK ((work IS NULL) = (minutes IS NULL)),
    CHECK ((kind = 'work') = (work IS NOT NULL)),
    FOREIGN KEY (project, revision_from) REFERENCES revision (project, number),
    FOREIGN KEY (project, revision_to) REFERENCES revision (project, number)
) STRICT;

INSERT INTO entry_with_minutes (id, project, kind, happened_at, text, why, length, piece, revision_from, revision_to,
        effect, would_do_again, second_thought, version, changed_at, binned_at)
    SELECT id, project, kind, happened_at, text, why, length, piece, revision_from, revision_to,
        effect, would_do_again, second_thought, version, changed_at, binned_at FROM entry;

DROP TABLE entry;
ALTER TABLE entry_with_minutes RENAME TO entry;
CREATE INDEX entry_of_project ON entry (project, happened_at);
CREATE INDEX entry_of_work ON entry (project, work) WHERE work IS NOT NULL;
