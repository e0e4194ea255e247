/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the parts of the painter share. */

#include "paint/sheet.h"

#include <pango/pangocairo.h>

G_BEGIN_DECLS

/* One painting: where to, what, and how large a metre and a word are. */
typedef struct
{
  cairo_t *cr;
  const DewSheet *sheet;
  const DewSheetLayout *layout;
  const DewPalette *palette;
  double scale; /* px per metre */
  double unit;  /* px of the size that text and lines are based on: text_scale */
} DewPen;

#define DEW_LINE_OUTLINE 1.5
#define DEW_LINE_DETAIL 0.75
#define DEW_LABEL_GAP 34.0 /* from the front view to the bays' values, at text scale 1 */

/* --- text ---------------------------------------------------------------- */

typedef enum
{
  DEW_TEXT_CAPTION, /* names of views, legend */
  DEW_TEXT_NUMBER,  /* dimensions, bands */
  DEW_TEXT_FLAG,
  DEW_TEXT_VALUE, /* the number of a bay */
  DEW_TEXT_MARK   /* numbers of isolines */
} DewTextStyle;

/* For measuring before there is anything to draw on. */
typedef struct
{
  PangoContext *context;
  const char *family;
  double unit;
} DewTextMeter;

void dew_text_meter_init (DewTextMeter *meter, const DewSheet *sheet);
void dew_text_meter_clear (DewTextMeter *meter);
void dew_text_measure (const DewTextMeter *meter, DewTextStyle style, const char *text,
                       double *width, double *height);

/* Draws with the point (x, y) at the share (align_x, align_y) of the text's
 * box: 0, 0 is its upper left corner. */
void dew_pen_text (const DewPen *pen, DewTextStyle style, const DewColour *colour, double alpha,
                   double x, double y, double align_x, double align_y, const char *text);
/* The same, standing: read from the right. */
void dew_pen_text_upright (const DewPen *pen, DewTextStyle style, const DewColour *colour,
                           double alpha, double x, double y, const char *text);
/* From its upper left corner; and the same as an outline only, of what is not sure yet. */
void dew_pen_text_at (const DewPen *pen, DewTextStyle style, const DewColour *colour, double x,
                      double y, const char *text);
void dew_pen_text_open (const DewPen *pen, DewTextStyle style, const DewColour *colour, double x,
                        double y, const char *text);
/* Broken into lines of the width of a box, from its upper left corner; what is too long
 * for its height ends in an ellipsis. */
void dew_pen_paragraph (const DewPen *pen, DewTextStyle style, const DewColour *colour,
                        const DewRect *box, const char *text);

/* --- strokes ------------------------------------------------------------- */

void dew_pen_colour (const DewPen *pen, const DewColour *colour, double alpha);
void dew_pen_line (const DewPen *pen, double x0, double y0, double x1, double y1);
/* Half-pixel positions keep thin straight lines crisp. */
double dew_crisp (double x);
gboolean dew_rects_meet (const DewRect *a, const DewRect *b, double gap);
gboolean dew_rect_holds (const DewRect *rect, double x, double y, double slack);

/* --- views --------------------------------------------------------------- */

/* px of a point given in view coordinates, without asking whether it is shown. */
void dew_pen_point (const DewPen *pen, DewView view, double across_m, double up_m, double *x,
                    double *y);
/* Whether a view shows the thing at all: the plan only shows its own bay. */
gboolean dew_view_shows (const DewSheet *sheet, const DewSheetLayout *layout, DewView view,
                         const DewThing *thing);
/* px box of a thing in a view. */
void dew_view_thing_rect (const DewSheet *sheet, const DewSheetLayout *layout, DewView view,
                          const DewThing *thing, DewRect *out);
/* Where the handle that aims a thing is, m. */
void dew_aim_tip (const DewChamber *chamber, const DewThing *thing, double out[3]);

/* A flap as it is drawn in a view, px: the ends of its hinge, of its free edge,
 * and of where the free edge lies when it is shut. */
typedef struct
{
  double hinge[2][2], edge[2][2], shut[2][2];
} DewFlapShape;

void dew_flap_shape (const DewSheetLayout *layout, DewView view, const DewOpening *opening,
                     DewFlapShape *shape);

/* --- parts of the sheet ---------------------------------------------------- */

/* Where every bay has a plan: a pen for front and side view, and one for the plan of a bay
 * (-1: the chosen or enlarged one) at its own scale. They live as long as `layout` and
 * `sheet`, which are filled. */
void dew_pen_fronts (const DewPen *pen, DewSheetLayout *layout, DewPen *out);
void dew_pen_plan (const DewPen *pen, int bay, DewSheet *sheet, DewSheetLayout *layout,
                   DewPen *out);

