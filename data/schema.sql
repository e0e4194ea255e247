-- SPDX-License-Identifier: GPL-3.0-or-later
-- A Dewtier document: one enclosure, its room, its variants and its undo steps.
--
-- SI units, named at the end of each column; temperatures in degrees Celsius;
-- shares 0 to 1. Columns are the keys of the field tables in
-- core/chamber/fields.c (a test compares them). Reading with any SQLite tool is
-- welcome; who writes has to keep to the checks and foreign keys.

PRAGMA application_id = 1147500404; -- "Dewt"
PRAGMA user_version = 4;

-- The enclosure itself. undo_present is the step of undo_step that the tables
-- below hold, NULL when there are no steps.
CREATE TABLE enclosure (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  name TEXT NOT NULL CHECK (length (name) < 64),
  note TEXT NOT NULL CHECK (length (note) < 256),
  outer_x_m REAL NOT NULL CHECK (outer_x_m > 0.0 AND outer_x_m <= 1000.0),
  outer_y_m REAL NOT NULL CHECK (outer_y_m > 0.0 AND outer_y_m <= 1000.0),
  outer_z_m REAL NOT NULL CHECK (outer_z_m > 0.0 AND outer_z_m <= 1000.0),
  leak_area_m2 REAL NOT NULL CHECK (leak_area_m2 BETWEEN 0.0 AND 0.2),
  leak_exponent REAL NOT NULL CHECK (leak_exponent BETWEEN 0.5 AND 1.0),
  month INTEGER NOT NULL CHECK (month BETWEEN 1 AND 12),
  shown_variant INTEGER NOT NULL REFERENCES variant (id) DEFERRABLE INITIALLY DEFERRED,
  next_id INTEGER NOT NULL CHECK (next_id > 0),
  undo_present INTEGER REFERENCES undo_step (number) DEFERRABLE INITIALLY DEFERRED,
  day_from_h REAL NOT NULL DEFAULT 7.0 CHECK (day_from_h BETWEEN 0.0 AND 24.0),
  day_until_h REAL NOT NULL DEFAULT 21.0 CHECK (day_until_h BETWEEN 0.0 AND 24.0),
  door_from_h REAL NOT NULL DEFAULT 9.0 CHECK (door_from_h BETWEEN 0.0 AND 24.0),
  door_open_min REAL NOT NULL DEFAULT 10.0 CHECK (door_open_min BETWEEN 0.0 AND 240.0),
  price_kWh REAL NOT NULL DEFAULT 0.0 CHECK (price_kWh BETWEEN 0.0 AND 1000.0),
  currency TEXT NOT NULL DEFAULT '' CHECK (length (currency) < 64),
  water_mg_l REAL NOT NULL DEFAULT 0.0 CHECK (water_mg_l BETWEEN 0.0 AND 5000.0),
  evaporation_factor REAL NOT NULL DEFAULT 1.0 CHECK (evaporation_factor BETWEEN 0.1 AND 10.0),
  leakage_known REAL NOT NULL DEFAULT 0.0 CHECK (leakage_known BETWEEN 0.0 AND 0.99),
  fan_known REAL NOT NULL DEFAULT 0.0 CHECK (fan_known BETWEEN 0.0 AND 0.99),
  humidifier_known REAL NOT NULL DEFAULT 0.0 CHECK (humidifier_known BETWEEN 0.0 AND 0.99),
  cover_known REAL NOT NULL DEFAULT 0.0 CHECK (cover_known BETWEEN 0.0 AND 0.99),
  evaporation_known REAL NOT NULL DEFAULT 0.0 CHECK (evaporation_known BETWEEN 0.0 AND 0.99)
) STRICT;

-- One side of the cover.
CREATE TABLE panel (
  face TEXT NOT NULL PRIMARY KEY
    CHECK (face IN ('left', 'right', 'front', 'back', 'floor', 'roof')),
  material TEXT NOT NULL CHECK (length (material) < 64),
  thickness_m REAL NOT NULL CHECK (thickness_m BETWEEN 0.0 AND 0.3),
  u_value_W_m2K REAL NOT NULL CHECK (u_value_W_m2K BETWEEN 0.0 AND 20.0),
  light_transmission REAL NOT NULL CHECK (light_transmission BETWEEN 0.0 AND 1.0),
  longwave_transmission REAL NOT NULL CHECK (longwave_transmission BETWEEN 0.0 AND 1.0),
  slope_rad REAL NOT NULL CHECK (slope_rad BETWEEN 0.0 AND 1.4)
) STRICT;

