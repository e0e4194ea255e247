/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "canvas/canvas.h"
#include "document/edit.h"

G_BEGIN_DECLS

/* How far the pull of edges and shelves reaches. */
#define DEW_SNAP_PX 9.0

/* What a press on the canvas has become. */
typedef enum
{
  DEW_PRESS_NONE,
  DEW_PRESS_THING, /* may become a drag of `hit` */
  DEW_PRESS_AIR,   /* may become a frame round several things */
  DEW_PRESS_PAN    /* shifts the drawing */
} DewPress;

struct _DewCanvas
{
  GtkWidget parent_instance;

  DewDocument *document;

  /* The picture: two kept layers with the moving air between them. */
  DewSheetLayout layout;
  DewRange range[DEW_N_VALUES];       /* of the colours: chosen once for the document */
  DewRange chosen[DEW_N_VALUES];      /* before it was widened */
  char *coloured_path;                /* the document that they were chosen for */
  gboolean range_stale[DEW_N_VALUES]; /* the forecast is newer */
  DewClimate *settled;                /* of each bay, of the newest forecast that had settled */
  int n_settled;
  DewClimate *before; /* the one before it, shown beside it for a moment; or NULL */
  guint before_source;
  GskRenderNode *ground; /* NULL: to be painted anew */
  GskRenderNode *ink;
  DewStreaks *streaks;
  guint tick;
  gint64 frame_us; /* time of the last step of the streaks */
  gboolean still;
  gboolean fixed_scale; /* of the colours */
  gboolean plan_large;  /* the chosen plan is enlarged */
  gboolean side_instead;

  /* Looking closely. */
  double zoom; /* 1: all of it fits */
  double pan_px[2];
  double zoom_began; /* as the fingers touched */
  GtkWidget *scale;  /* the word that tells the scale, and fits the sheet */
  guint scale_source;

  /* The pointer. */
  GtkGesture *drag;
  guint hover_id;
  int hover_bay;
  double pointer_x, pointer_y;
  DewProbe probe;
  gboolean probing;
  guint probe_source;
  DewPress press;
  DewHit hit;       /* what the press was on */
  DewGrip grip;     /* and what it holds, of a drag */
  gboolean adding;  /* with Shift or Control */
  double from_m[2]; /* where, in its view */
  int plan;         /* the press is in the plan of this bay of a row; else -1 */
  double pan_from_px[2];
  gboolean space_down;
  gboolean space_used; /* for a drag, so it selects nothing */
  DewRect frame;       /* round several things, px */
  GArray *framed;      /* guint, their ids; NULL: no frame is drawn */
  DewEdit *edit;       /* what is dragged or carried; NULL: nothing is on its way */
  gboolean moving;     /* past the threshold */
  gboolean carrying;   /* a new thing from the tray */
  DewGuides guides;

  /* The keyboard walks on without selecting. */
  gboolean walking;

  /* A number of the sheet that is being typed over, and why it cannot be. */
  GtkWidget *entry;
  GtkWidget *entry_reason;
  DewHit entry_hit;

  GtkWidget *menu;
  GCancellable *pasting;
};

/* children.c */
/* The widget of a thing; NULL when there is none. */
GtkWidget *dew_canvas_item (DewCanvas *self, guint id);
/* A widget for each thing, bay and finding, in reading order. */
void dew_canvas_sync_children (DewCanvas *self);
/* What assistive tools hear of them. */
void dew_canvas_update_words (DewCanvas *self);
void dew_canvas_update_spots (DewCanvas *self);
gboolean dew_canvas_focus (GtkWidget *widget, GtkDirectionType direction);

/* canvas.c */
/* The layout is computed anew: something about where things are has changed. */
void dew_canvas_relayout (DewCanvas *self);

/* picture.c */
gboolean dew_canvas_has_picture (DewCanvas *self);
void dew_canvas_describe (DewCanvas *self, DewSheet *sheet);
/* Keeps the numbers of a forecast that has settled, and shows those before for a moment. */
void dew_canvas_remember_numbers (DewCanvas *self);
/* The colours are chosen anew: another document, or other units. */
void dew_canvas_forget_ranges (DewCanvas *self);
void dew_canvas_redraw (DewCanvas *self, gboolean field_too);
void dew_canvas_draw (DewCanvas *self, GtkSnapshot *snapshot);
/* Starts streaks if they are wanted; they end by themselves. */
void dew_canvas_update_streaks (DewCanvas *self);

/* hover.c */
void dew_canvas_init_hover (DewCanvas *self);
gboolean dew_canvas_hit_at (DewCanvas *self, double x, double y, DewHit *hit);
void dew_canvas_end_probe (DewCanvas *self);

/* plans.c */
void dew_canvas_install_plans (GtkWidgetClass *widget_class);
/* The plan of a bay over its row, or back into it. */
void dew_canvas_enlarge_plan (DewCanvas *self, gboolean large);
void dew_canvas_switch_side (DewCanvas *self, gboolean side);
/* The layout as a press in a row of plans sees it: its points belong to the plan of `bay`
 * (-1: the chosen one). */
void dew_canvas_layout_of (DewCanvas *self, int bay, DewSheetLayout *layout);

/* pointer.c */
void dew_canvas_init_pointer (DewCanvas *self);
/* Ends whatever the pointer is at; what was not committed is put back. */
void dew_canvas_end_drag (DewCanvas *self);
/* Whether the pointer holds a thing: pressed on, dragged or carried in. */
gboolean dew_canvas_holds (DewCanvas *self);
/* What a click on a part does. */
void dew_canvas_click (DewCanvas *self, const DewHit *hit);

/* dimension.c */
void dew_canvas_begin_entry (DewCanvas *self, const DewHit *hit);
void dew_canvas_end_entry (DewCanvas *self, gboolean keep);
/* Puts the open entry and its reason where they belong. */
void dew_canvas_place_entry (DewCanvas *self);

/* zoom.c */
void dew_canvas_init_zoom (DewCanvas *self);
void dew_canvas_install_zoom (GtkWidgetClass *widget_class);
void dew_canvas_pan (DewCanvas *self, double dx_px, double dy_px);
/* Writes the scale where it is shown and puts it there. */
void dew_canvas_place_scale (DewCanvas *self);

/* actions.c */
void dew_canvas_install_actions (GtkWidgetClass *widget_class);
/* What can be done with the present selection can be done, the rest not. */
void dew_canvas_update_actions (DewCanvas *self);
/* Words for the step that moved `thing`, one of n; newly allocated. */
char *dew_canvas_label_move (const DewThing *thing, guint n);

/* clipboard.c */
void dew_canvas_copy (DewCanvas *self);
void dew_canvas_paste (DewCanvas *self);
void dew_canvas_duplicate (DewCanvas *self);

/* menu.c */
void dew_canvas_install_menu (GtkWidgetClass *widget_class);
void dew_canvas_init_menu (DewCanvas *self);

G_END_DECLS
