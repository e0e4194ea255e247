/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "chamber/chamber-private.h"

#include <glib/gi18n.h>
#include <string.h>

/* Everything here is invented: a hallway, its cabinet and its plants. Sizes,
 * rates and the hallway's twelve months are typical rows of the catalogues. */

static DewThing *
add (DewChamber *chamber, DewVariant *variant, DewThingKind kind, const char *name, double x_m,
     double y_m, double z_m)
{
  const double place[3] = { x_m, y_m, z_m };
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };
  DewThing thing;

  dew_thing_init (&thing, kind);
  dew_text_copy (thing.name, sizeof thing.name, name);
  for (int axis = 0; axis < 3; axis++)
    {
      const DewField *field = dew_field_find (dew_thing_fields (kind), keys[axis]);

      if (field != NULL)
        dew_field_set_real (field, &thing, place[axis]);
    }
  return dew_variant_add (chamber, variant, &thing);
}

static void
demo_room (DewRoom *room)
{
  /* Unheated hallway, mild temperate lowland, about 50 degrees north:
   * data/rooms.csv (common practice, no source). */
  /* By day and by night: degrees Celsius, then relative humidity. */
  static const DewMonth months[12] = {
    { 13, 12, 0.57, 0.61 },     { 13.5, 12.5, 0.56, 0.60 }, { 15, 14, 0.57, 0.61 },
    { 16.5, 15.5, 0.58, 0.61 }, { 18.5, 17.5, 0.61, 0.65 }, { 20.5, 19.5, 0.63, 0.67 },
    { 22, 21, 0.64, 0.68 },     { 22, 21, 0.65, 0.69 },     { 19.5, 18.5, 0.68, 0.72 },
    { 16.5, 16, 0.67, 0.69 },   { 14.5, 13.5, 0.62, 0.66 }, { 13.5, 12.5, 0.59, 0.63 },
  };

  dew_text_copy (room->name, sizeof room->name, "unheated hallway");
  room->altitude_m = 120.0;
  memcpy (room->months, months, sizeof months);
}

static void
demo_shelves (DewChamber *chamber, DewVariant *variant)
{
  static const struct
  {
    const char *name;
    double z_m;
  } shelves[]
    = { { N_ ("Lower shelf"), 0.38 }, { N_ ("Middle shelf"), 0.74 }, { N_ ("Upper shelf"), 1.10 } };

  for (guint i = 0; i < G_N_ELEMENTS (shelves); i++)
    {
      DewThing *shelf
        = add (chamber, variant, DEW_THING_SHELF, _ (shelves[i].name), 0, 0, shelves[i].z_m);

      shelf->shelf.thickness_m = 0.008;
      shelf->shelf.gap_front_m = 0.03;
      shelf->shelf.gap_back_m = 0.03;
    }
}

static void
demo_openings (DewChamber *chamber, DewVariant *variant)
{
  DewThing *low = add (chamber, variant, DEW_THING_OPENING, _ ("Low flap"), 0, 0, 0);
  DewThing *high;

  low->opening.face = DEW_FACE_FRONT;
  low->opening.u0_m = 0.25;
  low->opening.u1_m = 0.45;
  low->opening.v0_m = 0.06;
  low->opening.v1_m = 0.12;

  high = add (chamber, variant, DEW_THING_OPENING, _ ("High hole"), 0, 0, 0);
  high->opening.face = DEW_FACE_BACK;
  high->opening.kind = DEW_OPENING_HOLE;
  high->opening.u0_m = 0.31;
  high->opening.u1_m = 0.39;
  high->opening.v0_m = 1.46;
  high->opening.v1_m = 1.54;
  high->opening.free_ratio = 0.95;
  high->opening.discharge_coefficient = 0.7;
}

static void
demo_devices (DewChamber *chamber, DewVariant *variant)
{
  DewThing *fan = add (chamber, variant, DEW_THING_FAN, _ ("Slow fan"), 0.09, 0.34, 0.12);
  DewThing *lamp = add (chamber, variant, DEW_THING_LAMP, _ ("Top lamp"), 0.35, 0.25, 1.54);
  DewThing *humidifier;
  guint instrument;

  /* Up the back left corner, past the shelves' ends. */
  fan->fan.azimuth_rad = 0.0;
  fan->fan.elevation_rad = G_PI_4;
  fan->fan.speed_day = 0.7;
  fan->fan.speed_night = 0.5;

  lamp->lamp.width_m = 0.08;
  lamp->lamp.power_W = 36.0;

  instrument
    = add (chamber, variant, DEW_THING_INSTRUMENT, _ ("Middle hygrometer"), 0.60, 0.40, 0.86)->id;
  add (chamber, variant, DEW_THING_INSTRUMENT, _ ("Upper hygrometer"), 0.10, 0.10, 1.22);

  humidifier = add (chamber, variant, DEW_THING_HUMIDIFIER, _ ("Small mister"), 0.58, 0.12, 0.0);
  humidifier->humidifier.width_m = 0.14;
  humidifier->humidifier.depth_m = 0.14;
  humidifier->humidifier.height_m = 0.22;
  humidifier->humidifier.set_rh = 0.85;
  humidifier->humidifier.sensor_id = (int) instrument;
}

