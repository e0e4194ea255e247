/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Takes the language, and the way to write numbers, of the person. Words come from where the
 * program was built as long as that is there, so that a language can be tried before anything
 * is installed. */
void dew_language_choose (void);
