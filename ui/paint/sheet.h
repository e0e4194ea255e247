/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The measured drawing: front, side and plan of one enclosure at one scale,
 * with the forecast coloured under the ink. Draws with Cairo on whatever
 * surface it is given (screen, PDF, PNG), so they cannot disagree. Knows no
 * widget.
 *
 * A frame: fill a DewSheet, dew_sheet_layout(), dew_sheet_paint(). Pointer:
 * dew_sheet_hit() says what lies under it and dew_hit_grip() what can be dragged there;
 * what that means for the document is in edit/gesture.h.
 *
 * View coordinates are two lengths in metres: (x, z) in the front view, (y, z)
 * in the side view, (x, y) in the plan. The side view is seen from the right:
 * the front of the enclosure is on its left.
 */

#include <cairo.h>

#include "edit/gesture.h"
#include "forecast/forecast.h"
#include "forecast/verdict.h"
#include "document/merit.h"
#include "paint/palette.h"
#include "paint/streaks.h"

G_BEGIN_DECLS

/* Where the pointer asks what the air is: a point of a view. What is told holds,
 * as the colours do, along the whole line of sight. */
typedef struct
{
  DewView view;
  double at_m[2]; /* view coordinates */
  int bay;        /* whose plan, of a row of plans; else -1 */
} DewProbe;

/* What is to be drawn. Everything is lent; dew_sheet_init() sets the rest. */
typedef struct
{
  const DewChamber *chamber;
  const DewVariant *variant;
  const DewForecast *forecast; /* NULL: drawn without colour */
  const char *cannot;          /* why there is no forecast, or NULL: 'the fan is outside ...' */
  DewValue coloured;
  DewRange range;         /* of the colours; lo >= hi: chosen, and widened by the forecast */
  DewRange chosen;        /* it before it was widened, marked on it; lo >= hi: nothing to mark */
  gboolean fixed_scale;   /* the whole useful range instead of `range` */
  guint selected_id;      /* the one with handles; 0 = none */
  const guint *selection; /* all that are selected, selected_id included; may be NULL */
  guint n_selection;
  guint hover_id;
  int hover_bay;            /* bay label under the pointer, or -1 */
  int plan_bay;             /* bay whose plan is chosen */
  gboolean plan_large;      /* that one is enlarged over its row */
  gboolean side_instead;    /* the side view in place of the plans, where both have no room */
  int highlighted_finding;  /* index, or -1 */
  gboolean following;       /* the numbers lag: they are open, flags without fill */
  gboolean draft;           /* and the field is coarse or of something else: hatched */
  guint amiss_id;           /* the thing that is in the way of a forecast, marked; 0: none */
  const DewClimate *before; /* of each bay as it was before the last change; NULL: not shown */
  int n_before;
  const DewStreaks *streaks; /* NULL: still, short line segments */
  double device_scale;       /* px of the screen in a px, for the streaks; 0: 1 */
  const DewGuides *guides;   /* NULL: none */
  const DewProbe *probe;     /* NULL: none */
  const DewMeritMap *merit;  /* NULL: none; else shown in place of the colours */
  const DewPalette *palette;
  double text_scale;       /* 1 = 10.5 pt at 96 dpi */
  const char *font_family; /* NULL: Sans */
  DewTongue tongue;        /* of its numbers */
  gboolean on_paper;       /* nothing can be clicked: no hints, finer pictures */
  double exact_px_m;       /* scale of a drawing to scale, px per metre; 0: what fits */
  double zoom;             /* 1 = all of it fits; times that */
  double pan_px[2];        /* how far the zoomed drawing is shifted right and down */
} DewSheet;

/* Light palette, humidity, nothing selected. */
void dew_sheet_init (DewSheet *sheet, const DewChamber *chamber, const DewVariant *variant);

typedef struct
{
  double x, y, width, height; /* px */
} DewRect;

#define DEW_MAX_PLANS 16

