/* ts-prediction.c: a mix put together by hand: hiding all, and coat by coat over grounds
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-prediction.h"

#include <math.h>

#define GREY_LIGHTNESS 50.0 /* L* of a grey primer: common practice, no source */

/**
 * ts_ground_get_reflectance:
 * @set: the paints
 * @ground: what lies under the coats
 * @base: index of the base's paint, or -1; only %TS_GROUND_BASE looks at it
 * @reflectance: (out): as measured, 0..1
 */
void
ts_ground_get_reflectance (const TsPaintSet *set, TsGround ground, int base,
                           TsSpectrum *reflectance)
{
  TsSurfaceReflection surface = ts_paint_set_get_surface (set);

  if (ground == TS_GROUND_BASE && base >= 0)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, (guint) base);

      ts_mix_get_masstone (ts_paint_get_K (paint), ts_paint_get_S (paint), surface, reflectance);
      return;
    }
  if (ground == TS_GROUND_GREY &&
      ts_spectrum_from_lab ((TsLab){ GREY_LIGHTNESS, 0.0, 0.0 }, reflectance, NULL))
    return;
  for (guint b = 0; b < TS_BANDS; b++)
    reflectance->band[b] =
      ts_saunderson_measured (surface, ground == TS_GROUND_BLACK ? TS_CARD_BLACK : TS_CARD_WHITE);
}

/**
 * ts_ground_to_text:
 * @set: the paints
 * @ground: what lies under the coats
 * @base: index of the base's paint, or -1; only %TS_GROUND_BASE looks at it
 *
 * Returns: (transfer full): the ground as #TsTestSwatch has it: the base's name, or CIELAB under
 * D50 in whole units
 */
char *
ts_ground_to_text (const TsPaintSet *set, TsGround ground, int base)
{
  TsSpectrum reflectance;
  TsLab lab;

  if (ground == TS_GROUND_BASE && base >= 0)
    return g_strdup (ts_paint_get_name (ts_paint_set_get_paint (set, (guint) base)));
  ts_ground_get_reflectance (set, ground, -1, &reflectance);
  lab = ts_spectrum_to_lab (&reflectance, TS_LIGHT_D50);
  return g_strdup_printf ("%d %d %d", (int) lround (lab.L), (int) lround (lab.a),
                          (int) lround (lab.b));
}

/* The first medium of the set, or one that is clear. */
static void
thin (const TsPaintSet *set, guint medium, TsSpectrum *K, TsSpectrum *S)
{
  const TsPaint *paint = NULL;

  for (guint i = 0; i < ts_paint_set_get_n_paints (set) && paint == NULL; i++)
    if (ts_paint_get_kind (ts_paint_set_get_paint (set, i)) == TS_PAINT_MEDIUM)
      paint = ts_paint_set_get_paint (set, i);
  for (guint b = 0; b < TS_BANDS; b++)
    {
      double k = paint != NULL ? ts_paint_get_K (paint)->band[b] : 0.0;
      double s = paint != NULL ? ts_paint_get_S (paint)->band[b] : 0.0;

      K->band[b] = (K->band[b] + medium * k) / (1.0 + medium);
      S->band[b] = (S->band[b] + medium * s) / (1.0 + medium);
    }
}

static void
predict_films (const TsPaintSet *set, const TsTrial *trial, const TsSpectrum *K,
               const TsSpectrum *S, TsPrediction *prediction)
{
  TsSurfaceReflection surface = ts_paint_set_get_surface (set);

  for (guint g = 0; g < TS_N_GROUNDS; g++)
    {
      TsSpectrum ground, film;

      if (g == TS_GROUND_BASE && trial->base < 0)
        continue;
      ts_ground_get_reflectance (set, (TsGround) g, trial->base, &ground);
      prediction->film[g][0] = ts_spectrum_to_lab (&ground, TS_LIGHT_D50);
      for (guint coats = 1; coats <= TS_PREDICTION_MOST_COATS; coats++)
        {
          ts_mix_get_film (K, S, surface, coats, &ground, &film);
          prediction->film[g][coats] = ts_spectrum_to_lab (&film, TS_LIGHT_D50);
        }
    }
}

/**
 * ts_trial_predict:
 * @set: the paints
 * @trial: the mix
 * @prediction: (out): what it will look like; all 0 where there is nothing in the mix
 *
 * Predicts the mix hiding all, and in 0 to %TS_PREDICTION_MOST_COATS coats over each ground, under
 * D50; films over the base only where the trial has one. Medium thins it: parts of K and S, as
 * paints mix.
 *
 * Returns: %FALSE where there is nothing in the mix
 */
gboolean
ts_trial_predict (const TsPaintSet *set, const TsTrial *trial, TsPrediction *prediction)
{
  TsAmount amounts[TS_RECIPE_MAX_PAINTS];
  TsRecipe recipe = trial->recipe;
  TsSpectrum K, S, reflectance;

  *prediction = (TsPrediction){ 0 };
  if (recipe.n_paints == 0)
    return FALSE;
  for (guint i = 0; i < recipe.n_paints; i++)
    amounts[i] = (TsAmount){ recipe.paint[i], recipe.parts[i] };
  ts_mix_get_K_S (set, amounts, recipe.n_paints, &K, &S);
  thin (set, trial->medium, &K, &S);
  ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (set), &reflectance);
  prediction->masstone = ts_spectrum_to_lab (&reflectance, TS_LIGHT_D50);
  ts_recipe_predict (set, &recipe);
  prediction->error = recipe.error;
  prediction->contrast = ts_mix_get_contrast_ratio (&K, &S, ts_paint_set_get_surface (set), 1.0);
  prediction->coats_to_hide = ts_mix_get_coats_to_hide (&K, &S, ts_paint_set_get_surface (set));
  predict_films (set, trial, &K, &S, prediction);
  return TRUE;
}
