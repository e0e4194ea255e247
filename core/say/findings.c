/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/findings.h"

#include "moist/constants.h"
#include "say/where.h"

#include <glib/gi18n.h>

#include <math.h>

#define NAME_SHOWN 26 /* characters */
#define ML_PER_KG 1000.0

/* --- one word ------------------------------------------------------------ */

const char *
dew_verdict_word (DewVerdict verdict)
{
  switch (verdict)
    {
    case DEW_VERDICT_FINE:
      /* Translators: how a shelf or place fares: nothing is amiss. */
      return C_ ("verdict", "fine");
    case DEW_VERDICT_LOOK:
      /* Translators: how a shelf or place fares: something to keep an eye on. */
      return C_ ("verdict", "look");
    case DEW_VERDICT_ACT:
      /* Translators: how a shelf or place fares: something should be done. */
      return C_ ("verdict", "act");
    }
  g_return_val_if_reached ("");
}

const char *
dew_finding_kind_word (DewFindingKind kind)
{
  static const char *const words[DEW_N_FINDINGS] = {
    [DEW_FINDING_STILL] = NC_ ("found", "still"),
    [DEW_FINDING_DRAUGHTY] = NC_ ("found", "draughty"),
    [DEW_FINDING_SLOW_TO_DRY] = NC_ ("found", "slow to dry"),
    [DEW_FINDING_MIST_WETS] = NC_ ("found", "mist settles"),
    [DEW_FINDING_ROOF_DRIP] = NC_ ("found", "the roof drips"),
    [DEW_FINDING_SHELF_DRIP] = NC_ ("found", "dripped on"),
    [DEW_FINDING_DRY] = NC_ ("found", "too dry"),
    [DEW_FINDING_MOIST] = NC_ ("found", "too humid"),
    [DEW_FINDING_WARM] = NC_ ("found", "too warm"),
    [DEW_FINDING_COOL] = NC_ ("found", "too cool"),
    [DEW_FINDING_DISEASE] = NC_ ("found", "rot may start"),
    [DEW_FINDING_TANK] = NC_ ("found", "runs empty soon"),
    [DEW_FINDING_LOAD] = NC_ ("found", "heavily loaded"),
    [DEW_FINDING_ELECTRIC] = NC_ ("found", "mains inside"),
    [DEW_FINDING_DARK] = NC_ ("found", "too dark"),
    [DEW_FINDING_BRIGHT] = NC_ ("found", "too bright"),
    [DEW_FINDING_POT_DRY] = NC_ ("found", "dries out soon"),
  };

  g_return_val_if_fail (kind >= 0 && kind < DEW_N_FINDINGS, "");
  return g_dpgettext2 (NULL, "found", words[kind]);
}

/* --- causes, with what would help ---------------------------------------- */

