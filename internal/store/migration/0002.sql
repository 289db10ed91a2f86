-- The second form: each record carries a seal, a hash over itself and the seal
-- before. The program seals what is there already, right after these statements.

DROP TRIGGER record_stays_written;

ALTER TABLE record ADD COLUMN seal BLOB CHECK (length(seal) = 32);

CREATE TRIGGER record_stays_written BEFORE UPDATE ON record
WHEN OLD.seal IS NOT NULL
BEGIN
    SELECT RAISE(ABORT, 'a record is never changed; write one that corrects it');
END;

CREATE TRIGGER record_is_sealed BEFORE INSERT ON record
WHEN NEW.seal IS NULL
BEGIN
    SELECT RAISE(ABORT, 'a record is sealed when it is written');
END;

-- The first record that was sealed as it was written. What the seals of those
-- before it prove begins with the day they were given.
CREATE TABLE chain (
    written_from INTEGER NOT NULL
) STRICT;

INSERT INTO chain SELECT coalesce(max(id), 0) + 1 FROM record;
