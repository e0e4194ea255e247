/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/possible.h"

#include <glib/gi18n.h>

#include <math.h>

#include "moist/moist.h"

/* Density, latent heat and diffusivity are taken as in the room's air, and people do not grow
 * plants beyond: common practice, no source. */
#define HOTTEST_C 90.0
#define COLDEST_C (-40.0) /* where the table of saturation begins */
#define DRIEST (-1e-5)    /* kg/kg */
#define WETTEST 0.10      /* over saturation, as a share of it */
#define MOST_AFLOAT 0.3   /* kg/kg: air that carries a third of its weight is a spray */
#define TRIFLE_W 0.02
#define TRIFLE_KG_S 1e-8
#define MOST_MISSING 0.01 /* of the largest term of a balance */
/* The zones that a small strong heater stands in may be hotter than the enclosure may. */
#define SHARE_AT_A_HEATER 0.02

typedef enum
{
  GIVES_HEAT,
  GIVES_WATER
} Gives;

static double
given_by (const DewDevice *device, const DewThing *thing, Gives what)
{
  if (thing->kind == DEW_THING_SOURCE)
    return what == GIVES_HEAT ? thing->source.heat_W : thing->source.vapour_kg_s;
  return what == GIVES_HEAT ? device->power_W : device->water_kg_s;
}

/* The name of what gives most of it; NULL: no thing does. */
static const char *
strongest (const DewForecast *f, const DewVariant *variant, Gives what)
{
  const char *name = NULL;
  double most = 0.0;

  for (int d = 0; d < f->n_devices; d++)
    {
      const DewThing *thing = dew_variant_thing (variant, f->devices[d].thing_id);
      double gives = thing != NULL ? given_by (&f->devices[d], thing, what) : NAN;

      if (!(gives > most))
        continue;
      most = gives;
      name = thing->name;
    }
  return name;
}

G_GNUC_PRINTF (2, 3)
static gboolean
refuse (GError **error, const char *format, ...)
{
  g_autofree char *text = NULL;
  va_list arguments;

  va_start (arguments, format);
  text = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error_literal (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_IMPOSSIBLE, text);
  return FALSE;
}

static gboolean
check_temperature (const DewForecast *f, const DewVariant *variant, GError **error)
{
  const char *heater = strongest (f, variant, GIVES_HEAT);
  const char *wetter = strongest (f, variant, GIVES_WATER);
  int too_cold = 0, too_hot = 0, few = (int) (SHARE_AT_A_HEATER * f->n_zones);

  for (int z = 0; z < f->n_zones; z++)
    {
      too_cold += f->value[DEW_VALUE_TEMPERATURE][z] < COLDEST_C;
      too_hot += f->value[DEW_VALUE_TEMPERATURE][z] > HOTTEST_C;
    }
  if (too_hot > few && heater != NULL)
    return refuse (error,
                   _ ("%s gives more heat than this enclosure sheds below 90 C, beyond which the "
                      "forecast does not hold; give it less power, or let air and heat out"),
                   heater);
  if (too_hot > few)
    return refuse (error,
                   _ ("The sun gives this enclosure more heat than it sheds below 90 C, beyond "
                      "which the forecast does not hold; shade it, or let air and heat out"));
  if (too_cold > few && wetter != NULL)
    return refuse (error,
                   _ ("%s takes more heat from the air than the forecast holds for, which ends at "
                      "-40 C; let it give less water, or let air in"),
                   wetter);
  if (too_cold > few)
    return refuse (error, _ ("This enclosure is colder than the forecast holds for, which ends at "
                             "-40 C"));
  return TRUE;
}

static gboolean
check_water (const DewForecast *f, const DewVariant *variant, GError **error)
{
  const char *wetter = strongest (f, variant, GIVES_WATER);
  gboolean spray = FALSE, lost = FALSE;

  for (int z = 0; z < f->n_zones; z++)
    {
      double w = f->value[DEW_VALUE_HUMIDITY_RATIO][z];
      double most = dew_moist_w_sat (f->value[DEW_VALUE_TEMPERATURE][z], f->pressure_Pa);

      spray |= f->value[DEW_VALUE_MIST][z] > MOST_AFLOAT;
      lost |= w < DRIEST || w > (1.0 + WETTEST) * most;
    }
  if (spray && wetter != NULL)
    return refuse (error,
                   _ ("%s gives more water than the air of this enclosure can carry away, so that "
                      "it would be a spray; let it give less, or let more air through"),
                   wetter);
  if (spray)
    return refuse (error,
                   _ ("More water is given off than the air of this enclosure can carry away; let "
                      "more air through"));
  if (lost && wetter != NULL)
    return refuse (error,
                   _ ("The moisture that %s gives could not be followed: it came out less than "
                      "none or beyond saturation; let it give less, or set it elsewhere"),
                   wetter);
  if (lost)
    return refuse (error,
                   _ ("The moisture of this enclosure could not be followed: it came out less "
                      "than none or beyond saturation"));
  return TRUE;
}

static gboolean
check_balances (const DewForecast *f, const DewVariant *variant, GError **error)
{
  const char *heater = strongest (f, variant, GIVES_HEAT);
  const char *wetter = strongest (f, variant, GIVES_WATER);
  const DewBalance *b = &f->balance;
  /* Where next to nothing is given, a share of it says nothing. */
  gboolean heat = b->heat_residual > MOST_MISSING
                  && fabs (b->heat_source_W + b->heat_latent_W + b->heat_surface_W
                           + b->heat_openings_W + b->heat_cover_W)
                       > TRIFLE_W;
  gboolean water = b->water_residual > MOST_MISSING
                   && fabs (b->water_device_kg_s + b->water_surface_kg_s + b->water_openings_kg_s
                            + b->water_cover_kg_s + b->water_fallout_kg_s)
                        > TRIFLE_KG_S;

  if (heat && heater != NULL)
    return refuse (error,
                   _ ("The heat of this enclosure does not balance: more than a hundredth of it is "
                      "missing. Most is given by %s; give it less power"),
                   heater);
  if (heat)
    return refuse (error,
                   _ ("The heat of this enclosure does not balance: more than a hundredth of it is "
                      "missing"));
  if (water && wetter != NULL)
    return refuse (error,
                   _ ("The water of this enclosure does not balance: more than a hundredth of it "
                      "is missing. Most is given by %s; let it give less"),
                   wetter);
  if (water)
    return refuse (error,
                   _ ("The water of this enclosure does not balance: more than a hundredth of it "
                      "is missing"));
  return TRUE;
}

gboolean
dew_forecast_check_possible (const DewForecast *f, const DewVariant *variant, GError **error)
{
  return check_temperature (f, variant, error) && check_water (f, variant, error)
         && (f->state != DEW_FORECAST_SETTLED || check_balances (f, variant, error));
}
