-- The notebook: settings, wearers, photos, cloths, projects, plans, log.
--
-- How values stand in columns:
--   lengths       INTEGER, a count of 1/640 mm, so that nothing is rounded
--   money         INTEGER, hundredths
--   percentages   INTEGER, hundredths of one per cent
--   ids           TEXT, a UUID in its usual form
--   moments       TEXT, RFC 3339 in UTC with nine digits after the second, so they sort as text
--   days          TEXT, YYYY-MM-DD
--   JSON          plans, effects, values measured, earlier versions; a length in it is its exact text
-- A row in the bin has `binned_at`. A table *_version holds what a row was before each save.

PRAGMA application_id = 1315927139; -- "Notc"

CREATE TABLE settings (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    name TEXT NOT NULL CHECK (name <> ''),
    unit TEXT NOT NULL CHECK (unit IN ('in', 'cm')),
    currency TEXT NOT NULL,
    description_limit INTEGER NOT NULL CHECK (description_limit > 0)
) STRICT;

INSERT INTO settings (one, name, unit, currency, description_limit) VALUES (1, 'My notebook', 'in', '$', 5000);

CREATE TABLE wearer (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    name TEXT NOT NULL CHECK (name <> ''),
    kind TEXT NOT NULL CHECK (kind IN ('adult', 'child', 'animal', 'household')),
    note TEXT NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    changed_at TEXT NOT NULL,
    binned_at TEXT
) STRICT;

CREATE TABLE wearer_version (
    wearer TEXT NOT NULL REFERENCES wearer (id),
    version INTEGER NOT NULL,
    kept_at TEXT NOT NULL,
    value TEXT NOT NULL CHECK (json_valid(value)),
    PRIMARY KEY (wearer, version)
) STRICT;

CREATE TABLE measurement_set (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    wearer TEXT NOT NULL REFERENCES wearer (id),
    position INTEGER NOT NULL,
    taken_on TEXT NOT NULL,
    measured TEXT NOT NULL CHECK (json_type(measured) = 'array')
) STRICT;
CREATE INDEX measurement_set_of_wearer ON measurement_set (wearer, position);

CREATE TABLE photo (
    hash TEXT PRIMARY KEY CHECK (length(hash) = 64),
    format TEXT NOT NULL CHECK (format IN ('jpg', 'png', 'webp')),
    width INTEGER NOT NULL CHECK (width > 0),
    height INTEGER NOT NULL CHECK (height > 0),
    bytes INTEGER NOT NULL CHECK (bytes > 0),
    taken_at TEXT,
    added_at TEXT NOT NULL
) STRICT;

CREATE TABLE cloth (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    name TEXT NOT NULL CHECK (name <> ''),
    kind TEXT NOT NULL CHECK (kind IN ('cloth', 'batting')),
    fibre TEXT NOT NULL,
    usable_width INTEGER NOT NULL CHECK (usable_width > 0),
    owned INTEGER NOT NULL CHECK (owned >= 0),
    price INTEGER CHECK (price >= 0),
    price_per TEXT CHECK (price_per IN ('yd', 'm')),
    colour TEXT NOT NULL,
    link TEXT NOT NULL,
    one_way INTEGER NOT NULL CHECK (one_way IN (0, 1)),
    shrinkage INTEGER NOT NULL CHECK (shrinkage >= 0),
    note TEXT NOT NULL,
    photo TEXT REFERENCES photo (hash),
    version INTEGER NOT NULL CHECK (version >= 1),
    changed_at TEXT NOT NULL,
    binned_at TEXT,
    CHECK ((price IS NULL) = (price_per IS NULL))
) STRICT;

CREATE TABLE cloth_version (
    cloth TEXT NOT NULL REFERENCES cloth (id),
    version INTEGER NOT NULL,
    kept_at TEXT NOT NULL,
    value TEXT NOT NULL CHECK (json_valid(value)),
    PRIMARY KEY (cloth, version)
) STRICT;

CREATE TABLE remnant (
    cloth TEXT NOT NULL REFERENCES cloth (id),
    position INTEGER NOT NULL,
    width INTEGER NOT NULL CHECK (width > 0),
    length INTEGER NOT NULL CHECK (length > 0),
    count INTEGER NOT NULL CHECK (count >= 0),
    note TEXT NOT NULL,
    PRIMARY KEY (cloth, position)
) STRICT;

CREATE TABLE project (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    title TEXT NOT NULL CHECK (title <> ''),
    state TEXT NOT NULL CHECK (state IN ('planning', 'making', 'resting', 'finished')),
    wearer TEXT REFERENCES wearer (id),
    for_whom TEXT NOT NULL,
    pattern_name TEXT NOT NULL,
    pattern_maker TEXT NOT NULL,
    pattern_link TEXT NOT NULL,
    pattern_size TEXT NOT NULL,
    due TEXT,
    about TEXT NOT NULL,
    details_version INTEGER NOT NULL CHECK (details_version >= 1),
    cover TEXT REFERENCES photo (hash),
    -- Deferred: a folder taken in may name a project that comes later in it.
    from_project TEXT REFERENCES project (id) DEFERRABLE INITIALLY DEFERRED,
    measurements TEXT REFERENCES measurement_set (id),
    created_at TEXT NOT NULL,
    changed_at TEXT NOT NULL,
    binned_at TEXT
) STRICT;
CREATE INDEX project_by_change ON project (changed_at);
CREATE INDEX project_by_measurements ON project (measurements);

CREATE TABLE details_version (
    project TEXT NOT NULL REFERENCES project (id),
    version INTEGER NOT NULL,
    kept_at TEXT NOT NULL,
    value TEXT NOT NULL CHECK (json_valid(value)),
    measurements TEXT,
    PRIMARY KEY (project, version)
) STRICT;

-- A plan is never changed: each change is a new row.
CREATE TABLE revision (
    project TEXT NOT NULL REFERENCES project (id),
    number INTEGER NOT NULL CHECK (number >= 1),
    made_at TEXT NOT NULL,
    what TEXT NOT NULL,
    plan TEXT NOT NULL CHECK (json_valid(plan)),
    PRIMARY KEY (project, number)
) STRICT;

CREATE TABLE entry (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    project TEXT NOT NULL REFERENCES project (id),
    kind TEXT NOT NULL CHECK (kind IN ('note', 'photo', 'decision', 'measure')),
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
    CHECK ((revision_from IS NULL) = (revision_to IS NULL)),
    CHECK (revision_from <= revision_to),
    CHECK ((would_do_again IS NULL) = (second_thought IS NULL)),
    FOREIGN KEY (project, revision_from) REFERENCES revision (project, number),
    FOREIGN KEY (project, revision_to) REFERENCES revision (project, number)
) STRICT;
CREATE INDEX entry_of_project ON entry (project, happened_at);

CREATE TABLE entry_version (
    entry TEXT NOT NULL REFERENCES entry (id),
    version INTEGER NOT NULL,
    kept_at TEXT NOT NULL,
    value TEXT NOT NULL CHECK (json_valid(value)),
    PRIMARY KEY (entry, version)
) STRICT;

CREATE TABLE entry_photo (
    entry TEXT NOT NULL REFERENCES entry (id),
    position INTEGER NOT NULL,
    photo TEXT NOT NULL REFERENCES photo (hash),
    PRIMARY KEY (entry, position)
) STRICT;
