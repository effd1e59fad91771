INSERT INTO programme VALUES (7, 'id: own', 1791220000008);
