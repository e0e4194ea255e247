/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/units.h"

#include <glib/gi18n.h>
#include <langinfo.h>
#include <math.h>
#include <string.h>

/* Exact by definition or to the digits given: NIST Special Publication 811 (2008),
 * appendix B.8. Gallon and fluid ounce are those of the United States; a kilogram of
 * water counts as a litre. */
#define M_PER_IN 0.0254
#define M_PER_FT 0.3048
#define KG_PER_LB 0.45359237
#define KG_PER_OZ (KG_PER_LB / 16.0)
#define L_PER_GAL 3.785411784
#define L_PER_FL_OZ (L_PER_GAL / 128.0)
#define M3_S_PER_CFM (M_PER_FT * M_PER_FT * M_PER_FT / 60.0)
#define M_S_PER_FT_MIN (M_PER_FT / 60.0)
#define PA_PER_IN_WATER 249.0889
#define W_M2K_PER_BTU 5.678263
#define K_PER_F (5.0 / 9.0)

/* What may stand for what. */
typedef enum
{
  KIND_PLAIN,
  KIND_LENGTH,
  KIND_THIN,
  KIND_ANGLE,
  KIND_AREA,
  KIND_FRACTION,
  KIND_TEMPERATURE,
  KIND_SPEED,
  KIND_AIR_FLOW,
  KIND_WATER_RATE,
  KIND_MASS,
  KIND_WATER,
  KIND_TANK,
  KIND_PRESSURE,
  KIND_POWER,
  KIND_U_VALUE,
  KIND_DROPLET,
  KIND_EFFICACY,
  KIND_IRRADIANCE,
  KIND_ALTITUDE,
  KIND_LIGHT,
  N_KINDS
} Kind;

/* Metric, then imperial. */
/* clang-format off */
static const DewUnit units[N_KINDS][2] = {
  [KIND_PLAIN] = { { "", 1.0, 0, 2, 0.05 }, { "", 1.0, 0, 2, 0.05 } },
  [KIND_LENGTH] = { { " cm", 100.0, 0, 1, 1.0 }, { " in", 1.0 / M_PER_IN, 0, 2, 0.5 } },
  [KIND_THIN] = { { " mm", 1000.0, 0, 1, 1.0 }, { " in", 1.0 / M_PER_IN, 0, 3, 0.02 } },
  [KIND_ANGLE] = { { "°", 180.0 / G_PI, 0, 0, 5.0 }, { "°", 180.0 / G_PI, 0, 0, 5.0 } },
  [KIND_AREA] = { { " cm²", 1e4, 0, 1, 10.0 },
                  { " in²", 1.0 / (M_PER_IN * M_PER_IN), 0, 2, 1.0 } },
  [KIND_FRACTION] = { { " %", 100.0, 0, 0, 1.0 }, { " %", 100.0, 0, 0, 1.0 } },
  [KIND_TEMPERATURE] = { { " °C", 1.0, 0, 1, 0.5 }, { " °F", 1.0 / K_PER_F, 32.0, 1, 1.0 } },
  [KIND_SPEED] = { { " m/s", 1.0, 0, 2, 0.05 }, { " ft/min", 1.0 / M_S_PER_FT_MIN, 0, 0, 10.0 } },
  [KIND_AIR_FLOW] = { { " m³/h", 3600.0, 0, 1, 1.0 }, { " cfm", 1.0 / M3_S_PER_CFM, 0, 1, 1.0 } },
  [KIND_WATER_RATE] = { { " mL/h", 3.6e6, 0, 0, 10.0 },
                        { " fl oz/h", 3600.0 / L_PER_FL_OZ, 0, 1, 0.5 } },
  [KIND_MASS] = { { " kg", 1.0, 0, 2, 0.1 }, { " lb", 1.0 / KG_PER_LB, 0, 2, 0.2 } },
  [KIND_WATER] = { { " L", 1.0, 0, 2, 0.1 }, { " fl oz", 1.0 / L_PER_FL_OZ, 0, 1, 1.0 } },
  [KIND_TANK] = { { " L", 1.0, 0, 2, 0.1 }, { " gal", 1.0 / L_PER_GAL, 0, 2, 0.1 } },
  [KIND_PRESSURE] = { { " Pa", 1.0, 0, 1, 1.0 },
                      { " inH₂O", 1.0 / PA_PER_IN_WATER, 0, 3, 0.005 } },
  [KIND_POWER] = { { " W", 1.0, 0, 1, 1.0 }, { " W", 1.0, 0, 1, 1.0 } },
  [KIND_U_VALUE] = { { " W/m²K", 1.0, 0, 2, 0.1 },
                     { " Btu/h·ft²·°F", 1.0 / W_M2K_PER_BTU, 0, 2, 0.05 } },
  [KIND_DROPLET] = { { " µm", 1e6, 0, 1, 1.0 }, { " µm", 1e6, 0, 1, 1.0 } },
  [KIND_EFFICACY] = { { " µmol/J", 1e6, 0, 2, 0.1 }, { " µmol/J", 1e6, 0, 2, 0.1 } },
  [KIND_IRRADIANCE] = { { " W/m²", 1.0, 0, 0, 10.0 }, { " W/m²", 1.0, 0, 0, 10.0 } },
  [KIND_ALTITUDE] = { { " m", 1.0, 0, 0, 50.0 }, { " ft", 1.0 / M_PER_FT, 0, 0, 100.0 } },
  [KIND_LIGHT] = { { " µmol/m²s", 1e6, 0, 0, 10.0 }, { " µmol/m²s", 1e6, 0, 0, 10.0 } },
};
/* clang-format on */

