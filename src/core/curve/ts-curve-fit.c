/* ts-curve-fit.c: fitting a lightness curve to measured spots
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-private.h"

#include "base/ts-error.h"
#include "curve/ts-curve-basis.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

#define ROUNDS 8

typedef struct
{
  gsl_matrix *normal, *chol;
  gsl_vector *right, *solution;
} System;

static gboolean
check_samples (const TsCurveSample *samples, gsize n_samples, GError **error)
{
  if (n_samples == 0)
    {
      g_set_error_literal (error, TS_ERROR, TS_ERROR_TOO_FEW,
                           "a curve needs at least one spot; measure some from lit to shadow");
      return FALSE;
    }
  for (gsize i = 0; i < n_samples; i++)
    {
      const TsCurveSample *s = &samples[i];

      if (!(s->position >= 0.0 && s->position <= 1.0 && s->lab.L >= -20.0 && s->lab.L <= 200.0 &&
            fabs (s->lab.a) <= 300.0 && fabs (s->lab.b) <= 300.0 && s->standard_error >= 0.0 &&
            s->standard_error <= 100.0))
        {
          g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                       "spot %" G_GSIZE_FORMAT " is out of range: position %g (0 to 1), "
                       "L* %g (-20 to 200), a* %g, b* %g, standard error %g; measure it again",
                       i + 1, s->position, s->lab.L, s->lab.a, s->lab.b, s->standard_error);
          return FALSE;
        }
    }
  return TRUE;
}

static void
solve (System *system, guint segments, const TsCurveSample *samples, const double *weight, gsize n,
       gsize channel, double smooth, double *coefficients)
{
  guint k = segments + 3;

  gsl_matrix_set_zero (system->normal);
  gsl_vector_set_zero (system->right);
  for (gsize i = 0; i < n; i++)
    {
      TsBasis basis = ts_basis_at (segments, samples[i].position);
      double value = (&samples[i].lab.L)[channel];

      for (guint u = 0; u < TS_BASIS_ORDER; u++)
        {
          *gsl_vector_ptr (system->right, basis.first + u) += weight[i] * basis.weight[u] * value;
          for (guint v = 0; v < TS_BASIS_ORDER; v++)
            *gsl_matrix_ptr (system->normal, basis.first + u, basis.first + v) +=
              weight[i] * basis.weight[u] * basis.weight[v];
        }
    }
  for (guint i = 0; i + 2 < k; i++)
    for (guint u = 0; u < 3; u++)
      for (guint v = 0; v < 3; v++)
        *gsl_matrix_ptr (system->normal, i + u, i + v) +=
          smooth * (u == 1 ? -2.0 : 1.0) * (v == 1 ? -2.0 : 1.0);
  for (guint i = 0; i < k; i++)
    *gsl_matrix_ptr (system->normal, i, i) += 1e-6;
  gsl_linalg_cholesky_decomp1 (system->normal);
  gsl_linalg_cholesky_solve (system->normal, system->right, system->solution);
  for (guint i = 0; i < k; i++)
    coefficients[i] = gsl_vector_get (system->solution, i);
}

/* Pool-adjacent-violators (Ayer et al. 1955): falling. */
static void
make_falling (double *b, guint k)
{
  double mean[TS_CURVE_MAX_SPLINES];
  guint count[TS_CURVE_MAX_SPLINES], n = 0;

  for (guint i = 0; i < k; i++)
    {
      mean[n] = b[i];
      count[n++] = 1;
      while (n > 1 && mean[n - 1] > mean[n - 2])
        {
          mean[n - 2] = (mean[n - 2] * count[n - 2] + mean[n - 1] * count[n - 1]) /
                        (count[n - 2] + count[n - 1]);
          count[n - 2] += count[n - 1];
          n--;
        }
    }
  for (guint i = 0, at = 0; i < n; i++)
    for (guint j = 0; j < count[i]; j++)
      b[at++] = mean[i];
}

