/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is typed, and where things go that nobody points a place out for. */
#include "canvas/place.h"
#include "canvas/units.h"
#include "panes/number.h"

#include <math.h>

static void
type_number (GtkWidget *number, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (number), text);
  gtk_spin_button_update (GTK_SPIN_BUTTON (number));
}

/* --- numbers ----------------------------------------------------------- */

static void
test_units (void)
{
  /* 1 in = 25.4 mm and 1 ft = 0.3048 m exactly: NIST Special Publication 811
   * (2008), appendix B.8. The rest is the decimal meaning of the prefixes. */
  static const struct
  {
    DewQuantity quantity;
    const char *text;
    double      si;
  } cases[] = {
    { DEW_QUANTITY_LENGTH, "12", 0.12 },          { DEW_QUANTITY_LENGTH, "12 cm", 0.12 },
    { DEW_QUANTITY_LENGTH, "120mm", 0.12 },       { DEW_QUANTITY_LENGTH, "0,5 m", 0.5 },
    { DEW_QUANTITY_LENGTH, "10 in", 0.254 },      { DEW_QUANTITY_LENGTH, "2 ft", 0.6096 },
    { DEW_QUANTITY_LENGTH, " 7.5 ", 0.075 },      { DEW_QUANTITY_LENGTH, "−3", -0.03 },
    { DEW_QUANTITY_FRACTION, "85 %", 0.85 },      { DEW_QUANTITY_FRACTION, "85", 0.85 },
    { DEW_QUANTITY_AIR_FLOW, "36", 0.01 },        { DEW_QUANTITY_AIR_FLOW, "60 L/min", 0.001 },
    { DEW_QUANTITY_WATER_RATE, "360", 1e-4 },     { DEW_QUANTITY_WATER_RATE, "0.36 L/h", 1e-4 },
    { DEW_QUANTITY_ANGLE, "180", G_PI },          { DEW_QUANTITY_ANGLE, "-90°", -G_PI / 2.0 },
    { DEW_QUANTITY_TEMPERATURE, "20,5 °C", 20.5 }, { DEW_QUANTITY_DROPLET, "3", 3e-6 },
  };
  static const char *const nonsense[]
    = { "", "wide", "12 kg", "1.2.3", "nan", "inf", "0x10", "12 12", "1e999" };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double si = NAN;

      g_test_message ("%s", cases[i].text);
      g_assert_true (
        dew_unit_parse (dew_unit_for_quantity (cases[i].quantity), cases[i].text, &si));
      g_assert_cmpfloat_with_epsilon (si, cases[i].si, 1e-12);
    }
  for (guint i = 0; i < G_N_ELEMENTS (nonsense); i++)
    {
      double si = 42.0;

      g_test_message ("'%s'", nonsense[i]);
      g_assert_false (
        dew_unit_parse (dew_unit_for_quantity (DEW_QUANTITY_LENGTH), nonsense[i], &si));
      g_assert_cmpfloat (si, ==, 42.0);
    }
}

static void
on_number (GtkWidget *number, double si, gpointer user_data)
{
  *(double *) user_data = si;
}

static void
test_number (void)
{
  double said = NAN;
  GtkWidget *number
    = g_object_ref_sink (dew_number_new (dew_unit_for_quantity (DEW_QUANTITY_LENGTH), 0.0, 4.0,
                                         "Width", on_number, &said));

  dew_number_set (number, 0.123456);
  g_assert_true (isnan (said));
  /* What nobody typed over stays exact, though fewer digits are shown. */
  gtk_spin_button_update (GTK_SPIN_BUTTON (number));
  g_assert_true (isnan (said));
  g_assert_cmpfloat (dew_number_get (number), ==, 0.123456);

  type_number (number, "7,5");
  g_assert_cmpfloat_with_epsilon (said, 0.075, 1e-12);
  type_number (number, "some");
  g_assert_cmpfloat_with_epsilon (dew_number_get (number), 0.075, 1e-12);
  /* 5 m is more than the number may be. */
  type_number (number, "500");
  g_assert_cmpfloat_with_epsilon (dew_number_get (number), 0.075, 1e-12);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (number)), !=, "500");
  g_object_unref (number);
}

/* --- places ------------------------------------------------------------ */

static void
test_place (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  DewVariant *variant = dew_chamber_shown (chamber);
  double inner_m[3];

  dew_chamber_inner_m (chamber, inner_m);
  for (DewThingKind kind = 0; kind < DEW_N_THING_KINDS; kind++)
    {
      DewThing new_thing;
      double lo[3], hi[3];

      dew_place_new_thing (chamber, variant, kind, 0, &new_thing);
      dew_thing_box (chamber, &new_thing, lo, hi);
      g_test_message ("%s", new_thing.name);
      g_assert_cmpint (new_thing.kind, ==, kind);
      for (int axis = 0; axis < 3; axis++)
        {
          g_assert_cmpfloat (lo[axis], >=, -1e-9);
          g_assert_cmpfloat (hi[axis], <=, inner_m[axis] + 1e-9);
        }
      for (guint i = 0; i < variant->things->len; i++)
        g_assert_cmpstr (g_array_index (variant->things, DewThing, i).name, !=, new_thing.name);
    }
}

static void
test_nudge (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  DewVariant *variant = dew_chamber_shown (chamber);

  for (guint i = 0; i < variant->things->len; i++)
    {
      guint id = g_array_index (variant->things, DewThing, i).id;

      for (DewNudge way = DEW_NUDGE_LEFT; way <= DEW_NUDGE_BACK; way++)
        {
          double inner_m[3], lo[3], hi[3];

          /* However often the key is pressed, the thing stays inside. */
          for (int press = 0; press < 50; press++)
            dew_place_nudge (chamber, variant, id, way, 0.05);
          dew_chamber_inner_m (chamber, inner_m);
          dew_thing_box (chamber, dew_variant_thing (variant, id), lo, hi);
          for (int axis = 0; axis < 3; axis++)
            {
              g_assert_cmpfloat (lo[axis], >=, -1e-6);
              g_assert_cmpfloat (hi[axis], <=, inner_m[axis] + 1e-6);
            }
        }
    }
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);

  g_test_add_func ("/entry/units", test_units);
  g_test_add_func ("/entry/number", test_number);
  g_test_add_func ("/entry/place", test_place);
  g_test_add_func ("/entry/nudge", test_nudge);
  return g_test_run ();
}
