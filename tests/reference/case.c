/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "case.h"

#include "reader.h"

#include <math.h>
#include <string.h>

G_DEFINE_QUARK (dew - case -error - quark, dew_case_error)

/* clang-format off */
static const char *const quantity_keys[DEW_CASE_N_QUANTITIES] = {
  "mean_speed_m_s", "share_below_0.05_m_s", "mean_age_of_air_s",
  "temperature_rise_over_room_K", "humidity_ratio_rise_over_room_kg_kg",
};
/* clang-format on */

static const char *const part_keys[DEW_CASE_N_PARTS] = {
  "bay", "left_front", "left_back", "right_front", "right_back",
};

const char *
dew_case_quantity_key (DewCaseQuantity quantity)
{
  return quantity_keys[quantity];
}

const char *
dew_case_part_key (DewCasePart part)
{
  return part_keys[part];
}

/* --- the enclosure ------------------------------------------------------- */

/* A box that lets through neither heat nor air nor vapour, in a room whose air
 * is so dry that a case with cooling by evaporation stays below saturation:
 * the cases count humidity as a rise over the room and know no condensation. */
static DewChamber *
make_tight_box (const double size_m[3], double room_t_C)
{
  const double room_rh = 0.10;
  DewChamber *chamber = dew_chamber_new ();
  double inner_m[3];

  for (int f = 0; f < DEW_N_FACES; f++)
    {
      chamber->panels[f].material[0] = '\0';
      chamber->panels[f].u_value_W_m2K = 0;
      chamber->panels[f].slope_rad = 0;
    }
  for (int a = 0; a < 3; a++)
    chamber->outer_m[a] = size_m[a];
  dew_chamber_inner_m (chamber, inner_m);
  for (int a = 0; a < 3; a++)
    chamber->outer_m[a] += size_m[a] - inner_m[a];
  chamber->leak_area_m2 = 0;

  chamber->room.altitude_m = 0;
  chamber->room.sun_W_m2 = 0;
  for (int m = 0; m < 12; m++)
    {
      chamber->room.months[m].t_day_C = chamber->room.months[m].t_night_C = room_t_C;
      chamber->room.months[m].rh_day = chamber->room.months[m].rh_night = room_rh;
    }
  return chamber;
}

static DewThing *
add_thing (DewCase *c, DewThing *thing, const char *name)
{
  g_strlcpy (thing->name, name, sizeof thing->name);
  return dew_variant_add (c->chamber, dew_chamber_shown (c->chamber), thing);
}

/* A board may leave gaps at the walls: given one by one, as an object of them, as one
 * side and a width, or by the part of the plan that the board covers. */
static void
read_shelf_gaps (Reader *reader, const Place *place, const double size_m[3], DewShelf *shelf)
{
  static const char *const sides[4] = { "left", "right", "front", "back" };
  double *gap_m[4]
    = { &shelf->gap_left_m, &shelf->gap_right_m, &shelf->gap_front_m, &shelf->gap_back_m };
  double covered_m[4] = { 0, size_m[0], 0, size_m[1] };
  Place gaps = { NULL };

  if (place_has (place, "box_m"))
    {
      double lo[3], hi[3];

      read_box (reader, place, size_m, lo, hi);
      for (int a = 0; a < 2; a++)
        {
          covered_m[2 * a] = lo[a];
          covered_m[2 * a + 1] = hi[a];
        }
    }
  else if (place_has (place, "rect_m"))
    read_numbers (reader, place, "rect_m", 4, covered_m);
  if (place_has (place, "x_m"))
    read_numbers (reader, place, "x_m", 2, covered_m);
  if (place_has (place, "y_m"))
    read_numbers (reader, place, "y_m", 2, covered_m + 2);
  if (place_has (place, "gaps_m"))
    gaps = read_object (reader, place, "gaps_m");

  for (int i = 0; i < 4; i++)
    {
      g_autofree char *key = g_strdup_printf ("gap_%s_m", sides[i]);
      double gap = i % 2 ? size_m[i / 2] - covered_m[i] : covered_m[i];

      gap = read_number_or (reader, &gaps, sides[i], 0, size_m[i / 2], MAX (0, gap));
      *gap_m[i] = read_number_or (reader, place, key, 0, size_m[i / 2], gap);
    }
  if (place_has (place, "gap_side"))
    {
      const char *side = read_text (reader, place, "gap_side");
      int i = 0;

      while (i < 4 && !g_str_equal (side, sides[i]))
        i++;
      if (i == 4)
        reader_fail (reader, place, "'gap_side' is '%s'; expected left, right, front or back",
                     side);
      else
        *gap_m[i] = read_number (reader, place, "gap_width_m", 0, size_m[i / 2]);
    }
}