static const Kind by_quantity[] = {
  [DEW_QUANTITY_NONE] = KIND_PLAIN,
  [DEW_QUANTITY_LENGTH] = KIND_LENGTH,
  [DEW_QUANTITY_ANGLE] = KIND_ANGLE,
  [DEW_QUANTITY_AREA] = KIND_AREA,
  [DEW_QUANTITY_FRACTION] = KIND_FRACTION,
  [DEW_QUANTITY_TEMPERATURE] = KIND_TEMPERATURE,
  [DEW_QUANTITY_SPEED] = KIND_SPEED,
  [DEW_QUANTITY_AIR_FLOW] = KIND_AIR_FLOW,
  [DEW_QUANTITY_WATER_RATE] = KIND_WATER_RATE,
  [DEW_QUANTITY_MASS] = KIND_MASS,
  [DEW_QUANTITY_PRESSURE] = KIND_PRESSURE,
  [DEW_QUANTITY_POWER] = KIND_POWER,
  [DEW_QUANTITY_U_VALUE] = KIND_U_VALUE,
  [DEW_QUANTITY_DROPLET] = KIND_DROPLET,
  [DEW_QUANTITY_EFFICACY] = KIND_EFFICACY,
  [DEW_QUANTITY_IRRADIANCE] = KIND_IRRADIANCE,
  [DEW_QUANTITY_ALTITUDE] = KIND_ALTITUDE,
  [DEW_QUANTITY_LIGHT] = KIND_LIGHT,
};