/* flag: NULL where it tells the hours. */
static const struct
{
  DewMeasure measure;
  const char *flag, *cause, *remedy;
} causes[DEW_N_CAUSES] = {
  [DEW_CAUSE_STILL_AIR] = { DEW_MEASURE_SPEED, N_ ("still"),
                            N_ ("The air here hardly moves and is seldom replaced, so what gets "
                                "wet stays wet and mould finds its place."),
                            N_ ("Turn a fan so that it blows along a wall past this spot, keep a "
                                "gap at the shelf's edge, or grow here what likes still air.") },
  [DEW_CAUSE_STREAM]
  = { DEW_MEASURE_SPEED, N_ ("draught"),
      N_ ("A stream of air from a fan or an opening meets the leaves; they lose more water than "
          "they like."),
      N_ ("Aim the fan past the plants, slow it down, or put something sturdy in the stream.") },
  [DEW_CAUSE_WET_CROWN]
  = { DEW_MEASURE_HOURS, NULL,
      N_ ("In air this humid and slow, water in the crown stays for hours."),
      N_ ("Keep water out of the crown, water early in the day, or let more air pass here.") },
  [DEW_CAUSE_FALLING_MIST]
  = { DEW_MEASURE_WETTING, N_ ("wet"),
      N_ ("More mist comes down here than this humid air can take up again, so leaves stay wet."),
      N_ ("Point the outlet elsewhere, raise it into moving air, run it less, or move the plant "
          "out of the fog.") },
  [DEW_CAUSE_COLD_ROOF] = { DEW_MEASURE_DRIP, N_ ("drip"),
                            N_ ("The roof is colder than the dew point of the air under it; the "
                                "water gathers and falls here."),
                            N_ ("Insulate the roof on the outside, clear of any lamp, tilt it so "
                                "that the water runs off, let air pass along it, or make less mist "
                                "at night.") },
  [DEW_CAUSE_SHELF_ABOVE]
  = { DEW_MEASURE_DRIP, N_ ("drip"),
      N_ ("Water falls from the shelf above, or through it from higher up."),
      N_ ("Put a tray under what is above, or move the plant out from under the drip.") },
  [DEW_CAUSE_DRY_AIR]
  = { DEW_MEASURE_SHARE, N_ ("dry"),
      N_ ("Drier air reaches this spot, or it is warmer here than on the rest of the shelf."),
      N_ ("Close an opening a little, give more mist or wet clay near by, or move the plant "
          "lower.") },
  [DEW_CAUSE_FULL_AIR]
  = { DEW_MEASURE_SHARE, N_ ("humid"), N_ ("The air here is close to full of water."),
      N_ (
        "Open a little above and below, run the mist less, or move the plant to a drier shelf.") },
  [DEW_CAUSE_WARM_DAY]
  = { DEW_MEASURE_TEMPERATURE, N_ ("warm"),
      N_ ("Lamps, the room or the sun make it warmer than this plant bears."),
      N_ ("More distance to the lamp, lamps on at night, more exchange, or a lower shelf.") },
  [DEW_CAUSE_WARM_NIGHT]
  = { DEW_MEASURE_TEMPERATURE, N_ ("warm"), N_ ("The night stays warmer than this plant bears."),
      N_ ("A cooler room at night, more exchange with it, or the lowest shelf.") },
  [DEW_CAUSE_COLD]
  = { DEW_MEASURE_TEMPERATURE, N_ ("cool"),
      N_ ("The room, a cold cover or evaporating water keep it cooler than this plant bears."),
      N_ ("Less exchange, a heat mat, a higher shelf, or another plant here.") },
  [DEW_CAUSE_WETTED_LEAVES]
  = { DEW_MEASURE_HOURS, N_ ("rot"),
      N_ ("Leaves are wetted here and stay wet longer than grey mould needs at this warmth."),
      N_ ("Stop the wetting first; then let more air pass and take off old leaves and petals.") },
  [DEW_CAUSE_DAMP_STILLNESS]
  = { DEW_MEASURE_DRYING_POWER, N_ ("rot"),
      N_ ("The air is nearly full of water and stands still; so fungi spread best."),
      N_ ("Keep the air moving past the leaves; a little less mist helps too.") },
  [DEW_CAUSE_SMALL_TANK]
  = { DEW_MEASURE_HOURS, NULL,
      N_ ("At the rate this layout uses water the tank does not last until the next refill."),
      N_ ("A larger tank or a second one, less exchange with the room, or wet clay and moss as a "
          "reserve.") },
  [DEW_CAUSE_OVERLOAD]
  = { DEW_MEASURE_MASS, N_ ("heavy"),
      N_ ("Wet pots, trays and tanks weigh more than this shelf is rated for."),
      N_ ("Put the heaviest things on the lowest shelf or the floor, or brace the shelf.") },
  [DEW_CAUSE_UNEVEN_LOAD]
  = { DEW_MEASURE_MASS, N_ ("heavy"),
      N_ ("A rating holds for an even load; pots in the middle strain the shelf more."),
      N_ ("Put the heaviest things on the lowest shelf or the floor, or brace the shelf.") },
  [DEW_CAUSE_TOP_HEAVY]
  = { DEW_MEASURE_ANGLE, N_ ("tips"), N_ ("The weight sits high over a narrow base."),
      N_ ("Screw the frame to a wall, and put trays, tanks and large pots at the bottom.") },
  [DEW_CAUSE_MAINS_WET]
  = { DEW_MEASURE_SHARE, N_ ("mains"),
      N_ ("A device at mains voltage stands where mist, drops or very humid air reach it."),
      N_ ("Use a 5 to 24 V device with its supply outside and above water, or one made for wet "
          "places; a residual-current device (30 mA) on the circuit.") },
  [DEW_CAUSE_MAINS_INSIDE]
  = { DEW_MEASURE_SHARE, N_ ("mains"),
      N_ ("A device at mains voltage stands inside the humid enclosure."),
      N_ ("Use a 5 to 24 V device with its supply outside and above water, or one made for wet "
          "places; a residual-current device (30 mA) on the circuit.") },
  [DEW_CAUSE_SHADE]
  = { DEW_MEASURE_LIGHT, N_ ("dark"),
      N_ ("Little light of lamps and of the day reaches this spot."),
      N_ ("Bring it nearer to the lamp, out of the shade of shelf and neighbours, or add light.") },
  [DEW_CAUSE_STRONG_LIGHT]
  = { DEW_MEASURE_LIGHT, N_ ("bright"), N_ ("The lamp is near and strong."),
      N_ ("More distance to the lamp, less power, or a place to the side of it.") },
  [DEW_CAUSE_SMALL_RESERVE]
  = { DEW_MEASURE_HOURS, NULL,
      N_ (
        "What evaporates here in a day is more than it holds; dry, it cools and moistens nothing."),
      N_ ("A larger reserve of water, a wick, or a place with less wind.") },
};

