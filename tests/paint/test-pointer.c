/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"

#include "sheet-fixture.h"

#include <math.h>
#include <string.h>

#define WIDTH 1440
#define HEIGHT 900

/* The enclosure on a sheet, ready to be pointed at. */
typedef struct
{
  DewChamber *chamber;
  DewVariant *variant;
  DewSheet sheet;
  DewSheetLayout layout;
} Scene;

static void
scene_init (Scene *scene)
{
  scene->chamber = fixture_chamber_new ();
  scene->variant = dew_chamber_shown (scene->chamber);
  dew_sheet_init (&scene->sheet, scene->chamber, scene->variant);
  dew_sheet_layout (&scene->sheet, WIDTH, HEIGHT, &scene->layout);
}

static void
scene_clear (Scene *scene)
{
  dew_chamber_free (scene->chamber);
}

static void
middle_px (const Scene *scene, const DewThing *thing, DewView view, double px[2])
{
  DewRect r;

  g_assert_true (dew_sheet_thing_rect (&scene->sheet, &scene->layout, thing->id, view, &r));
  px[0] = r.x + r.width / 2;
  px[1] = r.y + r.height / 2;
}

/* --- hits ---------------------------------------------------------------------------- */

/* Pointing at the middle of a thing finds it, in every view that shows it. */
static void
test_hit_things (void)
{
  static const char *const names[] = {
    "Slow fan", "Small mister", "Clay pot 1",        "Clay pot 3",           "Moss tray",
    "Low flap", "Lower shelf",  "Middle hygrometer", "Pitcher plant, large",
  };
  Scene scene;

  scene_init (&scene);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      const DewThing *thing = fixture_thing (scene.variant, names[i]);
      double px[2];
      DewHit hit;

      middle_px (&scene, thing, DEW_VIEW_FRONT, px);
      /* A shelf is grabbed between what stands on it. */
      if (thing->kind == DEW_THING_SHELF)
        px[0] = scene.layout.view[DEW_VIEW_FRONT].x + 12;
      g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, px[0], px[1], &hit));
      g_assert_cmpint (hit.part, ==, DEW_PART_BODY);
      g_assert_cmpuint (hit.thing_id, ==, thing->id);
      g_assert_cmpint (hit.view, ==, DEW_VIEW_FRONT);
    }
  scene_clear (&scene);
}

static void
test_hit_parts (void)
{
  DewForecast *forecast;
  DewThing *fan;
  double tip_m[3], px[2];
  const DewRect *front;
  DewHit hit;
  Scene scene;

  scene_init (&scene);
  front = &scene.layout.view[DEW_VIEW_FRONT];
  fan = fixture_thing (scene.variant, "Slow fan");

  /* Handles answer only on what is selected. */
  dew_aim_tip (scene.chamber, fan, tip_m);
  g_assert_true (dew_layout_to_screen (&scene.layout, DEW_VIEW_FRONT, tip_m, px));
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, px[0], px[1], &hit));
  g_assert_cmpint (hit.part, !=, DEW_PART_AIM);
  scene.sheet.selected_id = fan->id;
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, px[0], px[1], &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_AIM);
  g_assert_cmpuint (hit.thing_id, ==, fan->id);

  /* The far walls, and the air between. */
  g_assert_true (
    dew_sheet_hit (&scene.sheet, &scene.layout, front->x + front->width + 2, front->y + 30, &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_WALL);
  g_assert_cmpint (hit.axis, ==, 0);
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, front->x + 40, front->y - 3, &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_WALL);
  g_assert_cmpint (hit.axis, ==, 2);
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, front->x + 20,
                                front->y + front->height - 0.60 * scene.layout.scale_px_m, &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_BAY);
  g_assert_cmpint (hit.index, ==, 1); /* the second bay: 0.38 to 0.74 m */
  g_assert_false (dew_sheet_hit (&scene.sheet, &scene.layout, 3, 3, &hit));

  /* Every number, label and flag can be pointed at where it is drawn. */
  forecast = fixture_forecast_new (scene.chamber);
  fixture_add_finding (forecast, 0.35, 0.2, 0.6, DEW_CAUSE_STILL_AIR);
  scene.sheet.forecast = forecast;
  scene.sheet.selected_id = 0;
  {
    g_autoptr (GArray) marks = dew_sheet_marks (&scene.sheet, &scene.layout);
    guint found[DEW_MARK_MEASURE + 1] = { 0 };

    for (guint i = 0; i < marks->len; i++)
      {
        const DewMark *mark = &g_array_index (marks, DewMark, i);
        static const DewPart parts[] = { [DEW_MARK_SWITCH] = DEW_PART_SWITCH,
                                         [DEW_MARK_DIMENSION] = DEW_PART_DIMENSION,
                                         [DEW_MARK_BAY] = DEW_PART_BAY,
                                         [DEW_MARK_FLAG] = DEW_PART_FLAG };

        found[mark->kind]++;
        if (mark->kind == DEW_MARK_CAPTION || mark->kind == DEW_MARK_PLAN)
          continue;
        g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout,
                                      mark->rect.x + mark->rect.width / 2,
                                      mark->rect.y + mark->rect.height / 2, &hit));
        g_assert_cmpint (hit.part, ==, parts[mark->kind]);
        g_assert_cmpint (hit.index, ==, mark->index);
      }
    g_assert_cmpuint (found[DEW_MARK_DIMENSION], ==, 4 + 1 + 2); /* bays, height, width and depth */
    g_assert_cmpuint (found[DEW_MARK_BAY], ==, 2);
    g_assert_cmpuint (found[DEW_MARK_FLAG], >=, 1);
  }
  fixture_forecast_free (forecast);
  scene_clear (&scene);
}