-- The room it stands in; its months are in room_month.
CREATE TABLE room (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  name TEXT NOT NULL CHECK (length (name) < 64),
  altitude_m REAL NOT NULL CHECK (altitude_m BETWEEN -450.0 AND 5500.0),
  sun_W_m2 REAL NOT NULL CHECK (sun_W_m2 BETWEEN 0.0 AND 1400.0),
  sun_face TEXT NOT NULL CHECK (sun_face IN ('left', 'right', 'front', 'back', 'floor', 'roof')),
  warm_from_h REAL NOT NULL DEFAULT 8.0 CHECK (warm_from_h BETWEEN 0.0 AND 24.0),
  warm_until_h REAL NOT NULL DEFAULT 22.0 CHECK (warm_until_h BETWEEN 0.0 AND 24.0),
  volume_m3 REAL NOT NULL DEFAULT 40.0 CHECK (volume_m3 BETWEEN 1.0 AND 10000.0),
  air_changes_1_h REAL NOT NULL DEFAULT 0.5 CHECK (air_changes_1_h BETWEEN 0.02 AND 50.0),
  wall_colder_K REAL NOT NULL DEFAULT 0.0 CHECK (wall_colder_K BETWEEN 0.0 AND 40.0),
  daylight_mol_m2s REAL NOT NULL DEFAULT 0.0 CHECK (daylight_mol_m2s BETWEEN 0.0 AND 0.002)
) STRICT;

CREATE TABLE room_month (
  month INTEGER PRIMARY KEY CHECK (month BETWEEN 1 AND 12),
  t_day_C REAL NOT NULL CHECK (t_day_C BETWEEN -30.0 AND 50.0),
  t_night_C REAL NOT NULL CHECK (t_night_C BETWEEN -30.0 AND 50.0),
  rh_day REAL NOT NULL CHECK (rh_day BETWEEN 0.01 AND 1.0),
  rh_night REAL NOT NULL CHECK (rh_night BETWEEN 0.01 AND 1.0)
) STRICT;

-- Layouts of the same enclosure, in order.
CREATE TABLE variant (
  id INTEGER PRIMARY KEY CHECK (id > 0),
  position INTEGER NOT NULL UNIQUE,
  name TEXT NOT NULL CHECK (length (name) < 64)
) STRICT;

-- What is in a variant, in drawing order. A row of the table of its type says
-- the rest; ids are unique in the whole file and never used again.
CREATE TABLE thing (
  id INTEGER PRIMARY KEY CHECK (id > 0),
  variant_id INTEGER NOT NULL REFERENCES variant (id),
  position INTEGER NOT NULL,
  type TEXT NOT NULL CHECK (type IN ('shelf', 'opening', 'fan', 'humidifier', 'wet_pot', 'tray',
    'lamp', 'heat_mat', 'source', 'plant', 'instrument')),
  name TEXT NOT NULL CHECK (length (name) < 64),
  UNIQUE (variant_id, position)
) STRICT;

CREATE TABLE shelf (
  thing_id INTEGER PRIMARY KEY REFERENCES thing (id),
  z_m REAL NOT NULL CHECK (z_m BETWEEN -10.0 AND 10.0),
  thickness_m REAL NOT NULL CHECK (thickness_m BETWEEN 0.0005 AND 0.2),
  board TEXT NOT NULL CHECK (board IN ('wire', 'slatted', 'perforated', 'solid')),
  open_ratio REAL NOT NULL CHECK (open_ratio BETWEEN 0.0 AND 1.0),
  loss_coefficient REAL NOT NULL CHECK (loss_coefficient BETWEEN 0.0 AND 10000.0),
  gap_left_m REAL NOT NULL CHECK (gap_left_m BETWEEN 0.0 AND 4.0),
  gap_right_m REAL NOT NULL CHECK (gap_right_m BETWEEN 0.0 AND 4.0),
  gap_front_m REAL NOT NULL CHECK (gap_front_m BETWEEN 0.0 AND 4.0),
  gap_back_m REAL NOT NULL CHECK (gap_back_m BETWEEN 0.0 AND 4.0),
  load_limit_kg REAL NOT NULL CHECK (load_limit_kg BETWEEN 0.0 AND 500.0)
) STRICT;