/* The same where the layout tells which thing it is. Translators: %s is its name. */
static const struct
{
  DewFindingCause cause;
  DewThingKind by; /* DEW_N_THING_KINDS: any */
  const char *text;
} named_causes[] = {
  { DEW_CAUSE_STREAM, DEW_THING_FAN,
    N_ ("The stream of “%s” meets the leaves; they lose more water than they like.") },
  { DEW_CAUSE_STREAM, DEW_THING_OPENING,
    N_ ("Air from “%s” meets the leaves; they lose more water than they like.") },
  { DEW_CAUSE_DRY_AIR, DEW_THING_FAN,
    N_ ("The air that reaches this spot comes from “%s”, and is drier than this plant wants.") },
  { DEW_CAUSE_DRY_AIR, DEW_THING_OPENING,
    N_ ("Room air that came in at “%s” reaches this spot before it is humid enough.") },
  { DEW_CAUSE_FALLING_MIST, DEW_N_THING_KINDS,
    N_ ("More of the mist of “%s” comes down here than this humid air can take up again, so "
        "leaves stay wet.") },
  { DEW_CAUSE_STRONG_LIGHT, DEW_N_THING_KINDS, N_ ("“%s” is near and strong.") },
  { DEW_CAUSE_SHADE, DEW_N_THING_KINDS, N_ ("Little of the light of “%s” reaches this spot.") },
  { DEW_CAUSE_WARM_DAY, DEW_N_THING_KINDS,
    N_ ("“%s”, the room or the sun make it warmer than this plant bears.") },
};

