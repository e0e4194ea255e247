/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The program from outside, as a user without a display runs it. */

#include <glib.h>

#define TEST_PROGRAM DEW_BUILD_DIR "/app/dewtier"

typedef enum
{
  TEST_AS_WE_ARE,
  TEST_BOUND_BY_MODES /* may write only what the modes of files allow, even when root runs it */
} TestPower;

/* Runs it with `words` (NULL-terminated, without its own name) and returns its exit
 * code. out, err: what it wrote, free with g_free(); NULL: passed over. Ends the test
 * when it cannot be started or dies of a signal. */
int test_program_run (TestPower power, char **out, char **err, const char *const *words);
