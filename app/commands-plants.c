/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier plants: what is known of kinds of plant. dewtier wish, dewtier kind: what one has or
 * wants and kinds of one's own. dewtier suits: what would grow here. dewtier shelves: how high they
 * go. */
#include "command-line.h"

#include "say/problems.h"
#include "say/suits.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

/* So many kinds are named where one cannot know which is meant. */
#define MOST_NAMED 4

/* --- names --------------------------------------------------------------- */

/* "Drosera (pygmy), Drosera (subtropical), ..." */
static char *
names_of (const GArray *found)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < MIN (found->len, MOST_NAMED); i++)
    g_string_append_printf (names, "%s%s", i > 0 ? _ (", ") : "",
                            g_array_index (found, DewPlantMatch, i).name);
  if (found->len > MOST_NAMED)
    g_string_append (names, " ...");
  return g_string_free (names, FALSE);
}

static int
complain_of_name (const DewChamber *chamber, const char *typed, const char *looked_for)
{
  g_autoptr (GArray) found
    = dew_catalogue_search_plants (chamber, looked_for[0] != '\0' ? looked_for : typed);
  g_autofree char *names = names_of (found);

  if (found->len == 0)
    return dew_command_complain (DEW_EXIT_NO,
                                 _ ("\"%s\": no kind of that name is known; see dewtier plants, or "
                                    "describe it with dewtier kind"),
                                 typed);
  return dew_command_complain (DEW_EXIT_NO, _ ("\"%s\": say which is meant: %s"), typed, names);
}

static char *
all_words (const DewAsked *asked, int from)
{
  return g_strjoinv (" ", asked->words + from);
}

/* --- plants -------------------------------------------------------------- */

int
dew_command_plants (DewAsked *asked)
{
  g_autofree char *typed = all_words (asked, 0);
  g_autoptr (GArray) list = dew_catalogue_read_list (NULL, typed);
  const DewListedPlant *first = list->len > 0 ? (const DewListedPlant *) list->data : NULL;
  /* Without a word on its size or state where that leads nowhere. */
  g_autoptr (GArray) found
    = dew_catalogue_search_plants (NULL, first != NULL && first->looked_for[0] != '\0'
                                           ? first->looked_for
                                           : typed);
  const DewCatalogue *plants = dew_catalogue ("plants");
  g_autoptr (GString) out = g_string_new (NULL);

  if (found->len == 0)
    return complain_of_name (NULL, typed, "");
  for (guint i = 0; i < found->len; i++)
    {
      const DewPlantMatch *match = &g_array_index (found, DewPlantMatch, i);
      guint row = (guint) match->row;
      g_autofree char *safety = dew_kind_safety_words (match->name);
      g_autofree char *wants = NULL;
      const char *also = dew_catalogue_text (plants, row, "also");
      DewPlantKind kind;

      dew_catalogue_plant_kind (match->name, &kind, NULL);
      wants = dew_kind_wants_words (&kind, DEW_TONGUE_METRIC);
      g_string_append_printf (out, "%s\n  %s%s%s\n  %s\n  %s\n", match->name,
                              dew_catalogue_word (kind.group), also[0] != '\0' ? ": " : "", also,
                              wants, safety);
      if (dew_catalogue_text (plants, row, "note")[0] != '\0')
        g_string_append_printf (out, "  %s\n", dew_catalogue_text (plants, row, "note"));
    }
  return dew_command_say (out->str);
}

/* --- changing a document ------------------------------------------------- */

/* Writes the changed document where it came from, as one step that can be undone where the form of
 * the file knows steps. Returns the exit code. */
static int
write_back (const DewAsked *asked, const char *label)
{
  const char *path = asked->words[0];
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = NULL;
  g_autoptr (DewHistory) history = NULL;

  if (!dew_chamber_validate (asked->chamber, &error))
    return dew_command_complain (DEW_EXIT_NO, "%s: %s", path, error->message);
  if (g_str_has_suffix (path, ".json"))
    {
      g_autofree char *text = dew_json_from_chamber (asked->chamber);

      if (g_file_set_contents_full (path, text, -1,
                                    G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE,
                                    0666, &error))
        return DEW_EXIT_FINE;
      return dew_command_complain (DEW_EXIT_NO, "%s: %s", path, error->message);
    }
  store = dew_store_open (path, &error);
  if (store == NULL)
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  if (dew_store_read_only (store))
    return dew_command_complain (DEW_EXIT_NO, _ ("%s: may only be read; look at its permissions"),
                                 path);
  history = dew_store_history (store);
  if (!dew_history_push (history, asked->chamber, label, NULL, &error))
    return error == NULL ? DEW_EXIT_FINE
                         : dew_command_complain (DEW_EXIT_NO, "%s: %s", path, error->message);
  dew_store_save (store, history, NULL, NULL);
  if (!dew_store_flush (store, &error))
    return dew_command_complain (DEW_EXIT_NO, "%s: %s", path, error->message);
  return DEW_EXIT_FINE;
}

