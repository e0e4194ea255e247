/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the generated tables and their reader share. */

#include "catalogue/catalogue.h"

G_BEGIN_DECLS

struct _DewCatalogue
{
  const char *name;
  const char *const *columns; /* NULL-terminated */
  const char *const *cells;   /* [n_rows][n_columns] */
  guint n_columns;
  guint n_rows;
};

/* In the order of the names, which end with NULL. */
extern const DewCatalogue dew_catalogue_tables[];
extern const char *const dew_catalogue_table_names[];

/* Fills what a row of "enclosures" or "covers" says of the enclosure itself. */
void dew_catalogue_apply_enclosure (const DewCatalogue *catalogue, guint row, DewChamber *chamber);
/* Row of "plants"; NAN where it says nothing. */
void dew_catalogue_apply_plant_kind (guint row, DewPlantKind *kind);

G_END_DECLS