CREATE TABLE opening (
  thing_id INTEGER PRIMARY KEY REFERENCES thing (id),
  face TEXT NOT NULL CHECK (face IN ('left', 'right', 'front', 'back', 'floor', 'roof')),
  kind TEXT NOT NULL CHECK (kind IN ('flap', 'zip', 'hole', 'mesh', 'slot', 'duct')),
  u0_m REAL NOT NULL CHECK (u0_m BETWEEN -10.0 AND 10.0),
  u1_m REAL NOT NULL CHECK (u1_m BETWEEN -10.0 AND 10.0),
  v0_m REAL NOT NULL CHECK (v0_m BETWEEN -10.0 AND 10.0),
  v1_m REAL NOT NULL CHECK (v1_m BETWEEN -10.0 AND 10.0),
  free_ratio REAL NOT NULL CHECK (free_ratio BETWEEN 0.0 AND 1.0),
  open_fraction REAL NOT NULL CHECK (open_fraction BETWEEN 0.0 AND 1.0),
  discharge_coefficient REAL NOT NULL CHECK (discharge_coefficient BETWEEN 0.05 AND 1.0),
  duct_flow_m3_s REAL NOT NULL CHECK (duct_flow_m3_s BETWEEN -0.5 AND 0.5)
) STRICT;

CREATE TABLE fan (
  thing_id INTEGER PRIMARY KEY REFERENCES thing (id),
  x_m REAL NOT NULL CHECK (x_m BETWEEN -10.0 AND 10.0),
  y_m REAL NOT NULL CHECK (y_m BETWEEN -10.0 AND 10.0),
  z_m REAL NOT NULL CHECK (z_m BETWEEN -10.0 AND 10.0),
  azimuth_rad REAL NOT NULL CHECK (azimuth_rad BETWEEN -6.3 AND 6.3),
  elevation_rad REAL NOT NULL CHECK (elevation_rad BETWEEN -1.571 AND 1.571),
  diameter_m REAL NOT NULL CHECK (diameter_m BETWEEN 0.01 AND 0.6),
  depth_m REAL NOT NULL CHECK (depth_m BETWEEN 0.001 AND 0.4),
  free_delivery_m3_s REAL NOT NULL CHECK (free_delivery_m3_s BETWEEN 0.0 AND 0.6),
  stall_pressure_Pa REAL NOT NULL CHECK (stall_pressure_Pa BETWEEN 0.1 AND 1000.0),
  power_W REAL NOT NULL CHECK (power_W BETWEEN 0.0 AND 200.0),
  mount TEXT NOT NULL CHECK (mount IN ('free', 'in_wall')),
  face TEXT NOT NULL CHECK (face IN ('left', 'right', 'front', 'back', 'floor', 'roof')),
  sense TEXT NOT NULL CHECK (sense IN ('in', 'out')),
  speed_day REAL NOT NULL CHECK (speed_day BETWEEN 0.0 AND 1.0),
  speed_night REAL NOT NULL CHECK (speed_night BETWEEN 0.0 AND 1.0),
  low_voltage INTEGER NOT NULL CHECK (low_voltage IN (0, 1)),
  noise_dBA REAL NOT NULL DEFAULT 0.0 CHECK (noise_dBA BETWEEN 0.0 AND 90.0)
) STRICT;

