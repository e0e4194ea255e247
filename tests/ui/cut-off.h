/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Looks through a window for words that are cut off, stick out of what holds them, or are
 * not translated. For a program that runs in the language that stretch.py makes. */

#include "chamber/chamber.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct
{
  GHashTable *told;    /* what was found already, so that it is told once */
  GPtrArray *names;    /* words that no language changes, longest first */
  gboolean translated; /* whether to look for what is not translated */
  gboolean in_pieces;  /* what is shown are parts of messages: brackets need not match */
  const char *where;   /* what is shown, for the message */
  guint n_labels;      /* seen */
  guint n_bad;
} DewCutOff;

void dew_cut_off_init (DewCutOff *look, gboolean translated);
void dew_cut_off_clear (DewCutOff *look);

/* Names that stand in a document stay as they are; so do the rows of the catalogues. */
void dew_cut_off_know (DewCutOff *look, const DewChamber *chamber);

/* So does this name. */
void dew_cut_off_keep (DewCutOff *look, const char *name);

/* Everything mapped in `widget`. Each offender is told as a TAP comment and counted. */
void dew_cut_off_look (DewCutOff *look, GtkWidget *widget);

/* Whether words hold anything that is not translated, or are cut off at the end. */
void dew_cut_off_read (DewCutOff *look, const char *path, const char *words);

G_END_DECLS
