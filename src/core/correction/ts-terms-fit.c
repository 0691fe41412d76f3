/* ts-terms-fit.c: the matrix from terms to XYZ that leaves the least CIEDE2000
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-terms-fit.h"

#include <math.h>
#include <string.h>

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "correction/ts-cholesky.h"

#define MAX_UNKNOWNS (3 * TS_CORRECTION_MAX_TERMS)
#define HALVINGS 5
#define ENOUGH 1e-5 /* share of the cost that one more round has to take off */

typedef double Matrix[3][TS_CORRECTION_MAX_TERMS];

/* Cholesky's upper factor; the metric is positive definite. */
static void
factor_metric (double metric[3][3], double root[3][3])
{
  memset (root, 0, 9 * sizeof (double));
  for (int i = 0; i < 3; i++)
    for (int j = i; j < 3; j++)
      {
        double sum = metric[i][j];

        for (int k = 0; k < i; k++)
          sum -= root[k][i] * root[k][j];
        root[i][j] = j == i ? sqrt (fmax (sum, 1e-12)) : sum / root[i][i];
      }
}

/**
 * ts_terms_fit_set_lab:
 * @colour: gets its colour, and G with G'G = the metric of CIEDE2000 there
 * @lab: what it is
 */
void
ts_terms_fit_set_lab (TsTermsColour *colour, TsLab lab)
{
  double metric[3][3];

  colour->lab = lab;
  ts_delta_e_2000_metric (lab, metric);
  factor_metric (metric, colour->root);
}

/* Derivative of CIELAB's function of one ratio (ISO/CIE 11664-4). */
static double
lab_slope (double t)
{
  const double delta = 6.0 / 29.0;

  return t > delta * delta * delta ? 1.0 / (3.0 * cbrt (t * t)) : 1.0 / (3.0 * delta * delta);
}

/**
 * ts_lab_jacobian:
 * @xyz: a colour
 * @j: (out): derivatives of L*, a*, b* by X, Y, Z
 */
void
ts_lab_jacobian (TsXyz xyz, double j[3][3])
{
  double fx = lab_slope (xyz.X / TS_D50_X) / TS_D50_X;
  double fy = lab_slope (xyz.Y);
  double fz = lab_slope (xyz.Z / TS_D50_Z) / TS_D50_Z;
  const double out[3][3] = { { 0.0, 116.0 * fy, 0.0 },
                             { 500.0 * fx, -500.0 * fy, 0.0 },
                             { 0.0, 200.0 * fy, -200.0 * fz } };

  memcpy (j, out, sizeof out);
}

static TsXyz
xyz_of (const TsTermsColour *colour, guint n_terms, double matrix[3][TS_CORRECTION_MAX_TERMS])
{
  double out[3] = { 0.0, 0.0, 0.0 };

  for (int c = 0; c < 3; c++)
    for (guint k = 0; k < n_terms; k++)
      out[c] += matrix[c][k] * colour->terms[k];
  return (TsXyz){ out[0], out[1], out[2] };
}

/* The sum of squared CIEDE2000. */
static double
cost_of (const TsTermsColour *colours, gsize n, guint n_terms,
         double matrix[3][TS_CORRECTION_MAX_TERMS])
{
  double cost = 0.0;

  for (gsize i = 0; i < n; i++)
    if (colours[i].weight > 0.0)
      {
        double e =
          ts_delta_e_2000 (ts_lab_from_xyz (xyz_of (&colours[i], n_terms, matrix)), colours[i].lab);

        cost += colours[i].weight * e * e;
      }
  return cost;
}

/**
 * ts_terms_fit_xyz:
 * @colours: (array length=n): colours to be met
 * @n: how many
 * @n_terms: how many of their terms count
 * @matrix: (out): the result
 *
 * Least squares in XYZ, a start for ts_terms_fit_improve().
 *
 * Returns: %FALSE where the colours do not settle the matrix
 */
gboolean
ts_terms_fit_xyz (const TsTermsColour *colours, gsize n, guint n_terms,
                  double matrix[3][TS_CORRECTION_MAX_TERMS])
{
  double a[TS_CORRECTION_MAX_TERMS * TS_CORRECTION_MAX_TERMS] = { 0 };
  Matrix b = { { 0 } };

  for (gsize i = 0; i < n; i++)
    {
      TsXyz want = ts_xyz_from_lab (colours[i].lab);
      const double wanted[3] = { want.X, want.Y, want.Z };

      for (guint k = 0; k < n_terms; k++)
        {
          double w = colours[i].weight * colours[i].terms[k];

          for (guint m = 0; m <= k; m++)
            a[k * n_terms + m] += w * colours[i].terms[m];
          for (int c = 0; c < 3; c++)
            b[c][k] += w * wanted[c];
        }
    }
  if (!ts_cholesky_factor (a, n_terms))
    return FALSE;
  for (int c = 0; c < 3; c++)
    {
      ts_cholesky_forward (a, n_terms, b[c]);
      ts_cholesky_backward (a, n_terms, b[c]);
      memcpy (matrix[c], b[c], n_terms * sizeof b[c][0]);
    }
  return TRUE;
}

