/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Which plant stands where: the plants that stand in a variant and those on the document's
 * list of wishes are assigned to places, as many as have a decent place, each where it fits
 * best, as a mixed-integer optimum. To leave everything as it stands is always one of the answers,
 * with its own value.
 *
 * Spots. A bay is cut into equal *spots*: first the quarters of the forecast's places (about
 * 15 cm), which leaves room between plants; and where plants contend for places, a grid that is
 * chosen for their own sizes, so that as little as can be is rounded away. A plant that comes or
 * moves takes a block of spots as wide as its crown, less a tenth that may mingle with its
 * neighbours' leaves. A plant that stays keeps its exact footprint, less that tenth: it may touch
 * whatever else stands there already (pots, devices, plants that stay or keep their places), and
 * only what comes anew keeps off it. Either has the mean air of the forecast's places that it
 * reaches over, by area, and the worst mist and drip of them. Plants that are alike (kind, size,
 * pot, state) form a *group*, which is solved as one.
 *
 * The problem, to be solved again by whoever likes (`dewtier assign --json` holds all of it):
 *
 *   x[g,s] = 1 when a plant of group g has its block with left front spot s; y[p] = 1 when
 *   standing plant p stays exactly where it is;
 *   maximise   sum value[g,s] x[g,s] + sum value[p] y[p]
 *   per group  sum_s x[g,s] + sum_{p of g} y[p] <= its count
 *   per spot   what x covers it <= 1 (0 where something stands for good or a kept plant), and with
 *              each stay that touches it: what x covers it + y[p] <= 1
 *   per shelf  sum of masses <= 60 % of its rating, less what stands there for good; but at least
 *              what the plants that may stay weigh now
 *   arrived plants come to stand in the lowest K bays and no others do; K = 0, 1, 2 ... as is best;
 *   a plant that stays against that costs 5000
 *
 *   value = priority + weight * score (+ moving for staying): priority 20000 for a plant that
 *   stands in the variant, 1000 for a wish; weight 2 for a weak plant, else 1; score of
 *   fit.h; moving 100, so that a plant is moved only when that is worth a tenth of all it can
 *   want (20 for one that suffers where it is). As the sum of moves obeys the triangle inequality,
 * an arrangement that was taken is then the best when asked again on the same air: everything
 * stays. The answer with moving 20, the step of the scores, is beside it (all_moves) where it
 * differs. A standing plant may, at 5000 less, be given a place whose air is out of the question,
 * or stay where it is: it has to stand somewhere. A wish may not.
 *
 * Proven is said of the grid: no arrangement on it is better. Only where every plant has as good a
 * place as there is for it (at_their_best) does that hold for any grid.
 *
 * The air is that of the forecasts handed in. It does change a little with the plants; a
 * forecast of the variant after dew_assign_apply() tells how much.
 *
 * The same input gives the same answer; the order of things and of wishes does not matter to
 * the value and to who is placed.
 */

#include "advice/objective.h"
#include "advice/fit.h"

G_BEGIN_DECLS

#define DEW_ASSIGN_ERROR (dew_assign_error_quark ())
GQuark dew_assign_error_quark (void);
typedef enum
{
  DEW_ASSIGN_ERROR_NO_PLANTS, /* nothing stands here and nothing is wished for */
  DEW_ASSIGN_ERROR_NO_PLACES, /* no bay in which anything could stand */
  DEW_ASSIGN_ERROR_TOO_MANY,  /* more than DEW_ASSIGN_PLANTS_MAX plants */
  DEW_ASSIGN_ERROR_FORECAST   /* the forecasts are not of this variant */
} DewAssignError;

#define DEW_ASSIGN_PLANTS_MAX 2000
#define DEW_ASSIGN_MOVING 100      /* points of a score that a move has to be worth */
#define DEW_ASSIGN_MOVING_LEAST 20 /* finer differences are within the step of scores */