/* Where each limit comes from; one without a published source says so. */
static const char *const sources[DEW_N_LIMITS] = {
  [DEW_LIMIT_STILL] = N_ ("Slower than 0.05 m/s is dead air: common practice, no source"),
  [DEW_LIMIT_OLD] = N_ ("Twice the mean age of the air: common practice, no source"),
  [DEW_LIMIT_UNCHANGED] = N_ ("Half an air change an hour: common practice, no source"),
  [DEW_LIMIT_DRAUGHT] = N_ ("1 m/s moves leaves; as a limit common practice, no source"),
  [DEW_LIMIT_MOUNT_DRAUGHT] = N_ ("0.6 m/s for mounts in drying air: common practice, no source"),
  [DEW_LIMIT_DRYING_AIR] = N_ ("A deficit of 0.7 kPa: common practice, no source"),
  [DEW_LIMIT_DRY_HARMFUL] = N_ ("Crowns dry within 4 h of wetting: common practice, no source"),
  [DEW_LIMIT_DRY_BRIEF] = N_ ("Crowns dry before night: common practice, no source"),
  [DEW_LIMIT_MIST]
  = N_ ("What a wet leaf loses, from its energy balance (Campbell & Norman 1998 ch. 14)"),
  [DEW_LIMIT_DRIP] = N_ ("A drop (0.05 mL) an hour: common practice, no source"),
  [DEW_LIMIT_DAMP]
  = N_ ("0.2 kPa: Prenger & Ling, Ohio State University AEX-804, 2001 (from memory)"),
  [DEW_LIMIT_TANK_NIGHT] = N_ ("A tank should last the night: common practice, no source"),
  [DEW_LIMIT_TANK_DAY] = N_ ("Daily refill: US EPA, Use and Care of Home Humidifiers, 1991"),
  [DEW_LIMIT_POT] = N_ ("Watering once a day: common practice, no source"),
  [DEW_LIMIT_LOAD] = /* xgettext:no-c-format */ N_ (
    "60 % of an even-load rating for pots: common practice, no source"),
  [DEW_LIMIT_TIP] = N_ ("10 degrees of tilt: UL 1678 as quoted for television stands"),
  [DEW_LIMIT_MAINS]
  = N_ ("Extra-low voltage (SELV) in wet zones: IEC 60364-4-41 cl. 414 (from memory)"),
  [DEW_LIMIT_WET_HOURS]
  = N_ ("Grey mould on petals: Sirjusingh & Sutton, Plant Disease 80, 160-165, 1996"),
  [DEW_LIMIT_REACH] = N_ ("0.25 to 0.5 m/s at the leaf: University of Connecticut extension, "
                          "horizontal air flow systems"),
  [DEW_LIMIT_WISH] = N_ ("Plant catalogue"),
  [DEW_LIMIT_RATING] = N_ ("Rated load of the shelf"),
};

const char *
dew_limit_source (DewLimit limit)
{
  g_return_val_if_fail (limit < DEW_N_LIMITS, "");
  return _ (sources[limit]);
}

char *
dew_finding_flag (const DewFinding *finding)
{
  double hours = finding->value / DEW_S_PER_H;

  if (causes[finding->cause].flag != NULL)
    return g_strdup (_ (causes[finding->cause].flag));
  /* Translators: on a flag; keep it short. */
  return finding->cause == DEW_CAUSE_WET_CROWN ? g_strdup_printf (_ ("wet for %.0f h"), hours)
                                               : g_strdup_printf (_ ("lasts %.0f h"), hours);
}

#pragma GCC diagnostic push
/* The formats come from the table, one %s each. */
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
char *
dew_finding_cause (const DewFinding *finding)
{
  const char *named = NULL;

  g_return_val_if_fail (finding != NULL, NULL);

  for (guint i = 0; i < G_N_ELEMENTS (named_causes) && named == NULL; i++)
    if (named_causes[i].cause == finding->cause
        && (named_causes[i].by == DEW_N_THING_KINDS || named_causes[i].by == finding->by_kind))
      named = named_causes[i].text;
  if (finding->by_id == 0 || finding->by[0] == '\0' || named == NULL)
    return g_strdup (_ (causes[finding->cause].cause));
  return g_strdup_printf (_ (named), finding->by);
}
#pragma GCC diagnostic pop

const char *
dew_finding_remedy (const DewFinding *finding)
{
  return _ (causes[finding->cause].remedy);
}

char *
dew_finding_measure (const DewFinding *finding, DewTongue tongue, double si)
{
  return dew_measure_text (causes[finding->cause].measure, tongue, si);
}

double
dew_finding_plain (const DewFinding *finding, double si)
{
  switch (causes[finding->cause].measure)
    {
    case DEW_MEASURE_HOURS:
      return si / DEW_S_PER_H;
    case DEW_MEASURE_SHARE:
      return 100.0 * si;
    case DEW_MEASURE_LIGHT:
      return si * 1e6;
    case DEW_MEASURE_WETTING:
    case DEW_MEASURE_DRIP:
      return si * ML_PER_KG * DEW_S_PER_H;
    case DEW_MEASURE_DRYING_POWER:
      return si / 1000.0;
    case DEW_MEASURE_ANGLE:
      return si * 180.0 / G_PI;
    default:
      return si;
    }
}

