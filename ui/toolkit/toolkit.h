/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Compiled once for all files of the ui (a precompiled header): reading the toolkit's own
 * headers is more than half the work of compiling one. Every file still includes what it
 * uses; this one is included by none. */
#include <gtk/gtk.h>
