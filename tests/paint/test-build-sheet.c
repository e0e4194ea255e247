/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pages for who builds it. What is measured on the page must be what the document says:
 * somebody cuts film after it. */
#include "sheets/export.h"

#include "say/cuts.h"
#include "say/supplies.h"

#include <math.h>
#include <string.h>

#define PX_MM 12.0

/* An empty enclosure of 0.6 x 0.4 x 1.2 m inside and out. */
static DewChamber *
plain_new (void)
{
  DewChamber *chamber = dew_chamber_new ();

  chamber->outer_m[0] = 0.6;
  chamber->outer_m[1] = 0.4;
  chamber->outer_m[2] = 1.2;
  return chamber;
}

static DewThing *
add (DewChamber *chamber, DewThingKind kind)
{
  DewThing thing;

  dew_thing_init (&thing, kind);
  return dew_variant_add (chamber, dew_chamber_shown (chamber), &thing);
}

static DewThing *
add_hole (DewChamber *chamber, DewFace face, double u0, double u1, double v0, double v1)
{
  DewThing *thing = add (chamber, DEW_THING_OPENING);

  thing->opening.face = face;
  thing->opening.kind = DEW_OPENING_FLAP;
  thing->opening.u0_m = u0;
  thing->opening.u1_m = u1;
  thing->opening.v0_m = v0;
  thing->opening.v1_m = v1;
  return thing;
}

/* --- what is measured on the page ------------------------------------------------- */

/* The page, white where nothing is painted. */
static cairo_surface_t *
paint (const DewPrintout *printout, int number)
{
  cairo_surface_t *surface
    = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) (printout->page_mm[0] * PX_MM),
                                  (int) (printout->page_mm[1] * PX_MM));
  cairo_t *cr = cairo_create (surface);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, PX_MM, PX_MM);
  dew_printout_paint (printout, number, cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static gboolean
is_ink (cairo_surface_t *surface, int x, int y)
{
  const guchar *px
    = cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface) + x * 4;

  return px[0] < 60 && px[1] < 60 && px[2] < 60;
}

/* Middles of the dark strokes along a row (or column) from begin to `end`: mm. Returns how
 * many. */
static int
strokes (cairo_surface_t *surface, gboolean across, int at, int begin, int end, double out_mm[],
         int most)
{
  int n = 0, first = -1;

  for (int i = begin; i < end; i++)
    {
      gboolean ink = across ? is_ink (surface, i, at) : is_ink (surface, at, i);

      if (ink && first < 0)
        first = i;
      if (!ink && first >= 0)
        {
          if (n == most)
            return most + 1;
          out_mm[n++] = (first + i - 1) / 2.0 / PX_MM;
          first = -1;
        }
    }
  return n;
}

/* Looks along all rows of the left half (or down its columns) for those that cross the side
 * and one hole, and nothing else, and checks the lengths from the edge and through the
 * hole. */
static void
check_measured (cairo_surface_t *surface, gboolean across, const double expected_mm[3])
{
  int width = cairo_image_surface_get_width (surface) / 2;
  int height = cairo_image_surface_get_height (surface);
  /* Below the headings, above the foot. */
  int top = (int) (0.113 * height), bottom = (int) (0.85 * height), seen = 0;

  for (int at = across ? top : 0; at < (across ? bottom : width); at++)
    {
      double mm[4];

      if (strokes (surface, across, at, across ? 0 : top, across ? width : bottom, mm, 4) != 4)
        continue;
      /* Lettering has strokes too, but none as far apart as a side is wide. */
      if (fabs (mm[3] - mm[0] - (expected_mm[0] + expected_mm[1] + expected_mm[2])) > 0.3)
        continue;
      seen++;
      for (int i = 0; i < 3; i++)
        g_assert_cmpfloat_with_epsilon (mm[i + 1] - mm[i], expected_mm[i], 0.2);
    }
  g_assert_cmpint (seen, >, 20);
}

/* A hole 14.5 cm from the left edge and 31 cm above the floor of the front, 20 cm wide and
 * 26 cm high: both distances and both sizes stand on the page to scale. From behind and from
 * the left one sees them the other way round. */
