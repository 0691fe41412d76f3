/* ts-mix.c: from parts of paints to a predicted colour
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-mix.h"

#include <math.h>

#include "colour/ts-colour-convert.h"

#define HIDING_RATIO 0.98 /* ISO 6504-3: a film hides from this contrast ratio on */
#define MOST_COATS 100.0

/**
 * ts_mix_get_K_S:
 * @set: the paints
 * @amounts: (array length=n_amounts): which paints, and how many parts of each, above 0
 * @n_amounts: how many paints, at least 1
 * @K: (out): absorption per coat of the mix
 * @S: (out): scattering per coat of the mix
 *
 * Absorption and scattering add by parts (Duncan 1940).
 */
void
ts_mix_get_K_S (const TsPaintSet *set, const TsAmount *amounts, guint n_amounts, TsSpectrum *K,
                TsSpectrum *S)
{
  double total = 0.0;

  g_return_if_fail (n_amounts > 0);

  for (guint i = 0; i < n_amounts; i++)
    total += amounts[i].parts;
  for (guint b = 0; b < TS_BANDS; b++)
    K->band[b] = S->band[b] = 0.0;

  for (guint i = 0; i < n_amounts; i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, amounts[i].paint);
      double share = amounts[i].parts / total;

      for (guint b = 0; b < TS_BANDS; b++)
        {
          K->band[b] += share * ts_paint_get_K (paint)->band[b];
          S->band[b] += share * ts_paint_get_S (paint)->band[b];
        }
    }
}

/**
 * ts_mix_get_masstone:
 * @K: absorption per coat
 * @S: scattering per coat
 * @surface: the set's surface
 * @reflectance: (out): measured reflectance, 0..1
 *
 * The colour of a layer that hides all.
 */
void
ts_mix_get_masstone (const TsSpectrum *K, const TsSpectrum *S, TsSurfaceReflection surface,
                     TsSpectrum *reflectance)
{
  for (guint b = 0; b < TS_BANDS; b++)
    reflectance->band[b] =
      ts_saunderson_measured (surface, ts_km_reflectance (K->band[b], S->band[b]));
}

/**
 * ts_mix_get_film:
 * @K: absorption per coat
 * @S: scattering per coat
 * @surface: the set's surface, which the ground shares
 * @coats: thickness, at least 0
 * @ground: measured reflectance of what lies under the film, 0..1
 * @reflectance: (out): measured reflectance, 0..1
 *
 * The colour of a film over a dried ground. The bare ground is read through the same surface; once
 * painted over, only the new surface is left.
 */
void
ts_mix_get_film (const TsSpectrum *K, const TsSpectrum *S, TsSurfaceReflection surface,
                 double coats, const TsSpectrum *ground, TsSpectrum *reflectance)
{
  for (guint b = 0; b < TS_BANDS; b++)
    {
      double under = ts_saunderson_inside (surface, ground->band[b]);

      reflectance->band[b] =
        ts_saunderson_measured (surface, ts_km_film (K->band[b], S->band[b], coats, under));
    }
}

static double
luminance_of (const TsSpectrum *spectrum)
{
  return ts_spectrum_to_xyz (spectrum, TS_LIGHT_D50).Y;
}

/**
 * ts_mix_get_sprayed:
 * @K: absorption per coat
 * @S: scattering per coat
 * @surface: the set's surface, which the primers share
 * @coats: thickness, at least 0
 * @dark: measured reflectance of the dark primer
 * @light: measured reflectance of the light one, sprayed over it from above
 * @places: (out) (array length=n): from the dark end to the light one
 * @n: how many, at least 2
 *
 * Sprayed droplets hide where they lie, so between the ends the eye has the mean of the two by area
 * (Murray and Davies 1936, from memory); the shares are those that make even steps of CIE L*. The
 * film lies over each kind of ground apart.
 */