/* The least value that a document of the program has for a field of a thing. */
static double
least_in_document (DewThingKind kind, const char *key)
{
  for (const DewField *field = dew_thing_fields (kind); field->key; field++)
    if (g_str_equal (field->key, key))
      return field->min;
  g_return_val_if_reached (0);
}

static void
read_shelves (Reader *reader, const Place *top, DewCase *c)
{
  static const char *const known[]
    = { "z_m",        "kind",        "thickness_m", "loss_coefficient", "loss_law", "box_m",
        "rect_m",     "x_m",         "y_m",         "gaps_m",           "gap_side", "gap_width_m",
        "gap_left_m", "gap_right_m", "gap_front_m", "gap_back_m",       NULL };
  guint n = list_length (reader, top, "shelves", FALSE);

  for (guint i = 0; i < n && !reader->error; i++)
    {
      Place place = list_item (reader, top, "shelves", i);
      const char *kind = read_text (reader, &place, "kind");
      g_autofree char *name = g_strdup_printf ("shelf %u", i + 1);
      DewThing thing;

      dew_thing_init (&thing, DEW_THING_SHELF);
      thing.shelf.z_m = read_number (reader, &place, "z_m", 0, c->box_m[2]);
      /* A document has no board of no thickness; its thinnest is near enough. */
      thing.shelf.thickness_m = MAX (read_number (reader, &place, "thickness_m", 0, c->box_m[2]),
                                     least_in_document (DEW_THING_SHELF, "thickness_m"));
      if (g_str_equal (kind, "porous"))
        {
          thing.shelf.board = DEW_SHELF_WIRE;
          thing.shelf.loss_coefficient
            = read_number (reader, &place, "loss_coefficient", 1e-6, 1e6);
        }
      else if (g_str_equal (kind, "solid"))
        {
          thing.shelf.board = DEW_SHELF_SOLID;
          thing.shelf.open_ratio = 0;
          thing.shelf.loss_coefficient = 0;
        }
      else
        reader_fail (reader, &place, "'kind' is '%s'; expected 'porous' or 'solid'", kind);
      read_shelf_gaps (reader, &place, c->box_m, &thing.shelf);
      warn_unknown (reader, &place, known);
      if (!reader->error)
        add_thing (c, &thing, name);
    }
}

static int
face_from_name (Reader *reader, const Place *place, const char *name)
{
  for (int f = 0; f < DEW_N_FACES; f++)
    if (g_str_equal (name, dew_face_key (f)))
      return f;
  if (g_str_equal (name, "bottom"))
    return DEW_FACE_FLOOR;
  if (g_str_equal (name, "top"))
    return DEW_FACE_ROOF;
  reader_fail (reader, place, "'face' is '%s'; expected left, right, front, back, floor or roof",
               name);
  return DEW_FACE_LEFT;
}

/* The bays whose heights an inward opening touches are those a jet feeds. */
static void
mark_jet (DewCase *c, const DewOpening *opening)
{
  double z0_m = opening->v0_m, z1_m = opening->v1_m;

  if (opening->face == DEW_FACE_FLOOR)
    z0_m = z1_m = 0;
  if (opening->face == DEW_FACE_ROOF)
    z0_m = z1_m = c->box_m[2];
  for (int b = 0; b < c->n_bays; b++)
    if (z0_m <= c->bays[b].z1_m && z1_m >= c->bays[b].z0_m)
      c->bays[b].jet = TRUE;
}

