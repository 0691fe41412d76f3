/* ts-paint-doubt.c: how much of some paints' K and S is still open, and what would close it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-doubt.h"

#include <math.h>
#include <string.h>

#include "base/ts-linalg.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "paint/ts-paint-fit-loss.h"

/* log K and log S may be off by smooth shapes over the bands: cosines of 0, 1/2, 1 ... periods. */
#define SHAPES_K 6
#define SHAPES_S 4
#define SHAPES (SHAPES_K + SHAPES_S)

/* What is open beforehand. Of S: 0.8 for its level and 0.4 for its slope are what made stated
 * errors true on measured watercolours (tests/fixtures/published/watercolour_*.csv); of K next to
 * nothing is known until a swatch tells. */
static const double open_S[SHAPES_S] = { 0.8, 0.4, 0.25, 0.15 };
static const double open_K[SHAPES_K] = { 1.5, 1.0, 0.8, 0.6, 0.4, 0.3 };

/* A swatch's colour as a teacher, CIEDE2000 in each direction: the reading (0.7) and the law (1.3),
 * both from the same mixtures. */
#define NOISE 1.5

#define LEAST_K_S 1e-6

/* How three directions of a swatch's colour move with the shapes of its paints. */
typedef struct
{
  guint n;
  guint paint[TS_SWATCH_MAX_PAINTS]; /* in the order of the doubt */
  double slope[3][TS_SWATCH_MAX_PAINTS][SHAPES];
} Slopes;

struct _TsPaintDoubt
{
  /* Owned */
  TsPaintSet *set;
  int *order;         /* of each paint of the set, or -1 */
  double *covariance; /* n x n */
  double *values;     /* K and S of the paints in doubt, as ts_fit_predict() wants them */

  guint n_paints;
  guint n; /* n_paints * SHAPES */
};

static double
shape (guint index, guint band)
{
  return cos (G_PI * index * (band + 0.5) / TS_BANDS);
}

/* What of the doubt is left where a paint was measured better than by its masstone. */
static double
share_open (TsPaintSource source)
{
  switch (source)
    {
    case TS_SOURCE_FILMS_LAB:
    case TS_SOURCE_FILMS_SPECTRA:
      return 0.6;
    case TS_SOURCE_TINTS:
    case TS_SOURCE_CALIBRATED:
      return 0.4;
    case TS_SOURCE_DIRECT:
      return 0.3;
    case TS_SOURCE_WORD:
    case TS_SOURCE_MASSTONE:
    default:
      return 1.0;
    }
}

static void
open_paint (TsPaintDoubt *self, guint index, TsPaintSource source)
{
  gsize n = self->n;

  for (guint s = 0; s < SHAPES; s++)
    {
      gsize at = (gsize) index * SHAPES + s;
      double sd = share_open (source) * (s < SHAPES_K ? open_K[s] : open_S[s - SHAPES_K]);

      self->covariance[at * n + at] = sd * sd;
    }
}

/* The masstone that the set was given is a swatch in itself, where K and S came from little more.
 */
static void
learn_masstone (TsPaintDoubt *self, guint paint)
{
  TsSwatch swatch = { .n_amounts = 1, .amounts = { { paint, 1.0 } }, .coats = (double) INFINITY };

  ts_paint_doubt_learn (self, &swatch);
}

/**
 * ts_paint_doubt_new:
 * @set: the paints as they are known now
 * @paints: (array length=n_paints): those in doubt, indices in @set, each once
 * @n_paints: how many; memory and time grow with the square
 *
 * What each paint was measured from says how much is open.
 *
 * Returns: (transfer full): the doubt
 */
