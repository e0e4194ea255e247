/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/check-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* Words and numbers that the checks put into their sentences. */

DewNumber
dew_check_number (double value)
{
  DewNumber result;

  if (isnan (value))
    g_strlcpy (result.text, _ ("not a number"), sizeof result.text);
  else if (isinf (value))
    g_strlcpy (result.text, value > 0 ? _ ("infinite") : _ ("minus infinite"), sizeof result.text);
  else
    g_ascii_formatd (result.text, sizeof result.text, "%.5g", value);
  return result;
}

const char *
dew_check_unit (DewQuantity quantity)
{
  static const char *const units[] = {
    [DEW_QUANTITY_NONE] = "",
    [DEW_QUANTITY_LENGTH] = " m",
    [DEW_QUANTITY_ANGLE] = " rad",
    [DEW_QUANTITY_AREA] = " m\302\262",
    [DEW_QUANTITY_FRACTION] = "",
    [DEW_QUANTITY_TEMPERATURE] = " \302\260C",
    [DEW_QUANTITY_SPEED] = " m/s",
    [DEW_QUANTITY_AIR_FLOW] = " m\302\263/s",
    [DEW_QUANTITY_WATER_RATE] = " kg/s",
    [DEW_QUANTITY_MASS] = " kg",
    [DEW_QUANTITY_PRESSURE] = " Pa",
    [DEW_QUANTITY_POWER] = " W",
    [DEW_QUANTITY_U_VALUE] = " W/m\302\262K",
    [DEW_QUANTITY_DROPLET] = " m",
    [DEW_QUANTITY_EFFICACY] = " mol/J",
    [DEW_QUANTITY_IRRADIANCE] = " W/m\302\262",
    [DEW_QUANTITY_ALTITUDE] = " m",
    [DEW_QUANTITY_LIGHT] = " mol/m\302\262s",
  };

  return (guint) quantity < G_N_ELEMENTS (units) ? units[quantity] : "";
}

static const char *
name_of (const DewThing *thing)
{
  if (thing->name[0] != '\0')
    return thing->name;
  /* Translators: stands for the name of a thing that has none */
  return _ ("no name");
}

/* Translators: the sentences of the checks begin with these */
char *
dew_check_words (const DewThing *thing)
{
  const char *name = name_of (thing);

  switch (thing->kind)
    {
    case DEW_THING_SHELF:
      return g_strdup_printf (_ ("The shelf \"%s\""), name);
    case DEW_THING_OPENING:
      return g_strdup_printf (_ ("The opening \"%s\""), name);
    case DEW_THING_FAN:
      return g_strdup_printf (_ ("The fan \"%s\""), name);
    case DEW_THING_HUMIDIFIER:
      return g_strdup_printf (_ ("The humidifier \"%s\""), name);
    case DEW_THING_POT:
      return g_strdup_printf (_ ("The wet pot \"%s\""), name);
    case DEW_THING_TRAY:
      return g_strdup_printf (_ ("The tray \"%s\""), name);
    case DEW_THING_LAMP:
      return g_strdup_printf (_ ("The lamp \"%s\""), name);
    case DEW_THING_MAT:
      return g_strdup_printf (_ ("The heat mat \"%s\""), name);
    case DEW_THING_SOURCE:
      return g_strdup_printf (_ ("The source \"%s\""), name);
    case DEW_THING_PLANT:
      return g_strdup_printf (_ ("The plant \"%s\""), name);
    case DEW_THING_INSTRUMENT:
      return g_strdup_printf (_ ("The instrument \"%s\""), name);
    case DEW_N_THING_KINDS:
    default:
      g_return_val_if_reached (g_strdup (name));
    }
}

/* Translators: the same in the middle of a sentence, after "and", "below", "through" */
char *
dew_check_words_inside (const DewThing *thing)
{
  const char *name = name_of (thing);

  switch (thing->kind)
    {
    case DEW_THING_SHELF:
      return g_strdup_printf (_ ("the shelf \"%s\""), name);
    case DEW_THING_OPENING:
      return g_strdup_printf (_ ("the opening \"%s\""), name);
    case DEW_THING_FAN:
      return g_strdup_printf (_ ("the fan \"%s\""), name);
    case DEW_THING_HUMIDIFIER:
      return g_strdup_printf (_ ("the humidifier \"%s\""), name);
    case DEW_THING_POT:
      return g_strdup_printf (_ ("the wet pot \"%s\""), name);
    case DEW_THING_TRAY:
      return g_strdup_printf (_ ("the tray \"%s\""), name);
    case DEW_THING_LAMP:
      return g_strdup_printf (_ ("the lamp \"%s\""), name);
    case DEW_THING_MAT:
      return g_strdup_printf (_ ("the heat mat \"%s\""), name);
    case DEW_THING_SOURCE:
      return g_strdup_printf (_ ("the source \"%s\""), name);
    case DEW_THING_PLANT:
      return g_strdup_printf (_ ("the plant \"%s\""), name);
    case DEW_THING_INSTRUMENT:
      return g_strdup_printf (_ ("the instrument \"%s\""), name);
    case DEW_N_THING_KINDS:
    default:
      g_return_val_if_reached (g_strdup (name));
    }
}

/* Translators: these stand after "the edge of" and "over each other in" */
const char *
dew_check_face (DewFace face)
{
  static const char *const faces[DEW_N_FACES]
    = { N_ ("the left face"), N_ ("the right face"), N_ ("the front face"),
        N_ ("the back face"), N_ ("the floor"),      N_ ("the roof") };

  g_return_val_if_fail ((guint) face < DEW_N_FACES, "");
  return _ (faces[face]);
}