/* Units that may be typed: si = number * to_si + plus. */
/* clang-format off */
static const struct
{
  Kind kind;
  const char *typed;
  double to_si, plus;
} typed_units[] = {
  { KIND_LENGTH, "mm", 1e-3, 0 },
  { KIND_LENGTH, "cm", 1e-2, 0 },
  { KIND_LENGTH, "m", 1.0, 0 },
  { KIND_LENGTH, "in", M_PER_IN, 0 },
  { KIND_LENGTH, "inch", M_PER_IN, 0 },
  { KIND_LENGTH, "inches", M_PER_IN, 0 },
  { KIND_LENGTH, "\"", M_PER_IN, 0 },
  { KIND_LENGTH, "″", M_PER_IN, 0 },
  { KIND_LENGTH, "ft", M_PER_FT, 0 },
  { KIND_LENGTH, "'", M_PER_FT, 0 },
  { KIND_LENGTH, "′", M_PER_FT, 0 },
  { KIND_ANGLE, "deg", G_PI / 180.0, 0 },
  { KIND_ANGLE, "°", G_PI / 180.0, 0 },
  { KIND_AREA, "cm²", 1e-4, 0 },
  { KIND_AREA, "cm2", 1e-4, 0 },
  { KIND_AREA, "m²", 1.0, 0 },
  { KIND_AREA, "m2", 1.0, 0 },
  { KIND_AREA, "in²", M_PER_IN * M_PER_IN, 0 },
  { KIND_AREA, "in2", M_PER_IN * M_PER_IN, 0 },
  { KIND_FRACTION, "%", 0.01, 0 },
  { KIND_TEMPERATURE, "°C", 1.0, 0 },
  { KIND_TEMPERATURE, "C", 1.0, 0 },
  { KIND_TEMPERATURE, "°F", K_PER_F, -32.0 * K_PER_F },
  { KIND_TEMPERATURE, "F", K_PER_F, -32.0 * K_PER_F },
  { KIND_TEMPERATURE, "K", 1.0, -273.15 },
  { KIND_SPEED, "m/s", 1.0, 0 },
  { KIND_SPEED, "cm/s", 0.01, 0 },
  { KIND_SPEED, "ft/min", M_S_PER_FT_MIN, 0 },
  { KIND_SPEED, "fpm", M_S_PER_FT_MIN, 0 },
  { KIND_AIR_FLOW, "m³/h", 1.0 / 3600.0, 0 },
  { KIND_AIR_FLOW, "m3/h", 1.0 / 3600.0, 0 },
  { KIND_AIR_FLOW, "L/min", 1e-3 / 60.0, 0 },
  { KIND_AIR_FLOW, "L/s", 1e-3, 0 },
  { KIND_AIR_FLOW, "cfm", M3_S_PER_CFM, 0 },
  { KIND_AIR_FLOW, "ft³/min", M3_S_PER_CFM, 0 },
  { KIND_AIR_FLOW, "ft3/min", M3_S_PER_CFM, 0 },
  { KIND_WATER_RATE, "mL/h", 1.0 / 3.6e6, 0 },
  { KIND_WATER_RATE, "L/h", 1.0 / 3600.0, 0 },
  { KIND_WATER_RATE, "g/h", 1.0 / 3.6e6, 0 },
  { KIND_WATER_RATE, "L/day", 1.0 / 86400.0, 0 },
  { KIND_WATER_RATE, "fl oz/h", L_PER_FL_OZ / 3600.0, 0 },
  { KIND_WATER_RATE, "gal/day", L_PER_GAL / 86400.0, 0 },
  { KIND_WATER, "L", 1.0, 0 },
  { KIND_WATER, "mL", 1e-3, 0 },
  { KIND_WATER, "kg", 1.0, 0 },
  { KIND_WATER, "g", 1e-3, 0 },
  { KIND_WATER, "gal", L_PER_GAL, 0 },
  { KIND_WATER, "fl oz", L_PER_FL_OZ, 0 },
  { KIND_WATER, "floz", L_PER_FL_OZ, 0 },
  { KIND_WATER, "lb", KG_PER_LB, 0 },
  { KIND_MASS, "kg", 1.0, 0 },
  { KIND_MASS, "g", 1e-3, 0 },
  { KIND_MASS, "lb", KG_PER_LB, 0 },
  { KIND_MASS, "lbs", KG_PER_LB, 0 },
  { KIND_MASS, "oz", KG_PER_OZ, 0 },
  { KIND_PRESSURE, "Pa", 1.0, 0 },
  { KIND_PRESSURE, "inH₂O", PA_PER_IN_WATER, 0 },
  { KIND_PRESSURE, "inH2O", PA_PER_IN_WATER, 0 },
  { KIND_PRESSURE, "mmH2O", PA_PER_IN_WATER / 25.4, 0 },
  { KIND_POWER, "W", 1.0, 0 },
  { KIND_U_VALUE, "W/m²K", 1.0, 0 },
  { KIND_U_VALUE, "W/m2K", 1.0, 0 },
  { KIND_U_VALUE, "Btu/h·ft²·°F", W_M2K_PER_BTU, 0 },
  { KIND_U_VALUE, "Btu/hft2F", W_M2K_PER_BTU, 0 },
  { KIND_DROPLET, "µm", 1e-6, 0 },
  { KIND_DROPLET, "um", 1e-6, 0 },
  { KIND_EFFICACY, "µmol/J", 1e-6, 0 },
  { KIND_EFFICACY, "umol/J", 1e-6, 0 },
  { KIND_IRRADIANCE, "W/m²", 1.0, 0 },
  { KIND_IRRADIANCE, "W/m2", 1.0, 0 },
  { KIND_ALTITUDE, "m", 1.0, 0 },
  { KIND_ALTITUDE, "km", 1000.0, 0 },
  { KIND_ALTITUDE, "ft", M_PER_FT, 0 },
  { KIND_LIGHT, "µmol/m²s", 1e-6, 0 },
  { KIND_LIGHT, "umol/m2s", 1e-6, 0 },
};
/* clang-format on */

