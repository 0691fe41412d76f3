/* ts-visibility.c: how much contrast the eye can see
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "checks/ts-visibility.h"

#include "colour/ts-colour-convert.h"

#include <math.h>

/* Constants and names of Barten (1999), Contrast Sensitivity of the Human Eye and Its Effects on
 * Image Quality, SPIE; the same stand in Barten (2003), Proc. SPIE 5294. */
#define K 3.0                /* signal to noise ratio at the threshold */
#define T 0.1                /* s */
#define ETA 0.03             /* quantum efficiency */
#define SIGMA_0 (0.5 / 60.0) /* degrees */
#define C_AB (0.08 / 60.0)   /* degrees per mm of pupil */
#define X_MAX 12.0           /* degrees */
#define N_MAX 15.0           /* cycles */
#define PHI_0 3e-8           /* s deg^2 */
#define U_0 7.0              /* cycles per degree */
#define P 1.2274e6           /* photons per s deg^2 Td */

/* Bands that are tried, mm. */
#define LEAST_BAND 0.01
#define MOST_BAND 100.0

/* mm, for a square field of @field degrees at @luminance cd/m2. */
static double
pupil_diameter (double luminance, double field)
{
  return 5.0 - 3.0 * tanh (0.4 * log10 (luminance * field * field / 1600.0));
}

/* Td, with the correction for light that enters beside the middle of the pupil. */
static double
retinal_illuminance (double luminance, double pupil)
{
  double near = pupil / 9.7, far = pupil / 12.4;

  return G_PI * pupil * pupil / 4.0 * luminance * (1.0 - near * near + far * far * far * far);
}

/**
 * ts_contrast_sensitivity:
 * @luminance: mean of the pattern, cd/m2, over 0
 * @field: side of the square field, degrees, over 0
 * @frequency: of the sine pattern, cycles per degree, over 0
 *
 * Source: Barten (1999), with all parameters at their usual values.
 *
 * Returns: the reciprocal of the least contrast (Lmax - Lmin) / (Lmax + Lmin) that is seen
 */
double
ts_contrast_sensitivity (double luminance, double field, double frequency)
{
  double pupil = pupil_diameter (luminance, field);
  double blur = hypot (SIGMA_0, C_AB * pupil);
  double optics = exp (-2.0 * G_PI * G_PI * blur * blur * frequency * frequency);
  double summed =
    1.0 / (field * field) + 1.0 / (X_MAX * X_MAX) + frequency * frequency / (N_MAX * N_MAX);
  double photons = 1.0 / (ETA * P * retinal_illuminance (luminance, pupil));
  double neural = PHI_0 / (1.0 - exp (-(frequency / U_0) * (frequency / U_0)));

  return optics / K / sqrt (2.0 / T * summed * (photons + neural));
}

/**
 * ts_visibility:
 * @lightness: L* of one band, 0 to 100
 * @other: L* of the band beside it
 * @distance: from the eye, mm, over 0
 * @band: width of each, mm, over 0
 * @luminance: of a white beside them, cd/m2, over 0
 *
 * The two bands are taken for one period of a sine pattern that fills a square field.
 *
 * Returns: how many times their contrast is the least that is seen; under 1 it is not seen
 */
double
ts_visibility (double lightness, double other, double distance, double band, double luminance)
{
  double one = ts_luminance_from_lightness (CLAMP (lightness, 0.0, 100.0));
  double two = ts_luminance_from_lightness (CLAMP (other, 0.0, 100.0));
  double period = 2.0 * atan (band / distance) * 180.0 / G_PI;

  if (!(one + two > 0.0))
    return 0.0;
  return fabs (one - two) / (one + two) *
         ts_contrast_sensitivity (luminance * 0.5 * (one + two), period, 1.0 / period);
}

/**
 * ts_visibility_get_least_band:
 * @lightness: L* of one band, 0 to 100
 * @other: L* of the band beside it
 * @distance: from the eye, mm, over 0
 * @luminance: of a white beside them, cd/m2, over 0
 *
 * Returns: the narrowest band in which they are seen apart, in mm, from 0.01 to 100, where it stays
 *   if they are not seen at all
 */
double
ts_visibility_get_least_band (double lightness, double other, double distance, double luminance)
{
  double low = LEAST_BAND, high = LEAST_BAND;

  while (high < MOST_BAND && !(ts_visibility (lightness, other, distance, high, luminance) >= 1.0))
    {
      low = high;
      high *= 1.25;
    }
  if (high >= MOST_BAND || !(high > low))
    return MIN (high, MOST_BAND);
  for (guint i = 0; i < 30; i++)
    {
      double middle = 0.5 * (low + high);

      if (ts_visibility (lightness, other, distance, middle, luminance) >= 1.0)
        high = middle;
      else
        low = middle;
    }
  return high;
}
