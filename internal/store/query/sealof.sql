SELECT seal FROM record WHERE id = ?1;
