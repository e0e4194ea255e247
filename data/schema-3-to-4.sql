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

ALTER TABLE enclosure ADD COLUMN
  day_from_h REAL NOT NULL DEFAULT 7.0 CHECK (day_from_h BETWEEN 0.0 AND 24.0);
ALTER TABLE enclosure ADD COLUMN
  day_until_h REAL NOT NULL DEFAULT 21.0 CHECK (day_until_h BETWEEN 0.0 AND 24.0);
ALTER TABLE enclosure ADD COLUMN
  door_from_h REAL NOT NULL DEFAULT 9.0 CHECK (door_from_h BETWEEN 0.0 AND 24.0);
ALTER TABLE enclosure ADD COLUMN
  door_open_min REAL NOT NULL DEFAULT 10.0 CHECK (door_open_min BETWEEN 0.0 AND 240.0);
ALTER TABLE enclosure ADD COLUMN
  price_kWh REAL NOT NULL DEFAULT 0.0 CHECK (price_kWh BETWEEN 0.0 AND 1000.0);
ALTER TABLE enclosure ADD COLUMN
  currency TEXT NOT NULL DEFAULT '' CHECK (length (currency) < 64);
ALTER TABLE enclosure ADD COLUMN
  water_mg_l REAL NOT NULL DEFAULT 0.0 CHECK (water_mg_l BETWEEN 0.0 AND 5000.0);
ALTER TABLE room ADD COLUMN
  warm_from_h REAL NOT NULL DEFAULT 8.0 CHECK (warm_from_h BETWEEN 0.0 AND 24.0);
ALTER TABLE room ADD COLUMN
  warm_until_h REAL NOT NULL DEFAULT 22.0 CHECK (warm_until_h BETWEEN 0.0 AND 24.0);
ALTER TABLE room ADD COLUMN
  volume_m3 REAL NOT NULL DEFAULT 40.0 CHECK (volume_m3 BETWEEN 1.0 AND 10000.0);
ALTER TABLE room ADD COLUMN
  air_changes_1_h REAL NOT NULL DEFAULT 0.5 CHECK (air_changes_1_h BETWEEN 0.02 AND 50.0);
ALTER TABLE room ADD COLUMN
  wall_colder_K REAL NOT NULL DEFAULT 0.0 CHECK (wall_colder_K BETWEEN 0.0 AND 40.0);
ALTER TABLE fan ADD COLUMN
  noise_dBA REAL NOT NULL DEFAULT 0.0 CHECK (noise_dBA BETWEEN 0.0 AND 90.0);
ALTER TABLE room ADD COLUMN
  daylight_mol_m2s REAL NOT NULL DEFAULT 0.0 CHECK (daylight_mol_m2s BETWEEN 0.0 AND 0.002);
ALTER TABLE enclosure ADD COLUMN
  evaporation_factor REAL NOT NULL DEFAULT 1.0 CHECK (evaporation_factor BETWEEN 0.1 AND 10.0);
ALTER TABLE enclosure ADD COLUMN
  leakage_known REAL NOT NULL DEFAULT 0.0 CHECK (leakage_known BETWEEN 0.0 AND 0.99);
ALTER TABLE enclosure ADD COLUMN
  fan_known REAL NOT NULL DEFAULT 0.0 CHECK (fan_known BETWEEN 0.0 AND 0.99);
ALTER TABLE enclosure ADD COLUMN
  humidifier_known REAL NOT NULL DEFAULT 0.0 CHECK (humidifier_known BETWEEN 0.0 AND 0.99);
ALTER TABLE enclosure ADD COLUMN
  cover_known REAL NOT NULL DEFAULT 0.0 CHECK (cover_known BETWEEN 0.0 AND 0.99);
ALTER TABLE enclosure ADD COLUMN
  evaporation_known REAL NOT NULL DEFAULT 0.0 CHECK (evaporation_known BETWEEN 0.0 AND 0.99);

PRAGMA user_version = 4;