TsPaintDoubt *
ts_paint_doubt_new (const TsPaintSet *set, const guint *paints, guint n_paints)
{
  TsPaintDoubt *self = g_new0 (TsPaintDoubt, 1);
  guint n_set = ts_paint_set_get_n_paints (set);

  self->set = ts_paint_set_ref ((TsPaintSet *) set);
  self->n_paints = n_paints;
  self->n = n_paints * SHAPES;
  self->order = g_new (int, n_set);
  self->covariance = g_new0 (double, (gsize) self->n * self->n);
  self->values = g_new (double, (gsize) n_paints *TS_FIT_UNKNOWNS);
  for (guint p = 0; p < n_set; p++)
    self->order[p] = -1;
  for (guint i = 0; i < n_paints; i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, paints[i]);

      self->order[paints[i]] = (int) i;
      open_paint (self, i, ts_paint_get_source (paint));
      for (guint b = 0; b < TS_BANDS; b++)
        {
          self->values[i * TS_FIT_UNKNOWNS + b] = MAX (ts_paint_get_K (paint)->band[b], LEAST_K_S);
          self->values[i * TS_FIT_UNKNOWNS + TS_BANDS + b] =
            MAX (ts_paint_get_S (paint)->band[b], LEAST_K_S);
        }
    }
  for (guint i = 0; i < n_paints; i++)
    learn_masstone (self, paints[i]);
  return self;
}

/**
 * ts_paint_doubt_free:
 * @self: (transfer full): a doubt
 */
void
ts_paint_doubt_free (TsPaintDoubt *self)
{
  ts_paint_set_unref (self->set);
  g_free (self->order);
  g_free (self->covariance);
  g_free (self->values);
  g_free (self);
}

/* Slopes of three directions in which CIEDE2000 counts alike with the measured reflectance. */
static void
colour_slopes (const TsFitFilm *film, double out[3][TS_BANDS])
{
  static const double white[3] = { TS_D50_X, 1.0, TS_D50_Z };
  const double (*weights)[3] = ts_light_get_weights (TS_LIGHT_D50);
  double xyz[3] = { 0.0 }, df[3], metric[3][3], root[3][3] = { { 0.0 } };
  TsLab lab;

  for (guint b = 0; b < TS_BANDS; b++)
    for (guint c = 0; c < 3; c++)
      xyz[c] += weights[b][c] * film->R[b];
  lab = ts_lab_from_xyz ((TsXyz){ xyz[0], xyz[1], xyz[2] });
  ts_delta_e_2000_metric (lab, metric);
  for (guint c = 0; c < 3; c++)
    {
      double t = MAX (xyz[c] / white[c], 216.0 / 24389.0);

      df[c] = 1.0 / (3.0 * cbrt (t) * cbrt (t) * white[c]);
    }
  /* Cholesky: metric = root' root. */
  for (guint i = 0; i < 3; i++)
    for (guint j = i; j < 3; j++)
      {
        double sum = metric[i][j];

        for (guint k = 0; k < i; k++)
          sum -= root[k][i] * root[k][j];
        root[i][j] = i == j ? sqrt (MAX (sum, 1e-12)) : sum / root[i][i];
      }
  for (guint b = 0; b < TS_BANDS; b++)
    {
      double fx = df[0] * weights[b][0], fy = df[1] * weights[b][1], fz = df[2] * weights[b][2];
      double d_lab[3] = { 116.0 * fy, 500.0 * (fx - fy), 200.0 * (fy - fz) };

      for (guint i = 0; i < 3; i++)
        {
          out[i][b] = 0.0;
          for (guint j = i; j < 3; j++)
            out[i][b] += root[i][j] * d_lab[j];
        }
    }
}

/* The swatch as the fit wants it, paints that are not in doubt first made one with the others' K
 * and S: their shares count, their slopes do not. */
