/* curve-speed.c: how long a fit takes, beside a plain least-squares spline
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve.h"

#include <gsl/gsl_bspline.h>
#include <gsl/gsl_multifit.h>
#include <math.h>
#include <stdio.h>
#include <time.h>

/* As many coefficients as the longest spline of the fit. */
#define COEFFICIENTS 43

static double
normal (GRand *random)
{
  double size = sqrt (-2.0 * log (1.0 - g_rand_double (random)));

  return size * cos (2.0 * G_PI * g_rand_double (random));
}

static TsCurveSample *
make_spots (gsize n)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (3);
  TsCurveSample *spots = g_new (TsCurveSample, n);

  for (gsize i = 0; i < n; i++)
    {
      double x = i / (n - 1.0);
      double L = 70.0 - 45.0 / (1.0 + exp (-12.0 * (x - 0.45))) + 40.0 * fmax (x - 0.8, 0.0);

      spots[i] =
        (TsCurveSample){ x, { L + normal (random), 10.0 * x + normal (random), 5.0 }, 1.0 };
    }
  return spots;
}

/* The three channels, as the curve has them. */
static void
fit_plain (const TsCurveSample *spots, gsize n)
{
  gsl_bspline_workspace *spline = gsl_bspline_alloc (4, COEFFICIENTS - 2);
  gsl_matrix *design = gsl_matrix_alloc (n, COEFFICIENTS);
  gsl_matrix *covariance = gsl_matrix_alloc (COEFFICIENTS, COEFFICIENTS);
  gsl_vector *value = gsl_vector_alloc (n), *coefficients = gsl_vector_alloc (COEFFICIENTS);
  gsl_multifit_linear_workspace *space = gsl_multifit_linear_alloc (n, COEFFICIENTS);
  double square;

  gsl_bspline_knots_uniform (0.0, 1.0, spline);
  for (gsize i = 0; i < n; i++)
    {
      gsl_vector_view row = gsl_matrix_row (design, i);

      gsl_bspline_eval (spots[i].position, &row.vector, spline);
    }
  for (guint channel = 0; channel < 3; channel++)
    {
      for (gsize i = 0; i < n; i++)
        gsl_vector_set (value, i,
                        channel == 0   ? spots[i].lab.L
                        : channel == 1 ? spots[i].lab.a
                                       : spots[i].lab.b);
      gsl_multifit_linear (design, value, coefficients, covariance, &square, space);
    }
  gsl_bspline_free (spline);
  gsl_matrix_free (design);
  gsl_matrix_free (covariance);
  gsl_vector_free (value);
  gsl_vector_free (coefficients);
  gsl_multifit_linear_free (space);
}

static double
milliseconds (clock_t from, guint rounds)
{
  return (double) (clock () - from) * 1000.0 / CLOCKS_PER_SEC / rounds;
}

int
main (void)
{
  static const gsize counts[] = { 15, 30, 50, 200, 5000 };

  printf ("spots,fit_ms,plain_ms,ratio\n");
  for (guint i = 0; i < G_N_ELEMENTS (counts); i++)
    {
      g_autofree TsCurveSample *spots = make_spots (counts[i]);
      guint rounds = counts[i] > 1000 ? 10 : 100;
      double ours, plain = 0.0;
      clock_t start = clock ();

      for (guint round = 0; round < rounds; round++)
        ts_curve_unref (ts_curve_fit (spots, counts[i], TS_CURVE_RULE_SURFACE, NULL));
      ours = milliseconds (start, rounds);
      printf ("%" G_GSIZE_FORMAT ",%.3f,", counts[i], ours);
      /* Plain least squares need more spots than coefficients. */
      if (counts[i] > COEFFICIENTS)
        {
          start = clock ();
          for (guint round = 0; round < rounds; round++)
            fit_plain (spots, counts[i]);
          plain = milliseconds (start, rounds);
          printf ("%.3f,%.2f\n", plain, ours / plain);
        }
      else
        printf (",\n");
    }
  return 0;
}
