INSERT INTO record (id, kind, at, noted_at, by, note, corrects, body, seal)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, nullif(?7, 0), ?8, ?9);
