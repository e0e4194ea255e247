/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "chamber/chamber-private.h"

#include <string.h>

/* The plants that wait for a place, and the kinds of plant that the grower
 * described. */

void
dew_wish_init (DewWish *wish)
{
  g_return_if_fail (wish != NULL);

  memset (wish, 0, sizeof *wish);
  dew_fields_init (dew_wish_fields (), wish);
}

void
dew_plant_kind_init (DewPlantKind *kind)
{
  g_return_if_fail (kind != NULL);

  memset (kind, 0, sizeof *kind);
  dew_fields_init (dew_plant_kind_fields (), kind);
}

const DewWish *(dew_chamber_wish) (const DewChamber *chamber, guint id)
{
  g_return_val_if_fail (chamber != NULL, NULL);

  for (guint i = 0; i < chamber->wishes->len; i++)
    {
      DewWish *wish = &g_array_index (chamber->wishes, DewWish, i);

      if (wish->id == id)
        return wish;
    }
  return NULL;
}

const DewPlantKind *(dew_chamber_kind) (const DewChamber *chamber, const char *name)
{
  g_return_val_if_fail (chamber != NULL && name != NULL, NULL);

  for (guint i = 0; i < chamber->kinds->len; i++)
    {
      DewPlantKind *kind = &g_array_index (chamber->kinds, DewPlantKind, i);

      if (strcmp (kind->name, name) == 0)
        return kind;
    }
  return NULL;
}

/**
 * dew_chamber_add_wish:
 * @wish: what to add; its id is ignored
 *
 * Returns: (transfer none): the copy that is now in the document, last in order.
 */
DewWish *
dew_chamber_add_wish (DewChamber *chamber, const DewWish *wish)
{
  DewWish copy;

  g_return_val_if_fail (chamber != NULL && wish != NULL, NULL);

  copy = *wish;
  copy.id = chamber->next_id++;
  g_array_append_val (chamber->wishes, copy);
  return &g_array_index (chamber->wishes, DewWish, chamber->wishes->len - 1);
}

gboolean
dew_chamber_remove_wish (DewChamber *chamber, guint id)
{
  g_return_val_if_fail (chamber != NULL, FALSE);

  for (guint i = 0; i < chamber->wishes->len; i++)
    if (g_array_index (chamber->wishes, DewWish, i).id == id)
      {
        g_array_remove_index (chamber->wishes, i);
        return TRUE;
      }
  return FALSE;
}

/**
 * dew_chamber_add_kind:
 *
 * Returns: (transfer none) (nullable): the copy that is now in the document; NULL
 *   when the name is empty or another own kind has it.
 */
DewPlantKind *
dew_chamber_add_kind (DewChamber *chamber, const DewPlantKind *kind)
{
  DewPlantKind copy;

  g_return_val_if_fail (chamber != NULL && kind != NULL, NULL);

  if (kind->name[0] == '\0' || dew_chamber_kind (chamber, kind->name) != NULL)
    return NULL;
  copy = *kind;
  g_array_append_val (chamber->kinds, copy);
  return &g_array_index (chamber->kinds, DewPlantKind, chamber->kinds->len - 1);
}

/* Plants and wishes of that kind keep its name: the catalogue may know it too,
 * and the kind may come back. */
gboolean
dew_chamber_remove_kind (DewChamber *chamber, const char *name)
{
  g_return_val_if_fail (chamber != NULL && name != NULL, FALSE);

  for (guint i = 0; i < chamber->kinds->len; i++)
    if (strcmp (g_array_index (chamber->kinds, DewPlantKind, i).name, name) == 0)
      {
        g_array_remove_index (chamber->kinds, i);
        return TRUE;
      }
  return FALSE;
}

gboolean
dew_wishes_equal (const DewChamber *a, const DewChamber *b)
{
  if (a->wishes->len != b->wishes->len || a->kinds->len != b->kinds->len)
    return FALSE;

  for (guint i = 0; i < a->wishes->len; i++)
    {
      const DewWish *p = &g_array_index (a->wishes, DewWish, i);
      const DewWish *q = &g_array_index (b->wishes, DewWish, i);

      if (p->id != q->id || !dew_fields_equal (dew_wish_fields (), p, q))
        return FALSE;
    }
  for (guint i = 0; i < a->kinds->len; i++)
    if (!dew_fields_equal (dew_plant_kind_fields (), &g_array_index (a->kinds, DewPlantKind, i),
                           &g_array_index (b->kinds, DewPlantKind, i)))
      return FALSE;
  return TRUE;
}