void
ts_mix_get_sprayed (const TsSpectrum *K, const TsSpectrum *S, TsSurfaceReflection surface,
                    double coats, const TsSpectrum *dark, const TsSpectrum *light,
                    TsSprayed *places, guint n)
{
  double Y_dark = luminance_of (dark), Y_light = luminance_of (light);
  double L_dark = ts_lightness_from_luminance (Y_dark);
  double L_light = ts_lightness_from_luminance (Y_light);
  TsSpectrum over_dark, over_light;

  g_return_if_fail (n >= 2);

  ts_mix_get_film (K, S, surface, coats, dark, &over_dark);
  ts_mix_get_film (K, S, surface, coats, light, &over_light);
  for (guint i = 0; i < n; i++)
    {
      double along = (double) i / (n - 1);
      double Y = ts_luminance_from_lightness (L_dark + along * (L_light - L_dark));
      /* Two primers alike need no shares. */
      double share = fabs (Y_light - Y_dark) > 1e-9 ? (Y - Y_dark) / (Y_light - Y_dark) : along;

      for (guint b = 0; b < TS_BANDS; b++)
        {
          places[i].ground.band[b] = (1.0 - share) * dark->band[b] + share * light->band[b];
          places[i].film.band[b] = (1.0 - share) * over_dark.band[b] + share * over_light.band[b];
        }
    }
}

/**
 * ts_mix_get_contrast_ratio_over:
 * @K: absorption per coat
 * @S: scattering per coat
 * @surface: the set's surface
 * @coats: thickness, at least 0
 * @black: measured reflectance of the black ground
 * @white: measured reflectance of the white ground
 *
 * The contrast ratio of ISO 6504-3: Y over black divided by Y over white, here under D50.
 *
 * Returns: 0..1
 */
double
ts_mix_get_contrast_ratio_over (const TsSpectrum *K, const TsSpectrum *S,
                                TsSurfaceReflection surface, double coats, const TsSpectrum *black,
                                const TsSpectrum *white)
{
  TsSpectrum over_black, over_white;
  double ratio;

  ts_mix_get_film (K, S, surface, coats, black, &over_black);
  ts_mix_get_film (K, S, surface, coats, white, &over_white);
  ratio = ts_spectrum_to_xyz (&over_black, TS_LIGHT_D50).Y /
          ts_spectrum_to_xyz (&over_white, TS_LIGHT_D50).Y;
  /* Where the film hides, rounding may leave the two a last bit apart. */
  return MIN (ratio, 1.0);
}

/**
 * ts_mix_get_contrast_ratio:
 * @K: absorption per coat
 * @S: scattering per coat
 * @surface: the set's surface
 * @coats: thickness, at least 0
 *
 * The contrast ratio over a card of inside reflectances %TS_CARD_BLACK and %TS_CARD_WHITE.
 *
 * Returns: 0..1
 */
double
ts_mix_get_contrast_ratio (const TsSpectrum *K, const TsSpectrum *S, TsSurfaceReflection surface,
                           double coats)
{
  TsSpectrum black, white;

  for (guint b = 0; b < TS_BANDS; b++)
    {
      black.band[b] = ts_saunderson_measured (surface, TS_CARD_BLACK);
      white.band[b] = ts_saunderson_measured (surface, TS_CARD_WHITE);
    }
  return ts_mix_get_contrast_ratio_over (K, S, surface, coats, &black, &white);
}

/**
 * ts_mix_get_coats_to_hide:
 * @K: absorption per coat
 * @S: scattering per coat
 * @surface: the set's surface
 *
 * The thickness from which on a film hides: contrast ratio 0.98 (ISO 6504-3) on the plain card.
 *
 * Returns: coats, or infinity where more than 100 would be needed
 */
double
ts_mix_get_coats_to_hide (const TsSpectrum *K, const TsSpectrum *S, TsSurfaceReflection surface)
{
  double low = 0.0;
  double high = MOST_COATS;

  if (!(ts_mix_get_contrast_ratio (K, S, surface, high) >= HIDING_RATIO))
    return (double) INFINITY;

  /* The ratio only rises with thickness. Halving 60 times leaves no bit undecided. */
  for (guint i = 0; i < 60; i++)
    {
      double middle = 0.5 * (low + high);

      if (ts_mix_get_contrast_ratio (K, S, surface, middle) >= HIDING_RATIO)
        high = middle;
      else
        low = middle;
    }
  return high;
}
