/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Light, dark and high contrast as the desktop has them, for the sheet and for
 * the widgets round it. */

#include "paint/palette.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The palette for what the desktop asks for now (lent, lives for ever). */
const DewPalette *dew_theme_palette (void);

/* Loads the style sheet for the display, with its colours taken from the
 * palette, and follows the desktop from now on: the theme's name, and the
 * settings portal's wish for dark when there is a portal. To be called once. */
void dew_theme_follow (GdkDisplay *display);

/* Calls back whenever dew_theme_palette() may have changed, for as long as
 * `owner` lives. */
void dew_theme_connect (GObject *owner, GCallback changed);

/* The size of a widget's text, 1 = 10.5 pt at 96 dpi as the painter counts it, and
 * its font (lent). */
double dew_theme_text (GtkWidget *widget, const char **family);

G_END_DECLS
