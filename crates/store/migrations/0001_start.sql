-- The shop: documents with every version of their text, and what happens to boxes and boards.
-- Times are seconds since 1970. Words in CHECK are those of the enums of the same name in the code.

PRAGMA application_id = 1264009812; -- "KWBT": says whose file this is

CREATE TABLE document (
    id          INTEGER PRIMARY KEY,
    kind        TEXT NOT NULL CHECK (kind IN ('box', 'board', 'shop')),
    slug        TEXT NOT NULL,
    name        TEXT NOT NULL,
    shelf       TEXT NOT NULL CHECK (shelf IN ('kept', 'bin')),
    head        INTEGER NOT NULL REFERENCES version (id) DEFERRABLE INITIALLY DEFERRED,
    copied_from INTEGER REFERENCES document (id),
    made_at     INTEGER NOT NULL,
    changed_at  INTEGER NOT NULL,
    UNIQUE (kind, slug)
) STRICT;

-- A shop folder holds one shop.
CREATE UNIQUE INDEX document_one_shop ON document (kind) WHERE kind = 'shop';

-- Never updated but for redo, never deleted. A parent's number is lower than its child's.
CREATE TABLE version (
    id       INTEGER PRIMARY KEY,
    document INTEGER NOT NULL REFERENCES document (id),
    number   INTEGER NOT NULL CHECK (number >= 1),
    parent   INTEGER REFERENCES version (id),
    redo     INTEGER REFERENCES version (id), -- the child that redo goes to
    text     TEXT NOT NULL,
    says     TEXT NOT NULL,
    by       TEXT NOT NULL,
    at       INTEGER NOT NULL,
    UNIQUE (document, number)
) STRICT;

CREATE INDEX version_parent ON version (parent);

-- What happened to a document other than a change of its text.
CREATE TABLE event (
    id       INTEGER PRIMARY KEY,
    document INTEGER NOT NULL REFERENCES document (id),
    what     TEXT NOT NULL,
    was      TEXT NOT NULL,
    became   TEXT NOT NULL,
    by       TEXT NOT NULL,
    at       INTEGER NOT NULL
) STRICT;

CREATE INDEX event_document ON event (document);

-- A box as a job.
CREATE TABLE job (
    document INTEGER PRIMARY KEY REFERENCES document (id),
    state    TEXT NOT NULL CHECK (state IN
             ('idea', 'planned', 'cutting', 'glued', 'finishing', 'done', 'delivered')),
    due      TEXT, -- YYYY-MM-DD
    customer TEXT NOT NULL
) STRICT;

CREATE TABLE run (
    id         INTEGER PRIMARY KEY,
    title      TEXT NOT NULL,
    inputs     TEXT NOT NULL,
    outcome    TEXT,
    state      TEXT NOT NULL CHECK (state IN ('running', 'done', 'accepted', 'cut', 'dropped')),
    made_at    INTEGER NOT NULL,
    changed_at INTEGER NOT NULL
) STRICT;

CREATE TABLE run_box (
    run      INTEGER NOT NULL REFERENCES run (id),
    document INTEGER NOT NULL REFERENCES document (id),
    PRIMARY KEY (run, document)
) STRICT, WITHOUT ROWID;

-- A board in the rack. Its run is the one that reserves it, or that used it up.
CREATE TABLE stock (
    document  INTEGER PRIMARY KEY REFERENCES document (id),
    state     TEXT NOT NULL CHECK (state IN ('free', 'reserved', 'used')),
    run       INTEGER REFERENCES run (id),
    offcut_of INTEGER REFERENCES document (id),
    CHECK (state <> 'reserved' OR run IS NOT NULL),
    CHECK (state <> 'free' OR run IS NULL)
) STRICT;

CREATE INDEX stock_run ON stock (run);

-- Each press of a tick; the last one for a part counts. The token is made where it was pressed.
CREATE TABLE tick (
    id       INTEGER PRIMARY KEY,
    token    TEXT NOT NULL UNIQUE,
    document INTEGER NOT NULL REFERENCES document (id),
    plan     TEXT NOT NULL,
    setup    TEXT NOT NULL,
    part     TEXT NOT NULL,
    mark     TEXT NOT NULL CHECK (mark IN ('on', 'off')),
    by       TEXT NOT NULL,
    at       INTEGER NOT NULL
) STRICT;

CREATE INDEX tick_plan ON tick (document, plan, setup, part, at);

CREATE TABLE picture (
    name    TEXT PRIMARY KEY,
    size    INTEGER NOT NULL,
    kept_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE board_picture (
    document     INTEGER NOT NULL REFERENCES document (id),
    face         TEXT NOT NULL,
    picture      TEXT NOT NULL REFERENCES picture (name),
    mm_per_pixel REAL,
    at           INTEGER NOT NULL,
    PRIMARY KEY (document, face)
) STRICT, WITHOUT ROWID;

CREATE TABLE setting (
    key   TEXT PRIMARY KEY,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- Who gets in. These three tables stay with the machine: no archive and no restore carries them.
CREATE TABLE pairing (
    code_hash  BLOB PRIMARY KEY,
    place      TEXT NOT NULL CHECK (place IN ('here', 'lan')),
    rights     TEXT NOT NULL CHECK (rights IN ('look', 'full')),
    made_at    INTEGER NOT NULL,
    expires_at INTEGER NOT NULL,
    used_at    INTEGER
) STRICT, WITHOUT ROWID;

CREATE TABLE device (
    id           INTEGER PRIMARY KEY,
    name         TEXT NOT NULL,
    token_hash   BLOB NOT NULL UNIQUE,
    place        TEXT NOT NULL CHECK (place IN ('here', 'lan')),
    rights       TEXT NOT NULL CHECK (rights IN ('look', 'full')),
    paired_at    INTEGER NOT NULL,
    last_seen    INTEGER NOT NULL,
    dismissed_at INTEGER
) STRICT;

CREATE TABLE failure (
    source       TEXT PRIMARY KEY,
    count        INTEGER NOT NULL,
    last_at      INTEGER NOT NULL,
    locked_until INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
