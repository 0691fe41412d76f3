/* ts-curve-steep.c: the most likely curve whose fall has one steepest place
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-steep.h"

#include <math.h>
#include <string.h>

/* Amounts and forces that are none. */
#define EPSILON 1e-9
/* What a pivot is held to, against pieces that are nearly the same. */
#define LEAST_PIVOT 1e-12
/* Rounds in which all pieces that are wrong change at once without a gain. */
#define PATIENCE 3
#define MOST_ROUNDS 150
/* Places of the steepest step are looked for at this distance first. */
#define STRIDE 4

/* The coefficients as sums of pieces: number 0 is the level of the whole, each other bends the
 * curve in one place and has an amount that is not negative. */
typedef struct
{
  guint n;
  double piece[TS_BAND_MAX][TS_BAND_MAX];
  double normal[TS_BAND_MAX][TS_BAND_MAX];
  double right[TS_BAND_MAX];
  double amount[TS_BAND_MAX];
  gboolean used[TS_BAND_MAX];
} Pieces;

/* Piece @j + 1 makes the steps from coefficient @j to the steepest one, or from that to @j, fall;
 * past the turn it makes step @j alone rise. */
static void
fill_piece (double *piece, guint n, guint j, guint turn, guint steepest)
{
  guint first = j >= turn ? j : MIN (j, steepest), last = j >= turn ? j : MAX (j, steepest);
  double sign = j >= turn ? 1.0 : -1.0, sum = 0.0;

  piece[0] = 0.0;
  for (guint step = 0; step + 1 < n; step++)
    {
      if (step >= first && step <= last)
        sum += sign;
      piece[step + 1] = sum;
    }
}

static double
dot (const double *one, const double *other, guint n)
{
  double sum = 0.0;

  for (guint i = 0; i < n; i++)
    sum += one[i] * other[i];
  return sum;
}

static void
fill_pieces (Pieces *self, const TsBand *precision, const double *right, guint turn, guint steepest)
{
  double product[TS_BAND_MAX];

  self->n = precision->n;
  for (guint i = 0; i < self->n; i++)
    self->piece[0][i] = 1.0;
  for (guint j = 0; j + 1 < self->n; j++)
    fill_piece (self->piece[j + 1], self->n, j, turn, steepest);
  for (guint j = 0; j < self->n; j++)
    {
      ts_band_multiply (precision, self->piece[j], product);
      self->right[j] = dot (self->piece[j], right, self->n);
      for (guint k = 0; k <= j; k++)
        self->normal[j][k] = self->normal[k][j] = dot (self->piece[k], product, self->n);
    }
}

/* The best amounts of the pieces in use, of any sign, by Cholesky's decomposition. */
static void
solve_used (Pieces *self)
{
  double l[TS_BAND_MAX][TS_BAND_MAX], x[TS_BAND_MAX];
  guint at[TS_BAND_MAX], m = 0;

  for (guint i = 0; i < self->n; i++)
    if (self->used[i])
      at[m++] = i;
  for (guint i = 0; i < m; i++)
    {
      for (guint j = 0; j < i; j++)
        l[i][j] = (self->normal[at[i]][at[j]] - dot (l[i], l[j], j)) / l[j][j];
      l[i][i] = sqrt (fmax (self->normal[at[i]][at[i]] - dot (l[i], l[i], i), LEAST_PIVOT));
      x[i] = (self->right[at[i]] - dot (l[i], x, i)) / l[i][i];
    }
  memset (self->amount, 0, sizeof self->amount);
  for (guint i = m; i-- > 0;)
    {
      for (guint k = i + 1; k < m; k++)
        x[i] -= l[k][i] * x[k];
      x[i] /= l[i][i];
      self->amount[at[i]] = x[i];
    }
}

/* Pieces in use whose amount is negative, and others whose use would be a gain. */
static guint
find_wrong (const Pieces *self, gboolean *wrong, guint *last)
{
  guint count = 0;

  for (guint i = 1; i < self->n; i++)
    {
      if (self->used[i])
        wrong[i] = self->amount[i] < -EPSILON;
      else
        wrong[i] = dot (self->normal[i], self->amount, self->n) - self->right[i] < -EPSILON;
      if (wrong[i])
        {
          count++;
          *last = i;
        }
    }
  return count;
}

/* Block pivoting, as ts_curve_shape_solve() does it. Starts from the pieces in use. */
static double
solve_pieces (Pieces *self)
{
  guint least = G_MAXUINT, patience = PATIENCE;

  self->used[0] = TRUE;
  for (guint round = 0; round < MOST_ROUNDS; round++)
    {
      gboolean wrong[TS_BAND_MAX] = { FALSE };
      guint last = 0, count;

      solve_used (self);
      count = find_wrong (self, wrong, &last);
      if (count == 0)
        break;
      if (count < least)
        {
          least = count;
          patience = PATIENCE;
        }
      else if (patience > 0)
        patience--;
      else
        memset (wrong, 0, last * sizeof *wrong);
      for (guint i = 1; i < self->n; i++)
        self->used[i] = self->used[i] != wrong[i];
    }
  return -dot (self->right, self->amount, self->n);
}

double
ts_curve_steep_solve (const TsBand *precision, const double *right, guint turn, guint steepest,
                      double *coefficients)
{
  Pieces pieces = { 0 };
  double form;

  fill_pieces (&pieces, precision, right, turn, steepest);
  form = solve_pieces (&pieces);
  for (guint i = 0; i < pieces.n; i++)
    {
      coefficients[i] = 0.0;
      for (guint k = 0; k < pieces.n; k++)
        coefficients[i] += pieces.amount[k] * pieces.piece[k][i];
    }
  return form;
}

static guint
scan (Pieces *pieces, const TsBand *precision, const double *right, guint turn, guint from,
      guint to, guint stride)
{
  double least = G_MAXDOUBLE;
  guint best = from;

  for (guint steepest = from; steepest <= to; steepest += stride)
    {
      double form;

      fill_pieces (pieces, precision, right, turn, steepest);
      form = solve_pieces (pieces);
      if (form < least)
        {
          least = form;
          best = steepest;
        }
    }
  return best;
}

guint
ts_curve_steep_find (const TsBand *precision, const double *right, guint turn)
{
  Pieces pieces = { 0 };
  guint last = turn - 1;
  guint best = scan (&pieces, precision, right, turn, 0, last, STRIDE);

  return scan (&pieces, precision, right, turn, MAX (best, STRIDE / 2) - STRIDE / 2,
               MIN (best + STRIDE / 2, last), STRIDE / 2);
}
