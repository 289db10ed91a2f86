INSERT INTO record (id, kind, at, noted_at, by, note, corrects, body, seal)
SELECT ?1, ?2, ?3, ?4, ?5, ?6, nullif(?7, 0), ?8, ?9
WHERE (SELECT max(id) FROM record) IS nullif(?1 - 1, 0) AND NOT EXISTS (SELECT 1 FROM account);
