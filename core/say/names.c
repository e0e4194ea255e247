/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/names.h"

#include <glib/gi18n.h>

#include <string.h>

const char *
dew_month_name (int month)
{
  static const char *const names[12]
    = { N_ ("January"),   N_ ("February"), N_ ("March"),    N_ ("April"),
        N_ ("May"),       N_ ("June"),     N_ ("July"),     N_ ("August"),
        N_ ("September"), N_ ("October"),  N_ ("November"), N_ ("December") };

  g_return_val_if_fail (month >= 0 && month < 12, "");

  return _ (names[month]);
}

static const struct
{
  const char *key;
  const char *word;
} choices[] = {
  { "left", NC_ ("choice", "Left") },
  { "right", NC_ ("choice", "Right") },
  { "front", NC_ ("choice", "Front") },
  { "back", NC_ ("choice", "Back") },
  { "floor", NC_ ("choice", "Floor") },
  { "roof", NC_ ("choice", "Roof") },
  { "wire", NC_ ("choice", "Wire") },
  { "slatted", NC_ ("choice", "Slatted") },
  { "perforated", NC_ ("choice", "Perforated") },
  { "solid", NC_ ("choice", "Solid") },
  { "flap", NC_ ("choice", "Flap") },
  { "zip", NC_ ("choice", "Zip") },
  { "hole", NC_ ("choice", "Hole") },
  { "mesh", NC_ ("choice", "Mesh") },
  { "slot", NC_ ("choice", "Slot") },
  { "duct", NC_ ("choice", "Duct") },
  { "free", NC_ ("choice", "Free in the air") },
  { "in_wall", NC_ ("choice", "In the wall") },
  { "in", NC_ ("choice", "In") },
  { "out", NC_ ("choice", "Out") },
  { "ultrasonic", NC_ ("choice", "Cold mist") },
  { "wick", NC_ ("choice", "Vapour from a wick") },
  { "steam", NC_ ("choice", "Steam") },
  { "water", NC_ ("choice", "Open water") },
  { "moss", NC_ ("choice", "Moss or felt") },
  { "grit", NC_ ("choice", "Wet grit") },
  { "healthy", NC_ ("choice", "Healthy") },
  { "weak", NC_ ("choice", "Weak") },
  { "arrived", NC_ ("choice", "Just arrived") },
  { "harmful", NC_ ("choice", "Does harm") },
  { "brief_ok", NC_ ("choice", "Harmless if dry by night") },
  { "tolerated", NC_ ("choice", "Tolerated") },
  { "welcome", NC_ ("choice", "Welcome") },
  { "cam_orchid", NC_ ("choice", "Thick, open at night") },
  { "thin_orchid", NC_ ("choice", "Thin orchid leaf") },
  { "slipper_orchid", NC_ ("choice", "Slipper orchid leaf") },
  { "shade_fern", NC_ ("choice", "Fern of the shade") },
  { "epiphytic_fern", NC_ ("choice", "Fern that sits on trees") },
  { "filmy", NC_ ("choice", "Filmy, without skin") },
  { "herb", NC_ ("choice", "Soft, as of herbs") },
};

const char *
dew_choice_word (const char *key)
{
  for (guint i = 0; i < G_N_ELEMENTS (choices); i++)
    {
      if (strcmp (choices[i].key, key) == 0)
        return g_dpgettext2 (NULL, "choice", choices[i].word);
    }
  return key;
}
