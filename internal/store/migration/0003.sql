-- The third form: what was sent with a key is known again, and a shop may have
-- accounts.

CREATE TABLE sent (
    shop  TEXT NOT NULL CHECK (shop = ''), -- on a server there are several; the statements are the same
    key   TEXT NOT NULL CHECK (length(key) BETWEEN 8 AND 200),
    first INTEGER NOT NULL,
    last  INTEGER NOT NULL CHECK (last >= first),
    PRIMARY KEY (shop, key)
) STRICT;

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
