/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The values of a forecast as people read them. */
#include "say/values.h"

#include <math.h>

/* --- words ---------------------------------------------------------------------------------- */
static void
test_texts (void)
{
  static const struct
  {
    DewValue value;
    double x;
    DewTongue tongue;
    const char *text;
  } rows[] = {
    { DEW_VALUE_RH, 0.8449, DEW_TONGUE_METRIC, "84 %" },
    { DEW_VALUE_TEMPERATURE, 20.06, DEW_TONGUE_METRIC, "20.1 °C" },
    { DEW_VALUE_TEMPERATURE, -0.04, DEW_TONGUE_METRIC, "0.0 °C" },
    { DEW_VALUE_TEMPERATURE, -3.25, DEW_TONGUE_METRIC, "−3.2 °C" },
    { DEW_VALUE_TEMPERATURE, 20, DEW_TONGUE_IMPERIAL, "68.0 °F" }, /* 9/5 t + 32 */
    { DEW_VALUE_SPEED, 0.1, DEW_TONGUE_METRIC, "0.10 m/s" },
    { DEW_VALUE_SPEED, 0.508, DEW_TONGUE_IMPERIAL, "100 ft/min" }, /* 1 ft = 0.3048 m */
    { DEW_VALUE_VPD, 843, DEW_TONGUE_METRIC, "0.84 kPa" },
    { DEW_VALUE_AGE, 45.2, DEW_TONGUE_METRIC, "45 s" },
    { DEW_VALUE_AGE, 150, DEW_TONGUE_METRIC, "2.5 min" },
    { DEW_VALUE_AGE, 3000, DEW_TONGUE_METRIC, "50 min" },
    { DEW_VALUE_AGE, 9000, DEW_TONGUE_METRIC, "2.5 h" },
    { DEW_VALUE_AGE, NAN, DEW_TONGUE_METRIC, "no exchange" },
    { DEW_VALUE_PPFD, 87e-6, DEW_TONGUE_METRIC, "87 µmol/m²s" },
    { DEW_VALUE_WETTING, 1.0 / 3600 / 1000 * 25, DEW_TONGUE_METRIC, "25 mL/m²h" }, /* 1 kg = 1 L */
  };
  g_autofree char *none = dew_band_text (DEW_VALUE_RH, NAN, DEW_TONGUE_METRIC);
  g_autofree char *least = dew_band_text (DEW_VALUE_RH, 0.0004, DEW_TONGUE_METRIC);
  g_autofree char *kelvin = dew_band_text (DEW_VALUE_TEMPERATURE, 0.5, DEW_TONGUE_IMPERIAL);
  g_autofree char *length = dew_length_text (0.405, DEW_TONGUE_METRIC);
  g_autofree char *inch = dew_length_text (0.4, DEW_TONGUE_IMPERIAL);

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = dew_value_text (rows[i].value, rows[i].x, rows[i].tongue);

      g_assert_cmpstr (text, ==, rows[i].text);
    }
  g_assert_null (none);
  g_assert_cmpstr (least, ==, "± 1");
  g_assert_cmpstr (kelvin, ==, "± 0.9"); /* a difference: 9/5 without the 32 */
  g_assert_cmpstr (length, ==, "40.5 cm");
  g_assert_cmpstr (inch, ==, "15.7 in");
}

/* Number and unit apart, by the meaning of the words. */
static void
test_apart (void)
{
  DewFigure humid = dew_value_figure (DEW_VALUE_RH, 0.8449, DEW_TONGUE_METRIC);
  DewFigure warm = dew_value_figure (DEW_VALUE_TEMPERATURE, 20.0, DEW_TONGUE_IMPERIAL);
  DewFigure old = dew_value_figure (DEW_VALUE_AGE, 150.0, DEW_TONGUE_METRIC);
  DewFigure none = dew_value_figure (DEW_VALUE_AGE, NAN, DEW_TONGUE_METRIC);
  DewFigure band;
  const DewClimate climate = { .rh = 0.84, .rh_band = 0.04, .t_C = 20.0, .t_band_K = NAN };
  g_autofree char *both = dew_climate_text (&climate, DEW_VALUE_RH, DEW_TONGUE_METRIC);
  g_autofree char *alone = dew_climate_text (&climate, DEW_VALUE_TEMPERATURE, DEW_TONGUE_METRIC);

  g_assert_cmpstr (humid.number, ==, "84");
  g_assert_cmpstr (humid.unit, ==, "%");
  g_assert_cmpstr (warm.number, ==, "68.0");
  g_assert_cmpstr (warm.unit, ==, "°F");
  g_assert_cmpstr (old.number, ==, "2.5");
  g_assert_cmpstr (old.unit, ==, "min");
  g_assert_cmpstr (none.number, ==, "no exchange");
  g_assert_cmpstr (none.unit, ==, "");
  g_assert_false (dew_band_figure (DEW_VALUE_RH, NAN, DEW_TONGUE_METRIC, &band));
  g_assert_true (dew_band_figure (DEW_VALUE_TEMPERATURE, 0.5, DEW_TONGUE_IMPERIAL, &band));
  g_assert_cmpstr (band.number, ==, "0.9"); /* a difference: 9/5 without the 32 */
  /* No line ends inside. */
  g_assert_cmpstr (both, ==, "84\302\240%\302\240±\302\2404");
  g_assert_cmpstr (alone, ==, "20.0\302\240°C");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/values/texts", test_texts);
  g_test_add_func ("/values/apart", test_apart);
  return g_test_run ();
}