/* --- which system ------------------------------------------------------ */

static int chosen = -1; /* -1: by locale */

/* Stands for the choice, so that its signal can be connected to. */
#define DEW_TYPE_UNIT_CHOICE (dew_unit_choice_get_type ())
G_DECLARE_FINAL_TYPE (DewUnitChoice, dew_unit_choice, DEW, UNIT_CHOICE, GObject)
struct _DewUnitChoice
{
  GObject parent_instance;
};
G_DEFINE_FINAL_TYPE (DewUnitChoice, dew_unit_choice, G_TYPE_OBJECT)

static void
dew_unit_choice_class_init (DewUnitChoiceClass *klass)
{
  g_signal_new ("changed", DEW_TYPE_UNIT_CHOICE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                G_TYPE_NONE, 0);
}

static void
dew_unit_choice_init (DewUnitChoice *self)
{
}

static DewUnitChoice *
choice (void)
{
  static DewUnitChoice *self;

  if (self == NULL)
    self = g_object_new (DEW_TYPE_UNIT_CHOICE, NULL);
  return self;
}

gboolean
dew_units_imperial_by_locale (void)
{
  /* glibc: 1 is metric, 2 the system of the United States. */
  return nl_langinfo (_NL_MEASUREMENT_MEASUREMENT)[0] == 2;
}

gboolean
dew_units_imperial (void)
{
  return chosen < 0 ? dew_units_imperial_by_locale () : chosen;
}

void
dew_units_set_imperial (gboolean imperial)
{
  gboolean was = dew_units_imperial ();

  chosen = imperial != FALSE;
  if (was != chosen)
    g_signal_emit_by_name (choice (), "changed");
}

void
dew_units_connect (GObject *owner, GCallback changed)
{
  g_signal_connect_object (choice (), "changed", changed, owner, G_CONNECT_SWAPPED);
}

/* --- units ------------------------------------------------------------- */

static const DewUnit count_unit = { "", 1.0, 0, 0, 1.0 };

static const DewUnit *
unit_of (Kind kind)
{
  return &units[kind][dew_units_imperial () ? 1 : 0];
}

static Kind
kind_of (const DewUnit *unit)
{
  if (unit == &count_unit)
    return KIND_PLAIN;
  return (Kind) ((unit - &units[0][0]) / 2);
}

const DewUnit *
dew_unit_for_quantity (DewQuantity quantity)
{
  g_return_val_if_fail (quantity < G_N_ELEMENTS (by_quantity), unit_of (KIND_PLAIN));
  return unit_of (by_quantity[quantity]);
}

const DewUnit *
dew_unit_for_field (const DewField *field)
{
  if (field->quantity == DEW_QUANTITY_LENGTH && g_str_has_prefix (field->key, "thickness"))
    return unit_of (KIND_THIN);
  if (field->quantity == DEW_QUANTITY_MASS && g_str_has_prefix (field->key, "water"))
    return unit_of (KIND_WATER);
  if (field->quantity == DEW_QUANTITY_MASS && g_str_has_prefix (field->key, "tank"))
    return unit_of (KIND_TANK);
  if (field->type == DEW_FIELD_COUNT)
    return &count_unit;
  return dew_unit_for_quantity (field->quantity);
}

const DewUnit *
dew_unit_current (const DewUnit *unit)
{
  return unit == &count_unit ? unit : unit_of (kind_of (unit));
}

double
dew_unit_shown (const DewUnit *unit, double si)
{
  return si * unit->factor + unit->offset;
}

double
dew_unit_si (const DewUnit *unit, double shown)
{
  return (shown - unit->offset) / unit->factor;
}