static void
test_measured (void)
{
  static const struct
  {
    DewFace face;
    double wide_m;
    gboolean mirrored;
  } rows[] = { { DEW_FACE_FRONT, 0.6, FALSE },
               { DEW_FACE_BACK, 0.6, TRUE },
               { DEW_FACE_RIGHT, 0.4, FALSE },
               { DEW_FACE_LEFT, 0.4, TRUE } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (DewChamber) chamber = plain_new ();
      g_auto (DewPrintout) printout = { 0 };
      cairo_surface_t *surface;
      double inner_m[3], scale = 10, mm;
      double across[3], up[3];

      add_hole (chamber, rows[i].face, 0.145, 0.345, 0.31, 0.57);
      dew_chamber_inner_m (chamber, inner_m);
      dew_printout_init (&printout, chamber, dew_chamber_shown (chamber), NULL);
      printout.pages = DEW_PAGES_BUILD;
      surface = paint (&printout, 1);
      mm = 1000 / scale;
      across[0] = 0.145 * mm;
      across[1] = 0.2 * mm;
      across[2] = (inner_m[rows[i].wide_m > 0.5 ? 0 : 1] - 0.345) * mm;
      if (rows[i].mirrored)
        {
          double left = across[0];

          across[0] = across[2];
          across[2] = left;
        }
      up[0] = (inner_m[2] - 0.57) * mm;
      up[1] = 0.26 * mm;
      up[2] = 0.31 * mm;
      check_measured (surface, TRUE, across);
      check_measured (surface, FALSE, up);
      cairo_surface_destroy (surface);
    }
}

/* A template is as large as the hole: a round one of 9.2 cm for a fan of that diameter. */
static void
test_template (void)
{
  g_autoptr (DewChamber) chamber = plain_new ();
  DewThing *thing = add (chamber, DEW_THING_FAN);
  g_auto (DewPrintout) printout = { 0 };
  cairo_surface_t *surface;
  int width, height, widest = 0;

  thing->fan.mount = DEW_FAN_IN_WALL;
  thing->fan.face = DEW_FACE_BACK;
  thing->fan.x_m = 0.2;
  thing->fan.y_m = 0.4;
  thing->fan.z_m = 0.9;
  thing->fan.diameter_m = 0.092;
  dew_printout_init (&printout, chamber, dew_chamber_shown (chamber), NULL);
  printout.pages = DEW_PAGES_BUILD;
  surface = paint (&printout, 2);
  width = cairo_image_surface_get_width (surface);
  height = cairo_image_surface_get_height (surface);
  /* Rows through the round one cross it twice, farthest apart in its middle. */
  for (int y = height / 10; y < height / 2; y++)
    {
      double mm[2];

      if (strokes (surface, TRUE, y, 0, width * 6 / 10, mm, 2) == 2)
        widest = MAX (widest, (int) round ((mm[1] - mm[0]) * 100));
    }
  g_assert_cmpint (ABS (widest - 9200), <, 30);
  cairo_surface_destroy (surface);
}

/* --- words ------------------------------------------------------------------------ */

static void
test_words (void)
{
  g_autoptr (DewChamber) chamber = plain_new ();
  DewVariant *variant;
  g_autoptr (GArray) cuts = NULL;
  g_autofree char *size = NULL, *place = NULL, *inches = NULL, *roof = NULL, *last = NULL;

  add_hole (chamber, DEW_FACE_ROOF, 0.1, 0.2, 0.05, 0.15);
  add_hole (chamber, DEW_FACE_LEFT, 0.123, 0.223, 0.3, 0.34);
  variant = dew_chamber_shown (chamber);
  cuts = dew_variant_cuts (variant);
  g_assert_cmpuint (cuts->len, ==, 2);
  size = dew_cut_size_words (&g_array_index (cuts, DewCut, 0), DEW_TONGUE_METRIC);
  place = dew_cut_place_words (&g_array_index (cuts, DewCut, 0), DEW_TONGUE_METRIC);
  g_assert_cmpstr (size, ==, "Flap, 10 cm wide, 4 cm high");
  g_assert_cmpstr (place, ==, "12.3 cm from the front edge, 30 cm above the floor");
  /* 12.3 cm are 4.843 in, 4 and 13.5 sixteenths; 30 cm are 11.811 in. */
  inches = dew_cut_place_words (&g_array_index (cuts, DewCut, 0), DEW_TONGUE_IMPERIAL);
  g_assert_cmpstr (inches, ==, "4 13/16 in from the front edge, 11 13/16 in above the floor");
  roof = dew_cut_place_words (&g_array_index (cuts, DewCut, 1), DEW_TONGUE_METRIC);
  g_assert_cmpstr (roof, ==, "10 cm from the left edge, 5 cm from the front edge");
  last = dew_cut_letter (27);
  g_assert_cmpstr (last, ==, "B2");
}

