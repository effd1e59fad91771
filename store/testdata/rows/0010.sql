UPDATE log SET alone = 1 WHERE id = 102;
