/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units and numbers: the edge between SI and what people read and type. */
#include "say/units.h"

#include <math.h>
#include <string.h>

static void
test_units (void)
{
  /* 1 in = 25.4 mm and 1 ft = 0.3048 m exactly: NIST Special Publication 811
   * (2008), appendix B.8. The rest is the decimal meaning of the prefixes. */
  static const struct
  {
    DewMeasure measure;
    const char *text;
    double si;
  } cases[] = {
    { DEW_MEASURE_LENGTH, "12", 0.12 },           { DEW_MEASURE_LENGTH, "12 cm", 0.12 },
    { DEW_MEASURE_LENGTH, "120mm", 0.12 },        { DEW_MEASURE_LENGTH, "0,5 m", 0.5 },
    { DEW_MEASURE_LENGTH, "10 in", 0.254 },       { DEW_MEASURE_LENGTH, "2 ft", 0.6096 },
    { DEW_MEASURE_LENGTH, " 7.5 ", 0.075 },       { DEW_MEASURE_LENGTH, "−3", -0.03 },
    { DEW_MEASURE_SHARE, "85 %", 0.85 },          { DEW_MEASURE_SHARE, "85", 0.85 },
    { DEW_MEASURE_AIR_FLOW, "36", 0.01 },         { DEW_MEASURE_AIR_FLOW, "60 L/min", 0.001 },
    { DEW_MEASURE_WATER_RATE, "360", 1e-4 },      { DEW_MEASURE_WATER_RATE, "0.36 L/h", 1e-4 },
    { DEW_MEASURE_ANGLE, "180", G_PI },           { DEW_MEASURE_ANGLE, "-90°", -G_PI / 2.0 },
    { DEW_MEASURE_TEMPERATURE, "20,5 °C", 20.5 }, { DEW_MEASURE_DROPLET, "3", 3e-6 },
  };
  static const char *const nonsense[]
    = { "", "wide", "12 kg", "1.2.3", "nan", "inf", "0x10", "12 12", "1e999" };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double si = NAN;

      g_test_message ("%s", cases[i].text);
      g_assert_true (
        dew_unit_parse (dew_unit (cases[i].measure, DEW_TONGUE_METRIC), cases[i].text, &si));
      g_assert_cmpfloat_with_epsilon (si, cases[i].si, 1e-12);
    }
  for (guint i = 0; i < G_N_ELEMENTS (nonsense); i++)
    {
      double si = 42.0;

      g_test_message ("'%s'", nonsense[i]);
      g_assert_false (
        dew_unit_parse (dew_unit (DEW_MEASURE_LENGTH, DEW_TONGUE_METRIC), nonsense[i], &si));
      g_assert_cmpfloat (si, ==, 42.0);
    }
}

/* The same quantities in the other system, shown and typed. NIST Special Publication
 * 811 (2008), appendix B.8: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 lb = 0.453 592 37 kg,
 * t/C = (t/F - 32) / 1.8, 1 gal (U.S.) = 3.785 412 L, 1 fl oz (U.S.) = 29.573 53 mL,
 * 1 cfm = 4.719 474e-4 m3/s, 1 inch of water = 249.0889 Pa, 1 Btu/(h ft2 F) = 5.678 263
 * W/(m2 K). */
