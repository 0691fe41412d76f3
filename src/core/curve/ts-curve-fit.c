/* ts-curve-fit.c: fitting a lightness curve to measured spots
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-band.h"

#include <glib/gi18n.h>

#include "curve/ts-curve-outlier.h"

#include "base/ts-error.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

/* Values from which on an outlier can be told from the rest. */
#define LEAST_ROBUST 5
/* Fits after the first, each of which trusts values that the one before did not. */
#define MOST_REFITS 3
/* What is known of the noise beforehand, in degrees of freedom: stated errors are right within 0.72
 * to 1.65 times in 95 of 100 runs; errors that are not stated are 0.9 to 4.3 L*. */
#define STATED_DEGREES 12.0
#define UNSTATED_DEGREES 4.0
#define UNSTATED_NOISE 1.5 /* L* */
#define LEAST_STATED 0.01  /* L*: no reading is better, and its weight would hide all others */

static gboolean
check_samples (const TsCurveSample *samples, gsize n_samples, GError **error)
{
  if (n_samples == 0)
    {
      g_set_error_literal (error, TS_ERROR, TS_ERROR_TOO_FEW,
                           _ ("a curve needs at least one spot; measure some from lit to shadow"));
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
                       _ ("spot %u is out of range: position %g (0 to 1), L* %g (-20 to 200), a* "
                          "%g, b* %g, standard error %g; measure it again"),
                       (guint) i + 1, s->position, s->lab.L, s->lab.a, s->lab.b, s->standard_error);
          return FALSE;
        }
    }
  return TRUE;
}

/* Places are told apart when they are farther from each other than this. */
#define SAME_PLACE 1e-6

static int
compare_positions (const void *one, const void *other)
{
  double a = *(const double *) one, b = *(const double *) other;

  return (a > b) - (a < b);
}

/* Enough for what the samples can show, and no more. */
static guint
choose_segments (const TsCurveSample *samples, gsize n)
{
  g_autofree double *position = g_new (double, n);
  guint distinct = 1;

  for (gsize i = 0; i < n; i++)
    position[i] = samples[i].position;
  qsort (position, n, sizeof *position, compare_positions);
  for (gsize i = 1; i < n; i++)
    if (position[i] - position[i - 1] > SAME_PLACE)
      distinct++;
  return CLAMP (2 * distinct, 8, TS_CURVE_MAX_SEGMENTS);
}

/* The standard errors are used where every sample has one. */
static gboolean
have_errors (const TsCurveSample *samples, gsize n)
{
  for (gsize i = 0; i < n; i++)
    if (!(samples[i].standard_error > 0.0))
      return FALSE;
  return TRUE;
}

static double
get_channel (TsLab lab, guint channel)
{
  return channel == 0 ? lab.L : channel == 1 ? lab.a : lab.b;
}

/* Gathers one channel; of @keep only those that are not outliers, or %NULL. */
static void
gather (TsCurveData *data, const TsCurveSample *samples, gsize n, guint segments, guint channel,
        const gboolean *outlier)
{
  gboolean stated = channel == 0 && have_errors (samples, n);

  *data = (TsCurveData){
    .segments = segments,
    .basis = g_new (TsBasis, n),
    .value = g_new (double, n),
    .variance = g_new (double, n),
    .trusted = g_new0 (gboolean, n),
    .stated = stated,
    .centre = channel == 0 ? 50.0 : 0.0,
    .degrees = stated ? STATED_DEGREES : UNSTATED_DEGREES,
    .factor = stated ? 1.0 : UNSTATED_NOISE * UNSTATED_NOISE,
    .robust = channel == 0 && n >= LEAST_ROBUST,
  };
  for (gsize i = 0; i < n; i++)
    {
      double se = stated ? fmax (samples[i].standard_error, LEAST_STATED) : 1.0;

      if (outlier != NULL && outlier[i])
        continue;
      data->basis[data->n] = ts_basis_at (segments, samples[i].position);
      data->value[data->n] = get_channel (samples[i].lab, channel);
      data->variance[data->n] = se * se;
      data->n++;
    }
}

/* Fits again while values turn out to be no outliers. */
static TsCurveEnsemble *
fit_lightness (TsCurveData *data, const TsCurveSample *samples, TsCurveRule rule)
{
  TsCurveEnsemble *ensemble = ts_curve_ensemble_fit (data, rule);

  for (guint round = 0; round < MOST_REFITS; round++)
    {
      if (!data->robust || rule != TS_CURVE_RULE_SURFACE ||
          !ts_curve_trust_between (data, samples, ensemble))
        break;
      ts_curve_ensemble_free (ensemble);
      ensemble = ts_curve_ensemble_fit (data, rule);
    }
  return ensemble;
}

/* a* and b* have no shape to keep; what is an outlier in lightness is left out of them too. */
static void
fit_hue (TsCurve *curve, const TsCurveSample *samples)
{
  for (guint channel = 1; channel <= 2; channel++)
    {
      TsCurveData data;

      gather (&data, samples, curve->n_samples, curve->segments, channel, curve->outlier);
      ts_curve_ensemble_fit_plain (&data, channel == 1 ? curve->a : curve->b);
      ts_curve_data_clear (&data);
    }
}

/**
 * ts_curve_fit:
 * @samples: (array length=n_samples): measured spots in any order; L* under D50, -20 to 200
 * @n_samples: at least 1
 * @rule: the shapes that are allowed
 * @error: return location for an error, or %NULL
 *
 * Penalised splines (Eilers and Marx 1996) under a family of priors, averaged by their marginal
 * likelihood; some of them are smooth but for one step or bend. Outliers by a mixture of a normal
 * distribution and one that says nothing of their size, in a share that is estimated; the shape by
 * comparing the marginal likelihoods of a curve that falls and of one that falls and then rises.
 * Standard errors weigh the samples where all have one (those below L* 0.01 as that), and the noise
 * is estimated in any case.
 * Same samples, same curve. Some milliseconds; linear in @n_samples.
 *
 * Returns: (transfer full) (nullable): the curve, or %NULL with %TS_ERROR_TOO_FEW or
 * %TS_ERROR_BAD_VALUE set
 */
TsCurve *
ts_curve_fit (const TsCurveSample *samples, gsize n_samples, TsCurveRule rule, GError **error)
{
  g_autoptr (TsCurve) curve = NULL;
  g_autoptr (TsCurveEnsemble) ensemble = NULL;
  TsCurveData data;

  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!check_samples (samples, n_samples, error))
    return NULL;
  curve = ts_curve_new (n_samples);
  curve->rule = rule;
  memcpy (curve->sample, samples, n_samples * sizeof *samples);
  curve->segments = choose_segments (samples, n_samples);
  gather (&data, samples, n_samples, curve->segments, 0, NULL);
  ensemble = fit_lightness (&data, samples, rule);
  curve->shape = ensemble->shape;
  curve->reversed = ensemble->reversed;
  curve->seems_polished = ensemble->seems_polished;
  for (guint i = 0; i < curve->segments + 3; i++)
    curve->L[i] = ensemble->coefficients[i];
  ts_curve_find_ends (curve);
  ts_curve_band_fill (curve, ensemble, &data,
                      gsl_cdf_tdist_Pinv (0.975, ts_curve_ensemble_degrees (ensemble, &data)));
  ts_curve_band_find_places (curve, ensemble, &data);
  ts_curve_name_outliers (curve, ensemble, &data, samples);
  fit_hue (curve, samples);
  ts_curve_explain_outliers (curve, samples);
  ts_curve_data_clear (&data);
  return g_steal_pointer (&curve);
}