int
dew_command_wish (DewAsked *asked)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autoptr (GArray) list = NULL;
  g_autofree char *typed = NULL;
  int code = DEW_EXIT_FINE;

  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;
  typed = all_words (asked, 1);
  list = dew_catalogue_read_list (asked->chamber, typed);
  if (list->len == 0)
    return dew_command_complain (DEW_EXIT_USAGE,
                                 _ ("\"%s\": names no plant; give a list as \"3 "
                                    "Dracula, 2 Restrepia\""),
                                 typed);
  for (guint i = 0; i < list->len; i++)
    {
      const DewListedPlant *plant = &g_array_index (list, DewListedPlant, i);

      if (!plant->known)
        {
          code = complain_of_name (asked->chamber, plant->typed, plant->looked_for);
          continue;
        }
      dew_catalogue_wish_for (asked->chamber, plant);
      g_string_append_printf (out, _ ("%d × %s (%s)\n"), plant->count, plant->typed,
                              plant->species);
    }
  /* All of it or nothing: a list that is half written is not found again. */
  if (code != DEW_EXIT_FINE)
    return code;
  code = write_back (asked, _ ("Wish for plants"));
  return code != DEW_EXIT_FINE ? code : dew_command_say (out->str);
}

/* --- kinds of one's own -------------------------------------------------- */

/* Sets "t_day_max_C=24" or "like=Dracula". FALSE when it is wrong and that has been said. */
static gboolean
set_member (DewPlantKind *kind, const char *word)
{
  const char *is = strchr (word, '=');
  g_autofree char *key = is != NULL ? g_strndup (word, (gsize) (is - word)) : NULL;
  const DewField *field = key != NULL ? dew_field_find (dew_plant_kind_fields (), key) : NULL;
  char *end = NULL;
  double value;

  if (field == NULL || strcmp (key, "name") == 0)
    {
      g_autoptr (GString) keys = g_string_new ("like");

      for (const DewField *f = dew_plant_kind_fields (); f->key != NULL; f++)
        if (strcmp (f->key, "name") != 0)
          g_string_append_printf (keys, ", %s", f->key);
      dew_command_complain (DEW_EXIT_USAGE, _ ("\"%s\": is unknown; give KEY=VALUE with one of %s"),
                            word, keys->str);
      return FALSE;
    }
  if (field->type == DEW_FIELD_TEXT)
    return dew_field_set_text (field, kind, is + 1), TRUE;
  if (field->type == DEW_FIELD_CHOICE)
    {
      for (int c = 0; field->choices[c] != NULL; c++)
        if (strcmp (field->choices[c], is + 1) == 0)
          return dew_field_set_int (field, kind, c), TRUE;
      dew_command_complain (DEW_EXIT_USAGE, _ ("\"%s\": that is no choice for %s"), word, key);
      return FALSE;
    }
  value = g_ascii_strtod (is + 1, &end);
  if (end != is + 1 && *end == '\0')
    return dew_field_set_real (field, kind, value), TRUE;
  dew_command_complain (DEW_EXIT_USAGE, _ ("\"%s\": is no number"), word);
  return FALSE;
}

/* "like=Dracula": all that this wants, to begin with. */
static gboolean
begin_like (const DewChamber *chamber, const char *word, DewPlantKind *kind)
{
  DewPlantKind like;

  if (!dew_catalogue_plant_kind (word, &like, (gpointer) chamber))
    {
      complain_of_name (chamber, word, "");
      return FALSE;
    }
  memcpy (like.name, kind->name, sizeof like.name);
  *kind = like;
  return TRUE;
}