/* What drives the air through it: a given flow, positive into the enclosure, or the
 * difference of pressures to the room. */
static void
read_opening_kind (Reader *reader, const Place *place, DewOpening *opening)
{
  gboolean given = place_has (place, "inflow_m3_s");

  opening->kind = given ? DEW_OPENING_DUCT : DEW_OPENING_HOLE;
  opening->free_ratio = 1;
  opening->open_fraction = 1;
  opening->discharge_coefficient
    = read_number_or (reader, place, "discharge_coefficient", 0.05, 1, 1);
  opening->duct_flow_m3_s = read_number_or (reader, place, "inflow_m3_s", -10, 10, 0);
  if (given && place_has (place, "discharge_coefficient"))
    reader_warn (reader, place, "'discharge_coefficient' has no effect on a given flow");
  if (given && place_has (place, "to_room"))
    reader_warn (reader, place, "'to_room' has no effect beside 'inflow_m3_s'");
  if (!given && !place_has (place, "to_room"))
    reader_fail (reader, place, "neither 'inflow_m3_s' nor 'to_room' says what the opening does");
}

static void
read_openings (Reader *reader, const Place *top, DewCase *c)
{
  static const char *const known[]
    = { "name", "face", "rect_m", "rect_axes", "to_room", "inflow_m3_s", "discharge_coefficient",
        NULL };
  guint n = list_length (reader, top, "openings", FALSE);
  Place flows = { NULL };

  if (n > 0)
    flows = read_object (reader, top, "opening_flows");
  c->flows = g_new0 (DewCaseFlow, n + 1);
  for (guint i = 0; i < n && !reader->error; i++)
    {
      Place place = list_item (reader, top, "openings", i);
      const char *name = read_text (reader, &place, "name");
      DewCaseFlow *flow = &c->flows[c->n_flows++];
      Place result = read_object (reader, &flows, name);
      double rect_m[4];
      DewThing thing;

      dew_thing_init (&thing, DEW_THING_OPENING);
      thing.opening.face = face_from_name (reader, &place, read_text (reader, &place, "face"));
      read_numbers (reader, &place, "rect_m", 4, rect_m);
      thing.opening.u0_m = rect_m[0];
      thing.opening.u1_m = rect_m[1];
      thing.opening.v0_m = rect_m[2];
      thing.opening.v1_m = rect_m[3];
      read_opening_kind (reader, &place, &thing.opening);
      warn_unknown (reader, &place, known);

      g_strlcpy (flow->name, name, sizeof flow->name);
      flow->inflow_m3_s = read_number (reader, &result, "net_inflow_m3_s", -10, 10);
      if (reader->error)
        return;
      flow->thing_id = add_thing (c, &thing, name)->id;
      if (flow->inflow_m3_s > 0)
        mark_jet (c, &thing.opening);
    }
}

/* The reference drives its fans by a force, so the force is what is matched:
 * a free jet of delivery Q through a disc of area A has the thrust rho Q^2 / A. */
