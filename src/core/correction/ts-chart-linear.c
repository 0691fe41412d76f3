/* ts-chart-linear.c: tone curve, uneven light and linear matrix of a picture of the chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Bayesian linear regression in XYZ: what a camera leaves of the patches is no noise but goes
 * together as the prior says, and a grey leaves next to nothing. So the greys settle the tone curve
 * and the light, and other patches help as far as they can be trusted.
 */
#include "correction/ts-chart-linear.h"

#include <math.h>
#include <string.h>

#include "base/ts-linalg.h"
#include "colour/ts-colour-convert.h"
#include "correction/ts-cholesky.h"
#include "correction/ts-terms-fit.h"

enum
{
  MATRIX,
  LIGHT = 9,
  BEND = 11,
  OFFSET = BEND + TS_TONE_BENDS,
  N_UNKNOWNS
};

/* What is expected before the picture is seen: the spread of each, around 0. A light that changes
 * by some percent over the chart; the contrast curves that cameras have; some thousandths of flare.
 */
static const double spread[N_UNKNOWNS] = {
  [LIGHT] = 0.012, 0.012, [BEND] = 1.5, 0.6, 1.0, [OFFSET] = 0.003
};

/* The chart's own colours are off by about this in each of L*, a*, b*, noise and dust included. */
#define REFERENCE_ERROR 0.6
#define LEAST_ERROR 3e-4 /* XYZ */
#define ROUNDS 12
#define HALVINGS 6
#define STEP 1e-5
#define DARK 0.02
#define ENOUGH 1e-5

typedef struct
{
  const TsFitPatches *patches;
  guint index[TS_CHART_PATCHES]; /* of those that are used */
  guint n;
  guint n_unknowns;
  double wanted[TS_PRIOR_ROWS];
  double factor[TS_PRIOR_ROWS * TS_PRIOR_ROWS]; /* Cholesky's of the covariance */
} Problem;

typedef struct
{
  double x[N_UNKNOWNS];
  double cost;
  double log_determinant;
} Solution;

static TsTone
tone_of (const double x[N_UNKNOWNS])
{
  TsTone tone = { .gain = 1.0, .offset = x[OFFSET] };

  for (int k = 0; k < TS_TONE_BENDS; k++)
    tone.bend[k] = x[BEND + k];
  return tone;
}

/* What the error of the reference is in XYZ. */
static gboolean
add_reference_error (double *covariance, gsize size, gsize at, TsLab lab)
{
  double j[3][3];
  TsMat3 slope, back;

  ts_lab_jacobian (ts_xyz_from_lab (lab), j);
  memcpy (slope.m, j, sizeof j);
  if (!ts_mat3_invert (&slope, &back))
    return FALSE;
  for (gsize c = 0; c < 3; c++)
    for (gsize d = 0; d < 3; d++)
      {
        double sum = c == d ? LEAST_ERROR * LEAST_ERROR : 0.0;

        for (int k = 0; k < 3; k++)
          sum += REFERENCE_ERROR * REFERENCE_ERROR * back.m[c][k] * back.m[d][k];
        covariance[(at + c) * size + at + d] += sum;
      }
  return TRUE;
}

static gboolean
problem_set_up (Problem *self, const TsFitPatches *patches, const TsChartPrior *prior,
                gboolean bent)
{
  gsize size;

  *self = (Problem){ .patches = patches, .n_unknowns = bent ? N_UNKNOWNS : BEND };
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    if (patches->weight[i] > 0.0)
      self->index[self->n++] = i;
  size = 3 * self->n;
  for (gsize r = 0; r < size; r++)
    {
      guint row = 3 * self->index[r / 3] + r % 3;

      for (gsize s = 0; s < size; s++)
        self->factor[r * size + s] = prior->covariance[row][3 * self->index[s / 3] + s % 3];
    }
  for (guint i = 0; i < self->n; i++)
    {
      TsLab lab = patches->lab[self->index[i]];
      TsXyz xyz = ts_xyz_from_lab (lab);
      const double *mean = prior->mean + 3 * self->index[i];

      self->wanted[3 * i] = xyz.X + mean[0];
      self->wanted[3 * i + 1] = xyz.Y + mean[1];
      self->wanted[3 * i + 2] = xyz.Z + mean[2];
      if (!add_reference_error (self->factor, size, 3 * i, lab))
        return FALSE;
    }
  return self->n > 0 && ts_cholesky_factor (self->factor, size);
}

/* What is seen of patch @i, with the tone curve and the uneven light taken out. */
static TsRgb
even_light (const Problem *self, const double x[N_UNKNOWNS], guint i)
{
  TsTone tone = tone_of (x);
  TsRgb rgb = self->patches->rgb[self->index[i]];
  double share = ts_chart_light (x + LIGHT, self->index[i]);

  return (TsRgb){ ts_tone_apply (&tone, rgb.r) / share, ts_tone_apply (&tone, rgb.g) / share,
                  ts_tone_apply (&tone, rgb.b) / share };
}

