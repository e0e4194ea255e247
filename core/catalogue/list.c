/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/catalogue.h"

#include "chamber/chamber-private.h"

#include <stdlib.h>
#include <string.h>

/* A list of plants as growers type or paste it: "3 Dracula, 2 Sundew small". */

#define MOST_OF_ONE 999

/* Words about a plant that are no part of its kind's name. */
static const struct
{
  const char *word;
  int state; /* DewPlantState; -1: of its size, which is not read */
} about[] = {
  { "weak", DEW_PLANT_WEAK },
  { "new", DEW_PLANT_ARRIVED },
  { "small", -1 },
  { "large", -1 },
  { "young", -1 },
  { "seedling", -1 },
  { "big", -1 },
};

/* Takes the number off a line: "3 x Dracula", "3 Dracula", "Dracula x3"; 1 where there is none. */
static int
take_count (char *line)
{
  char *rest, *end = line + strlen (line);
  long n = strtol (line, &rest, 10);

  if (rest != line)
    {
      while (*rest == ' ' || ((*rest == 'x' || *rest == '*') && rest[1] == ' '))
        rest++;
      if (g_str_has_prefix (rest, "×"))
        rest += strlen ("×");
      memmove (line, rest, strlen (rest) + 1);
      g_strstrip (line);
      return (int) CLAMP (n, 1, MOST_OF_ONE);
    }
  while (end > line && g_ascii_isdigit (end[-1]))
    end--;
  if (*end == '\0' || end == line || (end[-1] != 'x' && end[-1] != ' '))
    return 1;
  n = strtol (end, NULL, 10);
  end[end[-1] == 'x' ? -1 : 0] = '\0';
  g_strstrip (line);
  return (int) CLAMP (n, 1, MOST_OF_ONE);
}

/* Takes the words about the plant off the end of a name. */
static void
take_words (char *name, int *state)
{
  gboolean any = TRUE;

  while (any)
    {
      char *last = strrchr (name, ' ');

      any = FALSE;
      for (guint i = 0; last != NULL && i < G_N_ELEMENTS (about) && !any; i++)
        if (g_ascii_strcasecmp (last + 1, about[i].word) == 0)
          {
            if (about[i].state >= 0)
              *state = about[i].state;
            *last = '\0';
            g_strchomp (name);
            any = TRUE;
          }
    }
}

/* The kind that is meant, surely or because nothing else is found. */
static gboolean
find_kind (const DewChamber *chamber, const char *typed, DewListedPlant *out)
{
  const DewCatalogue *plants = dew_catalogue ("plants");
  int row;

  if (chamber != NULL && dew_chamber_kind (chamber, typed) != NULL)
    {
      dew_text_copy (out->species, sizeof out->species, typed);
      return TRUE;
    }
  row = dew_catalogue_plant_row (typed);
  if (row < 0)
    {
      g_autoptr (GArray) found = dew_catalogue_search_plants (chamber, typed);

      if (found->len != 1)
        return FALSE;
      dew_text_copy (out->species, sizeof out->species,
                     g_array_index (found, DewPlantMatch, 0).name);
      return TRUE;
    }
  dew_text_copy (out->species, sizeof out->species,
                 dew_catalogue_text (plants, (guint) row, "name"));
  return TRUE;
}

static void
read_line (const DewChamber *chamber, const char *text, GArray *list)
{
  g_autofree char *line = g_strstrip (g_strdup (text));
  DewListedPlant one = { .state = DEW_PLANT_HEALTHY };

  if (line[0] == '\0')
    return;
  one.count = take_count (line);
  if (line[0] == '\0')
    return;
  dew_text_copy (one.typed, sizeof one.typed, line);
  one.known = find_kind (chamber, line, &one);
  if (!one.known)
    {
      take_words (line, &one.state);
      one.known = find_kind (chamber, line, &one);
      /* What is searched for to help: without those words. */
      dew_text_copy (one.looked_for, sizeof one.looked_for, line);
    }
  g_array_append_val (list, one);
}

GArray *
dew_catalogue_read_list (const DewChamber *chamber, const char *text)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (DewListedPlant));
  g_auto (GStrv) lines = NULL;

  g_return_val_if_fail (text != NULL, list);

  lines = g_strsplit_set (text, ",;\n\r", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    read_line (chamber, lines[i], list);
  return list;
}

void
dew_catalogue_wish_for (DewChamber *chamber, const DewListedPlant *plant)
{
  DewWish wish;

  g_return_if_fail (chamber != NULL && plant != NULL && plant->known);

  dew_wish_init (&wish);
  dew_text_copy (wish.name, sizeof wish.name, plant->typed);
  dew_text_copy (wish.species, sizeof wish.species, plant->species);
  wish.count = plant->count;
  wish.state = plant->state;
  dew_chamber_add_wish (chamber, &wish);
}