/* Falling to the least coefficient, rising after it where that rise is more than @least. */
static TsCurveShape
shape_coefficients (double *b, guint k, double least)
{
  guint m = 0;
  double rising[TS_CURVE_MAX_SPLINES];

  for (guint i = 0; i < k; i++)
    if (b[i] < b[m])
      m = i;
  if (m < 2 || m + 3 > k || b[k - 1] - b[m] < least)
    {
      make_falling (b, k);
      return TS_CURVE_FALLING;
    }
  make_falling (b, m + 1);
  for (guint i = m; i < k; i++)
    rising[k - 1 - i] = fmax (b[i], b[m]);
  make_falling (rising, k - m);
  for (guint i = m; i < k; i++)
    b[i] = rising[k - 1 - i];
  return TS_CURVE_FALLING_THEN_RISING;
}

static int
compare_doubles (const void *one, const void *other)
{
  double a = *(const double *)one, b = *(const double *)other;

  return (a > b) - (a < b);
}

static double
robust_noise (const double *residual, gsize n)
{
  g_autofree double *size = g_new (double, n);
  double noise;

  for (gsize i = 0; i < n; i++)
    size[i] = fabs (residual[i]);
  qsort (size, n, sizeof *size, compare_doubles);
  noise = 1.4826 * size[n / 2];
  return fmax (noise, 0.3);
}

TsCurve *
ts_curve_fit (const TsCurveSample *samples, gsize n_samples, TsCurveRule rule, GError **error)
{
  TsCurve *self;
  g_autofree double *weight = NULL;
  System system;
  guint k;

  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!check_samples (samples, n_samples, error))
    return NULL;
  self = ts_curve_new (n_samples);
  self->segments = CLAMP (n_samples, 7, 20);
  k = self->segments + 3;
  weight = g_new (double, n_samples);
  system = (System){ gsl_matrix_alloc (k, k), NULL, gsl_vector_alloc (k), gsl_vector_alloc (k) };
  for (gsize i = 0; i < n_samples; i++)
    weight[i] = 1.0;
  for (guint round = 0; round < ROUNDS; round++)
    {
      solve (&system, self->segments, samples, weight, n_samples, 0, 3.0, self->L);
      for (gsize i = 0; i < n_samples; i++)
        self->residual[i] = samples[i].lab.L - ts_curve_get_lightness (self, samples[i].position);
      self->noise = robust_noise (self->residual, n_samples);
      for (gsize i = 0; i < n_samples; i++)
        {
          double r = self->residual[i] / (4.7 * self->noise);

          weight[i] = fabs (r) < 1.0 ? (1.0 - r * r) * (1.0 - r * r) : 0.0;
          self->outlier[i] = n_samples >= 6 && fabs (self->residual[i]) > 4.0 * self->noise;
        }
    }
  solve (&system, self->segments, samples, weight, n_samples, 1, 3.0, self->a);
  solve (&system, self->segments, samples, weight, n_samples, 2, 3.0, self->b);
  self->shape = rule == TS_CURVE_RULE_POLISHED ? TS_CURVE_FREE
                                               : shape_coefficients (self->L, k, 3.0 * self->noise);
  ts_curve_find_ends (self);
  self->core.low = MAX (self->core.value - 0.1, 0.0);
  self->core.high = MIN (self->core.value + 0.1, 1.0);
  self->sound = self->noise < 8.0;
  for (guint i = 0; i <= TS_CURVE_BAND_SEGMENTS; i++)
    {
      double L = ts_curve_get_lightness (self, (double)i / TS_CURVE_BAND_SEGMENTS);

      self->low[i] = L - 2.0 * self->noise;
      self->high[i] = L + 2.0 * self->noise;
    }
  gsl_matrix_free (system.normal);
  gsl_vector_free (system.right);
  gsl_vector_free (system.solution);
  return self;
}
