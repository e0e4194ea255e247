/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "chamber/chamber-private.h"

#include <math.h>
#include <string.h>

/* Something within this height above a board counts as standing on it. */
#define STANDING_M 0.01
#define MAT_THICKNESS_M 0.005
#define INSTRUMENT_SIZE_M 0.04

/* --- variants ---------------------------------------------------------- */

static void
variant_clear (gpointer data)
{
  DewVariant *variant = data;

  g_clear_pointer (&variant->things, g_array_unref);
}

static void
chamber_append_variant (DewChamber *chamber, guint id, const char *name, const DewVariant *copy_of)
{
  DewVariant variant = { .id = id };

  dew_text_copy (variant.name, sizeof variant.name, name);
  variant.things = copy_of != NULL ? g_array_copy (copy_of->things)
                                   : g_array_new (FALSE, TRUE, sizeof (DewThing));
  g_array_append_val (chamber->variants, variant);
}

static GArray *
variants_new (void)
{
  GArray *variants = g_array_new (FALSE, TRUE, sizeof (DewVariant));

  g_array_set_clear_func (variants, variant_clear);
  return variants;
}

/* --- life -------------------------------------------------------------- */

/* A heated living room, mild temperate lowland, about 50 degrees north: the
 * row of that name in data/rooms.csv (common practice, no source). */
static void
room_init (DewRoom *room)
{
  static const double t_day_C[12]
      = { 20.5, 20.5, 20.5, 20.5, 21, 22.5, 24, 24, 22, 21, 20.5, 20.5 };
  static const double t_night_C[12]
      = { 18, 18, 18, 18.5, 19, 21, 22.5, 22.5, 20.5, 19, 18.5, 18 };
  static const double rh_day[12]
      = { 0.42, 0.43, 0.47, 0.51, 0.57, 0.59, 0.59, 0.60, 0.61, 0.56, 0.49, 0.44 };
  static const double rh_night[12]
      = { 0.49, 0.49, 0.54, 0.57, 0.64, 0.64, 0.64, 0.66, 0.67, 0.63, 0.55, 0.51 };

  dew_fields_init (dew_room_fields (), room);
  dew_text_copy (room->name, sizeof room->name, "heated living room");
  memcpy (room->t_day_C, t_day_C, sizeof t_day_C);
  memcpy (room->t_night_C, t_night_C, sizeof t_night_C);
  memcpy (room->rh_day, rh_day, sizeof rh_day);
  memcpy (room->rh_night, rh_night, sizeof rh_night);
}

DewChamber *
dew_chamber_new (void)
{
  DewChamber *chamber = g_new0 (DewChamber, 1);

  dew_text_copy (chamber->name, sizeof chamber->name, "Enclosure");
  chamber->outer_m[0] = 0.7;
  chamber->outer_m[1] = 0.5;
  chamber->outer_m[2] = 1.6;
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      dew_fields_init (dew_panel_fields (), &chamber->panels[face]);
      dew_text_copy (chamber->panels[face].material, DEW_NAME_SIZE, "PE film 200 um");
    }
  /* A film case of this size with its zips shut: 25 cm2, within a factor of
   * three either way; exponent 0.65 (common practice, no source). */
  chamber->leak_area_m2 = 25e-4;
  chamber->leak_exponent = 0.65;
  room_init (&chamber->room);
  chamber->shown_variant = 1;
  chamber->next_id = 2;
  chamber->variants = variants_new ();
  chamber_append_variant (chamber, 1, "A", NULL);

  return chamber;
}

DewChamber *
dew_chamber_copy (const DewChamber *chamber)
{
  DewChamber *copy;

  g_return_val_if_fail (chamber != NULL, NULL);

  copy = g_memdup2 (chamber, sizeof *chamber);
  copy->variants = variants_new ();
  for (guint i = 0; i < chamber->variants->len; i++)
    {
      const DewVariant *variant = &g_array_index (chamber->variants, DewVariant, i);

      chamber_append_variant (copy, variant->id, variant->name, variant);
    }
  return copy;
}

void
dew_chamber_free (DewChamber *chamber)
{
  if (chamber == NULL)
    return;
  g_clear_pointer (&chamber->variants, g_array_unref);
  g_free (chamber);
}

static gboolean
reals_equal (const double *a, const double *b, int n)
{
  for (int i = 0; i < n; i++)
    if (!dew_real_equal (a[i], b[i]))
      return FALSE;
  return TRUE;
}

