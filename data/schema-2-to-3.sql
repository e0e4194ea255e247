-- SPDX-License-Identifier: GPL-3.0-or-later
-- From form 2 of a document to form 3. Runs inside one transaction; the program then
-- sets the kind of leaf of each kind of plant by its name and its group.

ALTER TABLE plant_kind ADD COLUMN
  leaf TEXT NOT NULL DEFAULT 'herb' CHECK (leaf IN ('cam_orchid', 'thin_orchid', 'slipper_orchid',
    'shade_fern', 'epiphytic_fern', 'filmy', 'herb'));
PRAGMA user_version = 3;
