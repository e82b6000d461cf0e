-- Everything that can be searched, as text: worked out from the other tables
-- and kept in step with them, so it is never edited and never exported.

-- `title` and `body` are what is found; `place` is where it stands (title of
-- the project, and for whom it is), which narrows but finds nothing by itself.
CREATE TABLE search_text (
    id INTEGER PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('project', 'piece', 'material', 'entry', 'cloth', 'wearer')),
    project TEXT REFERENCES project (id),
    -- The id of an entry, cloth or wearer; the key of a part of the plan.
    item TEXT NOT NULL,
    title TEXT NOT NULL,
    body TEXT NOT NULL,
    place TEXT NOT NULL
) STRICT;
CREATE INDEX search_text_of_project ON search_text (project, kind);
CREATE INDEX search_text_of_item ON search_text (item);

-- Its rows follow those of `search_text`, by the hand of the program alone.
CREATE VIRTUAL TABLE search USING fts5 (
    title, body, place,
    content = 'search_text', content_rowid = 'id',
    tokenize = 'unicode61 remove_diacritics 2',
    prefix = '2 3'
);

-- How the program words what is found: where this is not the number it knows,
-- all of it is made anew when the notebook is opened.
CREATE TABLE search_wording (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    number INTEGER NOT NULL
) STRICT;
INSERT INTO search_wording (one, number) VALUES (1, 0);
