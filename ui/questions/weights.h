/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What matters to the grower: a few plain sliders, folded to one line until they
 * are wanted. */

#include "questions/ask.h"

G_BEGIN_DECLS

/* Changes the weights that are asked with, and asks again after each change. */
GtkWidget *dew_ask_weights_new (DewAsk *ask);

G_END_DECLS