int
dew_command_kind (DewAsked *asked)
{
  const char *name = asked->words[1];
  g_autoptr (GString) out = g_string_new (NULL);
  g_autofree char *wants = NULL;
  DewPlantKind kind;
  int code;

  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;
  dew_plant_kind_init (&kind);
  g_strlcpy (kind.name, name, sizeof kind.name);
  kind.leaf = (int) dew_catalogue_leaf_guess (kind.name, kind.group);
  if (dew_chamber_kind (asked->chamber, name) != NULL)
    kind = *dew_chamber_kind (asked->chamber, name);
  for (int i = 2; i < asked->n; i++)
    if (g_str_has_prefix (asked->words[i], "like=")
          ? !begin_like (asked->chamber, asked->words[i] + strlen ("like="), &kind)
          : !set_member (&kind, asked->words[i]))
      return DEW_EXIT_USAGE;
  dew_chamber_remove_kind (asked->chamber, name);
  if (dew_chamber_add_kind (asked->chamber, &kind) == NULL)
    return dew_command_complain (DEW_EXIT_NO, _ ("\"%s\": cannot be the name of a kind"), name);
  code = write_back (asked, _ ("Describe a kind of plant"));
  wants = dew_kind_wants_words (&kind, DEW_TONGUE_METRIC);
  g_string_append_printf (out, "%s\n  %s\n", kind.name, wants);
  return code != DEW_EXIT_FINE ? code : dew_command_say (out->str);
}

/* --- what would grow here ------------------------------------------------ */

/* The forecasts of one month, owned by the caller. FALSE with error. */
static gboolean
forecast_month (const DewAsked *asked, int month, DewSuitsAir *air, GError **error)
{
  g_autoptr (DewChamber) chamber = dew_chamber_copy (asked->chamber);
  DewForecastOptions options;
  DewForecast *day, *night;

  chamber->month = month;
  dew_command_options (asked, &options);
  options.members = 0;
  day = dew_forecast_new (chamber, asked->about.variant->id, &options, NULL, error);
  if (day == NULL)
    return FALSE;
  options.night = TRUE;
  night = dew_forecast_new (chamber, asked->about.variant->id, &options, NULL, error);
  if (night == NULL)
    {
      dew_forecast_unref (day);
      return FALSE;
    }
  *air = (DewSuitsAir){ month, day, night };
  return TRUE;
}

static char *
ask_suits (const DewAsked *asked, const char *wanted, GError **error)
{
  g_autoptr (DewSuits) suits = NULL;
  DewSuitsAir airs[12];
  int n = asked->year ? 12 : 1, made = 0;
  char *text = NULL;

  while (made < n
         && forecast_month (asked, asked->year ? made : asked->chamber->month, &airs[made], error))
    made++;
  if (made == n)
    suits = dew_suits_new (asked->chamber, asked->about.variant, airs, n, error);
  if (suits != NULL)
    {
      const DewSuitsKind *kind = wanted != NULL ? dew_suits_kind (suits, wanted) : NULL;

      text = asked->json ? dew_report_suits_json (&asked->about, suits, kind)
                         : dew_report_suits_text (&asked->about, suits, kind);
    }
  for (int a = 0; a < made; a++)
    {
      dew_forecast_unref ((DewForecast *) airs[a].day);
      dew_forecast_unref ((DewForecast *) airs[a].night);
    }
  return text;
}

int
dew_command_suits (DewAsked *asked)
{
  g_autofree char *typed = all_words (asked, 1);
  g_autofree char *text = NULL;
  g_autoptr (GArray) list = NULL;
  g_autoptr (GError) error = NULL;
  const char *wanted = NULL;

  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;
  list = dew_catalogue_read_list (asked->chamber, typed);
  if (list->len > 0)
    {
      const DewListedPlant *plant = &g_array_index (list, DewListedPlant, 0);

      if (!plant->known)
        return complain_of_name (asked->chamber, plant->typed, plant->looked_for);
      wanted = plant->species;
    }
  text = ask_suits (asked, wanted, &error);
  return dew_command_answer (asked, text, error);
}

/* --- how high the shelves ------------------------------------------------ */

int
dew_command_shelves (DewAsked *asked)
{
  g_autoptr (DewHeights) heights = NULL;
  g_autofree char *text = NULL;

  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;
  heights = dew_heights_new (asked->chamber, asked->about.variant, dew_catalogue_plant_kind,
                             asked->chamber);
  text = asked->json ? dew_report_heights_json (&asked->about, heights)
                     : dew_report_heights_text (&asked->about, heights);
  return dew_command_answer (asked, text, NULL);
}
