/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/supplies.h"

#include "catalogue/catalogue.h"
#include "say/values.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* Common practice, no source. */
#define SEAMS 1.1        /* film for one of it, seams and overlap included */
#define MESH_RIM_M 0.02  /* that mesh reaches beyond its hole on every side */
#define DRIP_LOOP_M 0.3  /* of cable that hangs below its socket */
#define CABLE_STEP_M 0.1 /* cables are counted in such pieces */
#define SCREWS_PER_FAN 4
#define ANCHORS 2

void
dew_supply_free (DewSupply *supply)
{
  g_free (supply->amount_text);
  g_free (supply->words);
  g_free (supply);
}

const char *
dew_supply_group_title (DewSupplyGroup group)
{
  static const char *const titles[DEW_N_SUPPLY_GROUPS] = {
    [DEW_SUPPLY_COVER] = N_ ("Cover"),
    [DEW_SUPPLY_INSIDE] = NC_ ("supplies", "Inside"),
    [DEW_SUPPLY_DEVICE] = N_ ("Devices and cables"),
    [DEW_SUPPLY_SAFETY] = N_ ("Safety"),
  };

  g_return_val_if_fail (group < DEW_N_SUPPLY_GROUPS, "");
  return group == DEW_SUPPLY_INSIDE ? g_dpgettext2 (NULL, "supplies", titles[group])
                                    : _ (titles[group]);
}

/* Adds to a row of the same words, or makes one. Takes words. */
static DewSupply *
add (GPtrArray *list, DewSupplyGroup group, double amount, char *words)
{
  DewSupply *supply;

  for (guint i = 0; i < list->len; i++)
    {
      supply = list->pdata[i];
      if (supply->group == group && strcmp (supply->words, words) == 0)
        {
          supply->amount += amount;
          g_free (words);
          return supply;
        }
    }
  supply = g_new0 (DewSupply, 1);
  supply->group = group;
  supply->amount = amount;
  supply->words = words;
  g_ptr_array_add (list, supply);
  return supply;
}

static void
count (GPtrArray *list, DewSupplyGroup group, double n, char *words)
{
  DewSupply *supply = add (list, group, n, words);

  g_free (supply->amount_text);
  supply->amount_text = g_strdup_printf ("%.0f ×", supply->amount);
}

static void
measured (GPtrArray *list, DewSupplyGroup group, DewMeasure measure, DewTongue tongue, double si,
          char *words)
{
  DewSupply *supply = add (list, group, si, words);

  g_free (supply->amount_text);
  supply->amount_text = dew_measure_text (measure, tongue, supply->amount);
}

/* "60 × 40 cm" without repeating the unit. */
static char *
size_text (double one_m, double other_m, DewTongue tongue)
{
  g_autofree char *one = dew_length_text (one_m, tongue),
                  *other = dew_length_text (other_m, tongue);

  /* Translators: the two sides of something flat, as in '60 cm × 40 cm' */
  return g_strdup_printf (_ ("%s × %s"), one, other);
}

/* --- cover --------------------------------------------------------------- */

static void
add_cover (GPtrArray *list, const DewChamber *chamber, DewTongue tongue)
{
  for (DewFace face = 0; face < DEW_N_FACES; face++)
    {
      const DewPanel *panel = &chamber->panels[face];
      int u, v;
      g_autofree char *thick = NULL;

      dew_face_axes (face, &u, &v);
      thick = dew_measure_text (DEW_MEASURE_THIN, tongue, panel->thickness_m);
      measured (list, DEW_SUPPLY_COVER, DEW_MEASURE_SHEETING, tongue,
                SEAMS * chamber->outer_m[u] * chamber->outer_m[v],
                panel->material[0] != '\0'
                  /* Translators: the material of a cover */
                  ? g_strdup_printf (_ ("%s, a tenth of it for seams"),
                                     dew_catalogue_word (panel->material))
                  /* Translators: %s is a thickness */
                  : g_strdup_printf (_ ("cover, %s thick, a tenth of it for seams"), thick));
    }
}

static void
add_opening (GPtrArray *list, const DewOpening *opening, DewTongue tongue)
{
  double across = opening->u1_m - opening->u0_m, up = opening->v1_m - opening->v0_m;

  if (opening->kind == DEW_OPENING_MESH)
    {
      g_autofree char *size = size_text (across + 2 * MESH_RIM_M, up + 2 * MESH_RIM_M, tongue);

      /* Translators: a size, as in 'mesh, 34 cm × 8 cm: the hole and a rim to fix it' */
      count (list, DEW_SUPPLY_COVER, 1,
             g_strdup_printf (_ ("mesh, %s: the hole and a rim to fix it"), size));
    }
  else if (opening->kind == DEW_OPENING_ZIP)
    {
      g_autofree char *length = dew_length_text (MAX (across, up), tongue);

      count (list, DEW_SUPPLY_COVER, 1, g_strdup_printf (_ ("zip to stick on, %s"), length));
    }
  else if (opening->kind == DEW_OPENING_FLAP)
    {
      g_autofree char *size = size_text (across, up, tongue);

      count (list, DEW_SUPPLY_COVER, 1,
             g_strdup_printf (_ (
                                "flap of the cover, %s, with tape for its hinge and a hook to hold "
                                "it open"),
                              size));
    }
  else if (opening->kind == DEW_OPENING_DUCT)
    {
      g_autofree char *size = size_text (across, up, tongue);

      count (list, DEW_SUPPLY_COVER, 1, g_strdup_printf (_ ("collar for a duct, %s"), size));
    }
}

