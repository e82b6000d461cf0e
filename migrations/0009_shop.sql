-- The shop list, and what is bought for a cloth, cut from it and given back.

-- Open projects that are not shopped for; the others are.
CREATE TABLE shop_left_out (
    project TEXT PRIMARY KEY REFERENCES project (id)
) STRICT;

-- One change of the shelf by a purchase or for a project, undone as a whole.
CREATE TABLE shelf_change (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    made_at TEXT NOT NULL,
    -- What was there before it, as JSON: undoing takes it back.
    before TEXT NOT NULL CHECK (json_valid(before)),
    undone_at TEXT
) STRICT;

-- The history of a cloth. Lengths at hand as they were and as they became;
-- `length` is what was bought (unwashed) or cut.
CREATE TABLE movement (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    cloth TEXT NOT NULL REFERENCES cloth (id),
    kind TEXT NOT NULL CHECK (kind IN ('bought', 'cut-from', 'given-back', 'corrected')),
    day TEXT NOT NULL,
    made_at TEXT NOT NULL,
    project TEXT REFERENCES project (id),
    length INTEGER NOT NULL CHECK (length >= 0),
    price INTEGER CHECK (price >= 0),
    price_per TEXT CHECK (price_per IN ('yd', 'm')),
    owned_before INTEGER NOT NULL,
    owned_after INTEGER NOT NULL,
    -- Remnants and ready-cut patches that were cut into, or given back.
    parts TEXT NOT NULL CHECK (json_valid(parts)),
    -- Everything the project needs of it is cut.
    complete INTEGER NOT NULL CHECK (complete IN (0, 1)),
    change TEXT REFERENCES shelf_change (id),
    CHECK ((price IS NULL) = (price_per IS NULL))
) STRICT;
CREATE INDEX movement_of_cloth ON movement (cloth, made_at);
CREATE INDEX movement_of_project ON movement (project) WHERE project IS NOT NULL;

-- Ticks of the shop list. `wanted` is what the line said when it was ticked: a
-- line that says more by now is not bought with it. The newest word counts,
-- however late it arrives.
CREATE TABLE shop_tick (
    key TEXT PRIMARY KEY CHECK (key <> ''),
    wanted TEXT NOT NULL,
    ticked INTEGER NOT NULL CHECK (ticked IN (0, 1)),
    changed_at TEXT NOT NULL,
    -- It came home: on no list until a line says something else.
    bought INTEGER NOT NULL CHECK (bought IN (0, 1))
) STRICT;

-- Finished projects that were asked what of their cloth is left.
CREATE TABLE given_back (
    project TEXT PRIMARY KEY REFERENCES project (id),
    answered_at TEXT NOT NULL
) STRICT;