/* Where things are; px. A view that is folded away has shown[view] FALSE. */
typedef struct
{
  double width, height;
  double scale_px_m;     /* of front and side view; of the plan too, unless every bay has one */
  double fit_scale_px_m; /* the same at zoom 1 */
  double inner_m[3];
  gboolean shown[DEW_N_VIEWS];
  gboolean plan_below;         /* under the front view, else right of the side view */
  DewRect view[DEW_N_VIEWS];   /* inner clear rectangle */
  DewRect legend;              /* at the foot */
  double plan_lo_m, plan_hi_m; /* heights that the chosen plan looks at */
  /* Every bay is a row: the plans beside the front view, all to one scale. view[DEW_VIEW_PLAN]
   * is that of the chosen bay, or lies over them where it is enlarged. */
  int n_plans;                 /* 0: only the chosen one is shown, if any */
  DewRect plan[DEW_MAX_PLANS]; /* of each bay, lowest first */
  double plan_z_m[DEW_MAX_PLANS][2];
  double plan_scale_px_m;
  gboolean plan_large;
  gboolean can_switch; /* plans and side view take turns */
} DewSheetLayout;

void dew_sheet_layout (const DewSheet *sheet, double width, double height, DewSheetLayout *layout);

/* A metre in px where a drawing is as large as life: CSS px, 96 to the inch. */
#define DEW_LIFE_SIZE_PX_M (96 / 0.0254)

/* The largest zoom: as large as life. */
double dew_layout_most_zoom (const DewSheetLayout *layout);
/* Changes zoom and pan_px of a sheet of that size so that what is at (x, y) px
 * stays there; the zoom is kept between 1 and the largest. */
void dew_sheet_zoom (DewSheet *sheet, double width, double height, double zoom, double x, double y);
/* Shifts the zoomed drawing; it stays in sight. */
void dew_sheet_pan (DewSheet *sheet, double width, double height, double dx_px, double dy_px);

/* The bay whose plan in the row of plans holds the point; -1 where none does. */
int dew_layout_plan_at (const DewSheetLayout *layout, double x, double y);
/* Whether the plan of a bay is in sight, not under an enlarged one. */
gboolean dew_layout_shows_plan (const DewSheetLayout *layout, int bay);
/* Makes the plan of a bay the one that points of the plan view belong to. Does nothing
 * where there is only one. */
void dew_layout_choose_plan (DewSheetLayout *layout, int bay);

/* px per metre in a view. */
double dew_layout_view_scale (const DewSheetLayout *layout, DewView view);

/* The view whose rectangle (or its near surroundings) holds the point; FALSE
 * when none does. */
gboolean dew_layout_view_at (const DewSheetLayout *layout, double x, double y, DewView *view);
/* out_m: [2], view coordinates; may lie outside the enclosure. FALSE when the
 * view is folded away. */
gboolean dew_layout_to_world (const DewSheetLayout *layout, DewView view, double x, double y,
                              double out_m[2]);
/* at_m: [3]; out_px: [2]. FALSE when the view is folded away. */
gboolean dew_layout_to_screen (const DewSheetLayout *layout, DewView view, const double at_m[3],
                               double out_px[2]);
/* Where a thing is on the sheet, in px, for its child widget. FALSE when it
 * is not in that view (in the plan: not in its bay). */
gboolean dew_sheet_thing_rect (const DewSheet *sheet, const DewSheetLayout *layout, guint thing_id,
                               DewView view, DewRect *out);

/* --- painting ---------------------------------------------------------- */

/* Layers from the bottom. GROUND and FIELD are worth keeping in an opaque
 * surface, INK in a transparent one; AIR changes with every frame. */
typedef enum
{
  DEW_LAYER_GROUND = 1 << 0, /* paper */
  DEW_LAYER_FIELD = 1 << 1,  /* colours of the value, veil of mist */
  DEW_LAYER_AIR = 1 << 2,    /* streaks or segments */
  DEW_LAYER_INK = 1 << 3,    /* isolines, drawing, dimensions, labels, flags, legend */
  DEW_LAYER_PROBE = 1 << 4,  /* what the probe finds; cheap, changes with the pointer */
  DEW_LAYER_ALL = 0x1f
} DewLayers;

