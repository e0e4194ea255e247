/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The documents that were open lately, in the desktop's own list of recent
 * files, so that other programs of the desktop know them too. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Puts a document at the head of the list. The list is written a moment later. */
void dew_recent_add (const char *path);
/* Up to `most` of them that are still there, the latest first; NULL-terminated.
 * Free with g_strfreev(). */
char **dew_recent_paths (guint most);

G_END_DECLS
