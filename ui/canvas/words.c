/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/words.h"

#include "document/tongue.h"
#include "forecast/probe.h"
#include "geometry/geometry.h"
#include "paint/sheet.h"
#include "say/findings.h"
#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>

/* Sentences one after the other. */
static void
add_sentence (GString *text, const char *sentence)
{
  if (sentence == NULL || *sentence == '\0')
    return;
  if (text->len > 0)
    g_string_append_c (text, ' ');
  g_string_append (text, sentence);
}

G_GNUC_PRINTF (2, 3) static void add (GString *text, const char *format, ...)
{
  g_autofree char *sentence = NULL;
  va_list args;

  va_start (args, format);
  sentence = g_strdup_vprintf (format, args);
  va_end (args);
  add_sentence (text, sentence);
}

/* --- air ------------------------------------------------------------------ */

/* Bands are known for places and bays: those of the one that holds the point. */
static void
take_bands (const DewForecast *forecast, const double at_m[3], DewClimate *climate)
{
  int bay = dew_forecast_bay_at (forecast, at_m[2]);
  const DewClimate *from = bay >= 0 ? &forecast->bays[bay].mean : NULL;

  for (int i = 0; i < forecast->n_places; i++)
    {
      const DewPlace *place = &forecast->places[i];
      gboolean holds = TRUE;

      for (int axis = 0; axis < 3; axis++)
        holds = holds && at_m[axis] >= place->lo_m[axis] && at_m[axis] <= place->hi_m[axis];
      if (holds)
        from = &place->mean;
    }
  if (from == NULL)
    return;
  climate->t_band_K = from->t_band_K;
  climate->rh_band = from->rh_band;
  climate->vpd_band_Pa = from->vpd_band_Pa;
  climate->speed_band_m_s = from->speed_band_m_s;
  climate->age_band_s = from->age_band_s;
}

static void
add_air (GString *text, const DewClimate *climate)
{
  g_autofree char *rh = NULL, *warmth = NULL, *speed = NULL;

  if (isnan (climate->t_C))
    return;
  rh = dew_climate_text (climate, DEW_VALUE_RH, dew_tongue ());
  warmth = dew_climate_text (climate, DEW_VALUE_TEMPERATURE, dew_tongue ());
  speed = dew_climate_text (climate, DEW_VALUE_SPEED, dew_tongue ());
  /* Translators: humidity, warmth and speed of the air, each with its unit and
   * perhaps the band in which it is expected ("84 % ± 4"). */
  add (text, _ ("Air there: %s humid, %s warm, moving at %s."), rh, warmth, speed);
}

/* --- things ---------------------------------------------------------------- */

static char *
length (double length_m)
{
  return dew_measure_text (DEW_MEASURE_LENGTH, dew_tongue (), length_m);
}

static void
add_size (GString *text, const DewThing *thing, const double lo[3], const double hi[3])
{
  g_autofree char *wide = length (hi[0] - lo[0]), *deep = length (hi[1] - lo[1]);
  g_autofree char *high = length (hi[2] - lo[2]);

  switch (thing->kind)
    {
    case DEW_THING_INSTRUMENT:
      break;
    case DEW_THING_FAN:
      {
        g_autofree char *disc = length (thing->fan.diameter_m);

        add (text, _ ("%s across."), disc);
      }
      break;
    case DEW_THING_OPENING:
      {
        g_autofree char *u = length (thing->opening.u1_m - thing->opening.u0_m);
        g_autofree char *v = length (thing->opening.v1_m - thing->opening.v0_m);

        add (text, _ ("%s by %s, %.0f %% open."), u, v, thing->opening.open_fraction * 100.0);
      }
      break;
    case DEW_THING_SHELF:
      add (text, _ ("%s wide, %s deep."), wide, deep);
      break;
    default:
      add (text, _ ("%s wide, %s deep, %s high."), wide, deep, high);
      break;
    }
}

static void
add_aim (GString *text, const DewThing *thing)
{
  double azimuth_deg, elevation_deg;
  gboolean falls;

  if (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_IN_WALL)
    {
      add_sentence (text, thing->fan.sense == DEW_BLOWS_IN ? _ ("Blows in from the room.")
                                                           : _ ("Blows out to the room."));
      return;
    }
  if (thing->kind != DEW_THING_FAN)
    return;
  azimuth_deg = thing->fan.azimuth_rad * 180.0 / G_PI;
  elevation_deg = thing->fan.elevation_rad * 180.0 / G_PI;
  falls = elevation_deg < -0.5;
  if (elevation_deg > 75.0)
    add_sentence (text, _ ("Blows up."));
  else if (elevation_deg < -75.0)
    add_sentence (text, _ ("Blows down."));
  else if (fabs (azimuth_deg) <= 45.0)
    add (text, falls ? _ ("Blows to the right, %.0f° down.") : _ ("Blows to the right, %.0f° up."),
         fabs (elevation_deg));
  else if (fabs (azimuth_deg) >= 135.0)
    add (text, falls ? _ ("Blows to the left, %.0f° down.") : _ ("Blows to the left, %.0f° up."),
         fabs (elevation_deg));
  else if (azimuth_deg > 0.0)
    add (text, falls ? _ ("Blows to the back, %.0f° down.") : _ ("Blows to the back, %.0f° up."),
         fabs (elevation_deg));
  else
    add (text, falls ? _ ("Blows to the front, %.0f° down.") : _ ("Blows to the front, %.0f° up."),
         fabs (elevation_deg));
}