void dew_sheet_paint (cairo_t *cr, const DewSheet *sheet, const DewSheetLayout *layout);
void dew_sheet_paint_layers (cairo_t *cr, const DewSheet *sheet, const DewSheetLayout *layout,
                             DewLayers layers);

/* px that the layer of the probe covers: its words, always on the sheet and never
 * under the pointer, and the small cross at the point. FALSE when it has nothing to
 * say (no probe, no forecast, a point outside). */
gboolean dew_sheet_probe_rect (const DewSheet *sheet, const DewSheetLayout *layout, DewRect *out);
/* The same as text, a line each, for who listens; NULL when it has nothing to say.
 * Newly allocated. */
char *dew_sheet_probe_text (const DewSheet *sheet, const DewSheetLayout *layout);

/* A small drawing of a kind of thing, for the tray; fits width x height px. */
void dew_paint_kind (cairo_t *cr, DewThingKind kind, const DewPalette *palette, double width,
                     double height);

/* The front view by itself, without forecast or dimensions: its floor at
 * floor_px, its middle at middle_px. For standing in a row with others. */
void dew_paint_front (cairo_t *cr, const DewChamber *chamber, const DewPalette *palette,
                      double scale_px_m, double middle_px, double floor_px);

/* The mark of a verdict, for lists as for the plan: `half` its half size, px. */
void dew_paint_verdict (cairo_t *cr, const DewPalette *palette, DewVerdict verdict, double x,
                        double y, double half);

/* --- pointer ----------------------------------------------------------- */

typedef enum
{
  DEW_PART_NONE,
  DEW_PART_BODY,      /* of a thing */
  DEW_PART_LO,        /* handle of its lower edge along `axis` */
  DEW_PART_HI,        /* handle of its upper edge along `axis` */
  DEW_PART_AIM,       /* tip of the arrow of a fan or humidifier */
  DEW_PART_LIFT,      /* free edge of a flap: how far it stands open */
  DEW_PART_WALL,      /* far side of the enclosure along `axis` */
  DEW_PART_DIMENSION, /* a number that can be typed over */
  DEW_PART_FLAG,      /* finding `index` */
  DEW_PART_LEGEND,    /* scale of the colours */
  DEW_PART_BAY,       /* label or empty air of bay `index` */
  DEW_PART_SWITCH     /* takes the side view for the plans, or back */
} DewPart;

typedef struct
{
  DewPart part;
  DewView view;
  guint thing_id; /* 0 = the enclosure */
  int axis;       /* 0 x, 1 y, 2 z */
  int index;      /* bay or finding; bay of a height dimension, -1 = overall */
  DewRect rect;   /* of the part, px; where an entry goes for a dimension */
} DewHit;

/* What lies at (x, y) px; handles only of the selected thing. FALSE: nothing. */
gboolean dew_sheet_hit (const DewSheet *sheet, const DewSheetLayout *layout, double x, double y,
                        DewHit *hit);
/* What is held by a press there; FALSE when it cannot be dragged. */
gboolean dew_hit_grip (const DewHit *hit, DewGrip *grip);

/* The handles that a thing has in a view while it is selected. */
typedef struct
{
  DewPart part;
  int axis;
  double at_px[2];
} DewHandle;

#define DEW_MAX_HANDLES 8
guint dew_sheet_handles (const DewSheet *sheet, const DewSheetLayout *layout, DewView view,
                         const DewThing *thing, DewHandle handles[DEW_MAX_HANDLES]);

/* All bays, flags and dimensions as they can be hit, for what reaches them without
 * a pointer: DewHit, free with g_array_unref(). A bay without a label has the
 * rectangle of its air in the front view. */
GArray *dew_sheet_spots (const DewSheet *sheet, const DewSheetLayout *layout);

G_END_DECLS
