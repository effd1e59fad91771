INSERT INTO scrub_due VALUES (1);
