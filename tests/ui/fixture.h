/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A window on a document of its own in a folder of its own, and how a test waits in it and
 * looks round. Nothing waits for a time: each wait is for a condition, which is looked at
 * whenever the main loop has done something. */

#include "window/window.h"

/* For what fails only when something is broken. */
#define PATIENCE_S 200.0

/* Runs the main loop until `condition` holds; stops the test when it never does. */
#define WAIT_UNTIL(condition) \
  G_STMT_START \
  { \
    guint tick_ = fixture_tick (); \
    gint64 end_ = g_get_monotonic_time () + (gint64) (PATIENCE_S * G_USEC_PER_SEC); \
\
    while (!(condition) && g_get_monotonic_time () < end_) \
      g_main_context_iteration (NULL, TRUE); \
    g_source_remove (tick_); \
    g_assert_true (condition); \
  } \
  G_STMT_END

typedef struct
{
  char *folder, *path;
  DewWindow *window;
  DewDocument *document; /* of the window */
  GtkWidget *canvas;
  char *trouble; /* the last one that the document told of */
} Fixture;

/* In the place of gtk_test_init(): with a home of its own, so that nothing is read or
 * written that the person who tests has; documents go to its folder Papers. Returns it. */
const char *fixture_begin (int *argc, char ***argv);

/* A window on `chamber`, drawn; tear down takes the folder with all that is in it. */
void fixture_open (Fixture *fixture, const DewChamber *chamber);
/* The same on the demo. */
void fixture_set_up (Fixture *fixture, gconstpointer data);
void fixture_tear_down (Fixture *fixture, gconstpointer data);

#define FIXTURE_ADD(path, test) \
  g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)

/* An action of the window. */
void fixture_act (Fixture *fixture, const char *action);

/* Wakes the main loop up now and then; a source to be removed. */
guint fixture_tick (void);
/* Until the forecast belongs to what is on the sheet. */
void wait_for_forecast (DewDocument *document);

/* In the shown variant; first_thing(): NULL when there is none. */
const DewThing *first_thing (DewDocument *document, DewThingKind kind);
guint count_things (DewDocument *document, DewThingKind kind);
/* The widget that stands for a thing on the sheet, or NULL. */
GtkWidget *item_of (Fixture *fixture, guint thing_id);

void type_number (GtkWidget *number, const char *text);
/* The first widget of a type at or under `widget` that is shown, or NULL. */
GtkWidget *find_type (GtkWidget *widget, GType type);
/* The first button with that label at or under `widget`, or NULL. */
GtkWidget *find_button (GtkWidget *widget, const char *label);
/* Whether a label at or under `widget` that is shown holds these words. */
gboolean says (GtkWidget *widget, const char *words);
/* How many widgets under `widget` take the keyboard without having a name; adds to
 * `n_focusable` how many take it. */
guint count_unnamed (GtkWidget *widget, guint *n_focusable);
