/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document/document-private.h"
#include "geometry/geometry.h"
#include "document/tongue.h"
#include "say/problems.h"

#include <glib/gi18n.h>
#include <string.h>

/* Before that much time has passed nobody needs to be told that something is
 * being worked out. */
#define BUSY_AFTER_MS 150
#define JSON_SUFFIX ".json"

static guint signals[DEW_DOCUMENT_N_SIGNALS];

G_DEFINE_FINAL_TYPE (DewDocument, dew_document, G_TYPE_OBJECT)

void
dew_document_emit (DewDocument *self, DewDocumentSignal which)
{
  g_signal_emit (self, signals[which], 0);
}

/* --- the forecast ------------------------------------------------------ */

static void
set_obstacle (DewDocument *self, const char *message, guint thing_id)
{
  g_free (self->obstacle);
  self->obstacle = g_strdup (message);
  self->obstacle_id = thing_id;
}

static void
update_state (DewDocument *self)
{
  g_free (self->state);
  if (self->obstacle != NULL)
    /* Translators: the state of the forecast; %s says why there is none. */
    self->state = g_strdup_printf (_ ("cannot: %s"), self->obstacle);
  else if (self->forecast == NULL)
    self->state = g_strdup (self->busy ? _ ("working it out") : "");
  else if (self->looked != NULL)
    self->state = g_strdup (_ ("a look at it, not taken yet"));
  else if (dew_document_in_hand (self) && dew_document_lags (self))
    self->state = g_strdup (dew_forecast_is_draft (self->forecast) ? _ ("following, as a draft")
                                                                   : _ ("following"));
  else if (dew_document_lags (self))
    self->state = g_strdup (_ ("settling"));
  else
    self->state = g_strdup (dew_forecast_state_text (self->forecast));
}

void
dew_document_settled_or_not (DewDocument *self)
{
  update_state (self);
  g_debug ("state: %s", self->state);
  if (self->forecast != NULL && !dew_document_lags (self))
    g_debug ("lowest bay: %.2f m/s", self->forecast->bays[0].mean.speed_m_s);
  dew_document_emit (self, DEW_DOCUMENT_FORECAST);
}

static gboolean
on_busy (gpointer data)
{
  DewDocument *self = data;

  self->busy_source = 0;
  self->busy = TRUE;
  dew_document_settled_or_not (self);
  return G_SOURCE_REMOVE;
}

static void
on_answer (guint serial, DewForecast *forecast, const GError *error, gboolean more,
           gpointer user_data)
{
  DewDocument *self = user_data;

  /* Of a drag the last picture is shown on; at rest none is better than one of
   * something else. */
  if (self->blocked && !dew_document_in_hand (self))
    return;
  /* A step toward something that is not looked at any more. */
  if (self->peek_strayed && !self->peek_follows)
    return;
  dew_document_peek_swap (self);
  if (serial == self->asked
      && (!more || (forecast != NULL && forecast->state != DEW_FORECAST_FOLLOWING)))
    {
      g_clear_handle_id (&self->busy_source, g_source_remove);
      self->busy = FALSE;
    }
  self->answered = serial;
  if (forecast != NULL || !dew_document_in_hand (self))
    g_clear_pointer (&self->forecast, dew_forecast_unref);
  if (forecast != NULL)
    {
      self->forecast = dew_forecast_ref (forecast);
      if (!self->blocked)
        set_obstacle (self, NULL, 0);
      if (self->lit_finding >= forecast->n_findings)
        self->lit_finding = -1;
    }
  else
    set_obstacle (self, error != NULL ? error->message : _ ("There was no answer."), 0);
  dew_document_peek_swap (self);
  dew_document_settled_or_not (self);
}