static void
test_imperial (void)
{
  static const struct
  {
    DewMeasure measure;
    const char *typed;
    double si, off;
    const char *shown;
  } cases[] = {
    { DEW_MEASURE_LENGTH, "1.5 in", 0.0381, 1e-9, "1.50 in" },
    { DEW_MEASURE_LENGTH, "12", 0.3048, 1e-9, "12.00 in" },
    { DEW_MEASURE_LENGTH, "30 cm", 0.30, 1e-9, "11.81 in" },
    { DEW_MEASURE_LENGTH, "5 ft 3 in", 1.6002, 1e-9, "63.00 in" },
    { DEW_MEASURE_LENGTH, "5' 3\"", 1.6002, 1e-9, "63.00 in" },
    { DEW_MEASURE_LENGTH, "1 1/2", 0.0381, 1e-9, "1.50 in" },
    { DEW_MEASURE_LENGTH, "3/4\"", 0.01905, 1e-9, "0.75 in" },
    { DEW_MEASURE_TEMPERATURE, "59 F", 15.0, 1e-9, "59.0 °F" },
    { DEW_MEASURE_TEMPERATURE, "59", 15.0, 1e-9, "59.0 °F" },
    { DEW_MEASURE_TEMPERATURE, "15 C", 15.0, 1e-9, "59.0 °F" },
    { DEW_MEASURE_TEMPERATURE, "-40 °F", -40.0, 1e-9, "−40.0 °F" },
    { DEW_MEASURE_TEMPERATURE, "59°", 15.0, 1e-9, "59.0 °F" },
    { DEW_MEASURE_SPEED, "100 ft/min", 0.508, 1e-9, "100 ft/min" },
    { DEW_MEASURE_SPEED, "0.508 m/s", 0.508, 1e-9, "100 ft/min" },
    { DEW_MEASURE_AIR_FLOW, "10 cfm", 4.719474e-3, 1e-9, "10.0 cfm" },
    { DEW_MEASURE_WATER_RATE, "1 fl oz/h", 2.957353e-2 / 3600.0, 1e-11, "1.0 fl oz/h" },
    { DEW_MEASURE_MASS, "2 lb", 0.90718474, 1e-9, "2.00 lb" },
    { DEW_MEASURE_MASS, "8 oz", 0.22679619, 1e-8, "0.50 lb" },
    { DEW_MEASURE_PRESSURE, "0.1 inH2O", 24.90889, 1e-5, "0.100 inH₂O" },
    { DEW_MEASURE_U_VALUE, "1", 5.678263, 1e-6, "1.00 Btu/h·ft²·°F" },
    { DEW_MEASURE_ALTITUDE, "1,500", 457.2, 1e-9, "1500 ft" },
    { DEW_MEASURE_ALTITUDE, "457.2 m", 457.2, 1e-9, "1500 ft" },
  };
  const DewUnit *unit;
  g_autofree char *metric = NULL, *difference = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *shown = NULL;
      double si = NAN;

      unit = dew_unit (cases[i].measure, DEW_TONGUE_IMPERIAL);
      g_test_message ("%s", cases[i].typed);
      g_assert_true (dew_unit_parse (unit, cases[i].typed, &si));
      g_assert_cmpfloat_with_epsilon (si, cases[i].si, cases[i].off);
      shown = dew_unit_format (unit, si);
      g_assert_cmpstr (shown, ==, cases[i].shown);
    }
  /* A difference of 1 K is one of 1.8 degrees Fahrenheit, without the 32. */
  difference = dew_measure_text (DEW_MEASURE_DIFFERENCE, DEW_TONGUE_IMPERIAL, 1.0);
  g_assert_cmpstr (difference, ==, "1.8 °F");

  unit = dew_unit_in (dew_unit (DEW_MEASURE_TEMPERATURE, DEW_TONGUE_IMPERIAL), DEW_TONGUE_METRIC);
  metric = dew_unit_format (unit, 15.0);
  g_assert_cmpstr (metric, ==, "15.0 °C");
  g_assert_cmpfloat_with_epsilon (dew_unit_si (unit, dew_unit_shown (unit, 7.25)), 7.25, 1e-12);
}

/* Each unit of each tongue, what it stands for in SI. Sources as in test_imperial(); a US
 * liquid quart is 0.946 352 9 L there. The metric ones are the decimal meaning of the
 * prefixes; a kilogram of water counts as a litre. */