static gboolean
room_equal (const DewRoom *a, const DewRoom *b)
{
  return dew_fields_equal (dew_room_fields (), a, b)
         && reals_equal (a->t_day_C, b->t_day_C, 12)
         && reals_equal (a->t_night_C, b->t_night_C, 12)
         && reals_equal (a->rh_day, b->rh_day, 12)
         && reals_equal (a->rh_night, b->rh_night, 12);
}

static gboolean
variant_equal (const DewVariant *a, const DewVariant *b)
{
  if (a->id != b->id || strcmp (a->name, b->name) != 0 || a->things->len != b->things->len)
    return FALSE;

  for (guint i = 0; i < a->things->len; i++)
    {
      const DewThing *p = &g_array_index (a->things, DewThing, i);
      const DewThing *q = &g_array_index (b->things, DewThing, i);

      if (p->id != q->id || p->kind != q->kind || strcmp (p->name, q->name) != 0
          || !dew_fields_equal (dew_thing_fields (p->kind), p, q))
        return FALSE;
    }
  return TRUE;
}

gboolean
dew_chamber_equal (const DewChamber *a, const DewChamber *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  if (strcmp (a->name, b->name) != 0 || strcmp (a->note, b->note) != 0
      || !reals_equal (a->outer_m, b->outer_m, 3)
      || !dew_real_equal (a->leak_area_m2, b->leak_area_m2)
      || !dew_real_equal (a->leak_exponent, b->leak_exponent)
      || !room_equal (&a->room, &b->room) || a->month != b->month
      || a->shown_variant != b->shown_variant || a->next_id != b->next_id
      || a->variants->len != b->variants->len)
    return FALSE;

  for (int face = 0; face < DEW_N_FACES; face++)
    if (!dew_fields_equal (dew_panel_fields (), &a->panels[face], &b->panels[face]))
      return FALSE;

  for (guint i = 0; i < a->variants->len; i++)
    if (!variant_equal (&g_array_index (a->variants, DewVariant, i),
                        &g_array_index (b->variants, DewVariant, i)))
      return FALSE;
  return TRUE;
}

void
dew_chamber_inner_m (const DewChamber *chamber, double out[3])
{
  for (int axis = 0; axis < 3; axis++)
    out[axis] = chamber->outer_m[axis] - chamber->panels[2 * axis].thickness_m
                - chamber->panels[2 * axis + 1].thickness_m;
}

DewVariant *
dew_chamber_variant (const DewChamber *chamber, guint variant_id)
{
  g_return_val_if_fail (chamber != NULL, NULL);

  for (guint i = 0; i < chamber->variants->len; i++)
    {
      DewVariant *variant = &g_array_index (chamber->variants, DewVariant, i);

      if (variant->id == variant_id)
        return variant;
    }
  return NULL;
}

DewVariant *
dew_chamber_shown (const DewChamber *chamber)
{
  return dew_chamber_variant (chamber, chamber->shown_variant);
}

/* Gives every thing of a copied variant an id of its own and lets humidistats
 * listen to the copy of their instrument. */
static void
variant_renumber (DewChamber *chamber, DewVariant *variant)
{
  guint n = variant->things->len;
  g_autofree guint *old = g_new (guint, n + 1);

  for (guint i = 0; i < n; i++)
    {
      DewThing *thing = &g_array_index (variant->things, DewThing, i);

      old[i] = thing->id;
      thing->id = chamber->next_id++;
    }

  for (guint i = 0; i < n; i++)
    {
      DewThing *thing = &g_array_index (variant->things, DewThing, i);

      for (const DewField *field = dew_thing_fields (thing->kind); field->key != NULL; field++)
        {
          if (field->type != DEW_FIELD_LINK)
            continue;
          for (guint k = 0; k < n; k++)
            if (old[k] != 0 && (int) old[k] == dew_field_get_int (field, thing))
              {
                dew_field_set_int (field, thing,
                                   (int) g_array_index (variant->things, DewThing, k).id);
                break;
              }
        }
    }
}

/**
 * dew_chamber_add_variant:
 * @copy_of: (nullable): a variant of this enclosure whose things are copied
 *
 * The copies get ids of their own.
 *
 * Returns: (transfer none): the new variant, last in order; not yet shown.
 */