typedef struct
{
  double seconds;            /* most time to spend on the proof; 0: 10 */
  int moving;                /* what a move has to be worth in the first answer; 0: the usual */
  gboolean keep_standing;    /* as if every standing plant were to keep its place */
  DewPlantKindLookup lookup; /* NULL: every kind counts as unknown */
  gpointer lookup_data;
} DewAssignOptions;

/* A bay as far as plants are concerned. */
typedef struct
{
  guint shelf_id;      /* 0: floor */
  double floor_m;      /* what plants stand on: the top of the board */
  double load_left_kg; /* for plants that are assigned; INFINITY: no limit */
  gboolean quarantine; /* only arrived plants here (the lowest K bays) */
} DewAssignBay;

/* A cell of a bay's grid. */
typedef struct
{
  int bay, column, row;
  int place;               /* index in the forecasts' places, of its middle */
  double lo_m[2], hi_m[2]; /* x, y */
  double base_m;           /* height that a pot stands at: board, tray or mat */
  double clear_m;          /* from there to the next thing above */
  gboolean blocked;        /* a device or a wet pot stands here */
  guint blocked_by;        /* its id; of a kept plant too */
} DewAssignSpot;

/* Plants that are alike. */
typedef struct
{
  DewFitPlant plant;
  char species[DEW_NAME_SIZE];
  char name[DEW_NAME_SIZE]; /* of the first of them, for people */
  gboolean standing;        /* in the variant; else wished for */
  int count;                /* without those that keep their place */
  int span[2];              /* spots across and deep */
  int weight, priority;     /* see above */
  /* Per spot as left front corner of the block; [n_spots]. score -1: the block does not lie
   * within the bay. out: mask of demands out of the question; with DEW_ASSIGN_TAKEN when
   * something stands there for good. */
  gint16 *score;
  guint32 *out;
} DewAssignGroup;

#define DEW_ASSIGN_TAKEN (1u << 31)

typedef enum
{
  DEW_ASSIGN_KEPT,    /* keeps its place, as was asked */
  DEW_ASSIGN_PLACED,  /* has a place that it bears */
  DEW_ASSIGN_SUFFERS, /* stands where its climate is out of the question: nothing better is free */
  DEW_ASSIGN_CROWDED, /* some places would do, but others need them more */
  DEW_ASSIGN_NOWHERE  /* no place would do */
} DewAssignVerdict;

/* Why it has that verdict, and what would help: told by say/assign.h. */
typedef enum
{
  DEW_ASSIGN_MARGIN,            /* the tightest margin of its fit; and what that is short of */
  DEW_ASSIGN_OUTSIDE,           /* it stands outside the shelves */
  DEW_ASSIGN_ALL_TAKEN,         /* everything large enough is taken for good */
  DEW_ASSIGN_TOO_WIDE,          /* for any shelf, by short_m */
  DEW_ASSIGN_OTHERS_FIRST,      /* it would do in would_bay, but for others, `instead` if one */
  DEW_ASSIGN_FOR_NEW_ONES,      /* only the shelf that the new plants have to themselves would do */
  DEW_ASSIGN_NOT_DOWN_THERE,    /* new: its fit at the bottom, where it would have to stand apart */
  DEW_ASSIGN_NO_ROOM_DOWN_THERE /* new: nothing free at the bottom */
} DewAssignWhy;

/* One plant. */
typedef struct
{
  guint thing_id; /* of a standing plant; 0: wished for */
  guint wish_id;  /* of a wish; 0: standing */
  int number;     /* which of the wish's plants, from 0 */
  int group;
  char name[DEW_NAME_SIZE];
  DewAssignVerdict verdict;
  gboolean stays; /* stands exactly where it stood */
  int bay;        /* -1: has no place */
  int spot;       /* left front spot of its block; -1: none, or stays between spots */
  double at_m[3]; /* middle of the base of its crown, as in DewPlant */
  int value;      /* in the objective; 0 when it has no place; a kept plant's counts not */
  DewFit fit;     /* where it is; for one without a place: at the nearest one */
  DewAssignWhy why;
  DewFit other;   /* of one without a place: the nearest that lacks something else; out 0: none */
  double short_m; /* of DEW_ASSIGN_TOO_WIDE */
  int would_bay;  /* of DEW_ASSIGN_OTHERS_FIRST */
  int instead;    /* likewise: index of the plant that stands there, -1: none or several */
} DewAssignPlant;