/* --- inside ---------------------------------------------------------------- */

static void
add_shelf (GPtrArray *list, const DewShelf *shelf, const double inner_m[3], DewTongue tongue)
{
  static const char *const boards[]
    = { N_ ("wire shelf"), N_ ("slatted shelf"), N_ ("perforated shelf"), N_ ("solid shelf") };
  g_autofree char *size = size_text (inner_m[0] - shelf->gap_left_m - shelf->gap_right_m,
                                     inner_m[1] - shelf->gap_front_m - shelf->gap_back_m, tongue);

  /* Translators: a kind of shelf and its size */
  count (list, DEW_SUPPLY_INSIDE, 1,
         g_strdup_printf (_ ("%s, %s"), _ (boards[shelf->board]), size));
}

static void
add_plant (GPtrArray *list, const DewThing *thing, DewTongue tongue)
{
  const DewPlant *plant = &thing->plant;
  g_autofree char *pot = dew_length_text (plant->pot_diameter_m, tongue);
  const char *name = plant->species[0] != '\0' ? plant->species : thing->name;

  count (list, DEW_SUPPLY_INSIDE, 1,
         plant->pot_diameter_m > 0
           /* Translators: a kind of plant and the width of its pot */
           ? g_strdup_printf (_ ("%s, in a pot of %s"), name, pot)
           /* Translators: a kind of plant */
           : g_strdup_printf (_ ("%s, mounted"), name));
}

static void
add_wet (GPtrArray *list, const DewThing *thing, DewTongue tongue)
{
  if (thing->kind == DEW_THING_POT)
    {
      g_autofree char *rim = dew_length_text (thing->pot.rim_diameter_m, tongue);
      g_autofree char *high = dew_length_text (thing->pot.height_m, tongue);

      count (list, DEW_SUPPLY_INSIDE, 1,
             g_strdup_printf (_ ("unglazed clay pot, %s across, %s high"), rim, high));
    }
  else
    {
      g_autofree char *size = size_text (thing->tray.width_m, thing->tray.depth_m, tongue);

      count (list, DEW_SUPPLY_INSIDE, 1, g_strdup_printf (_ ("tray, %s"), size));
    }
}

/* --- devices --------------------------------------------------------------- */

double
dew_cable_length_m (const DewChamber *chamber, const DewThing *thing)
{
  double inner_m[3], lo[3], hi[3], x, y, z;

  g_return_val_if_fail (chamber != NULL && thing != NULL, 0);

  dew_chamber_inner_m (chamber, inner_m);
  dew_thing_box (chamber, thing, lo, hi);
  x = (lo[0] + hi[0]) / 2;
  y = (lo[1] + hi[1]) / 2;
  z = (lo[2] + hi[2]) / 2;
  return CABLE_STEP_M
         * ceil ((MIN (x, inner_m[0] - x) + (inner_m[1] - y) + z + DRIP_LOOP_M) / CABLE_STEP_M
                 - 1e-9);
}

static const char *
supply_words (gboolean low_voltage)
{
  return low_voltage ? _ ("for 5 to 24 V, its supply outside") : _ ("for the mains");
}

static void
add_cable (GPtrArray *list, const DewChamber *chamber, const DewThing *thing, gboolean low_voltage,
           DewTongue tongue)
{
  measured (list, DEW_SUPPLY_DEVICE, DEW_MEASURE_CABLE, tongue, dew_cable_length_m (chamber, thing),
            g_strdup (
              low_voltage
                ? _ ("cable for 5 to 24 V, about, down to the floor outside with a drip loop")
                : _ ("cable of mains devices, about, down to the floor outside with a drip "
                     "loop: does what is on them reach?")));
}

static void
add_fan (GPtrArray *list, const DewFan *fan, DewTongue tongue)
{
  g_autofree char *across = dew_length_text (fan->diameter_m, tongue);
  g_autofree char *flow = dew_measure_text (DEW_MEASURE_AIR_FLOW, tongue, fan->free_delivery_m3_s);

  /* Translators: a fan's diameter, what it moves unblocked, and 'for 5 to 24 V' */
  count (list, DEW_SUPPLY_DEVICE, 1,
         g_strdup_printf (_ ("fan, %s across, about %s in the open, %s"), across, flow,
                          supply_words (fan->low_voltage)));
  if (fan->mount == DEW_FAN_IN_WALL)
    count (list, DEW_SUPPLY_COVER, SCREWS_PER_FAN,
           g_strdup (_ ("screw with nut and large washer, for fans in the wall")));
}

