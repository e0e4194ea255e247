-- SPDX-License-Identifier: GPL-3.0-or-later
-- From form 1 of a document to form 2. Runs inside one transaction; the program
-- reads the undo steps of form 1 before and writes them in their new form after.

ALTER TABLE plant ADD COLUMN
  state TEXT NOT NULL DEFAULT 'healthy' CHECK (state IN ('healthy', 'weak', 'arrived'));
ALTER TABLE plant ADD COLUMN
  keep_place INTEGER NOT NULL DEFAULT 0 CHECK (keep_place IN (0, 1));
ALTER TABLE plant ADD COLUMN
  pot_diameter_m REAL NOT NULL DEFAULT 0.08 CHECK (pot_diameter_m BETWEEN 0.0 AND 1.0);

CREATE TABLE wish (
  position INTEGER PRIMARY KEY,
  id INTEGER NOT NULL UNIQUE CHECK (id > 0),
  name TEXT NOT NULL CHECK (length (name) < 64),
  species TEXT NOT NULL CHECK (length (species) < 64),
  count INTEGER NOT NULL CHECK (count BETWEEN 1 AND 500),
  state TEXT NOT NULL CHECK (state IN ('healthy', 'weak', 'arrived')),
  pot_diameter_m REAL NOT NULL CHECK (pot_diameter_m BETWEEN 0.0 AND 1.0),
  width_m REAL NOT NULL CHECK (width_m BETWEEN 0.0 AND 4.0),
  height_m REAL NOT NULL CHECK (height_m BETWEEN 0.0 AND 4.0)
) STRICT;
CREATE TABLE plant_kind (
  position INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (length (name) BETWEEN 1 AND 63),
  "group" TEXT NOT NULL CHECK (length ("group") < 64),
  t_day_min_C REAL NOT NULL CHECK (t_day_min_C BETWEEN -30.0 AND 60.0),
  t_day_ideal_C REAL NOT NULL CHECK (t_day_ideal_C BETWEEN -30.0 AND 60.0),
  t_day_max_C REAL NOT NULL CHECK (t_day_max_C BETWEEN -30.0 AND 60.0),
  t_night_min_C REAL NOT NULL CHECK (t_night_min_C BETWEEN -30.0 AND 60.0),
  t_night_ideal_C REAL NOT NULL CHECK (t_night_ideal_C BETWEEN -30.0 AND 60.0),
  t_night_max_C REAL NOT NULL CHECK (t_night_max_C BETWEEN -30.0 AND 60.0),
  rh_min REAL NOT NULL CHECK (rh_min BETWEEN 0.0 AND 1.0),
  rh_ideal REAL NOT NULL CHECK (rh_ideal BETWEEN 0.0 AND 1.0),
  rh_max REAL NOT NULL CHECK (rh_max BETWEEN 0.0 AND 1.0),
  speed_lo_m_s REAL NOT NULL CHECK (speed_lo_m_s BETWEEN 0.0 AND 10.0),
  speed_hi_m_s REAL NOT NULL CHECK (speed_hi_m_s BETWEEN 0.0 AND 10.0),
  ppfd_lo_mol_m2s REAL NOT NULL CHECK (ppfd_lo_mol_m2s BETWEEN 0.0 AND 0.0025),
  ppfd_hi_mol_m2s REAL NOT NULL CHECK (ppfd_hi_mol_m2s BETWEEN 0.0 AND 0.0025),
  height_m REAL NOT NULL CHECK (height_m BETWEEN 0.001 AND 4.0),
  width_m REAL NOT NULL CHECK (width_m BETWEEN 0.001 AND 4.0),
  leaf_length_m REAL NOT NULL CHECK (leaf_length_m BETWEEN 0.0005 AND 4.0),
  crown TEXT NOT NULL CHECK (crown IN ('harmful', 'brief_ok', 'tolerated', 'welcome'))
) STRICT;
UPDATE enclosure SET undo_present = NULL;
DROP TABLE undo_step;
CREATE TABLE undo_step (
  number INTEGER PRIMARY KEY CHECK (number >= 0),
  label TEXT NOT NULL,
  change TEXT NOT NULL
) STRICT;
CREATE TABLE undo_text (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  document TEXT NOT NULL
) STRICT;
PRAGMA user_version = 2;