CREATE TABLE humidifier (
  thing_id INTEGER PRIMARY KEY REFERENCES thing (id),
  x_m REAL NOT NULL CHECK (x_m BETWEEN -10.0 AND 10.0),
  y_m REAL NOT NULL CHECK (y_m BETWEEN -10.0 AND 10.0),
  z_m REAL NOT NULL CHECK (z_m BETWEEN -10.0 AND 10.0),
  width_m REAL NOT NULL CHECK (width_m BETWEEN 0.001 AND 4.0),
  depth_m REAL NOT NULL CHECK (depth_m BETWEEN 0.001 AND 4.0),
  height_m REAL NOT NULL CHECK (height_m BETWEEN 0.001 AND 4.0),
  technology TEXT NOT NULL CHECK (technology IN ('ultrasonic', 'wick', 'steam')),
  output_kg_s REAL NOT NULL CHECK (output_kg_s BETWEEN 0.0 AND 0.01),
  tank_kg REAL NOT NULL CHECK (tank_kg BETWEEN 0.0 AND 200.0),
  power_W REAL NOT NULL CHECK (power_W BETWEEN 0.0 AND 4000.0),
  droplet_m REAL NOT NULL CHECK (droplet_m BETWEEN 0.0 AND 0.0002),
  azimuth_rad REAL NOT NULL CHECK (azimuth_rad BETWEEN -6.3 AND 6.3),
  elevation_rad REAL NOT NULL CHECK (elevation_rad BETWEEN -1.571 AND 1.571),
  outlet_diameter_m REAL NOT NULL CHECK (outlet_diameter_m BETWEEN 0.001 AND 0.5),
  outlet_speed_m_s REAL NOT NULL CHECK (outlet_speed_m_s BETWEEN 0.0 AND 10.0),
  duty_day REAL NOT NULL CHECK (duty_day BETWEEN 0.0 AND 1.0),
  duty_night REAL NOT NULL CHECK (duty_night BETWEEN 0.0 AND 1.0),
  set_rh REAL NOT NULL CHECK (set_rh BETWEEN 0.0 AND 1.0),
  band_rh REAL NOT NULL CHECK (band_rh BETWEEN 0.005 AND 0.5),
  sensor_id INTEGER NOT NULL CHECK (sensor_id >= 0),
  low_voltage INTEGER NOT NULL CHECK (low_voltage IN (0, 1))
) STRICT;

CREATE TABLE wet_pot (
  thing_id INTEGER PRIMARY KEY REFERENCES thing (id),
  x_m REAL NOT NULL CHECK (x_m BETWEEN -10.0 AND 10.0),
  y_m REAL NOT NULL CHECK (y_m BETWEEN -10.0 AND 10.0),
  z_m REAL NOT NULL CHECK (z_m BETWEEN -10.0 AND 10.0),
  rim_diameter_m REAL NOT NULL CHECK (rim_diameter_m BETWEEN 0.01 AND 1.0),
  height_m REAL NOT NULL CHECK (height_m BETWEEN 0.01 AND 1.0),
  wetted_fraction REAL NOT NULL CHECK (wetted_fraction BETWEEN 0.0 AND 1.0),
  water_kg REAL NOT NULL CHECK (water_kg BETWEEN 0.0 AND 50.0),
  mass_kg REAL NOT NULL CHECK (mass_kg BETWEEN 0.0 AND 200.0)
) STRICT;

CREATE TABLE tray (
  thing_id INTEGER PRIMARY KEY REFERENCES thing (id),
  x_m REAL NOT NULL CHECK (x_m BETWEEN -10.0 AND 10.0),
  y_m REAL NOT NULL CHECK (y_m BETWEEN -10.0 AND 10.0),
  z_m REAL NOT NULL CHECK (z_m BETWEEN -10.0 AND 10.0),
  width_m REAL NOT NULL CHECK (width_m BETWEEN 0.001 AND 4.0),
  depth_m REAL NOT NULL CHECK (depth_m BETWEEN 0.001 AND 4.0),
  height_m REAL NOT NULL CHECK (height_m BETWEEN 0.001 AND 4.0),
  surface TEXT NOT NULL CHECK (surface IN ('water', 'moss', 'grit')),
  water_kg REAL NOT NULL CHECK (water_kg BETWEEN 0.0 AND 200.0)
) STRICT;

