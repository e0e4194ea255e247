/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "canvas/canvas.h"

G_BEGIN_DECLS

struct _DewCanvas
{
  GtkWidget parent_instance;

  DewDocument *document;

  /* The picture: two kept layers with the moving air between them. */
  DewSheetLayout layout;
  DewRange       range[DEW_N_VALUES];
  gboolean       range_stale[DEW_N_VALUES]; /* the forecast is newer */
  GskRenderNode *ground; /* NULL: to be painted anew */
  GskRenderNode *ink;
  DewStreaks    *streaks;
  guint          tick;
  gint64         frame_us; /* time of the last step of the streaks */
  gboolean       still;

  /* The pointer. */
  GtkGesture *drag;
  guint       hover_id;
  int         hover_bay;
  double      pointer_x, pointer_y;
  DewHit      hit;       /* what the press was on */
  double      from_m[2]; /* where, in its view */
  DewChamber *origin;    /* the document as the drag began; NULL: no drag */
  gboolean    moving;    /* past the threshold */
  gboolean    carrying;  /* a new thing from the tray */
  gboolean    carried_in; /* it is on the sheet at the moment */
  DewGuides   guides;

  /* A number of the sheet that is being typed over. */
  GtkWidget *entry;
  DewHit     entry_hit;
};

/* picture.c */
gboolean dew_canvas_has_picture (DewCanvas *self);
void dew_canvas_describe (DewCanvas *self, DewSheet *sheet);
void dew_canvas_redraw   (DewCanvas *self, gboolean field_too);
void dew_canvas_draw     (DewCanvas *self, GtkSnapshot *snapshot);
/* Starts streaks if they are wanted; they end by themselves. */
void dew_canvas_update_streaks (DewCanvas *self);

/* pointer.c */
void dew_canvas_init_pointer (DewCanvas *self);
void dew_canvas_end_entry    (DewCanvas *self, gboolean keep);

G_END_DECLS
