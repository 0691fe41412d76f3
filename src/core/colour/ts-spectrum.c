/* ts-spectrum.c: reflectance on fixed bands, and its colour under a light
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "colour/ts-spectrum.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "colour/ts-cie-tables.h"
#include "colour/ts-colour-convert.h"

#include <math.h>
#include <string.h>

#define LEAST_STEP 0.5         /* nm, of samples */
#define MOST_SAMPLES_A_BAND 20 /* TS_BAND_STEP over LEAST_STEP */

typedef double Weights[TS_BANDS][3];

/* Four-point Lagrange among @n samples a step of 1 apart: @factor[0..3] for the samples from the
 * returned one on. A place beyond the ends is held at the end. */
static guint
lagrange_factors (double place, guint n, double factor[4])
{
  double held = CLAMP (place, 0.0, n - 1.0);
  guint start = CLAMP ((gint) floor (held) - 1, 0, (gint) n - 4);
  double t = held - start;

  factor[0] = -(t - 1.0) * (t - 2.0) * (t - 3.0) / 6.0;
  factor[1] = t * (t - 2.0) * (t - 3.0) / 2.0;
  factor[2] = -t * (t - 1.0) * (t - 3.0) / 2.0;
  factor[3] = t * (t - 1.0) * (t - 2.0) / 6.0;
  return start;
}

static void
fill_weights (Weights weights, const double light[TS_CIE_SAMPLES])
{
  static const double white[3] = { TS_D50_X, 1.0, TS_D50_Z };
  double sum[3] = { 0.0 };

  memset (weights, 0, sizeof (Weights));
  for (int i = 0; i < TS_CIE_SAMPLES; i++)
    {
      double wavelength = TS_CIE_FIRST + i * TS_CIE_STEP;
      double factor[4];
      guint start =
        lagrange_factors ((wavelength - TS_BAND_FIRST) / TS_BAND_STEP, TS_BANDS, factor);

      for (int j = 0; j < 4; j++)
        for (int c = 0; c < 3; c++)
          weights[start + j][c] += factor[j] * light[i] * ts_cie_observer[i][c];
    }
  for (int b = 0; b < TS_BANDS; b++)
    for (int c = 0; c < 3; c++)
      sum[c] += weights[b][c];
  for (int b = 0; b < TS_BANDS; b++)
    for (int c = 0; c < 3; c++)
      weights[b][c] *= white[c] / sum[c];
}

static gpointer
make_all_weights (gpointer unused)
{
  Weights *all = g_new (Weights, TS_N_LIGHTS);

  for (int light = 0; light < TS_N_LIGHTS; light++)
    fill_weights (all[light], ts_cie_lights[light]);
  return all;
}

/**
 * ts_light_get_weights:
 * @light: a light
 *
 * Made once from the CIE tables at 5 nm (1931 observer), with reflectance interpolated between
 * bands by four-point Lagrange and held beyond the ends, in the manner of ASTM E2022; X, Y and Z
 * are then scaled so that the perfect reflector gives the D50 white. A few weights are slightly
 * negative.
 *
 * Returns: (transfer none) (array fixed-size=31): for each band its share of X, Y and Z
 */
const double (*ts_light_get_weights (TsLight light))[3]
{
  static GOnce once = G_ONCE_INIT;
  const Weights *all = g_once (&once, make_all_weights, NULL);

  g_return_val_if_fail ((guint) light < TS_N_LIGHTS, NULL);

  return all[light];
}

/**
 * ts_light_get_name:
 * @light: a light
 *
 * Returns: (transfer none): its name in CIE 15
 */
const char *
ts_light_get_name (TsLight light)
{
  static const char *const names[TS_N_LIGHTS] = {
    "D50", "D65", "A", "C", "FL11", "LED-B1", "LED-V1"
  };

  g_return_val_if_fail ((guint) light < TS_N_LIGHTS, NULL);

  return names[light];
}

/**
 * ts_spectrum_to_xyz:
 * @self: reflectance, 0 to 1 in each band
 * @light: the light that falls on it
 *
 * Returns: XYZ scaled so that the perfect reflector gives the D50 white under every light
 */
TsXyz
ts_spectrum_to_xyz (const TsSpectrum *self, TsLight light)
{
  const double (*weights)[3] = ts_light_get_weights (light);
  double sum[3] = { 0.0 };

  for (int b = 0; b < TS_BANDS; b++)
    for (int c = 0; c < 3; c++)
      sum[c] += weights[b][c] * self->band[b];
  return (TsXyz){ sum[0], sum[1], sum[2] };
}

/**
 * ts_spectrum_to_lab:
 * @self: reflectance, 0 to 1 in each band
 * @light: the light that falls on it
 *
 * Returns: CIELAB relative to the white of @light; 100, 0, 0 for the perfect reflector
 */
TsLab
ts_spectrum_to_lab (const TsSpectrum *self, TsLight light)
{
  return ts_lab_from_xyz (ts_spectrum_to_xyz (self, light));
}

