-- The steps of a project, the timer, and what an entry of the log belongs to.

CREATE TABLE step (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    project TEXT NOT NULL REFERENCES project (id),
    -- Over all steps of the project, those in the bin among them.
    position INTEGER NOT NULL,
    title TEXT NOT NULL CHECK (title <> ''),
    -- Its kind of work, in the plan's words.
    work TEXT,
    -- Minutes the maker expects; nothing where the figures reckon them.
    minutes INTEGER CHECK (minutes > 0),
    done_at TEXT,
    -- Seconds into the video.
    video INTEGER CHECK (video >= 0),
    version INTEGER NOT NULL CHECK (version >= 1),
    changed_at TEXT NOT NULL,
    binned_at TEXT
) STRICT;
CREATE INDEX step_of_project ON step (project, position);

CREATE TABLE step_version (
    step TEXT NOT NULL REFERENCES step (id),
    version INTEGER NOT NULL,
    kept_at TEXT NOT NULL,
    value TEXT NOT NULL CHECK (json_valid(value)),
    PRIMARY KEY (step, version)
) STRICT;

ALTER TABLE entry ADD COLUMN step TEXT REFERENCES step (id);
-- The id of a cloth of the plan, as `piece` is.
ALTER TABLE entry ADD COLUMN cloth TEXT;
CREATE INDEX entry_of_step ON entry (step) WHERE step IS NOT NULL;

-- Its minutes become the entry of the log with the same id; until that is
-- there, a stopped timer waits for it.
CREATE TABLE timer (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    project TEXT NOT NULL REFERENCES project (id),
    step TEXT REFERENCES step (id),
    work TEXT,
    started_at TEXT NOT NULL,
    stopped_at TEXT
) STRICT;
-- One at a time.
CREATE UNIQUE INDEX timer_running ON timer (stopped_at IS NULL) WHERE stopped_at IS NULL;

-- Steps are found too. The text is worked out from the other tables, so its
-- tables are made anew, and filled when the notebook is opened.
DROP TABLE search;
DROP TABLE search_text;
CREATE TABLE search_text (
    id INTEGER PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind <> ''),
    project TEXT REFERENCES project (id),
    -- The id of an entry, step, cloth or wearer; the key of a part of the plan.
    item TEXT NOT NULL,
    title TEXT NOT NULL,
    body TEXT NOT NULL,
    place TEXT NOT NULL
) STRICT;
CREATE INDEX search_text_of_project ON search_text (project, kind);
CREATE INDEX search_text_of_item ON search_text (item);
CREATE VIRTUAL TABLE search USING fts5 (
    title, body, place,
    content = 'search_text', content_rowid = 'id',
    tokenize = 'unicode61 remove_diacritics 2',
    prefix = '2 3'
);
UPDATE search_wording SET number = 0;
