/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"

#include <math.h>

/* The tray's small drawings come from the same painters as the sheet: a thing
 * alone in a box that just holds it. */

static void
set_place (DewThing *thing, double x_m, double y_m, double z_m)
{
  const double at[3] = { x_m, y_m, z_m };
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };

  for (int axis = 0; axis < 3; axis++)
    {
      const DewField *field = dew_field_find (dew_thing_fields (thing->kind), keys[axis]);

      if (field != NULL)
        dew_field_set_real (field, thing, at[axis]);
    }
}

/* A typical one of its kind, about 0.2 m across; side_m: how large the picture
 * is. */
static double
sample_thing (DewThing *thing, DewThingKind kind)
{
  double side_m = 0.26;

  dew_thing_init (thing, kind);
  switch (kind)
    {
    case DEW_THING_SHELF:
      thing->shelf.z_m = 0.12;
      thing->shelf.thickness_m = 0.02;
      thing->shelf.board = DEW_SHELF_WIRE;
      thing->shelf.gap_left_m = thing->shelf.gap_right_m = 0.02;
      break;
    case DEW_THING_OPENING:
      thing->opening.face = DEW_FACE_LEFT;
      thing->opening.kind = DEW_OPENING_FLAP;
      thing->opening.u0_m = thing->opening.v0_m = 0.07;
      thing->opening.u1_m = thing->opening.v1_m = 0.19;
      thing->opening.open_fraction = 0.8;
      break;
    case DEW_THING_FAN:
      thing->fan.diameter_m = 0.15;
      thing->fan.depth_m = 0.03;
      thing->fan.mount = DEW_FAN_FREE;
      thing->fan.azimuth_rad = -0.55;
      thing->fan.elevation_rad = 0.15;
      break;
    case DEW_THING_HUMIDIFIER:
      thing->humidifier.width_m = thing->humidifier.depth_m = 0.15;
      thing->humidifier.height_m = 0.18;
      thing->humidifier.outlet_diameter_m = 0.04;
      thing->humidifier.azimuth_rad = 0;
      thing->humidifier.elevation_rad = G_PI / 2;
      side_m = 0.32;
      break;
    case DEW_THING_POT:
      thing->pot.rim_diameter_m = 0.19;
      thing->pot.height_m = 0.17;
      break;
    case DEW_THING_TRAY:
      thing->tray.width_m = 0.24;
      thing->tray.height_m = 0.06;
      thing->tray.surface = DEW_TRAY_MOSS;
      break;
    case DEW_THING_LAMP:
      thing->lamp.length_m = 0.22;
      thing->lamp.height_m = 0.035;
      break;
    case DEW_THING_MAT:
      thing->mat.width_m = 0.22;
      thing->mat.depth_m = 0.16;
      break;
    case DEW_THING_SOURCE:
      thing->source.width_m = thing->source.height_m = 0.15;
      break;
    case DEW_THING_PLANT:
      thing->plant.width_m = 0.23;
      thing->plant.height_m = 0.15;
      g_strlcpy (thing->plant.species, "Nepenthes", sizeof thing->plant.species);
      break;
    case DEW_THING_INSTRUMENT:
      side_m = 0.075;
      break;
    case DEW_N_THING_KINDS:
      break;
    }
  return side_m;
}

/* In the middle of the picture, with what is drawn beside the thing itself: the
 * arrow of a fan, the pot under a crown. */
static void
place_sample (const DewChamber *chamber, DewThing *thing, double side_m)
{
  double middle = side_m / 2, lo[3], hi[3], up;

  set_place (thing, middle, middle, 0);
  dew_thing_box (chamber, thing, lo, hi);
  up = middle - (lo[2] + hi[2]) / 2;
  switch (thing->kind)
    {
    case DEW_THING_FAN:
      set_place (thing, middle * 0.78, middle, middle);
      break;
    case DEW_THING_LAMP:
      set_place (thing, middle, middle, 0.62 * side_m);
      break;
    case DEW_THING_HUMIDIFIER:
      set_place (thing, middle, middle, 0.06 * side_m);
      break;
    case DEW_THING_PLANT:
      set_place (thing, middle, middle, 0.36 * side_m);
      break;
    case DEW_THING_MAT:
      set_place (thing, middle, middle, 0);
      break;
    default:
      set_place (thing, middle, middle, up);
      break;
    }
}

void
dew_paint_kind (cairo_t *cr, DewThingKind kind, const DewPalette *palette, double width,
                double height)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  DewVariant *variant = dew_chamber_shown (chamber);
  double side_px = MIN (width, height), side_m;
  DewView view = kind == DEW_THING_MAT ? DEW_VIEW_PLAN : DEW_VIEW_FRONT;
  DewSheetLayout layout = { 0 };
  DewSheet sheet;
  DewThing thing;
  DewPen pen;

  g_return_if_fail (cr != NULL && palette != NULL && kind < DEW_N_THING_KINDS);

  side_m = sample_thing (&thing, kind);
  for (int face = 0; face < DEW_N_FACES; face++)
    chamber->panels[face].thickness_m = 0;
  for (int axis = 0; axis < 3; axis++)
    chamber->outer_m[axis] = layout.inner_m[axis] = side_m;
  place_sample (chamber, &thing, side_m);

  dew_sheet_init (&sheet, chamber, variant);
  sheet.palette = palette;
  layout.scale_px_m = side_px / side_m;
  layout.shown[view] = TRUE;
  layout.plan_hi_m = side_m;
  layout.view[view] = (DewRect){ (width - side_px) / 2, (height - side_px) / 2, side_px, side_px };
  pen = (DewPen){ cr, &sheet, &layout, palette, layout.scale_px_m, 1 };

  cairo_save (cr);
  if (kind == DEW_THING_OPENING)
    {
      /* An opening is nothing without its wall. */
      layout.view[view].x += 0.45 * side_px;
      cairo_set_line_width (cr, DEW_LINE_OUTLINE);
      dew_pen_colour (&pen, &palette->ink, 1);
      dew_pen_line (&pen, layout.view[view].x, layout.view[view].y + 0.08 * side_px,
                    layout.view[view].x, layout.view[view].y + 0.92 * side_px);
    }
  dew_paint_thing (&pen, view, &thing);
  cairo_restore (cr);
}
