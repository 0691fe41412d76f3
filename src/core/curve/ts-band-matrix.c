/* ts-band-matrix.c: symmetric matrices with three diagonals beside the main one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-band-matrix.h"

#include <math.h>

/* GSL has banded matrices too, but at this width its calls cost ten times what they compute. */

/**
 * ts_band_init:
 * @self: (out): to be filled
 * @n: size, at most TS_BAND_MAX
 *
 * All elements are 0.
 */
void
ts_band_init (TsBand *self, guint n)
{
  g_assert (n <= TS_BAND_MAX);

  *self = (TsBand){ .n = n };
}

/**
 * ts_band_multiply:
 * @self: a matrix
 * @x: (array): a vector
 * @product: (out) (array): @self times @x
 */
void
ts_band_multiply (const TsBand *self, const double *x, double *product)
{
  for (guint i = 0; i < self->n; i++)
    product[i] = self->row[i][0] * x[i];
  for (guint i = 0; i < self->n; i++)
    for (guint j = 1; j < TS_BAND_WIDTH && i + j < self->n; j++)
      {
        product[i] += self->row[i][j] * x[i + j];
        product[i + j] += self->row[i][j] * x[i];
      }
}

/**
 * ts_band_form:
 * @self: a matrix
 * @x: (array): a vector
 *
 * Returns: x' @self x
 */
double
ts_band_form (const TsBand *self, const double *x)
{
  double product[TS_BAND_MAX], sum = 0.0;

  ts_band_multiply (self, x, product);
  for (guint i = 0; i < self->n; i++)
    sum += x[i] * product[i];
  return sum;
}

/**
 * ts_band_decompose:
 * @self: a positive definite matrix, which is replaced by its decomposition
 *
 * Returns: %FALSE where it is not positive definite
 */
gboolean
ts_band_decompose (TsBand *self)
{
  for (guint i = 0; i < self->n; i++)
    {
      double *row = self->row[i];
      double inverse;

      for (guint m = 1; m < TS_BAND_WIDTH && m <= i; m++)
        {
          const double *above = self->row[i - m];
          double factor = above[0] * above[m];

          for (guint j = 0; j + m < TS_BAND_WIDTH; j++)
            row[j] -= factor * above[m + j];
        }
      if (!(row[0] > 0.0))
        return FALSE;
      inverse = 1.0 / row[0];
      for (guint j = 1; j < TS_BAND_WIDTH; j++)
        row[j] *= inverse;
    }
  return TRUE;
}

/**
 * ts_band_log_det:
 * @decomposed: a decomposed matrix
 *
 * Returns: the logarithm of its determinant
 */
double
ts_band_log_det (const TsBand *decomposed)
{
  double sum = 0.0;

  for (guint i = 0; i < decomposed->n; i++)
    sum += log (decomposed->row[i][0]);
  return sum;
}

/* Solves U x = y in place. */
static void
substitute_back (const TsBand *decomposed, double *x)
{
  for (guint i = decomposed->n; i-- > 0;)
    for (guint j = 1; j < TS_BAND_WIDTH && i + j < decomposed->n; j++)
      x[i] -= decomposed->row[i][j] * x[i + j];
}

/**
 * ts_band_solve:
 * @decomposed: a decomposed matrix
 * @x: (array) (inout): the right side, replaced by the solution
 */
void
ts_band_solve (const TsBand *decomposed, double *x)
{
  for (guint i = 0; i < decomposed->n; i++)
    for (guint j = 1; j < TS_BAND_WIDTH && i + j < decomposed->n; j++)
      x[i + j] -= decomposed->row[i][j] * x[i];
  for (guint i = 0; i < decomposed->n; i++)
    x[i] /= decomposed->row[i][0];
  substitute_back (decomposed, x);
}

/**
 * ts_band_solve_half:
 * @decomposed: a decomposed matrix
 * @x: (array) (inout): independent normal numbers of variance 1, replaced by normal numbers whose
 * covariance is the inverse of the matrix
 */
void
ts_band_solve_half (const TsBand *decomposed, double *x)
{
  for (guint i = 0; i < decomposed->n; i++)
    x[i] /= sqrt (decomposed->row[i][0]);
  substitute_back (decomposed, x);
}

static double
element (const TsBand *self, guint i, guint j)
{
  return i < j ? self->row[i][j - i] : self->row[j][i - j];
}

/**
 * ts_band_invert:
 * @decomposed: a decomposed matrix
 * @inverse: (out): those elements of its inverse that lie in the band; the others are not 0, but
 * are not needed here
 *
 * Source: Takahashi, Fagan and Chen (1973), from memory; linear in the size.
 */
void
ts_band_invert (const TsBand *decomposed, TsBand *inverse)
{
  guint n = decomposed->n;

  ts_band_init (inverse, n);
  for (guint i = n; i-- > 0;)
    {
      const double *u = decomposed->row[i];
      guint width = MIN (TS_BAND_WIDTH, n - i);

      for (guint j = 1; j < width; j++)
        for (guint m = 1; m < width; m++)
          inverse->row[i][j] -= u[m] * element (inverse, i + m, i + j);
      inverse->row[i][0] = 1.0 / u[0];
      for (guint m = 1; m < width; m++)
        inverse->row[i][0] -= u[m] * inverse->row[i][m];
    }
}

/**
 * ts_band_product_trace:
 * @one: a matrix; it need be right only where @other is not 0
 * @other: another of the same size
 *
 * Returns: the trace of @one times @other
 */
double
ts_band_product_trace (const TsBand *one, const TsBand *other)
{
  double diagonal = 0.0, beside = 0.0;

  for (guint i = 0; i < one->n; i++)
    {
      diagonal += one->row[i][0] * other->row[i][0];
      for (guint j = 1; j < TS_BAND_WIDTH && i + j < one->n; j++)
        beside += one->row[i][j] * other->row[i][j];
    }
  return diagonal + 2.0 * beside;
}