static void
add_findings (GString *text, const DewForecast *forecast, guint id, int bay)
{
  for (int i = 0; forecast != NULL && i < forecast->n_findings; i++)
    {
      const DewFinding *finding = &forecast->findings[i];

      if ((id != 0 && finding->thing_id == id) || (id == 0 && finding->bay == bay))
        {
          g_autofree char *title = dew_finding_title (forecast, finding);

          /* Translators: the number and title of a finding. */
          add (text, _ ("Finding %d: %s."), i + 1, title);
        }
    }
}

/* "Second bay, 12 cm from the left, 20 cm from the front". */
static char *
where_words (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing)
{
  g_autofree double *bound_m = NULL;
  g_autofree char *bay_name = NULL, *left = NULL, *front = NULL, *up = NULL;
  double lo[3], hi[3];
  int n_bays;

  dew_thing_box (chamber, thing, lo, hi);
  if (thing->kind == DEW_THING_SHELF)
    {
      up = dew_length_text (lo[2], dew_tongue ());
      /* Translators: %s is a length. */
      return g_strdup_printf (_ ("%s above the floor"), up);
    }
  n_bays = dew_variant_bays (chamber, variant, &bound_m, NULL);
  bay_name = dew_bay_name (dew_bay_at (bound_m, n_bays, (lo[2] + hi[2]) / 2.0), n_bays);
  left = dew_length_text ((lo[0] + hi[0]) / 2.0, dew_tongue ());
  front = dew_length_text ((lo[1] + hi[1]) / 2.0, dew_tongue ());
  /* Translators: a bay ("Second bay") and two lengths. */
  return g_strdup_printf (_ ("%s, %s from the left, %s from the front"), bay_name, left, front);
}

char *
dew_words_thing (DewDocument *document, guint id)
{
  const DewChamber *chamber = dew_document_chamber (document);
  const DewVariant *variant = dew_document_variant (document);
  const DewThing *thing = variant != NULL ? dew_variant_thing (variant, id) : NULL;
  const DewForecast *forecast = dew_document_forecast (document);
  GString *text = g_string_new (NULL);
  g_autofree char *where = NULL;
  double lo[3], hi[3], middle[3];

  if (thing == NULL)
    return g_string_free (text, FALSE);
  where = where_words (chamber, variant, thing);
  dew_thing_box (chamber, thing, lo, hi);
  for (int axis = 0; axis < 3; axis++)
    middle[axis] = (lo[axis] + hi[axis]) / 2.0;
  /* Translators: the kind of a thing and where it is: "Fan: lowest bay, ...". */
  add (text, _ ("%s: %s."), dew_thing_kind_label (thing->kind), where);
  add_size (text, thing, lo, hi);
  add_aim (text, thing);
  if (forecast != NULL && thing->kind != DEW_THING_SHELF && thing->kind != DEW_THING_OPENING)
    {
      DewClimate climate;

      dew_forecast_box (forecast, lo, hi, &climate);
      take_bands (forecast, middle, &climate);
      add_air (text, &climate);
    }
  add_findings (text, forecast, id, -1);
  return g_string_free (text, FALSE);
}

char *
dew_words_sheet (DewDocument *document)
{
  const DewChamber *chamber = dew_document_chamber (document);
  GString *text = g_string_new (NULL);
  g_autofree char *wide = NULL, *deep = NULL, *high = NULL;
  guint n;

  if (chamber == NULL)
    return g_string_free (text, FALSE);
  n = dew_document_variant (document)->things->len;
  wide = length (chamber->outer_m[0]);
  deep = length (chamber->outer_m[1]);
  high = length (chamber->outer_m[2]);
  add (text, _ ("%s wide, %s deep, %s high."), wide, deep, high);
  if (n == 0)
    add_sentence (text, _ ("Nothing is in it yet."));
  else
    add (text, ngettext ("%u thing is in it.", "%u things are in it.", n), n);
  return g_string_free (text, FALSE);
}

/* --- bays and findings ------------------------------------------------------- */

char *
dew_words_bay_name (DewDocument *document, int bay)
{
  g_autofree double *z_m = NULL;
  int n = dew_variant_bays (dew_document_chamber (document), dew_document_variant (document), &z_m,
                            NULL);

  return dew_bay_name (bay, n);
}

char *
dew_words_bay (DewDocument *document, int bay)
{
  const DewForecast *forecast = dew_document_forecast (document);
  GString *text = g_string_new (NULL);

  if (forecast == NULL || bay >= forecast->n_bays)
    {
      const char *obstacle = dew_document_obstacle (document, NULL);

      add_sentence (text, obstacle != NULL ? obstacle : _ ("No forecast yet."));
      return g_string_free (text, FALSE);
    }
  add_air (text, &forecast->bays[bay].mean);
  add (text, _ ("Verdict: %s."), dew_verdict_word (dew_bay_verdict (forecast, bay)));
  add_findings (text, forecast, 0, bay);
  return g_string_free (text, FALSE);
}

char *
dew_words_finding_name (DewDocument *document, int finding)
{
  const DewForecast *forecast = dew_document_forecast (document);
  g_autofree char *title = NULL;

  if (forecast == NULL || finding >= forecast->n_findings)
    return g_strdup ("");
  title = dew_finding_title (forecast, &forecast->findings[finding]);
  return g_strdup_printf (_ ("Finding %d: %s"), finding + 1, title);
}

char *
dew_words_finding (DewDocument *document, int finding)
{
  const DewForecast *forecast = dew_document_forecast (document);
  GString *text = g_string_new (NULL);

  if (forecast != NULL && finding < forecast->n_findings)
    {
      g_autofree char *cause = dew_finding_cause (&forecast->findings[finding]);

      add_sentence (text, cause);
      add_sentence (text, dew_finding_remedy (&forecast->findings[finding]));
    }
  return g_string_free (text, FALSE);
}
