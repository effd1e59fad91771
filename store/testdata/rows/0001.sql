INSERT INTO team VALUES (7, 'Tidewater Rings', 'Europe/Lisbon', 18, 1050, 0, 1080, 1320, 420);
INSERT INTO person VALUES (1, 7, 11), (2, 7, 12);
INSERT INTO member VALUES (1, 1, 'Priya', 'Europe/Lisbon', '2026-10-05', 1791220000000, 1, 0, 0, 1), (2, 2, 'Ilda', 'Europe/Lisbon', NULL, 1791220000000, 0, 1, 0, 0);
INSERT INTO away VALUES (1, 0, '2026-11-01', '2026-11-08');
INSERT INTO mark VALUES (1, '2026-10-08', 'deep hang', 2), (1, '2026-10-09', 'support', NULL);