static void
find_slopes (const TsPaintDoubt *self, const TsSwatch *swatch, Slopes *slopes)
{
  TsSurfaceReflection surface = ts_paint_set_get_surface (self->set);
  double K[TS_BANDS] = { 0.0 }, S[TS_BANDS] = { 0.0 }, colour[3][TS_BANDS], total = 0.0;
  double coats[TS_SWATCH_MAX_PAINTS], film_coats = isinf (swatch->coats) ? 1.0 : swatch->coats;
  TsFitFilm film;

  memset (slopes, 0, sizeof *slopes);
  for (guint i = 0; i < swatch->n_amounts; i++)
    total += swatch->amounts[i].parts;
  for (guint i = 0; i < swatch->n_amounts; i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (self->set, swatch->amounts[i].paint);

      coats[i] = swatch->amounts[i].parts / total * film_coats;
      for (guint b = 0; b < TS_BANDS; b++)
        {
          K[b] += coats[i] * MAX (ts_paint_get_K (paint)->band[b], LEAST_K_S);
          S[b] += coats[i] * MAX (ts_paint_get_S (paint)->band[b], LEAST_K_S);
        }
    }
  for (guint b = 0; b < TS_BANDS; b++)
    ts_fit_film (K[b], S[b], surface, isinf (swatch->coats),
                 isinf (swatch->coats) ? 0.0
                                       : ts_saunderson_inside (surface, swatch->ground.band[b]),
                 &film.R[b], &film.dK[b], &film.dS[b]);
  colour_slopes (&film, colour);
  for (guint i = 0; i < swatch->n_amounts; i++)
    {
      int order = self->order[swatch->amounts[i].paint];
      const double *values;

      if (order < 0)
        continue;
      values = self->values + (gsize) order * TS_FIT_UNKNOWNS;
      slopes->paint[slopes->n] = (guint) order;
      for (guint c = 0; c < 3; c++)
        for (guint b = 0; b < TS_BANDS; b++)
          {
            /* d/d log K = K d/dK */
            double dK = colour[c][b] * film.dK[b] * coats[i] * values[b];
            double dS = colour[c][b] * film.dS[b] * coats[i] * values[TS_BANDS + b];

            for (guint s = 0; s < SHAPES; s++)
              slopes->slope[c][slopes->n][s] +=
                s < SHAPES_K ? dK * shape (s, b) : dS * shape (s - SHAPES_K, b);
          }
      slopes->n++;
    }
}

/* @matrix times the three columns of @slopes, each into a row of @out. */
static void
multiply (const TsPaintDoubt *self, const double *matrix, const Slopes *slopes, double *out)
{
  gsize n = self->n;

  memset (out, 0, 3 * n * sizeof *out);
  for (guint c = 0; c < 3; c++)
    for (guint i = 0; i < slopes->n; i++)
      for (guint s = 0; s < SHAPES; s++)
        {
          /* The matrices are symmetric: a row stands for the column. */
          const double *row = matrix + ((gsize) slopes->paint[i] * SHAPES + s) * n;
          double by = slopes->slope[c][i][s];

          for (gsize k = 0; k < n; k++)
            out[c * n + k] += by * row[k];
        }
}

/* slopes' @matrix slopes, 3 x 3, looking only where the slopes are. */
static void
enclose (const TsPaintDoubt *self, const double *matrix, const Slopes *slopes, double out[3][3])
{
  gsize n = self->n;

  memset (out, 0, 9 * sizeof (double));
  for (guint i = 0; i < slopes->n; i++)
    for (guint j = 0; j < slopes->n; j++)
      for (guint s = 0; s < SHAPES; s++)
        {
          const double *row = matrix + ((gsize) slopes->paint[i] * SHAPES + s) * n +
                              (gsize) slopes->paint[j] * SHAPES;
          double sum[3] = { 0.0 };

          for (guint t = 0; t < SHAPES; t++)
            for (guint c = 0; c < 3; c++)
              sum[c] += row[t] * slopes->slope[c][j][t];
          for (guint a = 0; a < 3; a++)
            for (guint c = 0; c < 3; c++)
              out[a][c] += slopes->slope[a][i][s] * sum[c];
        }
}

static void
invert_with_noise (double m[3][3], double out[3][3])
{
  TsMat3 matrix, inverse = ts_mat3_identity ();

  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      matrix.m[i][j] = m[i][j] + (i == j ? NOISE * NOISE : 0.0);
  ts_mat3_invert (&matrix, &inverse);
  memcpy (out, inverse.m, 9 * sizeof (double));
}

/* Subtracts the sum of @by[a][c] left_a right_c' from @matrix. */
static void
subtract (double *matrix, gsize n, const double *left, const double *right, double by[3][3])
{
  for (gsize i = 0; i < n; i++)
    {
      double along[3] = { 0.0 };

      for (guint c = 0; c < 3; c++)
        for (guint a = 0; a < 3; a++)
          along[c] += by[a][c] * left[a * n + i];
      for (gsize k = 0; k < n; k++)
        matrix[i * n + k] -=
          along[0] * right[k] + along[1] * right[n + k] + along[2] * right[2 * n + k];
    }
}

/* Kalman's (1960) update: what a colour with noise leaves open. @reach is covariance times slopes.
 */
static void
learn (TsPaintDoubt *self, const Slopes *slopes, double *reach, double gain[3][3])
{
  double seen[3][3];

  multiply (self, self->covariance, slopes, reach);
  enclose (self, self->covariance, slopes, seen);
  invert_with_noise (seen, gain);
  subtract (self->covariance, self->n, reach, reach, gain);
}

