-- What viewers see of a project: substitutes and paid links beside the ticks,
-- what was shown at some moment, and whether it stands on the published site.

ALTER TABLE choice ADD COLUMN substitute TEXT NOT NULL DEFAULT '';
ALTER TABLE choice ADD COLUMN paid INTEGER NOT NULL DEFAULT 0 CHECK (paid IN (0, 1));

-- The ticks before each save.
CREATE TABLE choices_version (
    project TEXT NOT NULL REFERENCES project (id),
    version INTEGER NOT NULL,
    kept_at TEXT NOT NULL,
    value TEXT NOT NULL CHECK (json_valid(value)),
    PRIMARY KEY (project, version)
) STRICT;

-- What was shown from a moment on: title, pattern, ticks and steps as they
-- were then, and the revision of the plan. Never changed.
CREATE TABLE shown_state (
    project TEXT NOT NULL REFERENCES project (id),
    number INTEGER NOT NULL CHECK (number >= 1),
    made_at TEXT NOT NULL,
    value TEXT NOT NULL CHECK (json_valid(value)),
    PRIMARY KEY (project, number)
) STRICT;

CREATE TABLE viewers (
    project TEXT PRIMARY KEY REFERENCES project (id),
    -- Counts the saves of the ticks.
    choices_version INTEGER NOT NULL DEFAULT 0 CHECK (choices_version >= 0),
    site TEXT NOT NULL DEFAULT 'with-link' CHECK (site IN ('with-link', 'always', 'never')),
    -- Its place on the published site, kept for ever.
    address TEXT UNIQUE CHECK (address <> ''),
    -- The state that is shown; nothing while viewers see the plan as it is now.
    shows INTEGER,
    FOREIGN KEY (project, shows) REFERENCES shown_state (project, number)
) STRICT;
INSERT INTO viewers (project, choices_version) SELECT DISTINCT project, 1 FROM choice;
