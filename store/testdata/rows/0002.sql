INSERT INTO log VALUES (101, 1, 1, 1791220000001, '2026-10-05', 'live'), (102, 1, 2, 1791220000002, '2026-10-05', 'corrected');
INSERT INTO bout VALUES (101, 0, 3, 'deep hang', 30, 0, -25, 'band', 'left', 60, 7, 1, 0, NULL), (101, 3, 1, 'muscle-up', 0, 0, 0, '', '', NULL, NULL, 0, 3, 1);
INSERT INTO correction VALUES (1, '2026-10-05', 1791220000003);
INSERT INTO audit VALUES (1, 1, 2, '2026-10-05', 'correct', 1791220000003);