static void
test_factors (void)
{
  static const struct
  {
    DewMeasure measure;
    double metric, imperial; /* SI, for what is shown as 1 */
  } cases[] = {
    { DEW_MEASURE_NUMBER, 1.0, 1.0 },
    { DEW_MEASURE_COUNT, 1.0, 1.0 },
    { DEW_MEASURE_LENGTH, 1e-2, 2.54e-2 },
    { DEW_MEASURE_THIN, 1e-3, 2.54e-2 },
    { DEW_MEASURE_ALTITUDE, 1.0, 0.3048 },
    { DEW_MEASURE_DROPLET, 1e-6, 1e-6 },
    { DEW_MEASURE_ANGLE, 1.745329e-2, 1.745329e-2 },
    { DEW_MEASURE_AREA, 1e-4, 6.4516e-4 },
    { DEW_MEASURE_SHEETING, 1.0, 9.290304e-2 },
    { DEW_MEASURE_CABLE, 1.0, 0.3048 },
    { DEW_MEASURE_SHARE, 1e-2, 1e-2 },
    { DEW_MEASURE_TEMPERATURE, 1.0, -31.0 / 1.8 },
    { DEW_MEASURE_DIFFERENCE, 1.0, 1.0 / 1.8 },
    { DEW_MEASURE_SPEED, 1.0, 5.08e-3 },
    { DEW_MEASURE_AIR_FLOW, 1.0 / 3600.0, 4.719474e-4 },
    { DEW_MEASURE_MASS, 1.0, 4.535924e-1 },
    { DEW_MEASURE_WATER, 1.0, 2.957353e-2 },
    { DEW_MEASURE_TANK, 1.0, 9.463529e-1 },
    { DEW_MEASURE_DAY_WATER, 1.0, 9.463529e-1 },
    { DEW_MEASURE_WATER_RATE, 1e-3 / 3600.0, 2.957353e-2 / 3600.0 },
    { DEW_MEASURE_DRIP, 1e-3 / 3600.0, 1e-3 / 3600.0 },
    { DEW_MEASURE_WETTING, 1e-3 / 3600.0, 1e-3 / 3600.0 },
    { DEW_MEASURE_VAPOUR, 1e-3, 1e-3 },
    { DEW_MEASURE_MIST, 1e-3, 1e-3 },
    { DEW_MEASURE_DRYING_POWER, 1e3, 1e3 },
    { DEW_MEASURE_PRESSURE, 1.0, 2.490889e2 },
    { DEW_MEASURE_POWER, 1.0, 1.0 },
    { DEW_MEASURE_U_VALUE, 1.0, 5.678263 },
    { DEW_MEASURE_IRRADIANCE, 1.0, 1.0 },
    { DEW_MEASURE_LIGHT, 1e-6, 1e-6 },
    { DEW_MEASURE_EFFICACY, 1e-6, 1e-6 },
    { DEW_MEASURE_MINUTES, 60.0, 60.0 },
    { DEW_MEASURE_HOURS, 3600.0, 3600.0 },
  };

  g_assert_cmpint (G_N_ELEMENTS (cases), ==, DEW_N_MEASURES);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double metric = dew_unit_si (dew_unit (cases[i].measure, DEW_TONGUE_METRIC), 1.0);
      double imperial = dew_unit_si (dew_unit (cases[i].measure, DEW_TONGUE_IMPERIAL), 1.0);

      g_test_message ("measure %d", cases[i].measure);
      /* The source has seven digits. */
      g_assert_cmpfloat_with_epsilon (metric / cases[i].metric, 1.0, 2e-7);
      g_assert_cmpfloat_with_epsilon (imperial / cases[i].imperial, 1.0, 2e-7);
      g_assert_cmpfloat (dew_unit_si (dew_unit (cases[i].measure, DEW_TONGUE_PLAIN), 1.0), ==, 1.0);
    }
}

/* What is shown can be typed again, in any tongue and after a change of it, and is the same
 * within half of its last digit. */
static void
test_round_trip (void)
{
  static const double numbers[] = { 0.0, 1.0, 7.25, 123.0, -3.5 };

  for (int measure = 0; measure < DEW_N_MEASURES; measure++)
    for (int tongue = 0; tongue < DEW_N_TONGUES; tongue++)
      for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
        {
          const DewUnit *unit = dew_unit ((DewMeasure) measure, (DewTongue) tongue);
          double si = dew_unit_si (unit, numbers[i]), back = NAN;
          g_autofree char *text = dew_unit_format (unit, si);

          g_test_message ("measure %d, tongue %d: %s", measure, tongue, text);
          g_assert_true (dew_unit_measure (unit) == (DewMeasure) measure);
          g_assert_true (dew_unit_parse (unit, text, &back));
          g_assert_cmpfloat_with_epsilon (dew_unit_shown (unit, back), numbers[i],
                                          unit->decimals < 0
                                            ? 1e-9
                                            : 0.5 * pow (10.0, -unit->decimals) + 1e-9);
          g_assert_cmpfloat_with_epsilon (dew_unit_shown (unit, dew_unit_si (unit, numbers[i])),
                                          numbers[i], 1e-12);
        }
}

