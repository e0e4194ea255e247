/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings/pack.h"

#include <math.h>

#define FORM 1
#define NOT_READ (-30000)
#define NO_QUARTER (-32768)
#define VALUES (sizeof (DewQuarter) / sizeof (float))

/* --- numbers of variable length ------------------------------------------- */

static void
put (GByteArray *bytes, guint64 number)
{
  guint8 part[10];
  guint n = 0;

  do
    {
      part[n++] = (guint8) ((number & 0x7f) | (number > 0x7f ? 0x80 : 0));
      number >>= 7;
    }
  while (number != 0);
  g_byte_array_append (bytes, part, n);
}

static gboolean
take (const guint8 **at, const guint8 *end, guint64 *number)
{
  *number = 0;
  for (int shift = 0; *at < end && shift < 63; shift += 7)
    {
      guint8 part = *(*at)++;

      *number |= (guint64) (part & 0x7f) << shift;
      if ((part & 0x80) == 0)
        return TRUE;
    }
  return FALSE;
}

static guint64
zigzag (gint64 x)
{
  return x < 0 ? (guint64) (-x) * 2 - 1 : (guint64) x * 2;
}

static gint64
unzigzag (guint64 x)
{
  return (x & 1) != 0 ? -(gint64) ((x + 1) / 2) : (gint64) (x / 2);
}

static gint64
kept (double value, double factor)
{
  return isfinite (value) ? (gint64) floor (CLAMP (value * factor, -29999.0, 29999.0) + 0.5)
                          : NOT_READ;
}

static float
read_back (gint64 value, double factor)
{
  return value == NOT_READ ? NAN : (float) ((double) value / factor);
}

/* --- days ----------------------------------------------------------------- */

GByteArray *
dew_day_pack (const DewReading *readings, guint n, gint64 day)
{
  GByteArray *bytes = g_byte_array_sized_new (5 * n + 8);
  gint64 before_s = day * DEW_DAY_S, t = 0, rh = 0;
  guint marks = 0, source = 0;
  guint8 form = FORM;

  g_byte_array_append (bytes, &form, 1);
  for (guint i = 0; i < n; i++)
    {
      const DewReading *r = &readings[i];
      gboolean other = r->marks != marks || r->source != source;
      gint64 next_t = kept (r->t_C, 100.0), next_rh = kept (r->rh, 10000.0);

      put (bytes, (guint64) (r->time_s - before_s) * 2 + (other ? 1 : 0));
      if (other)
        {
          put (bytes, r->marks);
          put (bytes, r->source);
        }
      put (bytes, zigzag (next_t - t));
      put (bytes, zigzag (next_rh - rh));
      before_s = r->time_s;
      t = next_t;
      rh = next_rh;
      marks = r->marks;
      source = r->source;
    }
  return bytes;
}

/* One reading after `r`; FALSE when the bytes do not hold one. */
static gboolean
unpack_next (const guint8 **at, const guint8 *end, DewReading *r, gint64 *t, gint64 *rh)
{
  guint64 step, marks = r->marks, source = r->source, change_t, change_rh;

  if (!take (at, end, &step)
      || ((step & 1) != 0 && (!take (at, end, &marks) || !take (at, end, &source)))
      || !take (at, end, &change_t) || !take (at, end, &change_rh) || step / 2 > DEW_DAY_S
      || marks > G_MAXUINT16 || source > G_MAXUINT16 || change_t > 200000 || change_rh > 200000)
    return FALSE;
  r->time_s += (gint64) (step / 2);
  r->marks = (guint16) marks;
  r->source = (guint16) source;
  *t += unzigzag (change_t);
  *rh += unzigzag (change_rh);
  r->t_C = read_back (*t, 100.0);
  r->rh = read_back (*rh, 10000.0);
  return TRUE;
}

gboolean
dew_day_unpack (const guint8 *bytes, gsize length, gint64 day, GArray *out)
{
  DewReading r = { .time_s = day * DEW_DAY_S };
  const guint8 *at = bytes + 1, *end = bytes + length;
  guint was = out->len;
  gint64 t = 0, rh = 0;

  if (length < 1 || bytes[0] != FORM)
    return FALSE;
  while (at < end)
    {
      if (!unpack_next (&at, end, &r, &t, &rh) || r.time_s >= (day + 1) * DEW_DAY_S)
        {
          g_array_set_size (out, was);
          return FALSE;
        }
      g_array_append_val (out, r);
    }
  return TRUE;
}

/* --- quarters -------------------------------------------------------------- */

static void
widen (float *three, guint *n, float value)
{
  if (isnan (value))
    return;
  if ((*n)++ == 0)
    three[0] = three[1] = three[2] = value;
  else
    {
      three[0] = MIN (three[0], value);
      three[1] += (value - three[1]) / (float) *n;
      three[2] = MAX (three[2], value);
    }
}

void
dew_day_quarters (const DewReading *readings, guint n, gint64 day, DewQuarter *quarters)
{
  guint n_t[DEW_QUARTERS] = { 0 }, n_rh[DEW_QUARTERS] = { 0 };

  for (int q = 0; q < DEW_QUARTERS; q++)
    for (int i = 0; i < 3; i++)
      quarters[q].t_C[i] = quarters[q].rh[i] = NAN;
  for (guint i = 0; i < n; i++)
    {
      gint64 q = (readings[i].time_s - day * DEW_DAY_S) / DEW_QUARTER_S;

      if (q < 0 || q >= DEW_QUARTERS || !dew_reading_counts (&readings[i]))
        continue;
      widen (quarters[q].t_C, &n_t[q], readings[i].t_C);
      widen (quarters[q].rh, &n_rh[q], readings[i].rh);
    }
}

GByteArray *
dew_quarters_pack (const DewQuarter *quarters)
{
  GByteArray *bytes = g_byte_array_sized_new (DEW_QUARTERS * VALUES * 2);

  for (int q = 0; q < DEW_QUARTERS; q++)
    for (guint i = 0; i < VALUES; i++)
      {
        gint64 value
          = i < 3 ? kept (quarters[q].t_C[i], 100.0) : kept (quarters[q].rh[i - 3], 10000.0);
        guint16 word = (guint16) (value == NOT_READ ? NO_QUARTER : value);
        guint8 part[2] = { (guint8) (word & 0xff), (guint8) (word >> 8) };

        g_byte_array_append (bytes, part, 2);
      }
  return bytes;
}

gboolean
dew_quarters_unpack (const guint8 *bytes, gsize length, DewQuarter *quarters)
{
  if (length != DEW_QUARTERS * VALUES * 2)
    return FALSE;
  for (int q = 0; q < DEW_QUARTERS; q++)
    for (guint i = 0; i < VALUES; i++, bytes += 2)
      {
        gint16 value = (gint16) (bytes[0] | bytes[1] << 8);
        float x = value == NO_QUARTER ? NAN : (float) value / (i < 3 ? 100.0f : 10000.0f);

        if (i < 3)
          quarters[q].t_C[i] = x;
        else
          quarters[q].rh[i - 3] = x;
      }
  return TRUE;
}
