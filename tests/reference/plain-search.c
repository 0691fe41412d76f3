/* plain-search.c: the nearest mixes by trying them all, slowly and plainly
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shares nothing with the program but the weights from bands to XYZ: an odometer over choices of
 * paints and over parts, the textbook form of each formula, and no pruning at all.
 */
#include "plain-search.h"

#include <math.h>
#include <string.h>

#define DEGREES (180.0 / 3.14159265358979323846)

static double
power_share (double chroma)
{
  return sqrt (pow (chroma, 7.0) / (pow (chroma, 7.0) + pow (25.0, 7.0)));
}

static double
hue_of (double a, double b)
{
  double hue;

  if (a == 0.0 && b == 0.0)
    return 0.0;
  hue = atan2 (b, a) * DEGREES;
  return hue < 0.0 ? hue + 360.0 : hue;
}

double
plain_delta_e (const double *one, const double *other)
{
  double mean_chroma =
    (sqrt (one[1] * one[1] + one[2] * one[2]) + sqrt (other[1] * other[1] + other[2] * other[2])) /
    2.0;
  double g = 1.5 - 0.5 * power_share (mean_chroma);
  double a1 = g * one[1], a2 = g * other[1];
  double c1 = sqrt (a1 * a1 + one[2] * one[2]), c2 = sqrt (a2 * a2 + other[2] * other[2]);
  double h1 = hue_of (a1, one[2]), h2 = hue_of (a2, other[2]);
  double dh = h2 - h1, h = (h1 + h2) / 2.0, l = (one[0] + other[0]) / 2.0, c = (c1 + c2) / 2.0;
  double t, sl, sc, sh, rt, x, y, z;

  if (c1 * c2 == 0.0)
    {
      dh = 0.0;
      h = h1 + h2;
    }
  else if (fabs (h1 - h2) > 180.0)
    {
      dh += h2 > h1 ? -360.0 : 360.0;
      h += h1 + h2 < 360.0 ? 180.0 : -180.0;
    }
  t = 1.0 - 0.17 * cos ((h - 30.0) / DEGREES) + 0.24 * cos (2.0 * h / DEGREES) +
      0.32 * cos ((3.0 * h + 6.0) / DEGREES) - 0.20 * cos ((4.0 * h - 63.0) / DEGREES);
  sl = 1.0 + 0.015 * pow (l - 50.0, 2.0) / sqrt (20.0 + pow (l - 50.0, 2.0));
  sc = 1.0 + 0.045 * c;
  sh = 1.0 + 0.015 * c * t;
  rt = -sin (60.0 * exp (-pow ((h - 275.0) / 25.0, 2.0)) / DEGREES) * 2.0 * power_share (c);
  x = (other[0] - one[0]) / sl;
  y = (c2 - c1) / sc;
  z = 2.0 * sqrt (c1 * c2) * sin (dh / 2.0 / DEGREES) / sh;
  return sqrt (fmax (0.0, x * x + y * y + z * z + rt * y * z));
}

static double
cube_root_part (double t)
{
  return t > 216.0 / 24389.0 ? pow (t, 1.0 / 3.0) : t * (841.0 / 108.0) + 4.0 / 29.0;
}

/* Kubelka and Munk's 1 + q - sqrt (q^2 + 2 q), then Saunderson's surface. */
void
plain_lab (const PlainPaints *paints, const PlainMix *mix, double *lab)
{
  double sum[3] = { 0.0, 0.0, 0.0 };
  double x, y, z;

  for (guint b = 0; b < PLAIN_BANDS; b++)
    {
      double k = 0.0, s = 0.0, q, inside, measured;

      for (guint i = 0; i < mix->n_paints; i++)
        {
          k += mix->parts[i] * paints->K[mix->paint[i]][b];
          s += mix->parts[i] * paints->S[mix->paint[i]][b];
        }
      q = k / s;
      inside = 1.0 + q - sqrt (q * q + 2.0 * q);
      measured =
        paints->k1 + (1.0 - paints->k1) * (1.0 - paints->k2) * inside / (1.0 - paints->k2 * inside);
      for (guint c = 0; c < 3; c++)
        sum[c] += paints->weights[b][c] * measured;
    }
  x = cube_root_part (sum[0] / 0.9642);
  y = cube_root_part (sum[1]);
  z = cube_root_part (sum[2] / 0.8249);
  lab[0] = 116.0 * y - 16.0;
  lab[1] = 500.0 * (x - y);
  lab[2] = 200.0 * (y - z);
}

static guint
total_of (const PlainMix *mix)
{
  guint total = 0;

  for (guint i = 0; i < mix->n_paints; i++)
    total += mix->parts[i];
  return total;
}

/* Most parts first, then names: the order in which a recipe is read. */
static void
reading_order (const PlainPaints *paints, const PlainMix *mix, guint order[4])
{
  for (guint i = 0; i < mix->n_paints; i++)
    order[i] = i;
  for (guint i = 0; i < mix->n_paints; i++)
    for (guint j = i + 1; j < mix->n_paints; j++)
      {
        guint one = order[i], other = order[j];

        if (mix->parts[other] > mix->parts[one] ||
            (mix->parts[other] == mix->parts[one] &&
             strcmp (paints->names[mix->paint[other]], paints->names[mix->paint[one]]) < 0))
          {
            order[i] = other;
            order[j] = one;
          }
      }
}