DewVariant *
dew_chamber_add_variant (DewChamber *chamber, const char *name, const DewVariant *copy_of)
{
  DewVariant *variant;

  g_return_val_if_fail (chamber != NULL && name != NULL, NULL);

  chamber_append_variant (chamber, chamber->next_id++, name, copy_of);
  variant = &g_array_index (chamber->variants, DewVariant, chamber->variants->len - 1);
  variant_renumber (chamber, variant);
  return variant;
}

/**
 * dew_chamber_remove_variant:
 *
 * The last variant stays. When the shown one goes, its neighbour is shown.
 *
 * Returns: whether one was removed.
 */
gboolean
dew_chamber_remove_variant (DewChamber *chamber, guint variant_id)
{
  g_return_val_if_fail (chamber != NULL, FALSE);

  if (chamber->variants->len < 2)
    return FALSE;

  for (guint i = 0; i < chamber->variants->len; i++)
    {
      if (g_array_index (chamber->variants, DewVariant, i).id != variant_id)
        continue;
      g_array_remove_index (chamber->variants, i);
      if (chamber->shown_variant == variant_id)
        {
          guint next = MIN (i, chamber->variants->len - 1);

          chamber->shown_variant = g_array_index (chamber->variants, DewVariant, next).id;
        }
      return TRUE;
    }
  return FALSE;
}

/* --- things ------------------------------------------------------------ */

DewThing *
dew_variant_thing (const DewVariant *variant, guint id)
{
  g_return_val_if_fail (variant != NULL, NULL);

  for (guint i = 0; i < variant->things->len; i++)
    {
      DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->id == id)
        return thing;
    }
  return NULL;
}

static gboolean
name_taken (const DewVariant *variant, const char *name)
{
  for (guint i = 0; i < variant->things->len; i++)
    if (strcmp (g_array_index (variant->things, DewThing, i).name, name) == 0)
      return TRUE;
  return FALSE;
}

/**
 * dew_variant_add:
 * @thing: what to add; a thing without a name gets "Fan 2" and the like
 *
 * Returns: (transfer none): the copy that is now in the variant.
 */
DewThing *
dew_variant_add (DewChamber *chamber, DewVariant *variant, const DewThing *thing)
{
  DewThing copy;

  g_return_val_if_fail (chamber != NULL && variant != NULL && thing != NULL, NULL);

  copy = *thing;
  copy.id = chamber->next_id++;
  for (guint number = 1; copy.name[0] == '\0' || (number > 1 && name_taken (variant, copy.name));
       number++)
    g_snprintf (copy.name, sizeof copy.name, "%s %u", dew_thing_kind_label (copy.kind), number);
  g_array_append_val (variant->things, copy);
  return &g_array_index (variant->things, DewThing, variant->things->len - 1);
}

gboolean
dew_variant_remove (DewVariant *variant, guint id)
{
  g_return_val_if_fail (variant != NULL, FALSE);

  for (guint i = 0; i < variant->things->len; i++)
    if (g_array_index (variant->things, DewThing, i).id == id)
      {
        g_array_remove_index (variant->things, i);
        return TRUE;
      }
  return FALSE;
}

void
dew_thing_init (DewThing *thing, DewThingKind kind)
{
  g_return_if_fail (thing != NULL && (guint) kind < DEW_N_THING_KINDS);

  memset (thing, 0, sizeof *thing);
  thing->kind = kind;
  dew_fields_init (dew_thing_fields (kind), thing);
}

/* --- geometry ---------------------------------------------------------- */

static void
box_on_base (double x, double y, double z, double width, double depth, double height,
             double lo[3], double hi[3])
{
  lo[0] = x - width / 2;
  hi[0] = x + width / 2;
  lo[1] = y - depth / 2;
  hi[1] = y + depth / 2;
  lo[2] = z;
  hi[2] = z + height;
}

/* Spreads (u, v) of a face over the three axes and puts the box at that face,
 * `into` metres deep. */
static void
box_on_face (const double inner[3], int face, double u0, double u1, double v0, double v1,
             double into, double lo[3], double hi[3])
{
  int normal = face / 2;
  int across = normal == 0 ? 1 : 0;
  int up = normal == 2 ? 1 : 2;
  double wall = face % 2 == 0 ? 0.0 : inner[normal];

  lo[across] = u0;
  hi[across] = u1;
  lo[up] = v0;
  hi[up] = v1;
  lo[normal] = face % 2 == 0 ? wall : wall - into;
  hi[normal] = face % 2 == 0 ? wall + into : wall;
}