/* Adds one colour to the normal equations of G (Lab + J dXYZ - wanted) = 0, dXYZ = dM terms. */
static void
add_colour (double *a, double *b, const TsTermsColour *colour, guint n_terms,
            double matrix[3][TS_CORRECTION_MAX_TERMS])
{
  TsXyz xyz = xyz_of (colour, n_terms, matrix);
  TsLab lab = ts_lab_from_xyz (xyz);
  const double off[3] = { colour->lab.L - lab.L, colour->lab.a - lab.a, colour->lab.b - lab.b };
  double j[3][3], gj[3][3] = { { 0 } }, goff[3] = { 0 };
  guint size = 3 * n_terms;

  ts_lab_jacobian (xyz, j);
  for (int m = 0; m < 3; m++)
    for (int k = 0; k < 3; k++)
      {
        goff[m] += colour->root[m][k] * off[k];
        for (int c = 0; c < 3; c++)
          gj[m][c] += colour->root[m][k] * j[k][c];
      }
  for (guint c = 0; c < 3; c++)
    for (guint d = 0; d <= c; d++)
      {
        double w =
          colour->weight * (gj[0][c] * gj[0][d] + gj[1][c] * gj[1][d] + gj[2][c] * gj[2][d]);

        for (guint k = 0; k < n_terms; k++)
          for (guint m = 0; m < n_terms; m++)
            a[(c * n_terms + k) * size + d * n_terms + m] +=
              w * colour->terms[k] * colour->terms[m];
      }
  for (guint c = 0; c < 3; c++)
    for (guint k = 0; k < n_terms; k++)
      b[c * n_terms + k] += colour->weight * colour->terms[k] *
                            (gj[0][c] * goff[0] + gj[1][c] * goff[1] + gj[2][c] * goff[2]);
}

static gboolean
find_step (const TsTermsColour *colours, gsize n, guint n_terms,
           double matrix[3][TS_CORRECTION_MAX_TERMS], double step[MAX_UNKNOWNS])
{
  double a[MAX_UNKNOWNS * MAX_UNKNOWNS] = { 0 };

  memset (step, 0, MAX_UNKNOWNS * sizeof step[0]);
  for (gsize i = 0; i < n; i++)
    if (colours[i].weight > 0.0)
      add_colour (a, step, &colours[i], n_terms, matrix);
  if (!ts_cholesky_factor (a, 3 * n_terms))
    return FALSE;
  ts_cholesky_forward (a, 3 * n_terms, step);
  ts_cholesky_backward (a, 3 * n_terms, step);
  return TRUE;
}

/* The whole step, or as much of it as lowers the cost. */
static gboolean
take_step (const TsTermsColour *colours, gsize n, guint n_terms,
           double matrix[3][TS_CORRECTION_MAX_TERMS], const double step[MAX_UNKNOWNS], double *cost)
{
  double share = 1.0;

  for (int h = 0; h < HALVINGS; h++, share *= 0.5)
    {
      Matrix tried = { { 0 } };
      double found;

      for (guint c = 0; c < 3; c++)
        for (guint k = 0; k < n_terms; k++)
          tried[c][k] = matrix[c][k] + share * step[c * n_terms + k];
      found = cost_of (colours, n, n_terms, tried);
      if (found < *cost)
        {
          *cost = found;
          memcpy (matrix, tried, sizeof tried);
          return TRUE;
        }
    }
  return FALSE;
}

/**
 * ts_terms_fit_improve:
 * @colours: (array length=n): colours to be met
 * @n: how many
 * @n_terms: how many of their terms count
 * @rounds: at most so many
 * @matrix: (inout): a start; the result
 *
 * Lowers the sum of squared CIEDE2000 by Gauss and Newton's method, with the metric of CIEDE2000 at
 * the wanted colours. As all terms scale with exposure, exposure does not change hue.
 *
 * Returns: %FALSE where the start is no start
 */
gboolean
ts_terms_fit_improve (const TsTermsColour *colours, gsize n, guint n_terms, guint rounds,
                      double matrix[3][TS_CORRECTION_MAX_TERMS])
{
  double cost = cost_of (colours, n, n_terms, matrix);

  for (guint round = 0; round < rounds; round++)
    {
      double step[MAX_UNKNOWNS], before = cost;

      if (!find_step (colours, n, n_terms, matrix, step) ||
          !take_step (colours, n, n_terms, matrix, step, &cost) || before - cost < ENOUGH * cost)
        break;
    }
  return isfinite (cost);
}
