/* ts-sheet-light.c: how evenly a sheet is lit, from the bare card on it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "sheet/ts-sheet-light.h"

#include <math.h>
#include <stdlib.h>

#include "correction/ts-least-squares-fit.h"

#define FEWEST_SAMPLES 6
#define ENOUGH_FOR_BENT 16
#define LEAST_SHARE 0.3     /* of the samples that must be card */
#define BRIGHT_SHARE 0.5    /* of the bright ones' level: darker is black card, or paint */
#define WIDEST_TINT 0.06    /* of the chromaticity ratios, from their middle */
#define NEAR 0.04           /* logarithm of light: what the card's own texture may do */
#define NOT_THE_LIGHT 0.025 /* root mean square that is left */
#define ROUNDS 8
#define BENT_TERMS 6
#define PLANE_TERMS 3
#define LEAST_Y 1e-4

static int
compare_doubles (gconstpointer one, gconstpointer other)
{
  double a = *(const double *) one, b = *(const double *) other;

  return (a > b) - (a < b);
}

static double
quantile (const double *values, guint n, double share)
{
  g_autofree double *sorted = g_memdup2 (values, n * sizeof *values);

  qsort (sorted, n, sizeof *sorted, compare_doubles);
  return sorted[(guint) (share * (n - 1))];
}

static double
red_of (TsXyz xyz)
{
  return log (MAX (xyz.X, LEAST_Y) / MAX (xyz.Y, LEAST_Y));
}

static double
blue_of (TsXyz xyz)
{
  return log (MAX (xyz.Z, LEAST_Y) / MAX (xyz.Y, LEAST_Y));
}

/* Bright samples of one tint. Marks them in @kept and counts them. */
static guint
keep_bright (const TsSheetSample *samples, guint n, guint8 *kept)
{
  g_autofree double *value = g_new (double, n);
  guint n_bright = 0, n_kept = 0;
  double level, red, blue;

  for (guint i = 0; i < n; i++)
    value[i] = samples[i].xyz.Y;
  level = BRIGHT_SHARE * quantile (value, n, 0.95);
  for (guint i = 0; i < n; i++)
    n_bright += kept[i] = samples[i].xyz.Y >= level && samples[i].xyz.Y > LEAST_Y;
  if (n_bright == 0)
    return 0;

  n_bright = 0;
  for (guint i = 0; i < n; i++)
    if (kept[i])
      value[n_bright++] = red_of (samples[i].xyz);
  red = quantile (value, n_bright, 0.5);
  n_bright = 0;
  for (guint i = 0; i < n; i++)
    if (kept[i])
      value[n_bright++] = blue_of (samples[i].xyz);
  blue = quantile (value, n_bright, 0.5);
  for (guint i = 0; i < n; i++)
    {
      kept[i] = kept[i] && fabs (red_of (samples[i].xyz) - red) <= WIDEST_TINT &&
                fabs (blue_of (samples[i].xyz) - blue) <= WIDEST_TINT;
      n_kept += kept[i];
    }
  return n_kept;
}

static void
fill_terms (double terms[BENT_TERMS], double u, double v)
{
  terms[0] = 1.0;
  terms[1] = u;
  terms[2] = v;
  terms[3] = u * u;
  terms[4] = u * v;
  terms[5] = v * v;
}

static gboolean
fit (const TsSheetSample *samples, guint n, const guint8 *kept, guint n_terms, double *x)
{
  g_autofree double *a = g_new (double, (gsize) n *n_terms);
  g_autofree double *b = g_new (double, n);
  guint rows = 0;

  for (guint i = 0; i < n; i++)
    if (kept[i])
      {
        double terms[BENT_TERMS];

        fill_terms (terms, samples[i].u, samples[i].v);
        for (guint t = 0; t < n_terms; t++)
          a[rows * n_terms + t] = terms[t];
        b[rows++] = log (samples[i].xyz.Y);
      }
  return rows > n_terms && ts_least_squares_solve (a, b, rows, n_terms, x);
}

static double
value_at (const double *x, guint n_terms, double u, double v)
{
  double terms[BENT_TERMS], sum = 0.0;

  fill_terms (terms, u, v);
  for (guint t = 0; t < n_terms; t++)
    sum += x[t] * terms[t];
  return sum;
}