static void
fan_box (const double inner[3], const DewFan *fan, double lo[3], double hi[3])
{
  const double centre[3] = { fan->x_m, fan->y_m, fan->z_m };
  double r = fan->diameter_m / 2;

  if (fan->mount == DEW_FAN_IN_WALL)
    {
      int normal = fan->face / 2;
      double u = centre[normal == 0 ? 1 : 0];
      double v = centre[normal == 2 ? 1 : 2];

      box_on_face (inner, fan->face, u - r, u + r, v - r, v + r, fan->depth_m, lo, hi);
      return;
    }
  for (int axis = 0; axis < 3; axis++)
    {
      lo[axis] = centre[axis] - r;
      hi[axis] = centre[axis] + r;
    }
}

/**
 * dew_thing_box:
 *
 * A fan in the wall gives a box at its face, as deep as its frame; an
 * instrument a small cube.
 */
void
dew_thing_box (const DewChamber *chamber, const DewThing *thing, double lo[3], double hi[3])
{
  double inner[3];

  g_return_if_fail (chamber != NULL && thing != NULL);

  dew_chamber_inner_m (chamber, inner);
  switch (thing->kind)
    {
    case DEW_THING_SHELF:
      lo[0] = thing->shelf.gap_left_m;
      hi[0] = inner[0] - thing->shelf.gap_right_m;
      lo[1] = thing->shelf.gap_front_m;
      hi[1] = inner[1] - thing->shelf.gap_back_m;
      lo[2] = thing->shelf.z_m;
      hi[2] = thing->shelf.z_m + thing->shelf.thickness_m;
      break;
    case DEW_THING_OPENING:
      box_on_face (inner, thing->opening.face, thing->opening.u0_m, thing->opening.u1_m,
                   thing->opening.v0_m, thing->opening.v1_m, 0.0, lo, hi);
      break;
    case DEW_THING_FAN:
      fan_box (inner, &thing->fan, lo, hi);
      break;
    case DEW_THING_HUMIDIFIER:
      box_on_base (thing->humidifier.x_m, thing->humidifier.y_m, thing->humidifier.z_m,
                   thing->humidifier.width_m, thing->humidifier.depth_m,
                   thing->humidifier.height_m, lo, hi);
      break;
    case DEW_THING_POT:
      box_on_base (thing->pot.x_m, thing->pot.y_m, thing->pot.z_m, thing->pot.rim_diameter_m,
                   thing->pot.rim_diameter_m, thing->pot.height_m, lo, hi);
      break;
    case DEW_THING_TRAY:
      box_on_base (thing->tray.x_m, thing->tray.y_m, thing->tray.z_m, thing->tray.width_m,
                   thing->tray.depth_m, thing->tray.height_m, lo, hi);
      break;
    case DEW_THING_LAMP:
      box_on_base (thing->lamp.x_m, thing->lamp.y_m, thing->lamp.z_m, thing->lamp.length_m,
                   thing->lamp.width_m, thing->lamp.height_m, lo, hi);
      break;
    case DEW_THING_MAT:
      box_on_base (thing->mat.x_m, thing->mat.y_m, thing->mat.z_m, thing->mat.width_m,
                   thing->mat.depth_m, MAT_THICKNESS_M, lo, hi);
      break;
    case DEW_THING_SOURCE:
      box_on_base (thing->source.x_m, thing->source.y_m, thing->source.z_m,
                   thing->source.width_m, thing->source.depth_m, thing->source.height_m, lo, hi);
      break;
    case DEW_THING_PLANT:
      box_on_base (thing->plant.x_m, thing->plant.y_m, thing->plant.z_m, thing->plant.width_m,
                   thing->plant.depth_m, thing->plant.height_m, lo, hi);
      break;
    case DEW_THING_INSTRUMENT:
      box_on_base (thing->instrument.x_m, thing->instrument.y_m,
                   thing->instrument.z_m - INSTRUMENT_SIZE_M / 2, INSTRUMENT_SIZE_M,
                   INSTRUMENT_SIZE_M, INSTRUMENT_SIZE_M, lo, hi);
      break;
    case DEW_N_THING_KINDS:
    default:
      g_return_if_reached ();
    }
}