/* Whether it draws one of a row of plans, which are too small for words and fine lines. */
gboolean dew_pen_small (const DewPen *pen);

/* --- marks: what surrounds the drawing; laid out once, painted and hit ----- */

typedef enum
{
  DEW_MARK_CAPTION,
  DEW_MARK_PLAN,   /* over a plan of a row: its bay at the left, what is amiss at the right */
  DEW_MARK_SWITCH, /* a caption that can be clicked */
  DEW_MARK_DIMENSION,
  DEW_MARK_BAY,
  DEW_MARK_FLAG,
  DEW_MARK_MEASURE /* a dimension that only tells: depth of a row of places */
} DewMarkKind;

typedef struct
{
  DewMarkKind kind;
  DewView view;
  DewRect rect;          /* px, of the text or flag */
  int axis;              /* of a dimension */
  int index;             /* bay or finding; -1 an overall dimension */
  double from[2], to[2]; /* dimension line, px; of a flag from[] is its anchor */
  gboolean upright;      /* text stands */
  gboolean compact;      /* a bay label in one line */
  char text[96];
  char unit[40];  /* of a bay's value, set smaller */
  char below[64]; /* second line */
  char was[24];   /* the number that was there before, or empty */
  int verdict;    /* DewVerdict, third line; -1: none */
} DewMark;

/* DewMark; free with g_array_unref(). */
GArray *dew_sheet_marks (const DewSheet *sheet, const DewSheetLayout *layout);
/* The flags of a view, after all that they make way for. */
void dew_marks_add_flags (GArray *marks, const DewTextMeter *meter, const DewSheet *sheet,
                          const DewSheetLayout *layout, DewView view);

/* --- places of the plan ---------------------------------------------------- */

typedef struct
{
  int place; /* index into forecast->places */
  DewVerdict verdict;
  DewRect rect;    /* px */
  double at_px[2]; /* of the mark */
} DewPlanPlace;

/* DewPlanPlace of the bay that the plan shows; free with g_array_unref(). */
GArray *dew_sheet_plan_places (const DewSheet *sheet, const DewSheetLayout *layout);

/* How far the stream of a fan reaches in the plan, as a dimension line beside it. */
typedef struct
{
  guint thing_id;
  double reach_m;
  double from[2], to[2]; /* px */
  DewRect words;         /* px */
  char text[24];         /* empty where the line is too short for it */
} DewReach;

/* DewReach; free with g_array_unref(). */
GArray *dew_sheet_reaches (const DewPen *pen);

/* --- parts of the drawing -------------------------------------------------- */

void dew_paint_field (const DewPen *pen);
void dew_paint_air (const DewPen *pen);
void dew_paint_streaks (const DewPen *pen, DewView view);
/* avoid: marks that numbers should not cover. */
void dew_paint_isolines (const DewPen *pen, const GArray *avoid);
void dew_paint_cover (const DewPen *pen, DewView view);
void dew_paint_thing (const DewPen *pen, DewView view, const DewThing *thing);
void dew_paint_opening (const DewPen *pen, DewView view, const DewThing *thing);
void dew_paint_plant (const DewPen *pen, DewView view, const DewThing *thing);
/* Cover and things of one view. */
void dew_paint_view_ink (const DewPen *pen, DewView view);
void dew_paint_handles (const DewPen *pen, DewView view, const DewThing *thing);
void dew_paint_guides (const DewPen *pen);
void dew_paint_marks (const DewPen *pen, const GArray *marks);
void dew_paint_flag (const DewPen *pen, const DewMark *mark);
/* taken: DewRect, places where no words may go. */
void dew_paint_plan_lines (const DewPen *pen, GArray *taken);
void dew_paint_plan_places (const DewPen *pen, const GArray *marks);
void dew_paint_legend (const DewPen *pen);
void dew_paint_probe (const DewPen *pen);
void dew_paint_merit (const DewPen *pen);
void dew_paint_merit_legend (const DewPen *pen);

/* One of those that are selected. */
gboolean dew_sheet_selects (const DewSheet *sheet, guint id);

/* Ink of a thing: the accent when it is selected, a heavier line when the
 * pointer is over it. Sets source and width, and returns the colour. */
const DewColour *dew_pen_ink_for (const DewPen *pen, const DewThing *thing, double width);

/* The range of colours in use: the sheet's own or one from its forecast. */
DewRange dew_sheet_range (const DewSheet *sheet);
/* Whether zones lie beyond an end of the colours. */
void dew_sheet_beyond (const DewSheet *sheet, const DewRange *range, gboolean *below,
                       gboolean *above);

/* The thing that has handles: the selected one when it is the only one. */
const DewThing *dew_sheet_handled (const DewSheet *sheet);

G_END_DECLS