static double
interpolate (const double *values, guint n, double place)
{
  double factor[4];
  guint start = lagrange_factors (place, n, factor);
  double sum = 0.0;

  for (int j = 0; j < 4; j++)
    sum += factor[j] * values[start + j];
  return sum;
}

/* The cubic of least squares through the samples within a band's width of @place, evaluated there:
 * exact for cubics, as the interpolation between coarse samples is, and calm about noise (Savitzky
 * and Golay 1964). By orthogonal polynomials on the samples (Forsythe 1957). */
static double
smooth (const double *values, guint n, double place, double width)
{
  double held = CLAMP (place, 0.0, n - 1.0);
  guint first = (guint) ceil (MAX (held - width, 0.0));
  guint last = (guint) floor (MIN (held + width, n - 1.0));
  double sum = 0.0, norm_before = 1.0;
  guint m;
  double now[2 * MOST_SAMPLES_A_BAND + 1], before[2 * MOST_SAMPLES_A_BAND + 1];
  double now_held = 1.0, before_held = 0.0;

  while (last - first < 3)
    if (first > 0 && (last + 1 == n || held - first < last - held))
      first--;
    else
      last++;
  m = last - first + 1;
  for (guint i = 0; i < m; i++)
    {
      now[i] = 1.0;
      before[i] = 0.0;
    }
  for (int degree = 0; degree <= 3; degree++)
    {
      double norm = 0.0, along = 0.0, moment = 0.0, shift, back, next_held;

      for (guint i = 0; i < m; i++)
        {
          norm += now[i] * now[i];
          along += now[i] * values[first + i];
          moment += now[i] * now[i] * (first + i - held);
        }
      sum += along / norm * now_held;
      shift = moment / norm;
      back = degree == 0 ? 0.0 : norm / norm_before;
      for (guint i = 0; i < m; i++)
        {
          double next = (first + i - held - shift) * now[i] - back * before[i];

          before[i] = now[i];
          now[i] = next;
        }
      next_held = -shift * now_held - back * before_held;
      before_held = now_held;
      now_held = next_held;
      norm_before = norm;
    }
  return sum;
}

static gboolean
check_samples (const double *values, guint n, double first, double step, GError **error)
{
  double last = first + (n - 1.0) * step;

  if (n < 4)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW,
                   _ ("A spectrum needs at least 4 samples; this one has %u"), n);
      return FALSE;
    }
  if (!(step >= LEAST_STEP && step <= 20.0))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("Samples of a spectrum must lie 0.5 to 20 nm apart, not %g nm"), step);
      return FALSE;
    }
  if (!(first <= 430.0 && last >= 670.0))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW,
                   _ ("A spectrum must reach from 430 nm or below to 670 nm or above; "
                      "this one runs from %g to %g nm"),
                   first, last);
      return FALSE;
    }
  for (guint i = 0; i < n; i++)
    if (!isfinite (values[i]))
      {
        g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                     _ ("The value of the spectrum at %g nm is not a number"), first + i * step);
        return FALSE;
      }
  return TRUE;
}

/**
 * ts_spectrum_resample:
 * @values: (array length=n): one value a sample, finite
 * @n: number of samples, at least 4
 * @first: wavelength of the first, nm; 430 or below
 * @step: from one sample to the next, 0.5 to 20 nm; the last must reach 670 nm
 * @spectrum: (out caller-allocates): the bands
 * @error: return location for an error, or %NULL
 *
 * The value at the middle of each band, which is what the weights of ts_light_get_weights() take it
 * for: by four-point Lagrange between samples, and from samples of 5 nm or finer by the
 * least-squares cubic through those within 10 nm, which averages their noise and leaves the curve
 * where it is. (A mean over the band would flatten it, by up to 0.4 CIELAB on the patches of a
 * colour chart.) Beyond the ends the end value is held, and no band leaves the range of @values.
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_TOO_FEW or %TS_ERROR_BAD_VALUE set
 */
gboolean
ts_spectrum_resample (const double *values, guint n, double first, double step,
                      TsSpectrum *spectrum, GError **error)
{
  double least, most;

  g_return_val_if_fail (values != NULL && spectrum != NULL, FALSE);
  g_return_val_if_fail (error == NULL || *error == NULL, FALSE);

  if (!check_samples (values, n, first, step, error))
    return FALSE;

  least = most = values[0];
  for (guint i = 1; i < n; i++)
    {
      least = MIN (least, values[i]);
      most = MAX (most, values[i]);
    }
  for (int b = 0; b < TS_BANDS; b++)
    {
      double place = (TS_BAND_FIRST + b * TS_BAND_STEP - first) / step;
      double value = step <= 0.5 * TS_BAND_STEP ? smooth (values, n, place, TS_BAND_STEP / step)
                                                : interpolate (values, n, place);

      spectrum->band[b] = CLAMP (value, least, most);
    }
  return TRUE;
}
