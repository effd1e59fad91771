-- That rows were erased whose traces may still stand in the files.

CREATE TABLE scrub_due (
  id INTEGER PRIMARY KEY CHECK (id = 1) -- one row while it is so
) STRICT;
