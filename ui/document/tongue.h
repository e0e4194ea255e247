/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The tongue that the window speaks: that of the locale until it is chosen. */

#include "say/units.h"

#include <glib-object.h>

G_BEGIN_DECLS

DewTongue dew_tongue (void);
/* Everything that shows a number is told (main thread). */
void dew_tongue_choose (DewTongue tongue);
/* Calls back, `owner` its only argument, whenever the tongue has changed, for as
 * long as `owner` lives. */
void dew_tongue_connect (GObject *owner, GCallback changed);

G_END_DECLS