static void
add_device (GPtrArray *list, const DewChamber *chamber, const DewThing *thing, DewTongue tongue)
{
  gboolean low_voltage = TRUE;
  g_autofree char *one = NULL, *other = NULL;

  switch (thing->kind)
    {
    case DEW_THING_FAN:
      low_voltage = thing->fan.low_voltage;
      add_fan (list, &thing->fan, tongue);
      break;
    case DEW_THING_HUMIDIFIER:
      low_voltage = thing->humidifier.low_voltage;
      one = dew_measure_text (DEW_MEASURE_WATER_RATE, tongue, thing->humidifier.output_kg_s);
      other = dew_measure_text (DEW_MEASURE_TANK, tongue, thing->humidifier.tank_kg);
      /* Translators: a humidifier: what it gives, its tank, and 'for 5 to 24 V' */
      count (list, DEW_SUPPLY_DEVICE, 1,
             g_strdup_printf (_ ("humidifier, about %s, tank of %s, %s"), one, other,
                              supply_words (low_voltage)));
      break;
    case DEW_THING_LAMP:
      low_voltage = thing->lamp.low_voltage;
      one = dew_length_text (thing->lamp.length_m, tongue);
      other = dew_measure_text (DEW_MEASURE_POWER, tongue, thing->lamp.power_W);
      /* Translators: a lamp: its length, its power, and 'for 5 to 24 V' */
      count (list, DEW_SUPPLY_DEVICE, 1,
             g_strdup_printf (_ ("lamp, %s long, about %s, %s"), one, other,
                              supply_words (low_voltage)));
      break;
    case DEW_THING_MAT:
      low_voltage = thing->mat.low_voltage;
      one = size_text (thing->mat.width_m, thing->mat.depth_m, tongue);
      other = dew_measure_text (DEW_MEASURE_POWER, tongue, thing->mat.power_W);
      /* Translators: a heat mat: its size, its power, and 'for 5 to 24 V' */
      count (list, DEW_SUPPLY_DEVICE, 1,
             g_strdup_printf (_ ("heat mat, %s, about %s, %s, with a thermostat"), one, other,
                              supply_words (low_voltage)));
      break;
    default:
      return;
    }
  add_cable (list, chamber, thing, low_voltage, tongue);
}

/* --- safety ---------------------------------------------------------------- */

static gboolean
draws_current (const DewVariant *variant)
{
  for (guint i = 0; i < variant->things->len; i++)
    {
      DewThingKind kind = g_array_index (variant->things, DewThing, i).kind;

      if (kind == DEW_THING_FAN || kind == DEW_THING_HUMIDIFIER || kind == DEW_THING_LAMP
          || kind == DEW_THING_MAT)
        return TRUE;
    }
  return FALSE;
}

static void
add_safety (GPtrArray *list, const DewChamber *chamber, const DewVariant *variant, DewTongue tongue)
{
  g_autofree char *size = size_text (chamber->outer_m[0], chamber->outer_m[1], tongue);

  if (draws_current (variant))
    count (list, DEW_SUPPLY_SAFETY, 1,
           g_strdup (_ ("residual-current protection of 30 mA for all of it (GFCI in North "
                        "America)")));
  count (list, DEW_SUPPLY_SAFETY, ANCHORS, g_strdup (_ ("anchor to the wall against tipping")));
  /* Translators: a size */
  count (list, DEW_SUPPLY_SAFETY, 1, g_strdup_printf (_ ("drip tray under all of it, %s"), size));
}

/* --- the list ---------------------------------------------------------------- */

static void
add_thing (GPtrArray *list, const DewChamber *chamber, const DewThing *thing,
           const double inner_m[3], DewTongue tongue)
{
  switch (thing->kind)
    {
    case DEW_THING_SHELF:
      add_shelf (list, &thing->shelf, inner_m, tongue);
      break;
    case DEW_THING_OPENING:
      add_opening (list, &thing->opening, tongue);
      break;
    case DEW_THING_POT:
    case DEW_THING_TRAY:
      add_wet (list, thing, tongue);
      break;
    case DEW_THING_PLANT:
      add_plant (list, thing, tongue);
      break;
    case DEW_THING_INSTRUMENT:
      count (list, DEW_SUPPLY_DEVICE, 1, g_strdup (_ ("thermometer and hygrometer")));
      break;
    default:
      add_device (list, chamber, thing, tongue);
    }
}

static int
by_group (gconstpointer a, gconstpointer b)
{
  const DewSupply *one = *(const DewSupply *const *) a, *other = *(const DewSupply *const *) b;

  return (int) one->group - (int) other->group;
}

GPtrArray *
dew_supplies (const DewChamber *chamber, const DewVariant *variant, DewTongue tongue)
{
  GPtrArray *list = g_ptr_array_new_with_free_func ((GDestroyNotify) dew_supply_free);
  double inner_m[3];

  g_return_val_if_fail (chamber != NULL && variant != NULL, list);

  dew_chamber_inner_m (chamber, inner_m);
  add_cover (list, chamber, tongue);
  for (guint i = 0; i < variant->things->len; i++)
    add_thing (list, chamber, &g_array_index (variant->things, DewThing, i), inner_m, tongue);
  add_safety (list, chamber, variant, tongue);
  g_ptr_array_sort (list, by_group); /* GLib's sort is stable */
  return list;
}
