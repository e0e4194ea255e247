/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define DEW_TYPE_APPLICATION (dew_application_get_type ())
G_DECLARE_FINAL_TYPE (DewApplication, dew_application, DEW, APPLICATION, GtkApplication)

DewApplication *dew_application_new (void);

G_END_DECLS
