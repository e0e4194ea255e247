/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* An enclosure as a card: its front view, its name and a line about it. */

#include "chamber/chamber.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A front view that stands on the ground line of its row, its name and a line
 * about it below. The card is the child of a flow box. */
GtkWidget *dew_card_new (const char *name);
/* Copies the chamber; NULL: nothing is drawn (yet). */
void dew_card_set_chamber (GtkWidget *card, const DewChamber *chamber);
void dew_card_set_words (GtkWidget *card, const char *words);
/* Draws all cards of a flow box to the largest common scale at which each fits. */
void dew_cards_fit (GtkFlowBox *cards);

G_END_DECLS
