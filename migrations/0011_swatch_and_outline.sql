-- The part of a cloth's photo it is known by, with its colours, as JSON; and
-- leftovers that are no rectangles, each outline as the plan writes it.

ALTER TABLE cloth ADD COLUMN swatch TEXT CHECK (swatch IS NULL OR json_valid(swatch));

CREATE TABLE outlined_remnant (
    cloth TEXT NOT NULL REFERENCES cloth (id),
    position INTEGER NOT NULL,
    outline TEXT NOT NULL CHECK (json_valid(outline)),
    count INTEGER NOT NULL CHECK (count >= 1),
    note TEXT NOT NULL,
    PRIMARY KEY (cloth, position)
) STRICT;
