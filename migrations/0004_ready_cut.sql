-- Patches of a cloth of the shelf, cut for an earlier project.

CREATE TABLE ready_cut (
    cloth TEXT NOT NULL REFERENCES cloth (id),
    position INTEGER NOT NULL,
    shape TEXT NOT NULL,
    width INTEGER NOT NULL CHECK (width > 0),
    -- Of a rectangle; 0 for the other shapes.
    height INTEGER NOT NULL CHECK (height >= 0),
    count INTEGER NOT NULL CHECK (count >= 1),
    PRIMARY KEY (cloth, position)
) STRICT;