static void
read_fans (Reader *reader, const Place *top, DewCase *c)
{
  static const char *const known[] = {
    "box_m", "direction", "thrust_N", "diameter_m", "free_delivery_m3_s", "model", "name", NULL
  };
  guint n = list_length (reader, top, "fans", FALSE);

  for (guint i = 0; i < n && !reader->error; i++)
    {
      Place place = list_item (reader, top, "fans", i);
      g_autofree char *name = g_strdup_printf ("fan %u", i + 1);
      double lo[3], hi[3], d[3], thrust_N, length;
      DewThing thing;
      DewFan *fan = &thing.fan;

      dew_thing_init (&thing, DEW_THING_FAN);
      read_box (reader, &place, c->box_m, lo, hi);
      read_numbers (reader, &place, "direction", 3, d);
      thrust_N = read_number (reader, &place, "thrust_N", 1e-9, 1e3);
      fan->diameter_m = read_number (reader, &place, "diameter_m", 1e-3, 2);
      warn_unknown (reader, &place, known);
      length = sqrt (d[0] * d[0] + d[1] * d[1] + d[2] * d[2]);
      if (!reader->error && !(length > 0))
        reader_fail (reader, &place, "'direction' has no length");
      if (reader->error)
        return;

      fan->x_m = 0.5 * (lo[0] + hi[0]);
      fan->y_m = 0.5 * (lo[1] + hi[1]);
      fan->z_m = 0.5 * (lo[2] + hi[2]);
      fan->azimuth_rad = d[0] == 0 && d[1] == 0 ? 0 : atan2 (d[1], d[0]);
      fan->elevation_rad = asin (CLAMP (d[2] / length, -1, 1));
      fan->free_delivery_m3_s
        = sqrt (thrust_N * G_PI * fan->diameter_m * fan->diameter_m / 4 / c->air.density_kg_m3);
      fan->power_W = 0; /* the cases' fans give off no heat */
      fan->mount = DEW_FAN_FREE;
      fan->speed_day = fan->speed_night = 1;
      fan->low_voltage = TRUE;
      add_thing (c, &thing, name);
    }
}

static void
read_sources (Reader *reader, const Place *top, DewCase *c, const char *key)
{
  static const char *const known[]
    = { "box_m", "power_W", "rate_kg_s", "name", "takes_latent_heat_from_air", NULL };
  gboolean vapour = g_str_equal (key, "vapour_sources");
  guint n = list_length (reader, top, key, FALSE);

  for (guint i = 0; i < n && !reader->error; i++)
    {
      Place place = list_item (reader, top, key, i);
      g_autofree char *name = g_strdup_printf ("%s %u", vapour ? "vapour" : "heat", i + 1);
      double lo[3], hi[3];
      DewThing thing;
      DewSource *source = &thing.source;

      dew_thing_init (&thing, DEW_THING_SOURCE);
      read_box (reader, &place, c->box_m, lo, hi);
      source->x_m = 0.5 * (lo[0] + hi[0]);
      source->y_m = 0.5 * (lo[1] + hi[1]);
      source->z_m = lo[2];
      source->width_m = hi[0] - lo[0];
      source->depth_m = hi[1] - lo[1];
      source->height_m = hi[2] - lo[2];
      source->heat_W = vapour ? 0 : read_number (reader, &place, "power_W", -1e4, 1e4);
      source->vapour_kg_s = vapour ? read_number (reader, &place, "rate_kg_s", -1, 1) : 0;
      source->latent_from_air = read_flag_or (reader, &place, "takes_latent_heat_from_air", FALSE);
      warn_unknown (reader, &place, known);
      if (!reader->error)
        add_thing (c, &thing, name);
    }
}

static void
read_foliage (Reader *reader, const Place *top, DewCase *c)
{
  static const char *const known[]
    = { "box_m", "leaf_area_density_1_m", "drag_coefficient", "law", "name", NULL };
  guint n = list_length (reader, top, "foliage", FALSE);

  for (guint i = 0; i < n && !reader->error; i++)
    {
      Place place = list_item (reader, top, "foliage", i);
      g_autofree char *name = g_strdup_printf ("foliage %u", i + 1);
      double lo[3], hi[3], density_1_m;
      DewThing thing;
      DewPlant *plant = &thing.plant;

      dew_thing_init (&thing, DEW_THING_PLANT);
      read_box (reader, &place, c->box_m, lo, hi);
      density_1_m = read_number (reader, &place, "leaf_area_density_1_m", 0, 1e4);
      plant->x_m = 0.5 * (lo[0] + hi[0]);
      plant->y_m = 0.5 * (lo[1] + hi[1]);
      plant->z_m = lo[2];
      plant->width_m = hi[0] - lo[0];
      plant->depth_m = hi[1] - lo[1];
      plant->height_m = hi[2] - lo[2];
      plant->leaf_area_m2 = density_1_m * plant->width_m * plant->depth_m * plant->height_m;
      plant->drag_coefficient = read_number (reader, &place, "drag_coefficient", 0, 10);
      plant->mass_kg = 0;
      plant->species[0] = '\0'; /* leaves that only slow the air */
      warn_unknown (reader, &place, known);
      if (!reader->error)
        add_thing (c, &thing, name);
    }
}

