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

-- What a caller sent with a key, so that sent again it is not written again.
CREATE TABLE sent (
    shop  TEXT NOT NULL CHECK (shop = ''), -- on a server there are several; the statements are the same
    key   TEXT NOT NULL CHECK (length(key) BETWEEN 8 AND 200),
    first INTEGER NOT NULL,
    last  INTEGER NOT NULL CHECK (last >= first),
    PRIMARY KEY (shop, key)
) STRICT;

-- Who may do what. The passphrase is kept as a salted hash.
CREATE TABLE account (
    shop  TEXT NOT NULL CHECK (shop = ''),
    name  TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
    role  TEXT NOT NULL CHECK (role IN ('look', 'record', 'plan', 'own')),
    hash  TEXT NOT NULL,
    since TEXT NOT NULL,
    PRIMARY KEY (shop, name)
) STRICT;

-- Log-ins of people and tokens of programs; only a hash of what they hold is kept.
CREATE TABLE session (
    shop    TEXT NOT NULL,
    token   BLOB NOT NULL CHECK (length(token) = 32),
    id      TEXT NOT NULL,
    account TEXT NOT NULL,
    program TEXT NOT NULL,                      -- what the token is for; '' for a person's log-in
    device  TEXT NOT NULL,
    address TEXT NOT NULL,
    begun   TEXT NOT NULL,
    seen    TEXT NOT NULL,
    PRIMARY KEY (shop, token),
    FOREIGN KEY (shop, account) REFERENCES account (shop, name) ON DELETE CASCADE
) STRICT;