/* Paint or a shadow among the card pulls the surface down; what lies far off is dropped, more of it
 * below than above, until nothing changes. */
static gboolean
fit_robustly (const TsSheetSample *samples, guint n, guint8 *kept, guint n_terms, double *x)
{
  for (int round = 0; round < ROUNDS; round++)
    {
      double limit = MAX (NEAR, 0.3 * pow (0.5, round));
      guint changed = 0;

      if (!fit (samples, n, kept, n_terms, x))
        return FALSE;
      for (guint i = 0; i < n; i++)
        if (kept[i])
          {
            double off = log (samples[i].xyz.Y) - value_at (x, n_terms, samples[i].u, samples[i].v);

            if (!(fabs (off) <= limit))
              {
                kept[i] = FALSE;
                changed++;
              }
          }
      if (changed == 0 && limit <= NEAR)
        return TRUE;
    }
  return fit (samples, n, kept, n_terms, x);
}

/* What is left of the kept samples, and their mean colour at level 0. */
static double
assess (TsSheetLight *self, const TsSheetSample *samples, guint n, const guint8 *kept)
{
  double squares = 0.0;

  self->n_used = 0;
  self->white = (TsXyz){ 0.0, 0.0, 0.0 };
  for (guint i = 0; i < n; i++)
    if (kept[i])
      {
        double level = ts_sheet_light_get (self, samples[i].u, samples[i].v);
        double off = log (samples[i].xyz.Y) - level;

        squares += off * off;
        self->n_used++;
        self->white.X += samples[i].xyz.X * exp (-level);
        self->white.Y += samples[i].xyz.Y * exp (-level);
        self->white.Z += samples[i].xyz.Z * exp (-level);
      }
  self->white.X /= MAX (self->n_used, 1);
  self->white.Y /= MAX (self->n_used, 1);
  self->white.Z /= MAX (self->n_used, 1);
  return sqrt (squares / MAX (self->n_used, 1));
}

/**
 * ts_sheet_light_find:
 * @self: (out): the light
 * @samples: (array length=n_samples): places that may be bare white card
 * @n_samples: how many
 *
 * Keeps the bright samples of one tint and lays a smooth surface through the logarithm of their
 * light, without those that lie off it. Card that is not white all over, or no bare card at all,
 * shows as too few samples or too much left.
 *
 * Returns: %FALSE where this is no white card under one light; @self is then of no use
 */
gboolean
ts_sheet_light_find (TsSheetLight *self, const TsSheetSample *samples, guint n_samples)
{
  g_autofree guint8 *kept = g_new0 (guint8, MAX (n_samples, 1));
  guint least = MAX (FEWEST_SAMPLES, (guint) (LEAST_SHARE * n_samples));
  guint n_kept;

  *self = (TsSheetLight){ 0 };
  if (n_samples < FEWEST_SAMPLES)
    return FALSE;
  n_kept = keep_bright (samples, n_samples, kept);
  if (n_kept < least || !fit_robustly (samples, n_samples, kept, PLANE_TERMS, self->plane))
    return FALSE;
  for (guint t = 0; t < PLANE_TERMS; t++)
    self->bent[t] = self->plane[t];
  /* The plane had to be wide of a strong bend; the bent surface chooses anew. */
  if (n_kept >= ENOUGH_FOR_BENT)
    {
      keep_bright (samples, n_samples, kept);
      if (!fit_robustly (samples, n_samples, kept, BENT_TERMS, self->bent))
        return FALSE;
    }
  return assess (self, samples, n_samples, kept) <= NOT_THE_LIGHT && self->n_used >= least;
}

/**
 * ts_sheet_light_get:
 * @self: the light
 * @u: place across the grid, 0..1; may lie beyond
 * @v: place down the grid
 *
 * Returns: logarithm of the luminance of white card there, as the picture has it
 */
double
ts_sheet_light_get (const TsSheetLight *self, double u, double v)
{
  double inside_u = CLAMP (u, 0.0, 1.0), inside_v = CLAMP (v, 0.0, 1.0);

  return value_at (self->bent, BENT_TERMS, inside_u, inside_v) + self->plane[1] * (u - inside_u) +
         self->plane[2] * (v - inside_v);
}