/* Where a standing plant is now, as a choice: it may stay between the spots. */
typedef struct
{
  int plant; /* index */
  int value; /* in the objective; 5000 less where it stands against the new plants' rule */
  int score;
  guint32 out;
  int bay;
  int first[2], span[2]; /* column and row of the spots it touches */
} DewAssignStay;

typedef struct _DewAssignment
{
  int n_bays;
  DewAssignBay *bays;
  int n_spots;
  DewAssignSpot *spots; /* by bay, then row, then column */
  int n_groups;
  DewAssignGroup *groups;
  int n_plants;
  DewAssignPlant *plants; /* standing by id, then wished for by id */
  int n_stays;
  DewAssignStay *stays;
  int spots_across, spots_deep; /* of each bay */

  gboolean proven;            /* no assignment on its grid has a greater value */
  gboolean at_their_best;     /* nor on any: see above */
  double ceiling;             /* every plant where it fits best, whoever stands there */
  double stay_value;          /* of leaving all as it stands, with nothing new */
  int n_moves, n_new;         /* plants that move, and that come in */
  double mean_now, mean_then; /* score of those that stand here; NAN: none */
  DewWants *wants;            /* what all of them share, and contradictions; of the first answer */
  struct _DewAssignment *all_moves;          /* worth more, with more moves; NULL: there is none */
  double value;                              /* of this one */
  double bound;                              /* that no assignment can pass */
  double gap;                                /* (bound - value) / max (1, value) */
  double seconds;                            /* spent */
  int n_placed, n_kept, n_suffer, n_without; /* plants; kept ones may suffer as well */
  int quarantine_bays;                       /* K */
  int quarantine_range[2];                   /* least and most K that kept plants leave open */
  int n_unknown;                             /* plants of no known kind */
  int n_contradictory;                       /* plants whose kind wants a least above its most */
  gboolean new_apart;                        /* new plants have places of their own at the bottom */
  gboolean new_among_others; /* plants that keep their places leave none apart to the new ones */
} DewAssignment;

/* Solves. day and night: forecasts of that variant (settled for an answer to rely on; bands
 * make it say where it is unsure); night may be NULL. variant_id 0: the shown one. NULL with
 * DEW_ASSIGN_ERROR or, cancelled, G_IO_ERROR_CANCELLED. May be called from any thread; GLPK
 * is used by one thread at a time, the rest wait. */
/* Whether the plants of a variant and those wished for are not too many, and any: known
 * before a forecast is made. FALSE with DEW_ASSIGN_ERROR. */
gboolean dew_assign_check_plants (const DewChamber *chamber, const DewVariant *variant,
                                  GError **error);
DewAssignment *dew_assign_new (const DewChamber *chamber, guint variant_id, const DewForecast *day,
                               const DewForecast *night, const DewAssignOptions *options,
                               GCancellable *cancellable, GError **error);
void dew_assign_free (DewAssignment *assignment);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewAssignment, dew_assign_free)

void dew_assign_options_init (DewAssignOptions *options);

/* Moves standing plants and makes plants of the wishes that have a place, each with what the
 * catalogue row of its kind (by `lookup` of the options) says of size; the wishes' counts go
 * down by as many, wishes with none left go. Plants without a place: a standing one goes back
 * to the list of wishes. Only the one variant and the wishes change. FALSE when the document
 * has changed so that the assignment does not belong to it any more. */
gboolean dew_assign_apply (const DewAssignment *assignment, DewChamber *chamber, guint variant_id,
                           GError **error);

/* What coming to a place of that score is worth to a plant of the group; 0: not to be had. */
int dew_assign_value (const DewAssignGroup *group, int score, guint32 out);

G_END_DECLS