CREATE TABLE lamp (
  thing_id INTEGER PRIMARY KEY REFERENCES thing (id),
  x_m REAL NOT NULL CHECK (x_m BETWEEN -10.0 AND 10.0),
  y_m REAL NOT NULL CHECK (y_m BETWEEN -10.0 AND 10.0),
  z_m REAL NOT NULL CHECK (z_m BETWEEN -10.0 AND 10.0),
  length_m REAL NOT NULL CHECK (length_m BETWEEN 0.001 AND 4.0),
  width_m REAL NOT NULL CHECK (width_m BETWEEN 0.001 AND 4.0),
  height_m REAL NOT NULL CHECK (height_m BETWEEN 0.001 AND 4.0),
  power_W REAL NOT NULL CHECK (power_W BETWEEN 0.0 AND 2000.0),
  efficacy_mol_J REAL NOT NULL CHECK (efficacy_mol_J BETWEEN 0.0 AND 4.6e-06),
  on_day REAL NOT NULL CHECK (on_day BETWEEN 0.0 AND 1.0),
  on_night REAL NOT NULL CHECK (on_night BETWEEN 0.0 AND 1.0),
  low_voltage INTEGER NOT NULL CHECK (low_voltage IN (0, 1))
) STRICT;

CREATE TABLE heat_mat (
  thing_id INTEGER PRIMARY KEY REFERENCES thing (id),
  x_m REAL NOT NULL CHECK (x_m BETWEEN -10.0 AND 10.0),
  y_m REAL NOT NULL CHECK (y_m BETWEEN -10.0 AND 10.0),
  z_m REAL NOT NULL CHECK (z_m BETWEEN -10.0 AND 10.0),
  width_m REAL NOT NULL CHECK (width_m BETWEEN 0.001 AND 4.0),
  depth_m REAL NOT NULL CHECK (depth_m BETWEEN 0.001 AND 4.0),
  power_W REAL NOT NULL CHECK (power_W BETWEEN 0.0 AND 2000.0),
  on_day REAL NOT NULL CHECK (on_day BETWEEN 0.0 AND 1.0),
  on_night REAL NOT NULL CHECK (on_night BETWEEN 0.0 AND 1.0),
  low_voltage INTEGER NOT NULL CHECK (low_voltage IN (0, 1))
) STRICT;

CREATE TABLE source (
  thing_id INTEGER PRIMARY KEY REFERENCES thing (id),
  x_m REAL NOT NULL CHECK (x_m BETWEEN -10.0 AND 10.0),
  y_m REAL NOT NULL CHECK (y_m BETWEEN -10.0 AND 10.0),
  z_m REAL NOT NULL CHECK (z_m BETWEEN -10.0 AND 10.0),
  width_m REAL NOT NULL CHECK (width_m BETWEEN 0.001 AND 4.0),
  depth_m REAL NOT NULL CHECK (depth_m BETWEEN 0.001 AND 4.0),
  height_m REAL NOT NULL CHECK (height_m BETWEEN 0.001 AND 4.0),
  heat_W REAL NOT NULL CHECK (heat_W BETWEEN -2000.0 AND 2000.0),
  vapour_kg_s REAL NOT NULL CHECK (vapour_kg_s BETWEEN -0.01 AND 0.01),
  latent_from_air INTEGER NOT NULL CHECK (latent_from_air IN (0, 1))
) STRICT;

CREATE TABLE plant (
  thing_id INTEGER PRIMARY KEY REFERENCES thing (id),
  x_m REAL NOT NULL CHECK (x_m BETWEEN -10.0 AND 10.0),
  y_m REAL NOT NULL CHECK (y_m BETWEEN -10.0 AND 10.0),
  z_m REAL NOT NULL CHECK (z_m BETWEEN -10.0 AND 10.0),
  width_m REAL NOT NULL CHECK (width_m BETWEEN 0.001 AND 4.0),
  depth_m REAL NOT NULL CHECK (depth_m BETWEEN 0.001 AND 4.0),
  height_m REAL NOT NULL CHECK (height_m BETWEEN 0.001 AND 4.0),
  leaf_area_m2 REAL NOT NULL CHECK (leaf_area_m2 BETWEEN 0.0 AND 20.0),
  drag_coefficient REAL NOT NULL CHECK (drag_coefficient BETWEEN 0.0 AND 2.0),
  mass_kg REAL NOT NULL CHECK (mass_kg BETWEEN 0.0 AND 200.0),
  species TEXT NOT NULL CHECK (length (species) < 64),
  state TEXT NOT NULL DEFAULT 'healthy' CHECK (state IN ('healthy', 'weak', 'arrived')),
  keep_place INTEGER NOT NULL DEFAULT 0 CHECK (keep_place IN (0, 1)),
  pot_diameter_m REAL NOT NULL DEFAULT 0.08 CHECK (pot_diameter_m BETWEEN 0.0 AND 1.0)
) STRICT;

