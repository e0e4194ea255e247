/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The tables of data/ that are compiled in, what they fill in a document, and what
 * is known of kinds of plant. Constant: any thread may ask. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* One of the CSV files of data/. */
typedef struct _DewCatalogue DewCatalogue;

/* name: "covers", "enclosures", "fans", "humidifiers", "lamps", "plants", "pots", "rooms",
 * "shelves", "vents", "thresholds", "sources". Lends; never NULL for these. */
const DewCatalogue *dew_catalogue (const char *name);
/* Those names, and the columns of one, NULL-terminated. Lends. */
const char *const *dew_catalogue_names (void);
const char *const *dew_catalogue_columns (const DewCatalogue *catalogue);
guint dew_catalogue_rows (const DewCatalogue *catalogue);
const char *dew_catalogue_text (const DewCatalogue *catalogue, guint row, const char *column);
/* NAN for an empty cell. */
double dew_catalogue_number (const DewCatalogue *catalogue, guint row, const char *column);
/* Row whose column "name" is `name`, or -1. */
int dew_catalogue_find (const DewCatalogue *catalogue, const char *name);

/* The name of an enclosure, a cover, a room, a climate or a group of plants in the
 * user's language; any other text as it is. Lent as long as `name`. */
const char *dew_catalogue_word (const char *name);

/* Fills the fields of a thing (or a panel, a room) that the row knows. */
void dew_catalogue_apply_thing (const DewCatalogue *catalogue, guint row, DewThing *thing);
void dew_catalogue_apply_panel (guint row, DewPanel *panel);
/* Rows of "rooms" are months; `room` and `climate` name a set of twelve. */
void dew_catalogue_apply_room (const char *room, const char *climate, DewRoom *into);

/* --- new enclosures ---------------------------------------------------- */

/* An enclosure of a common kind, row of "enclosures", with its shelves and
 * openings. Transfer full. */
DewChamber *dew_chamber_from_kind (guint row);
/* One from its outer sizes, with wire shelves at equal distances and one cover (row
 * of "covers") on all sides. Transfer full; NULL with the reason in words for sizes
 * that make no enclosure: zero, negative, no number, larger than the model takes,
 * more shelves than fit. */
DewChamber *dew_chamber_from_sizes (double width_m, double depth_m, double height_m, int n_shelves,
                                    guint cover, GError **error);

/* --- names of plants ---------------------------------------------------- */

/* A kind that may be meant. */
typedef struct
{
  int row;          /* of "plants"; -1: one of the grower's own */
  const char *name; /* lent, by the catalogue or the document */
  int score;        /* 1 to 101, the higher the better */
} DewPlantMatch;

/* The own kinds of `chamber` (may be NULL) and rows of "plants" that what was typed may mean: parts
 * of names, genera, common names, groups, in any case, accents or not, a letter wrong. The best
 * first, alike by name; all of them for an empty text. GArray of DewPlantMatch, transfer full. */
GArray *dew_catalogue_search_plants (const DewChamber *chamber, const char *typed);
/* The one row that a species surely means: by its name or a common name in any case, or by its
 * genus where one row alone knows that. -1: none, or one cannot know which. */
int dew_catalogue_plant_row (const char *species);

/* One entry of a list that somebody typed or pasted. */
typedef struct
{
  char typed[DEW_NAME_SIZE];   /* without the number */
  int count, state;            /* state: DewPlantState, by words as "weak" and "new" at its end */
  gboolean known;              /* one kind is meant and nothing else can be */
  char species[DEW_NAME_SIZE]; /* that kind */
  char looked_for[DEW_NAME_SIZE]; /* of one that is not: what to search for to help */
} DewListedPlant;

/* "3 Dracula, 2 Sundew small": entries between commas, semicolons and ends of lines. GArray of
 * DewListedPlant, transfer full. */
GArray *dew_catalogue_read_list (const DewChamber *chamber, const char *text);
/* Puts a known one on the list of wishes. */
void dew_catalogue_wish_for (DewChamber *chamber, const DewListedPlant *plant);

/* --- kinds of plant ---------------------------------------------------- */

/* What a kind of plant wants: the own kinds of `chamber` (a const DewChamber * or NULL)
 * first, then the row of dew_catalogue_plant_row(). FALSE for a species that neither knows. Is the
 * lookup that the advice asks for. */
gboolean dew_catalogue_plant_kind (const char *species, DewPlantKind *out, gpointer chamber);
/* The plants and wishes whose species neither knows: each once, in words, with the id
 * of the first that has it. They are kept; only nothing is known of what they want.
 * GArray of DewProblem, transfer full. */
GArray *dew_catalogue_check_species (const DewChamber *chamber);
/* Its kind of leaf: of the own kind or the row of that name; else of a row that shares
 * a genus with it, else what its words make likely. */
DewLeafKind dew_catalogue_leaf (const DewChamber *chamber, const char *species);
/* What name and group of a kind of plant make likely; a herb when they say nothing. */
DewLeafKind dew_catalogue_leaf_guess (const char *name, const char *group);

G_END_DECLS
