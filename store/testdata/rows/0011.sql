UPDATE log SET silent = 1 WHERE id = 102;
