-- Shops on a server: each row of shop is one workshop's, and all of its rows are
-- found by its key, which never changes; nothing counts across shops.

CREATE TABLE hopperful.shop (
    key          text PRIMARY KEY CHECK (length(key) BETWEEN 16 AND 64),
    name         text NOT NULL UNIQUE CHECK (name ~ '^[a-z0-9][a-z0-9._-]{0,99}$'),
    written_from bigint NOT NULL,                                  -- the first record that was sealed as it was written
    newest       bigint NOT NULL DEFAULT 0 CHECK (newest >= 0),    -- who writes holds this row first
    seal         bytea CHECK (octet_length(seal) = 32)             -- of the newest record
);

CREATE TABLE hopperful.record (
    shop     text NOT NULL REFERENCES hopperful.shop (key),
    id       bigint NOT NULL CHECK (id > 0),   -- from 1 in each shop, in the order of writing, no gaps
    kind     text NOT NULL CHECK (kind <> ''),
    at       text NOT NULL CHECK (at ~ '^[12][0-9]{3}-[01][0-9]-[0-3][0-9]T'),       -- RFC 3339 with offset
    noted_at text NOT NULL CHECK (noted_at ~ '^[12][0-9]{3}-[01][0-9]-[0-3][0-9]T'), -- RFC 3339 with offset
    by       text NOT NULL,
    note     text NOT NULL,
    corrects bigint CHECK (corrects < id),
    body     text NOT NULL CHECK (body::json IS NOT NULL),         -- as it was sealed, to the letter
    seal     bytea NOT NULL CHECK (octet_length(seal) = 32),       -- over all this but the shop, and the seal before
    PRIMARY KEY (shop, id),
    FOREIGN KEY (shop, corrects) REFERENCES hopperful.record (shop, id)
);

CREATE FUNCTION hopperful.stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'a record is never changed or deleted; write one that corrects it' USING ERRCODE = 'restrict_violation';
END $$;

CREATE TRIGGER record_stays BEFORE UPDATE OR DELETE ON hopperful.record
    FOR EACH ROW EXECUTE FUNCTION hopperful.stays();
CREATE TRIGGER record_stays_all BEFORE TRUNCATE ON hopperful.record
    FOR EACH STATEMENT EXECUTE FUNCTION hopperful.stays();

CREATE FUNCTION hopperful.follows() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF NEW.id <> (SELECT coalesce(max(id), 0) + 1 FROM hopperful.record WHERE shop = NEW.shop) THEN
        RAISE EXCEPTION 'a record takes the next number' USING ERRCODE = 'restrict_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER record_follows BEFORE INSERT ON hopperful.record
    FOR EACH ROW EXECUTE FUNCTION hopperful.follows();

-- What a caller sent with a key, so that sent again it is not written again.
CREATE TABLE hopperful.sent (
    shop  text NOT NULL REFERENCES hopperful.shop (key),
    key   text NOT NULL CHECK (length(key) BETWEEN 8 AND 200),
    first bigint NOT NULL,
    last  bigint NOT NULL CHECK (last >= first),
    PRIMARY KEY (shop, key)
);

-- Who may do what. The passphrase is kept as a salted hash.
CREATE TABLE hopperful.account (
    shop  text NOT NULL REFERENCES hopperful.shop (key),
    name  text NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
    role  text NOT NULL CHECK (role IN ('look', 'record', 'plan', 'own')),
    hash  text NOT NULL,
    since text NOT NULL,
    PRIMARY KEY (shop, name)
);

-- Log-ins of people and tokens of programs; only a hash of what they hold is kept.
CREATE TABLE hopperful.session (
    shop    text NOT NULL,
    token   bytea NOT NULL CHECK (octet_length(token) = 32),
    id      text NOT NULL,
    account text NOT NULL,
    program text NOT NULL,                      -- what the token is for; '' for a person's log-in
    device  text NOT NULL,
    address text NOT NULL,
    begun   text NOT NULL,
    seen    text NOT NULL,
    PRIMARY KEY (shop, token),
    FOREIGN KEY (shop, account) REFERENCES hopperful.account (shop, name) ON DELETE CASCADE
);