/* Adds d to the fields that say where a thing is. */
static void
thing_move (DewThing *thing, const double d[3])
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };

  if (thing->kind == DEW_THING_OPENING)
    {
      DewOpening *opening = &thing->opening;
      int normal = opening->face / 2;
      double du = d[normal == 0 ? 1 : 0];
      double dv = d[normal == 2 ? 1 : 2];

      opening->u0_m += du;
      opening->u1_m += du;
      opening->v0_m += dv;
      opening->v1_m += dv;
      return;
    }

  for (int axis = 0; axis < 3; axis++)
    {
      const DewField *field = dew_field_find (dew_thing_fields (thing->kind), keys[axis]);

      if (field != NULL)
        dew_field_set_real (field, thing, dew_field_get_real (field, thing) + d[axis]);
    }
}

/* Whether a thing goes along when the board under it (top at `top`, next board
 * at `ceiling`) is moved: what stands on it, the plants above it (a crown
 * starts at the rim of its pot) and the instruments among them. */
static gboolean
rides_on (const DewChamber *chamber, const DewThing *thing, double top, double ceiling)
{
  double lo[3], hi[3];

  if (thing->kind == DEW_THING_SHELF || thing->kind == DEW_THING_OPENING
      || (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_IN_WALL))
    return FALSE;

  dew_thing_box (chamber, thing, lo, hi);
  if (thing->kind == DEW_THING_PLANT || thing->kind == DEW_THING_INSTRUMENT)
    return lo[2] > top - STANDING_M && lo[2] < ceiling - STANDING_M;
  return fabs (lo[2] - top) <= STANDING_M;
}

void
dew_variant_shift (const DewChamber *chamber, DewVariant *variant, guint id, const double d[3])
{
  DewThing *thing = dew_variant_thing (variant, id);

  g_return_if_fail (thing != NULL);

  if (thing->kind == DEW_THING_SHELF)
    {
      const double up[3] = { 0.0, 0.0, d[2] };
      double top = thing->shelf.z_m + thing->shelf.thickness_m;
      double ceiling = INFINITY;

      for (guint i = 0; i < variant->things->len; i++)
        {
          const DewThing *other = &g_array_index (variant->things, DewThing, i);

          if (other->kind == DEW_THING_SHELF && other->shelf.z_m > thing->shelf.z_m)
            ceiling = MIN (ceiling, other->shelf.z_m);
        }
      for (guint i = 0; i < variant->things->len; i++)
        {
          DewThing *rider = &g_array_index (variant->things, DewThing, i);

          if (rides_on (chamber, rider, top, ceiling))
            thing_move (rider, up);
        }
    }
  thing_move (thing, d);
}

typedef struct
{
  double z_m;
  guint id;
} Board;

static int
board_compare (gconstpointer a, gconstpointer b)
{
  const Board *p = a, *q = b;

  if (p->z_m != q->z_m)
    return p->z_m < q->z_m ? -1 : 1;
  return p->id < q->id ? -1 : p->id > q->id;
}

int
dew_variant_bays (const DewChamber *chamber, const DewVariant *variant, double **z_m,
                  guint **shelf_id)
{
  g_autoptr (GArray) boards = g_array_new (FALSE, FALSE, sizeof (Board));
  double inner[3];
  int n;

  g_return_val_if_fail (chamber != NULL && variant != NULL && z_m != NULL, 0);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_SHELF)
        {
          Board board = { thing->shelf.z_m, thing->id };

          g_array_append_val (boards, board);
        }
    }
  g_array_sort (boards, board_compare);

  n = (int) boards->len + 1;
  dew_chamber_inner_m (chamber, inner);
  *z_m = g_new0 (double, n + 1);
  if (shelf_id != NULL)
    *shelf_id = g_new0 (guint, n);
  for (int i = 1; i < n; i++)
    {
      const Board *board = &g_array_index (boards, Board, i - 1);

      (*z_m)[i] = board->z_m;
      if (shelf_id != NULL)
        (*shelf_id)[i] = board->id;
    }
  (*z_m)[n] = inner[2];
  return n;
}

double
dew_variant_rest_height (const DewVariant *variant, double z_m)
{
  double rest = 0.0;

  g_return_val_if_fail (variant != NULL, 0.0);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_SHELF)
        {
          double top = thing->shelf.z_m + thing->shelf.thickness_m;

          if (top <= z_m + 1e-6)
            rest = MAX (rest, top);
        }
    }
  return rest;
}