void
dew_document_ask (DewDocument *self, DewWork work)
{
  g_autoptr (GArray) problems = NULL;
  const DewChamber *chamber;

  if (self->history == NULL)
    return;
  dew_document_peek_end (self);
  chamber = dew_document_chamber (self);
  problems = dew_chamber_check (chamber, chamber->shown_variant);
  self->blocked = problems->len > 0;
  if (self->blocked)
    {
      const DewProblem *first = &g_array_index (problems, DewProblem, 0);

      g_autofree char *text = dew_problem_text (first, dew_tongue ());

      set_obstacle (self, text, first->thing_id);
      /* In the middle of a drag the last picture is a better ground than none. */
      if (work == DEW_WORK_SETTLE)
        g_clear_pointer (&self->forecast, dew_forecast_unref);
      self->busy = FALSE;
      g_clear_handle_id (&self->busy_source, g_source_remove);
      dew_document_settled_or_not (self);
      return;
    }
  set_obstacle (self, NULL, 0);
  self->asked = dew_worker_ask (self->worker, work, chamber, self->night, self->forecast == NULL);
  if (self->busy_source == 0 && work == DEW_WORK_SETTLE)
    self->busy_source = g_timeout_add (BUSY_AFTER_MS, on_busy, self);
  update_state (self);
}

/* --- file -------------------------------------------------------------- */

/* Never told once the store is closed, so that the document need not be kept for it. */
static void
on_saved (const GError *error, gpointer user_data)
{
  DewDocument *self = user_data;

  if (error == NULL)
    {
      g_debug ("saved");
      return;
    }
  g_signal_emit (self, signals[DEW_DOCUMENT_TROUBLE], 0, _ ("This step could not be saved"),
                 error->message);
}

static void
save (DewDocument *self)
{
  if (self->store != NULL && !dew_store_read_only (self->store))
    dew_store_save (self->store, self->history, on_saved, self);
}

static void
adopt (DewDocument *self, DewStore *store)
{
  dew_document_let_go (self);
  dew_document_peek_keep (self);
  g_clear_pointer (&self->history, dew_history_free);
  g_clear_pointer (&self->store, dew_store_close);
  self->store = store;
  self->history = dew_store_history (store);
  g_array_set_size (self->selection, 0);
  self->plan_bay = 0;
  self->lit_finding = -1;
  g_clear_pointer (&self->forecast, dew_forecast_unref);
  dew_document_keep_in_range (self);
  dew_document_emit (self, DEW_DOCUMENT_SELECTED);
  dew_document_emit (self, DEW_DOCUMENT_HISTORY);
  dew_document_emit (self, DEW_DOCUMENT_CHANGED);
  dew_document_ask (self, DEW_WORK_SETTLE);
  dew_document_emit (self, DEW_DOCUMENT_FORECAST);
  g_debug ("opened %s", dew_store_path (store));
}

/* "a.json" becomes "a.dewtier". */
static char *
take_over_json (const char *path, GError **error)
{
  g_autofree char *stem = g_strndup (path, strlen (path) - strlen (JSON_SUFFIX));
  g_autofree char *target = g_strconcat (stem, DEW_STORE_SUFFIX, NULL);
  g_autoptr (DewChamber) chamber = dew_store_load (path, error);

  if (chamber == NULL || !dew_store_create (target, chamber, FALSE, error))
    return NULL;
  return g_steal_pointer (&target);
}

static gboolean
flush_store (DewDocument *self, GError **error)
{
  if (self->store == NULL || dew_store_read_only (self->store))
    return TRUE;
  return dew_store_flush (self->store, error);
}

/* Nobody is told of a save once its store is closed, so it is waited for before. What could not
 * be saved is told once; who asks again leaves it behind. */
static gboolean
leave (DewDocument *self, GError **error)
{
  g_autoptr (GError) inner = NULL;

  /* What is in somebody's hand stays there as long as nothing else is open. */
  if (flush_store (self, &inner))
    return TRUE;
  g_set_error (error, inner->domain, inner->code,
               _ ("The last step in the enclosure that is open could not be saved: %s. Save a copy "
                  "of it first, or open the other one again to leave that step behind."),
               inner->message);
  return FALSE;
}