static char *
format (double shown, int decimals, const char *symbol)
{
  if (!isfinite (shown))
    return g_strdup ("–");
  /* No "-0" for what rounds to nothing. */
  if (fabs (shown) < 0.5 * pow (10.0, -decimals))
    shown = 0.0;
  return g_strdup_printf ("%.*f%s", decimals, shown, symbol);
}

char *
dew_unit_format (const DewUnit *unit, double si)
{
  return format (dew_unit_shown (unit, si), unit->decimals, unit->symbol);
}

char *
dew_unit_format_difference (const DewUnit *unit, double si)
{
  const char *symbol = unit == &units[KIND_TEMPERATURE][0] ? " K" : unit->symbol;

  return format (si * unit->factor, unit->decimals, symbol);
}

/* --- what is typed ----------------------------------------------------- */

/* Length of the longest unit of that kind that `text` begins with, 0 for none. `whole`:
 * nothing may follow it. */
static gsize
find_unit (Kind kind, const char *text, gboolean whole, double *to_si, double *plus)
{
  gsize longest = 0;

  if (kind == KIND_THIN)
    kind = KIND_LENGTH;
  if (kind == KIND_TANK)
    kind = KIND_WATER;
  for (guint i = 0; i < G_N_ELEMENTS (typed_units); i++)
    {
      gsize length = strlen (typed_units[i].typed);

      if (typed_units[i].kind != kind || length <= longest
          || g_ascii_strncasecmp (text, typed_units[i].typed, length) != 0
          || (whole && text[length] != '\0'))
        continue;
      longest = length;
      *to_si = typed_units[i].to_si;
      *plus = typed_units[i].plus;
    }
  return longest;
}

/* "1,500" is a thousand and a half where no decimals are shown, else one and a half. */
static void
mend_comma (const DewUnit *unit, char *text)
{
  char *comma = strchr (text, ',');
  gsize digits;

  if (comma == NULL || strchr (text, '.') != NULL || strchr (comma + 1, ',') != NULL)
    return;
  digits = strspn (comma + 1, "0123456789");
  if (unit->decimals == 0 && digits == 3 && comma > text && g_ascii_isdigit (comma[-1]))
    memmove (comma, comma + 1, strlen (comma));
  else
    *comma = '.';
}

/* "12.5", "1/2", "1 1/2". `end` is then behind it. */
static gboolean
read_number (const char *text, double *number, char **end)
{
  double numerator = NAN;
  char *at;

  /* Hexadecimal, "inf" and "nan" are numbers to C but not to a grower. */
  if (strspn (text, "+-.0123456789") == 0)
    return FALSE;
  *number = g_ascii_strtod (text, end);
  if (*end == text || !isfinite (*number) || memchr (text, 'x', (gsize) (*end - text)) != NULL
      || memchr (text, 'X', (gsize) (*end - text)) != NULL)
    return FALSE;

  at = *end;
  if (*at != '/')
    {
      while (*at == ' ')
        at++;
      if (at == *end || !g_ascii_isdigit (*at))
        return TRUE;
      numerator = g_ascii_strtod (at, &at);
    }
  if (*at == '/' && g_ascii_isdigit (at[1]))
    {
      double denominator = g_ascii_strtod (at + 1, end);
      double part = isnan (numerator) ? *number : numerator;

      if (denominator == 0.0)
        return FALSE;
      part /= denominator;
      *number = isnan (numerator) ? part : *number + (*number < 0.0 ? -part : part);
    }
  return TRUE;
}

/* What follows the feet of a length: "3 in" in "5 ft 3 in". */
static gboolean
read_inches (const char *text, double *si)
{
  double number, to_si = NAN, plus;
  char *end;

  if (!read_number (text, &number, &end) || number < 0.0)
    return FALSE;
  while (*end == ' ')
    end++;
  if (find_unit (KIND_LENGTH, end, TRUE, &to_si, &plus) == 0 || to_si != M_PER_IN)
    return FALSE;
  *si = number * to_si;
  return TRUE;
}