/* --- results of the reference -------------------------------------------- */

static void
read_bays (Reader *reader, const Place *top, DewCase *c)
{
  guint n = list_length (reader, top, "bays", TRUE);

  c->bays = g_new0 (DewCaseBay, n + 1);
  c->n_bays = n;
  for (guint i = 0; i < n && !reader->error; i++)
    {
      Place place = list_item (reader, top, "bays", i);
      DewCaseBay *bay = &c->bays[i];

      bay->z0_m = read_number (reader, &place, "from_z_m", 0, c->box_m[2]);
      bay->z1_m = read_number (reader, &place, "to_z_m", bay->z0_m, c->box_m[2] + 1e-9);
      for (int q = 0; q < DEW_CASE_N_QUANTITIES; q++)
        {
          gboolean stated = place_has (&place, quantity_keys[q]);
          Place values = { NULL };

          if (stated)
            values = read_object (reader, &place, quantity_keys[q]);
          for (int p = 0; p < DEW_CASE_N_PARTS; p++)
            bay->value[q][p]
              = read_number_or (reader, &values, part_keys[p], -G_MAXDOUBLE, G_MAXDOUBLE, NAN);
          if (stated && !reader->error && !isfinite (bay->value[q][DEW_CASE_BAY]))
            reader_fail (reader, &values, "'bay' is missing");
        }
    }
  if (!reader->error && n == 0)
    reader_fail (reader, top, "'bays' is empty");
}

static void
read_blocks (Reader *reader, const Place *top, DewCase *c)
{
  static const char *const keys[3] = { "nx", "ny", "nz" };
  Place place;
  int n = 1;

  if (!place_has (top, "block_averages"))
    return;
  place = read_object (reader, top, "block_averages");
  for (int a = 0; a < 3; a++)
    n *= c->n_blocks[a] = (int) read_number (reader, &place, keys[a], 1, 100);
  if (reader->error)
    return;
  c->block_speed_m_s = g_new0 (double, n);
  read_numbers (reader, &place, "speed_m_s", n, c->block_speed_m_s);
}

static void
read_air (Reader *reader, const Place *top, DewCase *c)
{
  Place air = read_object (reader, top, "air");
  Place reference = read_object (reader, top, "reference");

  c->air.density_kg_m3 = read_number (reader, &air, "density_kg_m3", 0.1, 10);
  c->air.specific_heat_J_kgK = read_number (reader, &air, "specific_heat_J_kgK", 100, 1e4);
  c->air.viscosity_m2_s = read_number (reader, &air, "kinematic_viscosity_m2_s", 1e-7, 1e-2);
  c->air.expansion_1_K = read_number (reader, &air, "thermal_expansion_1_K", 0, 1);
  c->air.gravity_m_s2 = read_number (reader, &air, "gravity_m_s2", 0, 100);
  c->air.latent_heat_J_kg = read_number (reader, &air, "latent_heat_J_kg", 1e6, 4e6);
  c->air.pressure_Pa = 101325;
  /* Vapour is lighter than air by 1 / 0.622 - 1. */
  c->air.vapour_lift = read_flag_or (reader, &reference, "buoyancy_of_vapour", FALSE) ? 0.608 : 0;
  c->prandtl_turbulent
    = read_number_or (reader, &reference, "turbulent_Schmidt_and_Prandtl", 0.1, 10, 0);
  c->solver_seconds
    = read_number_or (reader, &reference, "solver_seconds_one_core", 1e-6, 1e9, NAN);
}

