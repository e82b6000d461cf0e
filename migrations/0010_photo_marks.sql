-- Photos of a project: lines with a length on them, and two side by side.

CREATE TABLE photo_mark (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    project TEXT NOT NULL REFERENCES project (id),
    photo TEXT NOT NULL REFERENCES photo (hash),
    -- Ten-thousandths of the photo's width and height, as it is shown.
    from_x INTEGER NOT NULL CHECK (from_x BETWEEN 0 AND 10000),
    from_y INTEGER NOT NULL CHECK (from_y BETWEEN 0 AND 10000),
    to_x INTEGER NOT NULL CHECK (to_x BETWEEN 0 AND 10000),
    to_y INTEGER NOT NULL CHECK (to_y BETWEEN 0 AND 10000),
    length INTEGER NOT NULL CHECK (length > 0),
    what TEXT NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    changed_at TEXT NOT NULL,
    binned_at TEXT
) STRICT;
CREATE INDEX photo_mark_of_project ON photo_mark (project, photo);

CREATE TABLE photo_mark_version (
    mark TEXT NOT NULL REFERENCES photo_mark (id),
    version INTEGER NOT NULL,
    kept_at TEXT NOT NULL,
    value TEXT NOT NULL CHECK (json_valid(value)),
    PRIMARY KEY (mark, version)
) STRICT;

CREATE TABLE before_after (
    project TEXT PRIMARY KEY REFERENCES project (id),
    before TEXT NOT NULL REFERENCES photo (hash),
    after TEXT NOT NULL REFERENCES photo (hash),
    version INTEGER NOT NULL CHECK (version >= 1),
    changed_at TEXT NOT NULL,
    binned_at TEXT,
    CHECK (before <> after)
) STRICT;

CREATE TABLE before_after_version (
    project TEXT NOT NULL REFERENCES before_after (project),
    version INTEGER NOT NULL,
    kept_at TEXT NOT NULL,
    value TEXT NOT NULL CHECK (json_valid(value)),
    PRIMARY KEY (project, version)
) STRICT;
CREATE INDEX entry_photo_of_photo ON entry_photo (photo);