CREATE TABLE instrument (
  thing_id INTEGER PRIMARY KEY REFERENCES thing (id),
  x_m REAL NOT NULL CHECK (x_m BETWEEN -10.0 AND 10.0),
  y_m REAL NOT NULL CHECK (y_m BETWEEN -10.0 AND 10.0),
  z_m REAL NOT NULL CHECK (z_m BETWEEN -10.0 AND 10.0)
) STRICT;

-- Plants that wait for a place, in the grower's order. A species that neither
-- plant_kind nor the program's catalogue knows is kept.
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

-- The grower's own kinds of plant; one that bears the name of a row of the
-- program's catalogue takes its place.
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
  crown TEXT NOT NULL CHECK (crown IN ('harmful', 'brief_ok', 'tolerated', 'welcome')),
  leaf TEXT NOT NULL DEFAULT 'herb' CHECK (leaf IN ('cam_orchid', 'thin_orchid', 'slipper_orchid',
    'shade_fern', 'epiphytic_fern', 'filmy', 'herb'))
) STRICT;

-- What can be undone and redone, oldest first. Step 0 is where it all began and
-- has neither words nor change. Every other step bears the words of the action
-- and what it changed, line by line, in the JSON form (data/chamber.schema.json):
-- "@N", the number of a line in the document before, then the lines that went
-- ("-") and those that came ("+"). made_s is when, in seconds since 1970 (UTC), 0 where
-- nobody knows.
CREATE TABLE undo_step (
  number INTEGER PRIMARY KEY CHECK (number >= 0),
  label TEXT NOT NULL,
  change TEXT NOT NULL,
  made_s INTEGER NOT NULL DEFAULT 0
) STRICT;

-- The JSON text that the steps lead to at enclosure.undo_present. It says what
-- the tables say, unless another program changed those meanwhile.
CREATE TABLE undo_text (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  document TEXT NOT NULL
) STRICT;

-- What follows is not part of undo: readings, notes and what was fitted to them.
-- Times are seconds since 1970 (UTC).
--
-- Instruments that log. One inside hangs where the instrument of the same name is in
-- the drawing. Its offsets are what is added to what it read, its errors half widths of
-- what it may still be wrong by, its lag the time in which it follows 63 % of a jump.
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

-- Where readings came from: a file and how it was understood, or typed in.
CREATE TABLE reading_source (
  id INTEGER PRIMARY KEY CHECK (id BETWEEN 1 AND 65535),
  name TEXT NOT NULL CHECK (length (name) < 256),
  settings TEXT NOT NULL CHECK (length (settings) < 4096),
  made_s INTEGER NOT NULL
) STRICT;

-- The readings of one logger on one day (days since 1970, UTC), packed as
-- core/readings/pack.h says, and what a chart needs of them: least, mean and greatest
-- of each quarter of an hour.
CREATE TABLE reading_day (
  logger_id INTEGER NOT NULL REFERENCES logger (id),
  day INTEGER NOT NULL,
  count INTEGER NOT NULL CHECK (count > 0),
  readings BLOB NOT NULL,
  summary BLOB NOT NULL,
  PRIMARY KEY (logger_id, day)
) STRICT;

-- The journal. `about` is the name of a plant or thing, or empty.
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

-- How often what is to be cared for is due.
CREATE TABLE care (
  kind TEXT NOT NULL PRIMARY KEY CHECK (kind IN ('water', 'refill', 'rinse')),
  every_s INTEGER NOT NULL CHECK (every_s BETWEEN 3600 AND 31622400)
) STRICT;

-- What was found by a night test or a fit, as JSON, newest last; nothing is replaced.
CREATE TABLE calibration (
  id INTEGER PRIMARY KEY CHECK (id > 0),
  made_s INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('night', 'fit')),
  report TEXT NOT NULL CHECK (length (report) <= 1000000)
) STRICT;