static void
predict (const Problem *self, const double x[N_UNKNOWNS], double out[TS_PRIOR_ROWS])
{
  for (guint i = 0; i < self->n; i++)
    {
      TsRgb rgb = even_light (self, x, i);

      for (guint c = 0; c < 3; c++)
        out[3 * i + c] = x[c] * rgb.r + x[3 + c] * rgb.g + x[6 + c] * rgb.b;
    }
}

/* What is left, each direction in units of how much of it is expected. */
static void
find_left (const Problem *self, const double x[N_UNKNOWNS], double left[TS_PRIOR_ROWS])
{
  predict (self, x, left);
  for (guint r = 0; r < 3 * self->n; r++)
    left[r] -= self->wanted[r];
  ts_cholesky_forward (self->factor, 3 * self->n, left);
}

static double
cost_at (const Problem *self, const double x[N_UNKNOWNS])
{
  double left[TS_PRIOR_ROWS], cost = 0.0;

  find_left (self, x, left);
  for (guint r = 0; r < 3 * self->n; r++)
    cost += left[r] * left[r];
  for (guint k = LIGHT; k < self->n_unknowns; k++)
    cost += x[k] * x[k] / (spread[k] * spread[k]);
  return cost;
}

static void
find_slope (const Problem *self, const double x[N_UNKNOWNS], guint unknown,
            const double at[TS_PRIOR_ROWS], double slope[TS_PRIOR_ROWS])
{
  double moved[N_UNKNOWNS];

  memcpy (moved, x, sizeof moved);
  moved[unknown] += STEP;
  find_left (self, moved, slope);
  for (guint r = 0; r < 3 * self->n; r++)
    slope[r] = (slope[r] - at[r]) / STEP;
}

/* The factor of the normal equations at @x, and Gauss and Newton's step from there. */
static gboolean
find_step (const Problem *self, const double x[N_UNKNOWNS], double *a, double step[N_UNKNOWNS])
{
  double at[TS_PRIOR_ROWS], slope[N_UNKNOWNS][TS_PRIOR_ROWS];
  gsize n = self->n_unknowns;

  find_left (self, x, at);
  for (guint k = 0; k < n; k++)
    find_slope (self, x, k, at, slope[k]);
  for (gsize k = 0; k < n; k++)
    {
      double narrow = k < LIGHT ? 0.0 : 1.0 / (spread[k] * spread[k]);

      step[k] = -narrow * x[k];
      for (guint r = 0; r < 3 * self->n; r++)
        step[k] -= slope[k][r] * at[r];
      for (gsize m = 0; m <= k; m++)
        {
          double sum = m == k ? narrow : 0.0;

          for (guint r = 0; r < 3 * self->n; r++)
            sum += slope[k][r] * slope[m][r];
          a[k * n + m] = sum;
        }
    }
  if (!ts_cholesky_factor (a, n))
    return FALSE;
  ts_cholesky_forward (a, n, step);
  ts_cholesky_backward (a, n, step);
  return TRUE;
}

static gboolean
take_step (const Problem *self, Solution *solution, const double step[N_UNKNOWNS])
{
  double share = 1.0;

  for (int h = 0; h < HALVINGS; h++, share *= 0.5)
    {
      double tried[N_UNKNOWNS] = { 0 }, cost;

      for (guint k = 0; k < self->n_unknowns; k++)
        tried[k] = solution->x[k] + share * step[k];
      cost = cost_at (self, tried);
      if (cost < solution->cost)
        {
          memcpy (solution->x, tried, sizeof tried);
          solution->cost = cost;
          return TRUE;
        }
    }
  return FALSE;
}

static gboolean
solve (const Problem *self, Solution *solution)
{
  double a[N_UNKNOWNS * N_UNKNOWNS], step[N_UNKNOWNS];

  solution->cost = cost_at (self, solution->x);
  for (int round = 0; round < ROUNDS; round++)
    {
      double before = solution->cost;

      if (!find_step (self, solution->x, a, step))
        return FALSE;
      if (!take_step (self, solution, step) || before - solution->cost < ENOUGH)
        break;
    }
  solution->log_determinant = 0.0;
  for (guint k = 0; k < self->n_unknowns; k++)
    solution->log_determinant += 2.0 * log (a[k * self->n_unknowns + k]);
  return isfinite (solution->cost);
}

