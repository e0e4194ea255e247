/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The three parts of the window beside each other: tray, sheet, pane. The sheet
 * keeps the larger part; on a narrow window the tray leaves its names out. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define DEW_TYPE_BENCH (dew_bench_get_type ())
G_DECLARE_FINAL_TYPE (DewBench, dew_bench, DEW, BENCH, GtkWidget)

/* Takes all three. */
GtkWidget *dew_bench_new (GtkWidget *tray, GtkWidget *sheet, GtkWidget *pane);

G_END_DECLS
