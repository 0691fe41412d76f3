/* ts-spectrum-recover.c: a smooth reflectance with a given colour
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * S. A. Burns (2020), Numerical methods for smoothest reflectance reconstruction, Color Research &
 * Application 45(1), 8-21: with R = (tanh z + 1) / 2, the z of least squared steps from band to
 * band whose R has the wanted tristimulus values ("least hyperbolic tangent slope squared"). R
 * stays within 0..1 whatever z is.
 */
#include "colour/ts-spectrum.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-object-solid.h"

#include <math.h>
#include <string.h>

#define N_UNKNOWNS (TS_BANDS + 3)

/* Newton's steps for one target, and how many targets on the way from grey to the colour. */
#define MAX_STEPS 12
#define MAX_TARGETS 200

/* What the colour may lack, in XYZ, on the way and at its end. The slopes are held to the same
 * times SLOPE_SCALE: at the edge of the possible they are sums of large terms that cancel. */
#define ROUGH 1e-4
#define EXACT 1e-12
#define SLOPE_SCALE 1e5

/* How far a colour is moved towards mid grey, so that black and white keep within 0..1. */
#define INSET 4e-10

/* The three multipliers follow the z of the bands. */
typedef struct
{
  const double (*weights)[3];
  double target[3];
  double scale; /* of the colour conditions, so that dark and light colours weigh like mid ones */
} Problem;

/* Derivative of the conditions, what they lack, and the largest of that. */
typedef struct
{
  double matrix[N_UNKNOWNS][N_UNKNOWNS];
  double residual[N_UNKNOWNS];
  double largest;
} Conditions;

static void
swap_rows (double matrix[N_UNKNOWNS][N_UNKNOWNS], double x[N_UNKNOWNS], int i, int j)
{
  double keep = x[i];

  x[i] = x[j];
  x[j] = keep;
  for (int k = 0; k < N_UNKNOWNS; k++)
    {
      keep = matrix[i][k];
      matrix[i][k] = matrix[j][k];
      matrix[j][k] = keep;
    }
}

/* Solves @matrix x = @x in place by elimination with row exchanges; FALSE where it is singular. */
static gboolean
solve_linear (double matrix[N_UNKNOWNS][N_UNKNOWNS], double x[N_UNKNOWNS])
{
  for (int k = 0; k < N_UNKNOWNS; k++)
    {
      int pivot = k;

      for (int i = k + 1; i < N_UNKNOWNS; i++)
        if (fabs (matrix[i][k]) > fabs (matrix[pivot][k]))
          pivot = i;
      if (!(fabs (matrix[pivot][k]) > 0.0))
        return FALSE;
      if (pivot != k)
        swap_rows (matrix, x, pivot, k);
      for (int i = k + 1; i < N_UNKNOWNS; i++)
        {
          double factor = matrix[i][k] / matrix[k][k];

          if (factor == 0.0) /* most are, since the bands only touch their neighbours */
            continue;
          for (int j = k + 1; j < N_UNKNOWNS; j++)
            matrix[i][j] -= factor * matrix[k][j];
          x[i] -= factor * x[k];
        }
    }
  for (int k = N_UNKNOWNS - 1; k >= 0; k--)
    {
      for (int j = k + 1; j < N_UNKNOWNS; j++)
        x[k] -= matrix[k][j] * x[j];
      x[k] /= matrix[k][k];
    }
  return TRUE;
}

/* What band @b adds: the slope of the Lagrangian in its z, and its part of the colour. */
static void
add_band (const Problem *self, const double point[N_UNKNOWNS], int b, Conditions *at)
{
  double r = 1.0 / (1.0 + exp (-2.0 * point[b]));
  double slope = 2.0 * r * (1.0 - r);
  double bend = 2.0 * slope * (1.0 - 2.0 * r);
  double pull = 0.0;

  for (int c = 0; c < 3; c++)
    {
      double weight = self->weights[b][c] * self->scale;

      pull += point[TS_BANDS + c] * weight;
      at->residual[TS_BANDS + c] += weight * r;
      at->matrix[b][TS_BANDS + c] = at->matrix[TS_BANDS + c][b] = weight * slope;
    }
  at->residual[b] += pull * slope;
  at->matrix[b][b] += pull * bend;
  for (int side = b - 1; side <= b + 1; side += 2)
    if (side >= 0 && side < TS_BANDS)
      {
        at->residual[b] += point[b] - point[side];
        at->matrix[b][b] += 1.0;
        at->matrix[b][side] = -1.0;
      }
}

static void
fill_conditions (const Problem *self, const double point[N_UNKNOWNS], Conditions *at)
{
  memset (at, 0, sizeof *at);
  for (int c = 0; c < 3; c++)
    at->residual[TS_BANDS + c] = -self->target[c] * self->scale;
  for (int b = 0; b < TS_BANDS; b++)
    add_band (self, point, b, at);
  for (int i = 0; i < N_UNKNOWNS; i++)
    {
      double size = fabs (at->residual[i]) / (i < TS_BANDS ? SLOPE_SCALE : self->scale);

      if (!(size <= at->largest))
        at->largest = size;
    }
}

