/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "chamber/chamber-private.h"

#include <glib/gi18n.h>
#include <string.h>

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
  /* By day and by night: degrees Celsius, then relative humidity. */
  static const DewMonth months[12] = {
    { 20.5, 18, 0.42, 0.49 },   { 20.5, 18, 0.43, 0.49 },   { 20.5, 18, 0.47, 0.54 },
    { 20.5, 18.5, 0.51, 0.57 }, { 21, 19, 0.57, 0.64 },     { 22.5, 21, 0.59, 0.64 },
    { 24, 22.5, 0.59, 0.64 },   { 24, 22.5, 0.60, 0.66 },   { 22, 20.5, 0.61, 0.67 },
    { 21, 19, 0.56, 0.63 },     { 20.5, 18.5, 0.49, 0.55 }, { 20.5, 18, 0.44, 0.51 },
  };

  dew_fields_init (dew_room_fields (), room);
  dew_text_copy (room->name, sizeof room->name, "heated living room");
  memcpy (room->months, months, sizeof months);
}

DewChamber *
dew_chamber_new (void)
{
  DewChamber *chamber = g_new0 (DewChamber, 1);

  g_atomic_ref_count_init (&chamber->owners);
  dew_fields_init (dew_enclosure_fields (), chamber);
  dew_text_copy (chamber->name, sizeof chamber->name, _ ("Enclosure"));
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      dew_fields_init (dew_panel_fields (), &chamber->panels[face]);
      dew_text_copy (chamber->panels[face].material, DEW_NAME_SIZE, "PE film 200 um");
    }
  room_init (&chamber->room);
  chamber->shown_variant = 1;
  chamber->next_id = 2;
  chamber->variants = variants_new ();
  chamber->wishes = g_array_new (FALSE, TRUE, sizeof (DewWish));
  chamber->kinds = g_array_new (FALSE, TRUE, sizeof (DewPlantKind));
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
  copy->wishes = g_array_copy (chamber->wishes);
  copy->kinds = g_array_copy (chamber->kinds);
  g_atomic_ref_count_init (&copy->owners);
  copy->kept = FALSE;
  return copy;
}

void
dew_chamber_free (const DewChamber *chamber)
{
  /* The count of the owners is no part of what stays as it is. */
  DewChamber *own = (DewChamber *) chamber;

  if (own == NULL || !g_atomic_ref_count_dec (&own->owners))
    return;
  g_clear_pointer (&own->variants, g_array_unref);
  g_clear_pointer (&own->wishes, g_array_unref);
  g_clear_pointer (&own->kinds, g_array_unref);
  g_free (own);
}

const DewChamber *
dew_chamber_seal (DewChamber *chamber)
{
  g_return_val_if_fail (chamber != NULL && !chamber->kept, NULL);
  chamber->kept = TRUE;
  return chamber;
}

const DewChamber *
dew_chamber_keep (const DewChamber *chamber)
{
  g_return_val_if_fail (chamber != NULL, NULL);

  if (!chamber->kept)
    return dew_chamber_seal (dew_chamber_copy (chamber));
  g_atomic_ref_count_inc (&((DewChamber *) chamber)->owners);
  return chamber;
}

static gboolean
room_equal (const DewRoom *a, const DewRoom *b)
{
  for (int month = 0; month < 12; month++)
    if (!dew_fields_equal (dew_month_fields (), &a->months[month], &b->months[month]))
      return FALSE;
  return dew_fields_equal (dew_room_fields (), a, b);
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

  if (a == b)
    return TRUE;
  if (!dew_fields_equal (dew_enclosure_fields (), a, b) || !room_equal (&a->room, &b->room)
      || a->month != b->month || a->shown_variant != b->shown_variant || a->next_id != b->next_id
      || a->variants->len != b->variants->len || !dew_wishes_equal (a, b))
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

const DewVariant *(dew_chamber_variant) (const DewChamber *chamber, guint variant_id)
{
  g_return_val_if_fail (chamber != NULL, NULL);

  if (variant_id == 0)
    variant_id = chamber->shown_variant;
  for (guint i = 0; i < chamber->variants->len; i++)
    {
      const DewVariant *variant = &g_array_index (chamber->variants, DewVariant, i);

      if (variant->id == variant_id)
        return variant;
    }
  return NULL;
}

const DewVariant *(dew_chamber_shown) (const DewChamber *chamber)
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

const DewThing *(dew_variant_thing) (const DewVariant *variant, guint id)
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
