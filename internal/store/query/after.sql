SELECT id, kind, at, noted_at, by, note, coalesce(corrects, 0), body, seal
FROM record
WHERE id > ?1
ORDER BY id;
