/* ts-recipe.h: whole parts of paints, and the colour they give
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-mix.h"

G_BEGIN_DECLS

#define TS_RECIPE_MAX_PAINTS 8

/* A plain value. Paints are indices in the set it was made for; most parts first, then by name. */
typedef struct
{
  guint  n_paints;
  guint  paint[TS_RECIPE_MAX_PAINTS];
  guint  parts[TS_RECIPE_MAX_PAINTS]; /* at least 1 each, no common divisor */
  TsLab  lab;                         /* hiding all, D50 */
  double delta_e;                     /* CIEDE2000 to the target; 0 where there is none */
  double delta_e_drop_error;          /* expected CIEDE2000 to the target, each drop varying by 10 % */
  double delta_e_illuminant_a;        /* to the target's smooth spectrum, both under A */
  double delta_e_led_b1;              /* the same under the white LED LED-B1 */
  double metamerism_a;                /* of these two, what is left where both are alike under D50 */
  double metamerism_led_b1;
  double error;                       /* 95 % radius, CIEDE2000, from its paints */
} TsRecipe;

/* Predicts: fills all but the differences, for parts already set; sorts and reduces them. */
void      ts_recipe_predict      (const TsPaintSet  *set,
                                  TsRecipe          *recipe);
/* Measured reflectance of a layer that hides all. */
void      ts_recipe_get_spectrum (const TsPaintSet  *set,
                                  const TsRecipe    *recipe,
                                  TsSpectrum        *reflectance);
/* Fills the differences to @target. */
void      ts_recipe_compare      (const TsPaintSet  *set,
                                  TsRecipe          *recipe,
                                  TsLab              target);
/* Order of compared recipes: nearest first; ties by fewer paints, fewer parts, names. */
int       ts_recipe_rank         (const TsPaintSet  *set,
                                  const TsRecipe    *one,
                                  const TsRecipe    *other);
/* The same parts of the same paints. */
gboolean  ts_recipe_is_same      (const TsRecipe    *one,
                                  const TsRecipe    *other);
/* "2 Lamp Black + 1 Deep Blue", and back; names are found without regard to case. */
char     *ts_recipe_to_text      (const TsPaintSet  *set,
                                  const TsRecipe    *recipe);
gboolean  ts_recipe_parse        (const TsPaintSet  *set,
                                  const char        *text,
                                  TsRecipe          *recipe,
                                  GError           **error);

G_END_DECLS