/* Newton's method from @point; FALSE, and @point of no use, where it does not arrive. */
static gboolean
newton (const Problem *self, double tolerance, double point[N_UNKNOWNS])
{
  double before = (double) INFINITY;

  for (int i = 0; i < MAX_STEPS; i++)
    {
      Conditions at;

      fill_conditions (self, point, &at);
      if (at.largest <= tolerance)
        return TRUE;
      if (!(at.largest < 10.0 * before) || !solve_linear (at.matrix, at.residual))
        return FALSE;
      before = at.largest;
      for (int j = 0; j < N_UNKNOWNS; j++)
        point[j] -= at.residual[j];
    }
  return FALSE;
}

/* From the grey of the same luminance, whose z is known, along a straight line to @wanted, in
 * strides as long as Newton's method bears. The solid of object colours is convex: no target leaves
 * it. */
static gboolean
walk (Problem *self, const double wanted[3], double point[N_UNKNOWNS])
{
  const double grey[3] = { TS_D50_X * wanted[1], wanted[1], TS_D50_Z * wanted[1] };
  double reached = 0.0;
  double stride = 1.0;

  memset (point, 0, sizeof (double) * N_UNKNOWNS);
  for (int b = 0; b < TS_BANDS; b++)
    point[b] = 0.5 * log (wanted[1] / (1.0 - wanted[1]));
  for (int i = 0; i < MAX_TARGETS; i++)
    {
      double next = MIN (reached + stride, 1.0);
      double trial[N_UNKNOWNS];

      for (int c = 0; c < 3; c++)
        self->target[c] = next < 1.0 ? grey[c] + next * (wanted[c] - grey[c]) : wanted[c];
      memcpy (trial, point, sizeof trial);
      if (!newton (self, next < 1.0 ? ROUGH : EXACT, trial))
        {
          stride *= 0.5;
          continue;
        }
      memcpy (point, trial, sizeof trial);
      if (next >= 1.0)
        return TRUE;
      reached = next;
      stride *= 2.0;
    }
  return FALSE;
}

static gboolean
refuse (TsXyz xyz, TsLight light, const char *why, GError **error)
{
  TsLab lab = ts_lab_from_xyz (xyz);

  g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
               _ ("The colour L* %.4g, a* %.4g, b* %.4g %s under %s; "
                  "check the numbers, or take a colour with less chroma"),
               lab.L, lab.a, lab.b, why, ts_light_get_name (light));
  return FALSE;
}

/**
 * ts_spectrum_from_xyz:
 * @xyz: a colour on the scale of ts_spectrum_to_xyz(): the perfect reflector gives the D50 white
 * @light: the light it is seen under
 * @spectrum: (out caller-allocates): the reflectance
 * @error: return location for an error, or %NULL
 *
 * The smoothest reflectance (Burns 2020, LHTSS) that has the colour under @light to 1e-9 and lies
 * strictly within 0 to 1 in every band. Black and white become 2e-10 and 1 - 2e-10 throughout.
 * Takes some 20 microseconds, ten times as long close to the edge of the possible colours; within
 * about 1e-6 of the edge it may give up.
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_BAD_VALUE set for a colour that no surface can have
 */
gboolean
ts_spectrum_from_xyz (TsXyz xyz, TsLight light, TsSpectrum *spectrum, GError **error)
{
  Problem problem = { .scale = 1.0 };
  double wanted[3] = { xyz.X + INSET * (0.5 * TS_D50_X - xyz.X), xyz.Y + INSET * (0.5 - xyz.Y),
                       xyz.Z + INSET * (0.5 * TS_D50_Z - xyz.Z) };
  double point[N_UNKNOWNS];

  g_return_val_if_fail ((guint) light < TS_N_LIGHTS && spectrum != NULL, FALSE);
  g_return_val_if_fail (error == NULL || *error == NULL, FALSE);

  /* Rounding may put black, white and grey a hair outside. */
  if (!(ts_object_solid_margin (xyz, light) >= -0.1 * INSET))
    return refuse (xyz, light, _ ("is none that a surface can have"), error);
  problem.weights = ts_light_get_weights (light);
  problem.scale = 0.25 / (wanted[1] * (1.0 - wanted[1]));
  if (!walk (&problem, wanted, point))
    return refuse (xyz, light, _ ("is too near the strongest that a surface can have"), error);
  for (int b = 0; b < TS_BANDS; b++)
    spectrum->band[b] = 1.0 / (1.0 + exp (-2.0 * point[b]));
  return TRUE;
}

/**
 * ts_spectrum_from_lab:
 * @lab: CIELAB under D50
 * @spectrum: (out caller-allocates): the reflectance
 * @error: return location for an error, or %NULL
 *
 * As ts_spectrum_from_xyz() under D50.
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_BAD_VALUE set for a colour that no surface can have
 */
gboolean
ts_spectrum_from_lab (TsLab lab, TsSpectrum *spectrum, GError **error)
{
  return ts_spectrum_from_xyz (ts_xyz_from_lab (lab), TS_LIGHT_D50, spectrum, error);
}
