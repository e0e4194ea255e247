/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One variant at a glance: its coloured front view as a picture. */

#include "document/document.h"
#include "paint/palette.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What a glance shows. The chamber's shown variant is meant. */
typedef struct
{
  DewChamber *chamber;          /* owned */
  DewForecast *day, *night;     /* owned references; NULL while they are not there */
  DewRange range[DEW_N_VALUES]; /* of the colours */
} DewGlance;

/* legend: only the scale of the colours. What is coloured, day or night follow the
 * document. */
GtkWidget *dew_glance_new (DewDocument *document, gboolean legend);
/* Takes what is in `glance`. */
void dew_glance_show (GtkWidget *widget, DewGlance *glance);

G_END_DECLS
