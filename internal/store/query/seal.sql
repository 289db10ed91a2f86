UPDATE record SET seal = ?2 WHERE id = ?1;