/* An enclosure with nothing but a low shelf and a zip in the middle of its front. */
static void
scene_with_zip (Scene *scene, guint *shelf_id, guint *zip_id)
{
  DewThing thing;

  scene_init (scene);
  g_array_set_size (scene->variant->things, 0);
  dew_thing_init (&thing, DEW_THING_SHELF);
  thing.shelf.z_m = 0.2;
  *shelf_id = dew_variant_add (scene->chamber, scene->variant, &thing)->id;
  dew_thing_init (&thing, DEW_THING_OPENING);
  thing.opening.kind = DEW_OPENING_ZIP;
  thing.opening.face = DEW_FACE_FRONT;
  thing.opening.open_fraction = 0;
  thing.opening.u0_m = 0.2;
  thing.opening.u1_m = scene->layout.inner_m[0] - 0.15;
  thing.opening.v0_m = 0.02;
  thing.opening.v1_m = scene->layout.inner_m[2] - 0.1;
  *zip_id = dew_variant_add (scene->chamber, scene->variant, &thing)->id;
}

/* A shut zip is its seam only: a shelf behind the film is grabbed through it. */
static void
test_zip_is_a_seam (void)
{
  guint shelf_id, zip_id;
  double seam_px[2], shelf_px[2];
  DewHit hit;
  Scene scene;

  scene_with_zip (&scene, &shelf_id, &zip_id);
  middle_px (&scene, dew_variant_thing (scene.variant, zip_id), DEW_VIEW_FRONT, seam_px);
  middle_px (&scene, dew_variant_thing (scene.variant, shelf_id), DEW_VIEW_FRONT, shelf_px);
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, seam_px[0], seam_px[1], &hit));
  g_assert_cmpuint (hit.thing_id, ==, zip_id);
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, seam_px[0] + 20, shelf_px[1], &hit));
  g_assert_cmpuint (hit.thing_id, ==, shelf_id);
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, seam_px[0] + 20, seam_px[1], &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_BAY);
  scene_clear (&scene);
}

/* A plant is taken hold of by its pot as well, which is drawn below its crown. */
static void
test_hit_pot_of_plant (void)
{
  guint shelf_id, zip_id, id;
  DewThing plant;
  DewHit hit;
  Scene scene;
  DewRect r;

  scene_with_zip (&scene, &shelf_id, &zip_id);
  dew_thing_init (&plant, DEW_THING_PLANT);
  plant.plant.x_m = 0.1;
  plant.plant.z_m = 0.206 + 0.08;
  id = dew_variant_add (scene.chamber, scene.variant, &plant)->id;
  g_assert_true (dew_sheet_thing_rect (&scene.sheet, &scene.layout, id, DEW_VIEW_FRONT, &r));
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, r.x + r.width / 2,
                                r.y + r.height + 0.05 * scene.layout.scale_px_m, &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_BODY);
  g_assert_cmpuint (hit.thing_id, ==, id);
  scene_clear (&scene);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paint/pointer/hit-things", test_hit_things);
  g_test_add_func ("/paint/pointer/hit-parts", test_hit_parts);
  g_test_add_func ("/paint/pointer/zip-is-a-seam", test_zip_is_a_seam);
  g_test_add_func ("/paint/pointer/hit-pot-of-plant", test_hit_pot_of_plant);
  return g_test_run ();
}
