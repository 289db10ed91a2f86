-- What the migrations add up to. A test compares the two.

CREATE TABLE record (
    id       INTEGER PRIMARY KEY,              -- from 1, in the order of writing, no gaps
    kind     TEXT NOT NULL CHECK (kind <> ''),
    at       TEXT NOT NULL CHECK (at GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T*'),       -- RFC 3339 with offset
    noted_at TEXT NOT NULL CHECK (noted_at GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T*'), -- RFC 3339 with offset
    by       TEXT NOT NULL,
    note     TEXT NOT NULL,
    corrects INTEGER REFERENCES record (id) CHECK (corrects < id),
    body     TEXT NOT NULL CHECK (json_valid(body)), seal BLOB CHECK (length(seal) = 32)           -- over all this and the seal before
) STRICT;

CREATE TRIGGER record_stays_written BEFORE UPDATE ON record
WHEN OLD.seal IS NOT NULL
BEGIN
    SELECT RAISE(ABORT, 'a record is never changed; write one that corrects it');
END;

CREATE TRIGGER record_stays BEFORE DELETE ON record
BEGIN
    SELECT RAISE(ABORT, 'a record is never deleted; write one that strikes it out');
END;

-- Without this one, REPLACE would delete a row unseen by the trigger above.
CREATE TRIGGER record_follows BEFORE INSERT ON record
WHEN NEW.id <> (SELECT coalesce(max(id), 0) + 1 FROM record)
BEGIN
    SELECT RAISE(ABORT, 'a record takes the next number');
END;

CREATE TRIGGER record_is_sealed BEFORE INSERT ON record
WHEN NEW.seal IS NULL
BEGIN
    SELECT RAISE(ABORT, 'a record is sealed when it is written');
END;

CREATE TABLE chain (
    written_from INTEGER NOT NULL -- the first record that was sealed as it was written
) STRICT;