const char *
dew_finding_unit (const DewFinding *finding)
{
  switch (causes[finding->cause].measure)
    {
    case DEW_MEASURE_HOURS:
      return "h";
    case DEW_MEASURE_SHARE:
      return "%";
    case DEW_MEASURE_TEMPERATURE:
      return "°C";
    case DEW_MEASURE_LIGHT:
      return "µmol/m²s";
    case DEW_MEASURE_WETTING:
      return "mL/m²h";
    case DEW_MEASURE_DRIP:
      return "mL/h";
    case DEW_MEASURE_DRYING_POWER:
      return "kPa";
    case DEW_MEASURE_MASS:
      return "kg";
    case DEW_MEASURE_ANGLE:
      return _ ("degrees");
    default:
      return "m/s";
    }
}

/* --- titles ------------------------------------------------------------- */

/* Of an empty place. */
static char *
place_title (DewFindingKind kind, const char *where)
{
  /* Translators: %s in these is a place, "second shelf right front". */
  switch (kind)
    {
    case DEW_FINDING_STILL:
      return g_strdup_printf (_ ("Still air, %s"), where);
    case DEW_FINDING_MIST_WETS:
      return g_strdup_printf (_ ("Mist settles, %s"), where);
    case DEW_FINDING_ROOF_DRIP:
      return g_strdup_printf (_ ("The roof drips, %s"), where);
    case DEW_FINDING_SHELF_DRIP:
      return g_strdup_printf (_ ("The shelf above drips, %s"), where);
    case DEW_FINDING_LOAD:
      return g_strdup (_ ("Tips over easily"));
    default:
      /* Translators: what is found, then where: "Too dry, lowest shelf". */
      return g_strdup_printf (_ ("%s, %s"), dew_finding_kind_word (kind), where);
    }
}

/* Of a thing, or of several. */
static char *
thing_title (const DewFinding *finding, const char *name, const char *where)
{
  /* Translators: the first %s in these is a thing's name or "Fern and 2 more", the second
   * a place, "second shelf right front". */
  switch (finding->kind)
    {
    case DEW_FINDING_STILL:
      return g_strdup_printf (_ ("Still air at %s, %s"), name, where);
    case DEW_FINDING_DRAUGHTY:
      return g_strdup_printf (_ ("Draught at %s, %s"), name, where);
    case DEW_FINDING_SLOW_TO_DRY:
      return g_strdup_printf (_ ("Slow to dry: %s, %s"), name, where);
    case DEW_FINDING_MIST_WETS:
      return g_strdup_printf (_ ("Mist wets %s, %s"), name, where);
    case DEW_FINDING_ROOF_DRIP:
      return g_strdup_printf (_ ("The roof drips on %s, %s"), name, where);
    case DEW_FINDING_SHELF_DRIP:
      return g_strdup_printf (_ ("The shelf above drips on %s, %s"), name, where);
    case DEW_FINDING_DRY:
      return g_strdup_printf (_ ("Too dry for %s, %s"), name, where);
    case DEW_FINDING_MOIST:
      return g_strdup_printf (_ ("Too humid for %s, %s"), name, where);
    case DEW_FINDING_WARM:
      return g_strdup_printf (_ ("Too warm for %s, %s"), name, where);
    case DEW_FINDING_COOL:
      return g_strdup_printf (_ ("Too cool for %s, %s"), name, where);
    case DEW_FINDING_DISEASE:
      return g_strdup_printf (_ ("Rot and mould may start on %s, %s"), name, where);
    case DEW_FINDING_TANK:
      return g_strdup_printf (_ ("Runs empty soon: %s, %s"), name, where);
    case DEW_FINDING_LOAD:
      return finding->severity >= 2 ? g_strdup_printf (_ ("Overloaded: %s, %s"), name, where)
                                    : g_strdup_printf (_ ("Heavily loaded: %s, %s"), name, where);
    case DEW_FINDING_ELECTRIC:
      return g_strdup_printf (_ ("Mains voltage inside: %s, %s"), name, where);
    case DEW_FINDING_DARK:
      return g_strdup_printf (_ ("Too dark for %s, %s"), name, where);
    case DEW_FINDING_BRIGHT:
      return g_strdup_printf (_ ("Too bright for %s, %s"), name, where);
    case DEW_FINDING_POT_DRY:
      return g_strdup_printf (_ ("Dries out within a day: %s, %s"), name, where);
    case DEW_N_FINDINGS:
      break;
    }
  g_return_val_if_reached (g_strdup (""));
}