gboolean
dew_document_open (DewDocument *self, const char *path, GError **error)
{
  g_autofree char *taken_over = NULL;
  DewStore *store;

  g_return_val_if_fail (DEW_IS_DOCUMENT (self) && path != NULL, FALSE);

  if (!leave (self, error))
    return FALSE;
  if (g_str_has_suffix (path, JSON_SUFFIX))
    {
      taken_over = take_over_json (path, error);
      if (taken_over == NULL)
        return FALSE;
      path = taken_over;
    }
  store = dew_store_open (path, error);
  if (store == NULL)
    return FALSE;
  adopt (self, store);
  return TRUE;
}

gboolean
dew_document_save_copy (DewDocument *self, const char *path, GError **error)
{
  DewStore *store;

  g_return_val_if_fail (DEW_IS_DOCUMENT (self) && self->history != NULL, FALSE);

  if (!dew_store_create_copy (path, self->history, dew_document_path (self), TRUE, error))
    return FALSE;
  store = dew_store_open (path, error);
  if (store == NULL)
    return FALSE;
  adopt (self, store);
  return TRUE;
}

gboolean
dew_document_flush (DewDocument *self, GError **error)
{
  g_return_val_if_fail (DEW_IS_DOCUMENT (self), FALSE);
  dew_document_put_back (self);
  return flush_store (self, error);
}

DewStore *
dew_document_store (DewDocument *self)
{
  g_return_val_if_fail (DEW_IS_DOCUMENT (self), NULL);
  return self->store;
}

const char *
dew_document_path (DewDocument *self)
{
  return self->store != NULL ? dew_store_path (self->store) : NULL;
}

gboolean
dew_document_read_only (DewDocument *self)
{
  return self->store != NULL && dew_store_read_only (self->store);
}

const DewChamber *
dew_document_chamber (DewDocument *self)
{
  g_return_val_if_fail (DEW_IS_DOCUMENT (self), NULL);
  if (self->edit != NULL)
    return dew_edit_shown (self->edit);
  if (self->looked != NULL)
    return self->looked;
  return self->history != NULL ? dew_history_present (self->history) : NULL;
}

const DewVariant *
dew_document_variant (DewDocument *self)
{
  const DewChamber *chamber = dew_document_chamber (self);

  return chamber != NULL ? dew_chamber_shown (chamber) : NULL;
}

void
dew_name_set (char name[DEW_NAME_SIZE], const char *text)
{
  static const DewField whole = { .key = "name", .type = DEW_FIELD_TEXT, .size = DEW_NAME_SIZE };

  dew_field_set_text (&whole, name, text);
}

/* --- steps ------------------------------------------------------------- */

gboolean
dew_document_push (DewDocument *self, const DewChamber *next, const char *label,
                   const char *merge_key, gboolean followed)
{
  g_autoptr (GError) error = NULL;
  gboolean taken = dew_history_push (self->history, next, label, merge_key, &error);

  if (error != NULL)
    {
      g_signal_emit (self, signals[DEW_DOCUMENT_TROUBLE], 0, _ ("This step was not taken"),
                     error->message);
      dew_document_show_present (self);
      return FALSE;
    }
  if (!taken && !followed)
    return FALSE;
  dew_document_keep_in_range (self);
  dew_document_look_at_bay_of (self, dew_document_selected (self));
  if (taken)
    {
      save (self);
      g_debug ("commit: %s", label);
    }
  dew_document_emit (self, DEW_DOCUMENT_CHANGED);
  dew_document_emit (self, DEW_DOCUMENT_HISTORY);
  dew_document_ask (self, DEW_WORK_SETTLE);
  dew_document_emit (self, DEW_DOCUMENT_FORECAST);
  return taken;
}

void
dew_document_show_present (DewDocument *self)
{
  dew_document_keep_in_range (self);
  dew_document_emit (self, DEW_DOCUMENT_CHANGED);
  dew_document_ask (self, DEW_WORK_SETTLE);
  dew_document_emit (self, DEW_DOCUMENT_FORECAST);
}

const char *
dew_document_can_undo (DewDocument *self)
{
  return self->history != NULL ? dew_history_can_undo (self->history) : NULL;
}

