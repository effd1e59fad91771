INSERT INTO log VALUES (103, 1, 1, 1791220000004, '2026-10-06', 'asked', 0, 0), (103, 1, 1, 1791220000004, '2026-10-08', 'asked', 0, 0);
INSERT INTO bout VALUES (103, '2026-10-06', 0, 3, 'support', 20, 0, 0, '', '', NULL, NULL, 0, 0, NULL), (103, '2026-10-08', 3, 1, 'dips', 0, 5, 0, '', '', NULL, NULL, 0, 0, NULL);
INSERT INTO joint_asked VALUES (1, 1791222000000);
