/* ts-recipe-drop.c: how far a recipe strays when drops are not all alike
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-recipe-drop.h"

#include "colour/ts-difference.h"

#include <math.h>

#define N_PAIRS 128      /* of opposite draws: within a few per cent of the expectation */
#define N_ROUGH_PAIRS 12 /* within about a tenth */

/* What one standard deviation of one paint's amount does to the colour: slope and bend. */
typedef struct
{
  double slope[3], bend[3];
} Response;

/* @index of the van der Corput sequence in @base: Halton (1960), Numerische Mathematik 2, 84-90. */
static double
radical_inverse (guint index, guint base)
{
  double value = 0.0;
  double digit = 1.0;

  for (; index > 0; index /= base)
    {
      digit /= base;
      value += digit * (index % base);
    }
  return value;
}

/* Evenly spread normal deviates, two at a time (Box and Muller 1958). */
static void
get_deviates (guint index, guint n, double deviate[TS_RECIPE_MAX_PAINTS])
{
  static const guint primes[TS_RECIPE_MAX_PAINTS] = { 2, 3, 5, 7, 11, 13, 17, 19 };

  for (guint i = 0; i < n; i += 2)
    {
      double radius = sqrt (-2.0 * log (radical_inverse (index, primes[i])));
      double turn = 2.0 * G_PI * radical_inverse (index, primes[i + 1]);

      deviate[i] = radius * cos (turn);
      deviate[i + 1] = radius * sin (turn);
    }
}

static TsLab
predict (const TsPaintSet *set, const TsAmount *amounts, guint n)
{
  TsSpectrum K, S, reflectance;

  ts_mix_get_K_S (set, amounts, n, &K, &S);
  ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (set), &reflectance);
  return ts_spectrum_to_lab (&reflectance, TS_LIGHT_D50);
}

/* n drops vary together by sqrt (n) times what one varies by. */
static Response
get_response (const TsPaintSet *set, TsAmount *amounts, guint n, guint index, TsLab middle)
{
  double parts = amounts[index].parts;
  double spread = TS_DROP_SPREAD * sqrt (parts);
  TsLab more, less;

  amounts[index].parts = parts + spread;
  more = predict (set, amounts, n);
  amounts[index].parts = parts - spread;
  less = predict (set, amounts, n);
  amounts[index].parts = parts;
  return (Response){
    { 0.5 * (more.L - less.L), 0.5 * (more.a - less.a), 0.5 * (more.b - less.b) },
    { 0.5 * (more.L + less.L) - middle.L, 0.5 * (more.a + less.a) - middle.a,
      0.5 * (more.b + less.b) - middle.b },
  };
}

static double
difference_at (const Response *response, guint n, const double *deviate, double sign,
               const TsRecipe *recipe, TsLab target)
{
  double lab[3] = { recipe->lab.L, recipe->lab.a, recipe->lab.b };

  for (guint i = 0; i < n; i++)
    for (guint c = 0; c < 3; c++)
      lab[c] +=
        sign * deviate[i] * response[i].slope[c] + deviate[i] * deviate[i] * response[i].bend[c];
  return ts_delta_e_2000 ((TsLab){ lab[0], lab[1], lab[2] }, target);
}

static double
get_drop_error (const TsPaintSet *set, const TsRecipe *recipe, TsLab target, guint n_pairs)
{
  TsAmount amounts[TS_RECIPE_MAX_PAINTS];
  Response response[TS_RECIPE_MAX_PAINTS];
  double sum = 0.0;
  guint n = recipe->n_paints;

  if (n < 2)
    return ts_delta_e_2000 (recipe->lab, target);

  for (guint i = 0; i < n; i++)
    amounts[i] = (TsAmount){ recipe->paint[i], recipe->parts[i] };
  for (guint i = 0; i < n; i++)
    response[i] = get_response (set, amounts, n, i, recipe->lab);
  for (guint i = 1; i <= n_pairs; i++)
    {
      double deviate[TS_RECIPE_MAX_PAINTS];

      get_deviates (i, n, deviate);
      sum += difference_at (response, n, deviate, 1.0, recipe, target);
      sum += difference_at (response, n, deviate, -1.0, recipe, target);
    }
  return sum / (2.0 * n_pairs);
}

/**
 * ts_recipe_get_drop_error:
 * @set: the set it was made for
 * @recipe: a predicted recipe
 * @target: the wanted colour, D50
 *
 * Each drop's volume varies on its own, normally, by %TS_DROP_SPREAD of its mean. The colour is
 * taken to second order in each paint's amount and averaged over evenly spread draws in opposite
 * pairs. The same on every run.
 *
 * Returns: the expected CIEDE2000 to @target; for a single paint simply the difference
 */
double
ts_recipe_get_drop_error (const TsPaintSet *set, const TsRecipe *recipe, TsLab target)
{
  return get_drop_error (set, recipe, target, N_PAIRS);
}

/**
 * ts_recipe_get_rough_drop_error:
 * @set: the set it was made for
 * @recipe: a predicted recipe
 * @target: the wanted colour, D50
 *
 * Returns: ts_recipe_get_drop_error() within about a tenth, several times sooner
 */
double
ts_recipe_get_rough_drop_error (const TsPaintSet *set, const TsRecipe *recipe, TsLab target)
{
  return get_drop_error (set, recipe, target, N_ROUGH_PAIRS);
}