const char *
dew_document_can_redo (DewDocument *self)
{
  return self->history != NULL ? dew_history_can_redo (self->history) : NULL;
}

static void
travelled (DewDocument *self, const char *how)
{
  g_debug ("%s", how);
  save (self);
  dew_document_peek_drop (self);
  dew_document_show_present (self);
  dew_document_emit (self, DEW_DOCUMENT_HISTORY);
}

void
dew_document_undo (DewDocument *self)
{
  g_return_if_fail (DEW_IS_DOCUMENT (self));
  /* What is in somebody's hand is the newest change. */
  if (self->history == NULL || dew_document_put_back (self))
    return;
  if (dew_history_undo (self->history) != NULL)
    travelled (self, "undo");
}

void
dew_document_redo (DewDocument *self)
{
  g_return_if_fail (DEW_IS_DOCUMENT (self));
  if (self->history == NULL)
    return;
  dew_document_put_back (self);
  if (dew_history_redo (self->history) != NULL)
    travelled (self, "redo");
}

/* --- the forecast, for reading ------------------------------------------ */

DewForecast *
dew_document_forecast (DewDocument *self)
{
  return self->forecast;
}

gboolean
dew_document_lags (DewDocument *self)
{
  return self->answered != self->asked
         || (self->forecast != NULL && self->forecast->state == DEW_FORECAST_FOLLOWING);
}

const char *
dew_document_state (DewDocument *self)
{
  return self->state != NULL ? self->state : "";
}

const char *
dew_document_obstacle (DewDocument *self, guint *thing_id)
{
  if (thing_id != NULL)
    *thing_id = self->obstacle_id;
  return self->obstacle;
}

/* --- object ------------------------------------------------------------ */

static void
dew_document_dispose (GObject *object)
{
  DewDocument *self = DEW_DOCUMENT (object);

  dew_document_let_go (self);
  g_clear_handle_id (&self->busy_source, g_source_remove);
  g_clear_pointer (&self->worker, dew_worker_free);
  g_clear_pointer (&self->store, dew_store_close);
  g_clear_pointer (&self->history, dew_history_free);
  g_clear_pointer (&self->looked, dew_chamber_free);
  g_clear_pointer (&self->forecast, dew_forecast_unref);
  g_clear_pointer (&self->kept, dew_forecast_unref);
  g_clear_pointer (&self->obstacle, g_free);
  g_clear_pointer (&self->state, g_free);

  G_OBJECT_CLASS (dew_document_parent_class)->dispose (object);
}

static void
dew_document_finalize (GObject *object)
{
  g_array_unref (DEW_DOCUMENT (object)->selection);
  G_OBJECT_CLASS (dew_document_parent_class)->finalize (object);
}

static void
dew_document_class_init (DewDocumentClass *klass)
{
  static const char *const names[] = { "changed", "selected", "forecast", "view", "history" };

  G_OBJECT_CLASS (klass)->dispose = dew_document_dispose;
  G_OBJECT_CLASS (klass)->finalize = dew_document_finalize;
  for (int i = 0; i < DEW_DOCUMENT_TROUBLE; i++)
    signals[i] = g_signal_new (names[i], G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL,
                               NULL, NULL, G_TYPE_NONE, 0);
  signals[DEW_DOCUMENT_TROUBLE]
    = g_signal_new ("trouble", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST | G_SIGNAL_DETAILED, 0,
                    NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);
}

/* What is in the way is said with numbers. */
static void
on_tongue (DewDocument *self)
{
  if (self->blocked)
    dew_document_ask (self, DEW_WORK_SETTLE);
}

static void
dew_document_init (DewDocument *self)
{
  self->selection = g_array_new (FALSE, FALSE, sizeof (guint));
  self->coloured = DEW_VALUE_RH;
  self->lit_finding = -1;
  self->worker = dew_worker_new (on_answer, self);
  dew_tongue_connect (G_OBJECT (self), G_CALLBACK (on_tongue));
}

DewDocument *
dew_document_new (void)
{
  return g_object_new (DEW_TYPE_DOCUMENT, NULL);
}