/* Walls pass no heat, or are held at one temperature; vapour they never pass. */
static void
read_walls (Reader *reader, const Place *top, DewCase *c)
{
  static const char *const known[] = { "heat", "vapour", "temperature_C", NULL };
  Place walls;
  const char *heat;

  if (!place_has (top, "walls"))
    return;
  walls = read_object (reader, top, "walls");
  heat = read_text (reader, &walls, "heat");
  c->walls_held = g_str_equal (heat, "fixed");
  if (c->walls_held)
    c->wall_t_C = read_number (reader, &walls, "temperature_C", -50, 80);
  else if (!g_str_equal (heat, "adiabatic"))
    reader_fail (reader, &walls, "'heat' is '%s'; only 'adiabatic' and 'fixed' can be expressed",
                 heat);
  if (place_has (&walls, "vapour")
      && !g_str_equal (read_text (reader, &walls, "vapour"), "impermeable"))
    reader_warn (reader, &walls, "'vapour' is '%s'; computed as 'impermeable'",
                 read_text (reader, &walls, "vapour"));
  warn_unknown (reader, &walls, known);
}

static void
read_case (Reader *reader, const Place *top, DewCase *c)
{
  static const char *const axes[3] = { "x", "y", "z" };
  static const char *const known[] = { "case",
                                       "box_m",
                                       "axes",
                                       "room",
                                       "air",
                                       "walls",
                                       "shelves",
                                       "openings",
                                       "fans",
                                       "heat_sources",
                                       "vapour_sources",
                                       "foliage",
                                       "reference",
                                       "opening_flows",
                                       "bays",
                                       "block_averages",
                                       "balance",
                                       "hand_check",
                                       NULL };
  Place box = read_object (reader, top, "box_m");
  Place room = read_object (reader, top, "room");

  c->name = g_strdup (read_text (reader, top, "case"));
  for (int a = 0; a < 3; a++)
    c->box_m[a] = read_number (reader, &box, axes[a], 0.01, 100);
  c->room_t_C = read_number (reader, &room, "temperature_C", -50, 80);
  read_walls (reader, top, c);
  read_air (reader, top, c);
  if (reader->error)
    return;

  c->chamber = make_tight_box (c->box_m, c->room_t_C);
  read_bays (reader, top, c);
  read_shelves (reader, top, c);
  read_openings (reader, top, c);
  read_fans (reader, top, c);
  read_sources (reader, top, c, "heat_sources");
  read_sources (reader, top, c, "vapour_sources");
  read_foliage (reader, top, c);
  read_blocks (reader, top, c);
  warn_unknown (reader, top, known);
}

DewCase *
dew_case_load (const char *path, GError **error)
{
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  g_autoptr (DewCase) c = g_new0 (DewCase, 1);
  Reader reader = { path, NULL };
  Place top = { NULL };
  JsonNode *root;

  if (!json_parser_load_from_file (parser, path, error))
    {
      if (error && !strstr ((*error)->message, path))
        g_prefix_error (error, "%s: ", path);
      return NULL;
    }
  root = json_parser_get_root (parser);
  if (root && JSON_NODE_HOLDS_OBJECT (root))
    top.object = json_node_get_object (root);
  else
    reader_fail (&reader, &top, "no JSON object");

  read_case (&reader, &top, c);
  if (reader.error)
    {
      g_propagate_error (error, reader.error);
      return NULL;
    }
  return g_steal_pointer (&c);
}

void
dew_case_free (DewCase *c)
{
  if (!c)
    return;
  g_free (c->name);
  g_clear_pointer (&c->chamber, dew_chamber_free);
  g_free (c->bays);
  g_free (c->flows);
  g_free (c->block_speed_m_s);
  g_free (c);
}

void
dew_case_options (const DewCase *c, DewGrid grid, DewForecastOptions *options)
{
  dew_forecast_options_init (options);
  options->grid = grid;
  options->air = &c->air;
  options->prandtl_turbulent = c->prandtl_turbulent;
  options->cover_t_C = c->walls_held ? &c->wall_t_C : NULL;
  options->members = 0;
}