static gboolean
is_better (const PlainPaints *paints, const PlainMix *one, const PlainMix *other)
{
  double d1 = round (one->delta_e * 1e9), d2 = round (other->delta_e * 1e9);
  guint o1[4], o2[4];

  if (d1 != d2)
    return d1 < d2;
  if (one->n_paints != other->n_paints)
    return one->n_paints < other->n_paints;
  if (total_of (one) != total_of (other))
    return total_of (one) < total_of (other);
  reading_order (paints, one, o1);
  reading_order (paints, other, o2);
  for (guint i = 0; i < one->n_paints; i++)
    {
      int names = strcmp (paints->names[one->paint[o1[i]]], paints->names[other->paint[o2[i]]]);

      if (names != 0)
        return names < 0;
      if (one->parts[o1[i]] != other->parts[o2[i]])
        return one->parts[o1[i]] > other->parts[o2[i]];
    }
  return FALSE;
}

/* The next shares of at least 1 part with a total within @most, or FALSE after the last. A mix in
 * a larger pot comes by too and loses its tie. */
static gboolean
next_parts (PlainMix *mix, guint most)
{
  for (guint i = 0; i < mix->n_paints; i++)
    {
      mix->parts[i]++;
      if (total_of (mix) <= most)
        return TRUE;
      mix->parts[i] = 1;
    }
  return FALSE;
}

static gboolean
next_paints (PlainMix *mix, guint n)
{
  for (guint i = mix->n_paints; i-- > 0;)
    if (mix->paint[i] + (mix->n_paints - i) < n)
      {
        mix->paint[i]++;
        for (guint j = i + 1; j < mix->n_paints; j++)
          mix->paint[j] = mix->paint[j - 1] + 1;
        return TRUE;
      }
  return FALSE;
}

/* All shares of one choice of paints, coloured. */
static void
colour_parts (const PlainPaints *paints, PlainMix mix, guint max_parts, GArray *mixes)
{
  g_array_set_size (mixes, 0);
  for (guint i = 0; i < mix.n_paints; i++)
    mix.parts[i] = 1;
  do
    {
      plain_lab (paints, &mix, mix.lab);
      g_array_append_val (mixes, mix);
    }
  while (next_parts (&mix, max_parts));
}

/* No weight of lightness in CIEDE2000 exceeds 1 + 0.015 50^2 / sqrt (20 + 50^2) = 1.747 for L* from
 * 0 to 100, so such a mix is farther than @worst. */
static gboolean
is_far (const PlainMix *mix, const double *target, double worst)
{
  return fabs (mix->lab[0] - target[0]) > 1.75 * worst + 1e-6;
}

static void
offer (const PlainPaints *paints, const GArray *mixes, const double *target, PlainMix *best,
       guint n_best, guint *found)
{
  double worst = *found == n_best ? best[n_best - 1].delta_e : (double) INFINITY;
  PlainMix here;
  guint place = *found;
  gboolean any = FALSE;

  for (guint i = 0; i < mixes->len; i++)
    {
      PlainMix mix = g_array_index (mixes, PlainMix, i);

      if (is_far (&mix, target, worst))
        continue;
      mix.delta_e = plain_delta_e (mix.lab, target);
      if (!any || is_better (paints, &mix, &here))
        here = mix;
      any = TRUE;
    }
  if (!any)
    return;
  while (place > 0 && is_better (paints, &here, &best[place - 1]))
    place--;
  if (place == n_best)
    return;
  *found = MIN (*found + 1, n_best);
  memmove (best + place + 1, best + place, (*found - place - 1) * sizeof *best);
  best[place] = here;
}

void
plain_search_all (const PlainPaints *paints, guint max_paints, guint max_parts,
                  const double (*targets)[3], guint n_targets, PlainMix *best, guint n_best,
                  guint *found)
{
  g_autoptr (GArray) mixes = g_array_new (FALSE, FALSE, sizeof (PlainMix));

  memset (found, 0, n_targets * sizeof *found);
  for (guint count = 1; count <= max_paints && count <= max_parts && count <= paints->n; count++)
    {
      PlainMix mix = { .n_paints = count };

      for (guint i = 0; i < count; i++)
        mix.paint[i] = i;
      do
        {
          colour_parts (paints, mix, max_parts, mixes);
          for (guint t = 0; t < n_targets; t++)
            offer (paints, mixes, targets[t], best + (gsize) t * n_best, n_best, &found[t]);
        }
      while (next_paints (&mix, paints->n));
    }
}

guint
plain_search (const PlainPaints *paints, guint max_paints, guint max_parts, const double *target,
              PlainMix *best, guint n_best)
{
  guint found;

  plain_search_all (paints, max_paints, max_parts, (const double (*)[3]) target, 1, best, n_best,
                    &found);
  return found;
}