/* Whatever a field is shown in may be typed in the unit of the other system. */
static void
test_other_system (void)
{
  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    for (const DewField *field = dew_thing_fields ((DewThingKind) kind); field->key != NULL;
         field++)
      {
        const DewUnit *metric = dew_unit_for_field (field, DEW_TONGUE_METRIC);
        const DewUnit *imperial = dew_unit_for_field (field, DEW_TONGUE_IMPERIAL);
        double a = NAN, b = NAN;
        g_autofree char *in_metric = NULL, *in_imperial = NULL;

        if (field->type != DEW_FIELD_REAL)
          continue;
        in_metric = dew_unit_format (metric, field->max);
        in_imperial = dew_unit_format (imperial, field->max);
        g_test_message ("%s: %s, %s", field->key, in_metric, in_imperial);
        g_assert_true (dew_unit_parse (imperial, in_metric, &a));
        g_assert_true (dew_unit_parse (metric, in_imperial, &b));
        g_assert_cmpfloat_with_epsilon (a, field->max, 1e-2 * fabs (field->max));
        g_assert_cmpfloat_with_epsilon (b, field->max, 1e-2 * fabs (field->max));
      }
}

/* By the meaning of the words. */
static void
test_numbers (void)
{
  static const struct
  {
    double number;
    int decimals;
    const char *text;
  } cases[] = {
    { 0.0, 1, "0.0" },   { -0.04, 1, "0.0" }, { -0.06, 1, "−0.1" }, { 1234.5, 0, "1234" },
    { -40.0, 0, "−40" }, { NAN, 1, "–" },     { INFINITY, 1, "–" },
  };
  g_autofree char *plain = dew_measure_text (DEW_MEASURE_LENGTH, DEW_TONGUE_PLAIN, 0.0123456);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = dew_number_text (cases[i].number, cases[i].decimals);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
  g_assert_cmpstr (plain, ==, "0.012346 m");
}

/* A tank and a day have one unit, a pot and an hour another; gallons are only typed: one
 * window has no third. */
static void
test_water (void)
{
  static const DewMeasure waters[]
    = { DEW_MEASURE_WATER, DEW_MEASURE_TANK, DEW_MEASURE_DAY_WATER, DEW_MEASURE_WATER_RATE };
  double si = NAN;

  for (guint i = 0; i < G_N_ELEMENTS (waters); i++)
    g_assert_null (strstr (dew_unit (waters[i], DEW_TONGUE_IMPERIAL)->symbol, "gal"));
  g_assert_cmpstr (dew_unit (DEW_MEASURE_TANK, DEW_TONGUE_IMPERIAL)->symbol, ==, " qt");
  g_assert_cmpstr (dew_unit (DEW_MEASURE_DAY_WATER, DEW_TONGUE_IMPERIAL)->symbol, ==, " qt");
  g_assert_cmpstr (dew_unit (DEW_MEASURE_WATER, DEW_TONGUE_IMPERIAL)->symbol, ==, " fl oz");
  g_assert_true (dew_unit_parse (dew_unit (DEW_MEASURE_TANK, DEW_TONGUE_IMPERIAL), "1 gal", &si));
  g_assert_cmpfloat_with_epsilon (si, 3.785412, 1e-6);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/units/typed", test_units);
  g_test_add_func ("/units/imperial", test_imperial);
  g_test_add_func ("/units/factors", test_factors);
  g_test_add_func ("/units/round-trip", test_round_trip);
  g_test_add_func ("/units/other-system", test_other_system);
  g_test_add_func ("/units/numbers", test_numbers);
  g_test_add_func ("/units/water", test_water);
  return g_test_run ();
}
