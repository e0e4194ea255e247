-- SPDX-License-Identifier: GPL-3.0-or-later
-- From form 3 of a document to form 4. Runs inside one transaction.

CREATE TABLE logger (
  id INTEGER PRIMARY KEY CHECK (id > 0),
  name TEXT NOT NULL UNIQUE CHECK (length (name) BETWEEN 1 AND 63),
  place TEXT NOT NULL CHECK (place IN ('inside', 'room')),
  t_error_K REAL NOT NULL CHECK (t_error_K BETWEEN 0.0 AND 10.0),
  rh_error REAL NOT NULL CHECK (rh_error BETWEEN 0.0 AND 0.3),
  lag_s REAL NOT NULL CHECK (lag_s BETWEEN 0.0 AND 86400.0),
  t_offset_K REAL NOT NULL CHECK (t_offset_K BETWEEN -20.0 AND 20.0),
  rh_offset REAL NOT NULL CHECK (rh_offset BETWEEN -0.5 AND 0.5)
) STRICT;

CREATE TABLE reading_source (
  id INTEGER PRIMARY KEY CHECK (id BETWEEN 1 AND 65535),
  name TEXT NOT NULL CHECK (length (name) < 256),
  settings TEXT NOT NULL CHECK (length (settings) < 4096),
  made_s INTEGER NOT NULL
) STRICT;

CREATE TABLE reading_day (
  logger_id INTEGER NOT NULL REFERENCES logger (id),
  day INTEGER NOT NULL,
  count INTEGER NOT NULL CHECK (count > 0),
  readings BLOB NOT NULL,
  summary BLOB NOT NULL,
  PRIMARY KEY (logger_id, day)
) STRICT;

CREATE TABLE note (
  id INTEGER PRIMARY KEY CHECK (id > 0),
  time_s INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('note', 'plant', 'change', 'water', 'refill', 'rinse')),
  about TEXT NOT NULL CHECK (length (about) < 64),
  text TEXT NOT NULL CHECK (length (text) <= 4000)
) STRICT;

CREATE TABLE photo (
  id INTEGER PRIMARY KEY CHECK (id > 0),
  note_id INTEGER NOT NULL REFERENCES note (id) ON DELETE CASCADE,
  name TEXT NOT NULL CHECK (length (name) < 256),
  type TEXT NOT NULL CHECK (type IN ('image/jpeg', 'image/png')),
  picture BLOB NOT NULL CHECK (length (picture) BETWEEN 1 AND 16777216)
) STRICT;

CREATE TABLE care (
  kind TEXT NOT NULL PRIMARY KEY CHECK (kind IN ('water', 'refill', 'rinse')),
  every_s INTEGER NOT NULL CHECK (every_s BETWEEN 3600 AND 31622400)
) STRICT;

CREATE TABLE calibration (
  id INTEGER PRIMARY KEY CHECK (id > 0),
  made_s INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('night', 'fit')),
  report TEXT NOT NULL CHECK (length (report) <= 1000000)
) STRICT;

ALTER TABLE undo_step ADD COLUMN made_s INTEGER NOT NULL DEFAULT 0;

PRAGMA user_version = 4;