static void
test_ruler (void)
{
  static const struct
  {
    double m;
    const char *metric, *imperial;
  } rows[] = { { 0.0254, "2.5 cm", "1 in" },
               { 0.00635, "0.6 cm", "1/4 in" },
               { 0.3, "30 cm", "11 13/16 in" },
               { 0.0143, "1.4 cm", "9/16 in" },
               { 0.0502, "5 cm", "2 in" } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *metric = dew_ruler_text (rows[i].m, DEW_TONGUE_METRIC);
      g_autofree char *imperial = dew_ruler_text (rows[i].m, DEW_TONGUE_IMPERIAL);

      g_assert_cmpstr (metric, ==, rows[i].metric);
      g_assert_cmpstr (imperial, ==, rows[i].imperial);
    }
}

/* --- parts ------------------------------------------------------------------------ */

static const DewSupply *
find (const GPtrArray *list, const char *part_of_words)
{
  for (guint i = 0; i < list->len; i++)
    if (strstr (((const DewSupply *) list->pdata[i])->words, part_of_words) != NULL)
      return list->pdata[i];
  return NULL;
}

/* By hand: the six sides of 0.6 x 0.4 x 1.2 m are 2 (0.24 + 0.72 + 0.48) = 2.88 m2, a tenth more
 * for seams (common practice, no source). A fan 0.1 m from the left, 0.15 m from the back and
 * 0.5 m up needs 0.1 + 0.15 + 0.5 m of cable and 0.3 m for the loop: 1.05 m, in decimetres
 * 1.1 m. */
static void
test_supplies (void)
{
  g_autoptr (DewChamber) chamber = plain_new ();
  g_autoptr (GPtrArray) list = NULL;
  DewThing *thing;
  double film_m2 = 0, inner_m[3];

  for (int i = 0; i < 2; i++)
    add_hole (chamber, DEW_FACE_FRONT, 0.1, 0.3, 0.1 + 0.3 * i, 0.2 + 0.3 * i)->opening.kind
      = DEW_OPENING_MESH;
  dew_chamber_inner_m (chamber, inner_m);
  thing = add (chamber, DEW_THING_FAN);
  thing->fan.mount = DEW_FAN_FREE;
  thing->fan.x_m = 0.1;
  thing->fan.y_m = inner_m[1] - 0.15;
  thing->fan.z_m = 0.5;
  thing->fan.low_voltage = TRUE;
  g_assert_cmpfloat_with_epsilon (dew_cable_length_m (chamber, thing), 1.1, 1e-9);
  list = dew_supplies (chamber, dew_chamber_shown (chamber), DEW_TONGUE_METRIC);
  for (guint i = 0; i < list->len; i++)
    {
      const DewSupply *supply = list->pdata[i];

      if (strstr (supply->words, "seams") != NULL)
        film_m2 += supply->amount;
    }
  g_assert_cmpfloat_with_epsilon (film_m2, 1.1 * 2.88, 1e-9);
  g_assert_cmpstr (find (list, "mesh, 24 cm × 14 cm")->amount_text, ==, "2 ×");
  g_assert_nonnull (strstr (find (list, "fan, ")->words, "5 to 24 V"));
  g_assert_cmpstr (find (list, "cable for 5 to 24 V")->amount_text, ==, "1.1 m");
  g_assert_nonnull (find (list, "residual-current"));
  g_assert_nonnull (find (list, "against tipping"));
}

/* --- pages -------------------------------------------------------------------------- */

/* Nothing of a list is lost where pages turn: the demo's pages on both papers. */
static void
test_pages (void)
{
  for (DewPaper paper = DEW_PAPER_A4; paper <= DEW_PAPER_LETTER; paper++)
    {
      g_autoptr (DewChamber) demo = dew_chamber_demo ();
      g_auto (DewPrintout) printout = { 0 };
      int bare;

      dew_printout_init (&printout, demo, dew_chamber_shown (demo), NULL);
      dew_printout_fit (&printout, paper);
      bare = dew_printout_pages (&printout);
      g_assert_cmpint (bare, ==, 1);
      printout.pages = DEW_PAGES_BUILD;
      g_assert_cmpint (dew_printout_pages (&printout), >=, 6);
      printout.pages = DEW_PAGES_DRAWING;
      g_assert_cmpint (dew_printout_pages (&printout), ==, 1);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paint/build-sheet/measured", test_measured);
  g_test_add_func ("/paint/build-sheet/template", test_template);
  g_test_add_func ("/paint/build-sheet/words", test_words);
  g_test_add_func ("/paint/build-sheet/ruler", test_ruler);
  g_test_add_func ("/paint/build-sheet/supplies", test_supplies);
  g_test_add_func ("/paint/build-sheet/pages", test_pages);
  return g_test_run ();
}
