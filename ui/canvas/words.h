/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The drawing in words, for who listens to it: whole sentences, one after the
 * other. All strings newly allocated. */

#include "document/document.h"

G_BEGIN_DECLS

/* How large the enclosure is and how much is in it. */
char *dew_words_sheet (DewDocument *document);

/* What it is, where, how large, what the air is like there with its bands, what
 * it gives off, and what is found about it. */
char *dew_words_thing (DewDocument *document, guint id);

/* 'Second bay' and its values with their bands, and what is found in it. */
char *dew_words_bay_name (DewDocument *document, int bay);
char *dew_words_bay (DewDocument *document, int bay);

/* Cause and remedy of a finding, after its title. */
char *dew_words_finding_name (DewDocument *document, int finding);
char *dew_words_finding (DewDocument *document, int finding);

G_END_DECLS