/**
 * ts_paint_doubt_learn:
 * @self: a doubt
 * @swatch: a swatch that was measured, or is imagined so
 */
void
ts_paint_doubt_learn (TsPaintDoubt *self, const TsSwatch *swatch)
{
  g_autofree double *reach = g_new (double, 3 * (gsize) MAX (self->n, 1));
  double gain[3][3];
  Slopes slopes;

  find_slopes (self, swatch, &slopes);
  if (slopes.n > 0)
    learn (self, &slopes, reach, gain);
}

static double
trace (double m[3][3])
{
  return m[0][0] + m[1][1] + m[2][2];
}

/**
 * ts_paint_doubt_get_spread:
 * @self: a doubt
 * @swatch: a mix of the set's paints
 *
 * It orders mixes by their error where few of them were measured (rank correlation 0.5 from one
 * swatch a paint, 0.3 from eleven, below 0.2 from 160 mixes on, measured watercolours), and serves
 * to choose what to paint next. The errors stated of mixes do not come from it: as 1.8 sqrt (2.5^2
 * + (0.8 spread)^2) they would hold for 91 to 98 of 100 there, as those stated do for 94 to 98, and
 * be as wide; it says nothing of how a colour was read, of flakes, or of words on a label.
 *
 * Returns: root mean square CIEDE2000 between its prediction and what K and S may still be
 */
double
ts_paint_doubt_get_spread (const TsPaintDoubt *self, const TsSwatch *swatch)
{
  double open[3][3];
  Slopes slopes;

  find_slopes (self, swatch, &slopes);
  enclose (self, self->covariance, &slopes, open);
  return sqrt (MAX (trace (open), 0.0));
}

/* Sum over the targets of slopes slopes'. */
static void
add_target (const TsPaintDoubt *self, double *wanted, const Slopes *slopes)
{
  gsize n = self->n;

  for (guint i = 0; i < slopes->n; i++)
    for (guint s = 0; s < SHAPES; s++)
      for (guint j = 0; j < slopes->n; j++)
        for (guint t = 0; t < SHAPES; t++)
          for (guint c = 0; c < 3; c++)
            wanted[((gsize) slopes->paint[i] * SHAPES + s) * n + (gsize) slopes->paint[j] * SHAPES +
                   t] += slopes->slope[c][i][s] * slopes->slope[c][j][t];
}

static void
multiply_square (const double *a, const double *b, double *out, gsize n)
{
  memset (out, 0, n * n * sizeof *out);
  for (gsize i = 0; i < n; i++)
    for (gsize k = 0; k < n; k++)
      {
        double by = a[i * n + k];

        if (fabs (by) > 0.0)
          for (gsize j = 0; j < n; j++)
            out[i * n + j] += by * b[k * n + j];
      }
}

/* How the targets' summed variance falls with a candidate: of @weighed, covariance wanted
 * covariance.
 */
static double
fall_of (const TsPaintDoubt *self, const double *weighed, const Slopes *slopes)
{
  double seen[3][3], gain[3][3], won[3][3], sum = 0.0;

  enclose (self, self->covariance, slopes, seen);
  invert_with_noise (seen, gain);
  enclose (self, weighed, slopes, won);
  for (guint a = 0; a < 3; a++)
    for (guint c = 0; c < 3; c++)
      sum += gain[a][c] * won[c][a];
  return sum;
}