static void
demo_wet_things (DewChamber *chamber, DewVariant *variant)
{
  DewThing *tray = add (chamber, variant, DEW_THING_TRAY, _ ("Moss tray"), 0.30, 0.25, 0.388);

  tray->tray.width_m = 0.40;
  tray->tray.depth_m = 0.28;
  tray->tray.height_m = 0.04;
  tray->tray.surface = DEW_TRAY_MOSS;
  tray->tray.water_kg = 1.4;

  add (chamber, variant, DEW_THING_POT, _ ("Clay pot 1"), 0.12, 0.25, 0.748);
  add (chamber, variant, DEW_THING_POT, _ ("Clay pot 2"), 0.27, 0.36, 0.748);
  add (chamber, variant, DEW_THING_POT, _ ("Clay pot 3"), 0.60, 0.20, 1.108);
}

static void
demo_plants (DewChamber *chamber, DewVariant *variant)
{
  static const struct
  {
    const char *name;
    const char *species;
    double x_m, y_m, z_m;
    double width_m, height_m;
    double leaf_area_m2, mass_kg, pot_diameter_m;
  } plants[] = {
    { N_ ("Filmy fern, large"), "Hymenophyllum", 0.20, 0.24, 0.43, 0.15, 0.10, 0.030, 0.3, 0.09 },
    { N_ ("Filmy fern, small"), "Trichomanes and Crepidomanes", 0.40, 0.26, 0.43, 0.15, 0.10, 0.025,
      0.3, 0.09 },
    { N_ ("Jewel orchid"), "Macodes Anoectochilus Goodyera", 0.42, 0.14, 0.83, 0.12, 0.12, 0.020,
      0.4, 0.09 },
    { N_ ("Nodding orchid"), "Dracula", 0.44, 0.36, 0.86, 0.18, 0.22, 0.050, 0.6, 0.10 },
    { N_ ("Tongue fern"), "Elaphoglossum", 0.58, 0.16, 0.83, 0.15, 0.15, 0.035, 0.5, 0.10 },
    { N_ ("Pitcher plant, large"), "Nepenthes (highland)", 0.20, 0.26, 1.20, 0.28, 0.30, 0.090, 1.1,
      0.13 },
    { N_ ("Pitcher plant, small"), "Nepenthes (ultra-highland)", 0.42, 0.18, 1.20, 0.20, 0.22,
      0.050, 0.8, 0.11 },
    { N_ ("Bladderwort"), "Utricularia (epiphytic orchid-flowered)", 0.45, 0.38, 1.20, 0.14, 0.15,
      0.025, 0.5, 0.09 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (plants); i++)
    {
      DewThing *plant = add (chamber, variant, DEW_THING_PLANT, _ (plants[i].name), plants[i].x_m,
                             plants[i].y_m, plants[i].z_m);

      dew_text_copy (plant->plant.species, sizeof plant->plant.species, plants[i].species);
      plant->plant.width_m = plants[i].width_m;
      plant->plant.depth_m = plants[i].width_m;
      plant->plant.height_m = plants[i].height_m;
      plant->plant.leaf_area_m2 = plants[i].leaf_area_m2;
      plant->plant.mass_kg = plants[i].mass_kg;
      plant->plant.pot_diameter_m = plants[i].pot_diameter_m;
    }
}

/* What waits on the windowsill for a place. */
static void
demo_wishes (DewChamber *chamber)
{
  static const struct
  {
    const char *name;
    const char *species;
    int count;
    DewPlantState state;
    double pot_diameter_m;
  } wishes[] = {
    { N_ ("Cool orchid seedling"), "Masdevallia (cool species)", 3, DEW_PLANT_HEALTHY, 0.07 },
    { N_ ("Limp miniature orchid"), "Lepanthes", 1, DEW_PLANT_WEAK, 0.05 },
    { N_ ("Fern from a swap"), "Elaphoglossum", 1, DEW_PLANT_ARRIVED, 0.09 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (wishes); i++)
    {
      DewWish wish;

      dew_wish_init (&wish);
      dew_text_copy (wish.name, sizeof wish.name, _ (wishes[i].name));
      dew_text_copy (wish.species, sizeof wish.species, wishes[i].species);
      wish.count = wishes[i].count;
      wish.state = wishes[i].state;
      wish.pot_diameter_m = wishes[i].pot_diameter_m;
      dew_chamber_add_wish (chamber, &wish);
    }
}

DewChamber *
dew_chamber_demo (void)
{
  DewChamber *chamber = dew_chamber_new ();
  DewVariant *low = dew_chamber_shown (chamber);
  DewVariant *high;

  dew_text_copy (chamber->name, sizeof chamber->name, _ ("Hallway cabinet"));
  dew_text_copy (chamber->note, sizeof chamber->note,
                 _ ("An invented cabinet in an invented hallway, to try things on: highland "
                    "pitcher plants above, filmy ferns below. No such cabinet was measured."));
  chamber->month = 4;
  demo_room (&chamber->room);

  dew_text_copy (low->name, sizeof low->name, _ ("Fan at the bottom"));
  demo_shelves (chamber, low);
  demo_openings (chamber, low);
  demo_devices (chamber, low);
  demo_wet_things (chamber, low);
  demo_plants (chamber, low);

  high = dew_chamber_add_variant (chamber, _ ("Fan at the top"), low);
  for (guint i = 0; i < high->things->len; i++)
    {
      DewThing *thing = &g_array_index (high->things, DewThing, i);

      if (thing->kind != DEW_THING_FAN)
        continue;
      thing->fan.z_m = 1.44;
      thing->fan.elevation_rad = -G_PI_4;
    }
  demo_wishes (chamber);
  return chamber;
}
