/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "random-chamber.h"

#include <string.h>

static void
random_text (GRand *random, char *to, gsize size)
{
  static const char *const parts[]
    = { "fan", " ", "\"quoted\"", "\\", "\303\251", "\346\271\277", "\360\237\214\277",
        ",",   "'", "\n",         "--", ";",        "</x>",         "%s" };
  g_autoptr (GString) text = g_string_new (NULL);
  int n = g_rand_int_range (random, 0, 9);

  for (int i = 0; i < n; i++)
    {
      const char *part = parts[g_rand_int_range (random, 0, G_N_ELEMENTS (parts))];

      if (text->len + strlen (part) < size
          && (size > DEW_NAME_SIZE || dew_text_is_plain (part, FALSE)))
        g_string_append (text, part);
    }
  memset (to, 0, size);
  memcpy (to, text->str, text->len);
}

/* Ends of the range, awkward fractions and everything between. */
static double
random_real (GRand *random, double min, double max)
{
  switch (g_rand_int_range (random, 0, 8))
    {
    case 0:
      return min;
    case 1:
      return max;
    case 2:
      return CLAMP (0.1, min, max);
    case 3:
      return CLAMP (1.0 / 3.0, min, max);
    case 4:
      return CLAMP (g_rand_double (random) * 1e-12, min, max);
    default:
      return CLAMP (g_rand_double_range (random, min, max), min, max);
    }
}

static void
random_field (GRand *random, const DewField *field, gpointer record)
{
  g_autofree char *text = g_malloc (field->size + 1);

  switch (field->type)
    {
    case DEW_FIELD_REAL:
      dew_field_set_real (field, record, random_real (random, field->min, field->max));
      break;
    case DEW_FIELD_TEXT:
      random_text (random, text, field->size);
      dew_field_set_text (field, record, text);
      break;
    case DEW_FIELD_LINK:
      dew_field_set_int (field, record, g_rand_int_range (random, 0, 100));
      break;
    case DEW_FIELD_COUNT:
      dew_field_set_int (field, record,
                         g_rand_int_range (random, (int) field->min, (int) field->max + 1));
      break;
    case DEW_FIELD_CHOICE:
    case DEW_FIELD_FLAG:
    default:
      dew_field_set_int (field, record, g_rand_int_range (random, 0, (int) field->max + 1));
      break;
    }
}

static void
random_record (GRand *random, const DewField *fields, gpointer record)
{
  for (const DewField *field = fields; field->key != NULL; field++)
    random_field (random, field, record);
}

static void
random_thing (GRand *random, DewThing *thing)
{
  dew_thing_init (thing, g_rand_int_range (random, 0, DEW_N_THING_KINDS));
  random_text (random, thing->name, sizeof thing->name);
  random_record (random, dew_thing_fields (thing->kind), thing);
}

static void
random_room (GRand *random, DewRoom *room)
{
  random_record (random, dew_room_fields (), room);
  for (int month = 0; month < 12; month++)
    random_record (random, dew_month_fields (), &room->months[month]);
}

static void
put_in_order (double *low, double *high)
{
  if (*low > *high)
    {
      double swap = *low;

      *low = *high;
      *high = swap;
    }
}

static void
put_three_in_order (double *low, double *middle, double *high)
{
  put_in_order (low, middle);
  put_in_order (middle, high);
  put_in_order (low, middle);
}

/* One wish or own kind more, one less, or other values in one. */
static void
random_wishing (GRand *random, DewChamber *chamber)
{
  DewPlantKind kind;
  DewWish wish;

  random_record (random, dew_wish_fields (), &wish);
  random_record (random, dew_plant_kind_fields (), &kind);
  put_three_in_order (&kind.t_day_min_C, &kind.t_day_ideal_C, &kind.t_day_max_C);
  put_three_in_order (&kind.t_night_min_C, &kind.t_night_ideal_C, &kind.t_night_max_C);
  put_three_in_order (&kind.rh_min, &kind.rh_ideal, &kind.rh_max);
  put_in_order (&kind.speed_lo_m_s, &kind.speed_hi_m_s);
  put_in_order (&kind.ppfd_lo_mol_m2s, &kind.ppfd_hi_mol_m2s);
  switch (g_rand_int_range (random, 0, 6))
    {
    case 0:
      if (chamber->wishes->len > 0)
        dew_chamber_remove_wish (chamber, g_array_index (chamber->wishes, DewWish, 0).id);
      break;
    case 1:
      if (chamber->kinds->len > 0)
        dew_chamber_remove_kind (chamber, g_array_index (chamber->kinds, DewPlantKind, 0).name);
      break;
    case 2:
      if (chamber->wishes->len > 0)
        {
          wish.id = g_array_index (chamber->wishes, DewWish, 0).id;
          g_array_index (chamber->wishes, DewWish, 0) = wish;
        }
      break;
    case 3:
      if (chamber->kinds->len < 8)
        dew_chamber_add_kind (chamber, &kind); /* not taken without a name of its own */
      break;
    default:
      if (chamber->wishes->len < 12)
        dew_chamber_add_wish (chamber, &wish);
      break;
    }
}

static DewVariant *
any_variant (GRand *random, DewChamber *chamber)
{
  return &g_array_index (chamber->variants, DewVariant,
                         g_rand_int_range (random, 0, (int) chamber->variants->len));
}

DewChamber *
random_chamber (GRand *random)
{
  DewChamber *chamber = dew_chamber_new ();
  int n = g_rand_int_range (random, 0, 40);

  random_record (random, dew_enclosure_fields (), chamber);
  for (int face = 0; face < DEW_N_FACES; face++)
    random_record (random, dew_panel_fields (), &chamber->panels[face]);
  for (int axis = 0; axis < 3; axis++)
    chamber->outer_m[axis] = random_real (random, 0.11, 3.9) + chamber->panels[2 * axis].thickness_m
                             + chamber->panels[2 * axis + 1].thickness_m;
  chamber->month = g_rand_int_range (random, 0, 12);
  random_room (random, &chamber->room);
  for (int i = 0; i < n; i++)
    random_edit (random, chamber);
  return chamber;
}

void
random_edit (GRand *random, DewChamber *chamber)
{
  DewVariant *variant = any_variant (random, chamber);
  DewThing thing;

  switch (g_rand_int_range (random, 0, 10))
    {
    case 8:
    case 9:
      random_wishing (random, chamber);
      break;
    case 0:
      if (chamber->variants->len < 5)
        dew_chamber_add_variant (chamber, "another", g_rand_boolean (random) ? variant : NULL);
      break;
    case 1:
      dew_chamber_remove_variant (chamber, variant->id);
      break;
    case 2:
      if (variant->things->len > 0)
        dew_variant_remove (variant,
                            g_array_index (variant->things, DewThing,
                                           g_rand_int_range (random, 0, (int) variant->things->len))
                              .id);
      break;
    case 3:
      chamber->shown_variant = variant->id;
      chamber->month = g_rand_int_range (random, 0, 12);
      break;
    case 4:
      if (variant->things->len > 0)
        random_record (random, dew_thing_fields (g_array_index (variant->things, DewThing, 0).kind),
                       &g_array_index (variant->things, DewThing, 0));
      break;
    default:
      random_thing (random, &thing);
      dew_variant_add (chamber, variant, &thing);
      break;
    }
}