/* covariance wanted covariance after the covariance has lost reach gain reach'. */
static void
weigh_anew (const TsPaintDoubt *self, double *weighed, const double *wanted, const double *reach,
            double gain[3][3])
{
  gsize n = self->n;
  g_autofree double *pulled = g_new0 (double, 3 * n); /* wanted times reach */
  g_autofree double *left = g_new0 (double, 3 * n);   /* the new covariance times that */
  double inner[3][3] = { { 0.0 } }, both[3][3] = { { 0.0 } };

  for (guint c = 0; c < 3; c++)
    for (gsize i = 0; i < n; i++)
      for (gsize k = 0; k < n; k++)
        pulled[c * n + i] += wanted[i * n + k] * reach[c * n + k];
  for (guint c = 0; c < 3; c++)
    for (gsize i = 0; i < n; i++)
      for (gsize k = 0; k < n; k++)
        left[c * n + i] += self->covariance[i * n + k] * pulled[c * n + k];
  /* With P = P' + U g U': P A P = P' A P' + left g U' + U g left' + U g (U' A U) g U'. */
  subtract (weighed, n, left, reach, gain);
  subtract (weighed, n, reach, left, gain);
  for (guint a = 0; a < 3; a++)
    for (guint c = 0; c < 3; c++)
      for (gsize k = 0; k < n; k++)
        inner[a][c] += reach[a * n + k] * pulled[c * n + k];
  for (guint a = 0; a < 3; a++)
    for (guint d = 0; d < 3; d++)
      for (guint b = 0; b < 3; b++)
        for (guint c = 0; c < 3; c++)
          both[a][d] += gain[a][b] * inner[b][c] * gain[c][d];
  subtract (weighed, n, reach, reach, both);
}

static double
mean_spread (const TsPaintDoubt *self, const Slopes *targets, guint n)
{
  double sum = 0.0;

  for (guint t = 0; t < n; t++)
    {
      double open[3][3];

      enclose (self, self->covariance, &targets[t], open);
      sum += trace (open);
    }
  return sqrt (MAX (sum, 0.0) / MAX (n, 1));
}

static Slopes *
all_slopes (const TsPaintDoubt *self, const TsSwatch *swatches, guint n)
{
  Slopes *slopes = g_new (Slopes, MAX (n, 1));

  for (guint i = 0; i < n; i++)
    find_slopes (self, &swatches[i], &slopes[i]);
  return slopes;
}

/**
 * ts_paint_doubt_choose:
 * @self: a doubt; afterwards it has learnt from the chosen ones
 * @candidates: (array length=n_candidates): mixes that could be painted
 * @n_candidates: how many
 * @targets: (array length=n_targets): mixes that are to be predicted well
 * @n_targets: how many
 * @n_choose: how many to choose at most
 * @cancellable: (nullable): stops the choice; fewer are then chosen
 * @chosen: (out) (array length=n_choose): indices of candidates
 * @spread: (out) (optional): root mean square spread of the targets, before and after each choice;
 *   n_choose + 1 numbers
 *
 * One by one the candidate after which the targets' summed variance is least (A-optimal design,
 * greedy). None is chosen twice.
 *
 * Returns: how many were chosen
 */
guint
ts_paint_doubt_choose (TsPaintDoubt *self, const TsSwatch *candidates, guint n_candidates,
                       const TsSwatch *targets, guint n_targets, guint n_choose,
                       GCancellable *cancellable, guint *chosen, double *spread)
{
  gsize n = MAX (self->n, 1);
  g_autofree Slopes *candidate = all_slopes (self, candidates, n_candidates);
  g_autofree Slopes *target = all_slopes (self, targets, n_targets);
  g_autofree double *wanted = g_new0 (double, n *n);
  g_autofree double *half = g_new (double, n *n);
  g_autofree double *weighed = g_new (double, n *n);
  g_autofree double *reach = g_new (double, 3 * n);
  g_autofree guint8 *taken = g_new0 (guint8, MAX (n_candidates, 1));
  guint n_chosen = 0;

  for (guint t = 0; t < n_targets; t++)
    add_target (self, wanted, &target[t]);
  multiply_square (self->covariance, wanted, half, self->n);
  multiply_square (half, self->covariance, weighed, self->n);
  if (spread != NULL)
    spread[0] = mean_spread (self, target, n_targets);
  while (n_chosen < n_choose && !g_cancellable_is_cancelled (cancellable))
    {
      double most = 0.0, gain[3][3];
      int best = -1;

      for (guint c = 0; c < n_candidates; c++)
        {
          double fall = taken[c] ? 0.0 : fall_of (self, weighed, &candidate[c]);

          if (fall > most)
            {
              most = fall;
              best = (int) c;
            }
        }
      if (best < 0)
        break;
      taken[best] = TRUE;
      learn (self, &candidate[best], reach, gain);
      weigh_anew (self, weighed, wanted, reach, gain);
      chosen[n_chosen++] = (guint) best;
      if (spread != NULL)
        spread[n_chosen] = mean_spread (self, target, n_targets);
    }
  return n_chosen;
}