gboolean
dew_unit_parse (const DewUnit *unit, const char *text, double *si)
{
  g_autofree char *copy = NULL;
  char *end = NULL;
  double number, to_si = NAN, plus = 0.0, more = 0.0;
  gsize length;
  Kind kind;

  g_return_val_if_fail (unit != NULL && text != NULL && si != NULL, FALSE);

  kind = kind_of (unit);
  copy = g_strstrip (g_strdup (text));
  /* The true minus sign is what some keyboards and the program itself write. */
  if (g_str_has_prefix (copy, "−"))
    {
      memmove (copy + 1, copy + strlen ("−"), strlen (copy + strlen ("−")) + 1);
      copy[0] = '-';
    }
  mend_comma (unit, copy);
  if (!read_number (copy, &number, &end))
    return FALSE;
  g_strstrip (end);
  if (*end == '\0' || strcmp (end, unit->symbol + strspn (unit->symbol, " ")) == 0
      || (kind == KIND_TEMPERATURE && strcmp (end, "°") == 0))
    {
      *si = dew_unit_si (unit, number);
      return TRUE;
    }
  if (find_unit (kind, end, TRUE, &to_si, &plus) == 0)
    {
      length = find_unit (kind, end, FALSE, &to_si, &plus);
      if (length == 0 || to_si != M_PER_FT || kind == KIND_ALTITUDE
          || !read_inches (end + length + strspn (end + length, " "), &more))
        return FALSE;
    }
  *si = number * to_si + plus + (number < 0.0 ? -more : more);
  return TRUE;
}

char *
dew_unit_wanted (const DewUnit *unit)
{
  /* SI; round in both systems would be asking much. */
  static const double examples[N_KINDS] = {
    [KIND_PLAIN] = 0.5,        [KIND_LENGTH] = 0.35,    [KIND_THIN] = 0.006,
    [KIND_ANGLE] = G_PI / 6.0, [KIND_AREA] = 0.0012,    [KIND_FRACTION] = 0.8,
    [KIND_TEMPERATURE] = 18.0, [KIND_SPEED] = 0.25,     [KIND_AIR_FLOW] = 40.0 / 3600.0,
    [KIND_WATER_RATE] = 5e-5,  [KIND_MASS] = 1.5,       [KIND_WATER] = 0.5,
    [KIND_TANK] = 2.5,         [KIND_PRESSURE] = 10.0,  [KIND_POWER] = 20.0,
    [KIND_U_VALUE] = 5.0,      [KIND_DROPLET] = 4e-6,   [KIND_EFFICACY] = 2.5e-6,
    [KIND_IRRADIANCE] = 100.0, [KIND_ALTITUDE] = 300.0, [KIND_LIGHT] = 8e-5,
  };
  Kind kind = kind_of (unit);
  g_autofree char *example
    = unit == &count_unit ? g_strdup ("3") : dew_unit_format (unit, examples[kind]);

  switch (kind)
    {
    case KIND_LENGTH:
    case KIND_THIN:
      return g_strdup_printf (_ ("Give a length, such as %s."), example);
    case KIND_ANGLE:
      return g_strdup_printf (_ ("Give an angle, such as %s."), example);
    case KIND_AREA:
      return g_strdup_printf (_ ("Give an area, such as %s."), example);
    case KIND_FRACTION:
      return g_strdup_printf (_ ("Give a share, such as %s."), example);
    case KIND_TEMPERATURE:
      return g_strdup_printf (_ ("Give a temperature, such as %s."), example);
    case KIND_SPEED:
      return g_strdup_printf (_ ("Give a speed, such as %s."), example);
    case KIND_AIR_FLOW:
      return g_strdup_printf (_ ("Give a flow of air, such as %s."), example);
    case KIND_WATER_RATE:
      return g_strdup_printf (_ ("Give water per time, such as %s."), example);
    case KIND_MASS:
      return g_strdup_printf (_ ("Give a weight, such as %s."), example);
    case KIND_WATER:
    case KIND_TANK:
      return g_strdup_printf (_ ("Give an amount of water, such as %s."), example);
    case KIND_PRESSURE:
      return g_strdup_printf (_ ("Give a pressure, such as %s."), example);
    case KIND_POWER:
      return g_strdup_printf (_ ("Give a power, such as %s."), example);
    case KIND_ALTITUDE:
      return g_strdup_printf (_ ("Give a height above the sea, such as %s."), example);
    default:
      return g_strdup_printf (_ ("Give a number, such as %s."), example);
    }
}