char *
dew_finding_title (const DewForecast *forecast, const DewFinding *finding)
{
  g_autofree char *where = dew_forecast_where (forecast, finding->bay, finding->at_m);
  g_autofree char *name = NULL, *several = NULL;

  if (finding->name[0] == '\0')
    return place_title (finding->kind, where);
  /* A long name would push the place out of the title. */
  if (g_utf8_strlen (finding->name, -1) > NAME_SHOWN)
    {
      g_autofree char *begin = g_utf8_substring (finding->name, 0, NAME_SHOWN - 1);

      name = g_strconcat (begin, "…", NULL);
    }
  else
    name = g_strdup (finding->name);
  if (finding->others > 0)
    /* Translators: things of a shelf that a finding is about: "Fern and 2 more". */
    several = g_strdup_printf (ngettext ("%s and %d more", "%s and %d more", finding->others), name,
                               finding->others);
  return thing_title (finding, several ? several : name, where);
}

/* Translators: %s in these is a thing's name or "Fern and 2 more". */
static const char *const headings[DEW_N_FINDINGS] = {
  [DEW_FINDING_STILL] = N_ ("Still air at %s"),
  [DEW_FINDING_DRAUGHTY] = N_ ("Draught at %s"),
  [DEW_FINDING_SLOW_TO_DRY] = N_ ("Slow to dry: %s"),
  [DEW_FINDING_MIST_WETS] = N_ ("Mist wets %s"),
  [DEW_FINDING_ROOF_DRIP] = N_ ("The roof drips on %s"),
  [DEW_FINDING_SHELF_DRIP] = N_ ("The shelf above drips on %s"),
  [DEW_FINDING_DRY] = N_ ("Too dry for %s"),
  [DEW_FINDING_MOIST] = N_ ("Too humid for %s"),
  [DEW_FINDING_WARM] = N_ ("Too warm for %s"),
  [DEW_FINDING_COOL] = N_ ("Too cool for %s"),
  [DEW_FINDING_DISEASE] = N_ ("Rot may start on %s"),
  [DEW_FINDING_TANK] = N_ ("Runs empty soon: %s"),
  [DEW_FINDING_LOAD] = N_ ("Heavily loaded: %s"),
  [DEW_FINDING_ELECTRIC] = N_ ("Mains voltage inside: %s"),
  [DEW_FINDING_DARK] = N_ ("Too dark for %s"),
  [DEW_FINDING_BRIGHT] = N_ ("Too bright for %s"),
  [DEW_FINDING_POT_DRY] = N_ ("Dries out within a day: %s"),
};

#pragma GCC diagnostic push
/* The formats come from the table above, one %s each. */
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
char *
dew_finding_heading (const DewForecast *forecast, const DewFinding *finding, int others)
{
  g_autofree char *name = NULL;

  g_return_val_if_fail (forecast != NULL && finding != NULL, NULL);

  if (finding->name[0] == '\0')
    return dew_finding_title (forecast, finding);
  if (finding->kind == DEW_FINDING_LOAD && finding->severity >= 2)
    return g_strdup_printf (_ ("Overloaded: %s"), finding->name);
  name = others > 0
           ? g_strdup_printf (ngettext ("%s and %d more", "%s and %d more", (gulong) others),
                              finding->name, others)
           : g_strdup (finding->name);
  return g_strdup_printf (_ (headings[finding->kind]), name);
}
#pragma GCC diagnostic pop

