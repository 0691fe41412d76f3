/* ts-tone-fit.c: white balance and tone curve from the grey row of a chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-correction-fit.h"

#include <math.h>

#include "colour/ts-colour-convert.h"
#include "correction/ts-least-squares-fit.h"

#define FIRST_GREY (TS_CHART_PATCHES - TS_CHART_COLUMNS)
#define GREYS TS_CHART_COLUMNS
#define UNKNOWNS 6 /* a gain each for three channels, then b, c, d */
#define ROWS (3 * GREYS + 3)

/* Towards a straight curve, so that six greys do not draw noise. */
#define RIDGE 1e-3
/* The curve is trusted to half of the darkest grey and a little above the lightest; a camera's
 * contrast curve is steeper or flatter than this nowhere. Beyond it goes on straight. */
#define BELOW_DARKEST 0.7
#define ABOVE_LIGHTEST 0.1
#define LEAST_SLOPE 0.4
#define MOST_SLOPE 2.5
#define LEAST_STRAIGHT 0.6
#define MOST_STRAIGHT 1.6

typedef struct
{
  double l[3][GREYS]; /* log of the balanced channels */
  double Y[GREYS];
  double weight[GREYS];
  guint n;
} Greys;

static double
channel (TsRgb rgb, int c)
{
  return c == 0 ? rgb.r : c == 1 ? rgb.g : rgb.b;
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* A gain a channel that makes the grey row neutral; the median, as one patch may be spoilt. */
static void
fit_gains (TsCorrectionModel *model, const TsFitPatches *patches)
{
  for (int c = 0; c < 3; c++)
    {
      double gains[GREYS];
      guint n = 0;

      for (guint i = FIRST_GREY; i < TS_CHART_PATCHES; i++)
        if (patches->weight[i] > 0.0 && channel (patches->rgb[i], c) > 0.0)
          gains[n++] =
            ts_luminance_from_lightness (patches->lab[i].L) / channel (patches->rgb[i], c);
      qsort (gains, n, sizeof gains[0], compare);
      model->gain[c] = n > 0 ? 0.5 * (gains[n / 2] + gains[(n - 1) / 2]) : 1.0;
    }
}

static void
collect_greys (Greys *self, const TsCorrectionModel *model, const TsFitPatches *patches)
{
  self->n = 0;
  for (guint i = FIRST_GREY; i < TS_CHART_PATCHES; i++)
    {
      gboolean bright = patches->weight[i] > 0.0;

      for (int c = 0; c < 3; c++)
        bright = bright && channel (patches->rgb[i], c) > 1e-5;
      if (!bright)
        continue;
      for (int c = 0; c < 3; c++)
        self->l[c][self->n] = log (model->gain[c] * channel (patches->rgb[i], c));
      self->Y[self->n] = ts_luminance_from_lightness (patches->lab[i].L);
      self->weight[self->n] = patches->weight[i];
      self->n++;
    }
}

/* A row for each channel of each grey, then three that hold the curve towards a straight one. */
static gboolean
solve_curve (TsTone *tone, const Greys *greys, guint n_shape)
{
  double a[ROWS * UNKNOWNS] = { 0 }, b[ROWS] = { 0 }, x[UNKNOWNS] = { 0 };
  guint n = 3 + n_shape, row = 0;

  for (guint i = 0; i < greys->n; i++)
    for (int c = 0; c < 3; c++, row++)
      {
        double w = cbrt (greys->Y[i]) * sqrt (greys->weight[i]);
        double l = greys->l[c][i], power = w;

        a[row * n + (guint) c] = w;
        for (guint k = 0; k < n_shape; k++)
          a[row * n + 3 + k] = power *= l;
        b[row] = w * log (greys->Y[i]);
      }
  for (guint k = 0; k < n_shape; k++, row++)
    {
      a[row * n + 3 + k] = sqrt (RIDGE);
      b[row] = k == 0 ? sqrt (RIDGE) : 0.0;
    }
  if (!ts_least_squares_solve (a, b, row, n, x))
    return FALSE;
  tone->b = x[3];
  tone->c = x[4];
  tone->d = x[5];
  return TRUE;
}

static double
slope_at (const TsTone *tone, double l)
{
  return tone->b + l * (2.0 * tone->c + 3.0 * l * tone->d);
}

/* Sets the ends; FALSE where the curve is too steep or too flat between them. */
static gboolean
close_curve (TsTone *tone, const Greys *greys)
{
  tone->l[0] = tone->l[1] = greys->l[0][0];
  for (guint i = 0; i < greys->n; i++)
    for (int c = 0; c < 3; c++)
      {
        tone->l[0] = MIN (tone->l[0], greys->l[c][i]);
        tone->l[1] = MAX (tone->l[1], greys->l[c][i]);
      }
  tone->l[0] -= BELOW_DARKEST;
  tone->l[1] += ABOVE_LIGHTEST;
  for (int i = 0; i <= 50; i++)
    {
      double slope = slope_at (tone, tone->l[0] + i / 50.0 * (tone->l[1] - tone->l[0]));

      if (!(slope >= LEAST_SLOPE && slope <= MOST_SLOPE))
        return FALSE;
    }
  for (int i = 0; i < 2; i++)
    tone->slope[i] = CLAMP (slope_at (tone, tone->l[i]), LEAST_STRAIGHT, MOST_STRAIGHT);
  return TRUE;
}

/**
 * ts_tone_fit:
 * @model: (inout): gets its gains and tone curve
 * @patches: the patches, of which the grey row counts
 * @kind: form of the curve
 *
 * White balance first, so that later terms start near the answer, then one curve for the three
 * channels through the greys, in log, weighted by Y to the power of 1/3.
 *
 * Returns: %TRUE, or %FALSE where there are too few greys for the form or the curve is no camera's
 */
gboolean
ts_tone_fit (TsCorrectionModel *model, const TsFitPatches *patches, TsToneKind kind)
{
  TsTone tone;
  Greys greys;

  fit_gains (model, patches);
  ts_tone_set_straight (&tone, 1.0);
  if (kind != TS_TONE_NONE)
    {
      collect_greys (&greys, model, patches);
      if (greys.n < (kind == TS_TONE_POWER ? 3 : 5) ||
          !solve_curve (&tone, &greys, kind == TS_TONE_POWER ? 1 : 3) ||
          !close_curve (&tone, &greys))
        return FALSE;
    }
  for (int c = 0; c < 3; c++)
    model->tone[c] = tone;
  return TRUE;
}
