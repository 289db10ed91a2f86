-- The third form: what was sent with a key is known again, and a shop may have
-- accounts.

CREATE TABLE sent (
    key   TEXT PRIMARY KEY CHECK (length(key) BETWEEN 8 AND 200),
    first INTEGER NOT NULL,
    last  INTEGER NOT NULL CHECK (last >= first)
) STRICT;

CREATE TABLE account (
    name  TEXT PRIMARY KEY CHECK (length(name) BETWEEN 1 AND 80),
    role  TEXT NOT NULL CHECK (role IN ('look', 'record', 'plan', 'own')),
    hash  TEXT NOT NULL,
    since TEXT NOT NULL
) STRICT;

-- Log-ins of people and tokens of programs; only a hash of what they hold is kept.
CREATE TABLE session (
    token   BLOB PRIMARY KEY CHECK (length(token) = 32),
    id      TEXT NOT NULL,
    account TEXT NOT NULL REFERENCES account (name) ON DELETE CASCADE,
    program TEXT NOT NULL,
    device  TEXT NOT NULL,
    address TEXT NOT NULL,
    begun   TEXT NOT NULL,
    seen    TEXT NOT NULL
) STRICT;