/* Least squares without the prior, relative errors counting. */
static gboolean
start_plain (const Problem *self, double x[N_UNKNOWNS])
{
  double a[9] = { 0 }, b[3][3] = { { 0 } };

  memset (x, 0, N_UNKNOWNS * sizeof x[0]);
  for (guint i = 0; i < self->n; i++)
    {
      TsRgb rgb = even_light (self, x, i);
      const double seen[3] = { rgb.r, rgb.g, rgb.b };
      double w = 1.0 / (DARK + MAX (self->wanted[3 * i + 1], 0.0));

      for (int j = 0; j < 3; j++)
        for (int k = 0; k < 3; k++)
          {
            a[3 * j + k] += w * seen[j] * seen[k];
            b[j][k] += w * seen[k] * self->wanted[3 * i + (guint) j];
          }
    }
  if (!ts_cholesky_factor (a, 3))
    return FALSE;
  for (int c = 0; c < 3; c++)
    {
      ts_cholesky_forward (a, 3, b[c]);
      ts_cholesky_backward (a, 3, b[c]);
      for (int k = 0; k < 3; k++)
        x[3 * k + c] = b[c][k];
    }
  return TRUE;
}

static void
start_there (const TsChartLinear *start, double x[N_UNKNOWNS])
{
  memcpy (x, start->matrix, sizeof start->matrix);
  memcpy (x + LIGHT, start->light, sizeof start->light);
  memcpy (x + BEND, start->tone.bend, sizeof start->tone.bend);
  x[OFFSET] = start->tone.offset;
}

/* With the weights that the kriging of errors needs (the best linear prediction). */
static void
keep (TsChartLinear *self, const Problem *problem, const Solution *solution)
{
  double left[TS_PRIOR_ROWS];

  memcpy (self->matrix, solution->x, sizeof self->matrix);
  memcpy (self->light, solution->x + LIGHT, sizeof self->light);
  self->tone = tone_of (solution->x);
  self->evidence = -0.5 * (solution->cost + solution->log_determinant);
  for (guint k = LIGHT; k < problem->n_unknowns; k++)
    self->evidence -= log (spread[k]);
  find_left (problem, solution->x, left);
  ts_cholesky_backward (problem->factor, 3 * problem->n, left);
  memset (self->weight, 0, sizeof self->weight);
  for (guint r = 0; r < 3 * problem->n; r++)
    self->weight[3 * problem->index[r / 3] + r % 3] = left[r];
}

/**
 * ts_chart_linear_fit:
 * @self: (out): the fit; may be @start
 * @patches: the patches; those of weight 0 are left out
 * @prior: what is expected of cameras
 * @bent: whether the camera has bent the tones
 * @start: (nullable): a fit to begin at, of nearly the same patches
 *
 * The most probable matrix, light and tone curve (Gauss and Newton), and the evidence of the form
 * by Laplace's approximation (MacKay 1992, Bayesian interpolation).
 *
 * Returns: %FALSE where the patches are too few, or the curve found does not rise everywhere
 */
gboolean
ts_chart_linear_fit (TsChartLinear *self, const TsFitPatches *patches, const TsChartPrior *prior,
                     gboolean bent, const TsChartLinear *start)
{
  g_autofree Problem *problem = g_new (Problem, 1);
  Solution solution = { 0 };

  if (!problem_set_up (problem, patches, prior, bent))
    return FALSE;
  if (start != NULL)
    start_there (start, solution.x);
  else if (!start_plain (problem, solution.x))
    return FALSE;
  if (!solve (problem, &solution))
    return FALSE;
  self->bent = bent;
  keep (self, problem, &solution);
  return ts_tone_rises (&self->tone);
}

/**
 * ts_chart_linear_expect:
 * @self: a fit
 * @prior: the same that it was fitted with
 * @paint: (out): what the picture would show of the prior's paints
 *
 * A paint's error in XYZ is expected from those of the patches; the matrix, backwards, makes linear
 * light of it.
 *
 * Returns: %FALSE where the matrix cannot be turned round
 */
gboolean
ts_chart_linear_expect (const TsChartLinear *self, const TsChartPrior *prior,
                        TsRgb paint[TS_PRIOR_PAINTS])
{
  TsMat3 matrix, back;

  for (int k = 0; k < 3; k++)
    for (int c = 0; c < 3; c++)
      matrix.m[c][k] = self->matrix[k][c];
  if (!ts_mat3_invert (&matrix, &back))
    return FALSE;
  for (guint i = 0; i < TS_PRIOR_PAINTS; i++)
    {
      TsXyz xyz = prior->paint[i];
      TsVec3 seen = { { xyz.X, xyz.Y, xyz.Z } };

      for (guint c = 0; c < 3; c++)
        {
          seen.v[c] += prior->paint_mean[3 * i + c];
          for (guint r = 0; r < TS_PRIOR_ROWS; r++)
            seen.v[c] += prior->paint_covariance[3 * i + c][r] * self->weight[r];
        }
      seen = ts_mat3_apply (&back, seen);
      paint[i] = (TsRgb){ seen.v[0], seen.v[1], seen.v[2] };
    }
  return TRUE;
}
