/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/cuts.h"

#include "say/names.h"
#include "say/values.h"

#include <glib/gi18n.h>
#include <math.h>

#define N_LETTERS 26
#define SIXTEENTHS 16

char *
dew_ruler_text (double length_m, DewTongue tongue)
{
  long parts, whole, over = SIXTEENTHS;

  if (tongue != DEW_TONGUE_IMPERIAL)
    return dew_length_text (length_m, tongue);
  parts = lround (dew_unit_shown (dew_unit (DEW_MEASURE_LENGTH, tongue), length_m) * SIXTEENTHS);
  whole = parts / SIXTEENTHS;
  parts %= SIXTEENTHS;
  if (parts == 0)
    return g_strdup_printf (_ ("%ld in"), whole);
  for (; parts % 2 == 0; parts /= 2)
    over /= 2;
  /* Translators: inches and a fraction, as in '4 13/16 in' */
  return whole > 0 ? g_strdup_printf (_ ("%ld %ld/%ld in"), whole, parts, over)
                   /* Translators: less than an inch, as in '13/16 in' */
                   : g_strdup_printf (_ ("%ld/%ld in"), parts, over);
}

char *
dew_cut_letter (guint n)
{
  char letter = (char) ('A' + n % N_LETTERS);

  return n < N_LETTERS ? g_strdup_printf ("%c", letter)
                       : g_strdup_printf ("%c%u", letter, n / N_LETTERS + 1);
}

const char *
dew_face_title (DewFace face)
{
  static const char *const titles[DEW_N_FACES] = {
    [DEW_FACE_LEFT] = N_ ("Left side"), [DEW_FACE_RIGHT] = N_ ("Right side"),
    [DEW_FACE_FRONT] = N_ ("Front"),    [DEW_FACE_BACK] = N_ ("Back"),
    [DEW_FACE_FLOOR] = N_ ("Floor"),    [DEW_FACE_ROOF] = N_ ("Roof"),
  };

  g_return_val_if_fail ((guint) face < DEW_N_FACES, "");
  return _ (titles[face]);
}

/* What the catalogue of choices calls an opening: "Flap". */
static const char *
kind_word (const DewThing *thing)
{
  const DewField *field;

  if (thing->kind == DEW_THING_FAN)
    return _ ("Fan in the wall");
  field = dew_field_find (dew_thing_fields (DEW_THING_OPENING), "kind");
  return dew_choice_word (field->choices[thing->opening.kind]);
}

char *
dew_cut_size_words (const DewCut *cut, DewTongue tongue)
{
  g_autofree char *across = NULL, *up = NULL;

  g_return_val_if_fail (cut != NULL, NULL);

  across = dew_ruler_text (cut->hi_m[0] - cut->lo_m[0], tongue);
  up = dew_ruler_text (cut->hi_m[1] - cut->lo_m[1], tongue);
  if (cut->round)
    /* Translators: a hole and its diameter, as in 'Fan in the wall, round, 12 cm across' */
    return g_strdup_printf (_ ("%s, round, %s across"), kind_word (cut->thing), across);
  if (cut->face == DEW_FACE_FLOOR || cut->face == DEW_FACE_ROOF)
    /* Translators: a hole in floor or roof, as in 'Mesh, 30 cm wide, 4 cm deep' */
    return g_strdup_printf (_ ("%s, %s wide, %s deep"), kind_word (cut->thing), across, up);
  /* Translators: a hole in a side, as in 'Flap, 30 cm wide, 4 cm high' */
  return g_strdup_printf (_ ("%s, %s wide, %s high"), kind_word (cut->thing), across, up);
}

char *
dew_cut_place_words (const DewCut *cut, DewTongue tongue)
{
  double at_m[2];
  g_autofree char *across = NULL, *up = NULL;
  gboolean level, sideways;

  g_return_val_if_fail (cut != NULL, NULL);

  for (int axis = 0; axis < 2; axis++)
    at_m[axis] = cut->round ? (cut->lo_m[axis] + cut->hi_m[axis]) / 2 : cut->lo_m[axis];
  across = dew_ruler_text (at_m[0], tongue);
  up = dew_ruler_text (at_m[1], tongue);
  level = cut->face == DEW_FACE_FLOOR || cut->face == DEW_FACE_ROOF;
  sideways = cut->face == DEW_FACE_LEFT || cut->face == DEW_FACE_RIGHT;
  /* Translators: the two distances of a hole from edges of its side */
  if (cut->round)
    return level ? g_strdup_printf (_ ("its middle %s from the left edge, %s from the front edge"),
                                    across, up)
           : sideways
             ? g_strdup_printf (_ ("its middle %s from the front edge, %s above the floor"), across,
                                up)
             : g_strdup_printf (_ ("its middle %s from the left edge, %s above the floor"), across,
                                up);
  return level ? g_strdup_printf (_ ("%s from the left edge, %s from the front edge"), across, up)
         : sideways ? g_strdup_printf (_ ("%s from the front edge, %s above the floor"), across, up)
                    : g_strdup_printf (_ ("%s from the left edge, %s above the floor"), across, up);
}