/* --- value and limit ---------------------------------------------------------- */

/* That a device stands inside at all is what is amiss, not how humid it is there. */
static gboolean
has_number (const DewFinding *finding)
{
  return !isnan (finding->value) && !isnan (finding->threshold)
         && finding->kind != DEW_FINDING_ELECTRIC;
}

char *
dew_finding_number_words (const DewFinding *finding, const char *value, const char *limit)
{
  gboolean above;

  g_return_val_if_fail (finding != NULL, NULL);

  if (!has_number (finding))
    return NULL;
  above = finding->value > finding->threshold;
  /* Translators: in these four the first %s is what it is, the second its limit. */
  if (finding->limit == DEW_LIMIT_WISH)
    return g_strdup_printf (above ? _ ("%s, wants at most %s") : _ ("%s, wants at least %s"), value,
                            limit);
  return g_strdup_printf (above ? _ ("%s, at most %s") : _ ("%s, at least %s"), value, limit);
}

char *
dew_finding_number (const DewFinding *finding, DewTongue tongue)
{
  g_autofree char *value = NULL, *limit = NULL;

  g_return_val_if_fail (finding != NULL, NULL);

  if (!has_number (finding))
    return NULL;
  value = dew_finding_measure (finding, tongue, finding->value);
  limit = dew_finding_measure (finding, tongue, finding->threshold);
  return dew_finding_number_words (finding, value, limit);
}

/* --- the whole ------------------------------------------------------------------ */

static char *
level_words (const DewForecast *forecast, int bay)
{
  int shelf = 0;

  for (int b = 0; forecast->bays[bay].shelf_id != 0 && b <= bay; b++)
    shelf += forecast->bays[b].shelf_id != 0;
  return dew_shelf_words (shelf);
}

/* "The floor needs a look", "2 shelves need a hand": bays of one verdict; NULL: there are
 * none. */
static char *
bays_of (const DewForecast *forecast, DewVerdict verdict)
{
  int n = 0, last = -1;
  g_autofree char *name = NULL;

  for (int bay = 0; bay < forecast->n_bays; bay++)
    if (dew_bay_verdict (forecast, bay) == verdict)
      {
        n++;
        last = bay;
      }
  if (n == 0)
    return NULL;
  name = forecast->n_bays > 1 ? level_words (forecast, last) : g_strdup (_ ("the inside"));
  if (n == 1)
    switch (verdict)
      {
      case DEW_VERDICT_FINE:
        /* Translators: %s in these three is "second shelf", "floor" or "the inside" */
        return g_strdup_printf (_ ("%s fine"), name);
      case DEW_VERDICT_LOOK:
        return g_strdup_printf (_ ("%s needs a look"), name);
      case DEW_VERDICT_ACT:
        return g_strdup_printf (_ ("%s needs action"), name);
      }
  switch (verdict)
    {
    case DEW_VERDICT_FINE:
      return g_strdup_printf (_ ("%d shelves fine"), n);
    case DEW_VERDICT_LOOK:
      return g_strdup_printf (_ ("%d shelves need a look"), n);
    default:
      return g_strdup_printf (_ ("%d shelves need action"), n);
    }
}

/* The first letter large. */
static char *
begin_large (const char *text)
{
  g_autofree char *first = g_utf8_substring (text, 0, 1);
  g_autofree char *large = g_utf8_strup (first, -1);

  return g_strconcat (large, g_utf8_next_char (text), NULL);
}

char *
dew_forecast_verdict_text (const DewForecast *forecast)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_return_val_if_fail (forecast != NULL, NULL);

  for (int verdict = DEW_VERDICT_FINE; verdict <= DEW_VERDICT_ACT; verdict++)
    {
      g_autofree char *part = bays_of (forecast, verdict);

      if (part == NULL)
        continue;
      if (verdict == DEW_VERDICT_FINE && forecast->n_findings == 0)
        return g_strdup (forecast->n_bays > 1 ? _ ("All shelves fine") : _ ("All is fine"));
      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", part);
    }
  return text->len > 0 ? begin_large (text->str) : g_strdup ("");
}
