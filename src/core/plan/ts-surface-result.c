/* ts-surface-result.c: what follows from one surface's spots
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-surface-result-private.h"

#include <math.h>
#include <string.h>

#include "colour/ts-difference.h"
#include "plan/ts-surface-curve.h"
#include "steps/ts-stair-area.h"

/* Of the squared 95 % radius of a colour about a third is lightness; reasoned, not measured. */
#define LIGHTNESS_SHARE 0.6
/* As far as two tones can be apart, L*. */
#define WIDEST 100.0

static void
result_clear (TsSurfaceResult *self)
{
  g_clear_pointer (&self->curve, ts_curve_unref);
  g_clear_pointer (&self->stair, ts_stair_unref);
  g_clear_pointer (&self->paints, ts_paint_set_unref);
  g_clear_pointer (&self->search, ts_recipe_search_unref);
  g_clear_pointer (&self->joint, ts_joint_plan_unref);
  g_free (self->joint_problem);
  for (guint i = 0; i < TS_STAIR_MAX_STEPS; i++)
    g_clear_pointer (&self->mix[i].choices, g_array_unref);
}

/**
 * ts_surface_result_ref:
 * @self: a result
 *
 * Returns: (transfer full): the same
 */
TsSurfaceResult *
ts_surface_result_ref (TsSurfaceResult *self)
{
  return g_atomic_rc_box_acquire (self);
}

/**
 * ts_surface_result_unref:
 * @self: (transfer full): a result
 */
void
ts_surface_result_unref (TsSurfaceResult *self)
{
  g_atomic_rc_box_release_full (self, (GDestroyNotify) result_clear);
}

/* How much two mixes have in common: the sum of the smaller shares of each paint, 0 to 1. */
static double
common_share (const TsRecipe *one, const TsRecipe *other)
{
  double total[2] = { 0.0, 0.0 }, common = 0.0;

  for (guint i = 0; i < one->n_paints; i++)
    total[0] += one->parts[i];
  for (guint i = 0; i < other->n_paints; i++)
    total[1] += other->parts[i];
  for (guint i = 0; i < one->n_paints; i++)
    for (guint j = 0; j < other->n_paints; j++)
      if (one->paint[i] == other->paint[j])
        common += MIN (one->parts[i] / total[0], other->parts[j] / total[1]);
  return common;
}

/* 95 % error of the step of lightness between two mixes: what their common paints get wrong, both
 * get wrong alike, and it does not count. */
static double
step_error (const TsStepMix *one, const TsStepMix *other)
{
  double a = one->recipe.error, b = other->recipe.error, common;

  if (!one->known || !other->known)
    return 0.0;
  common = common_share (&one->recipe, &other->recipe);
  return LIGHTNESS_SHARE * sqrt (fmax (0.0, a * a + b * b - 2.0 * common * a * b));
}

static TsLab
mixed_colour (const TsStepMix *mix)
{
  return mix->known ? mix->recipe.lab : mix->wanted;
}

static void
check_neighbours (TsSurfaceResult *self)
{
  for (guint i = 0; i + 1 < ts_stair_get_n_steps (self->stair); i++)
    self->contrast[i] =
      ts_contrast_check (mixed_colour (&self->mix[i]), mixed_colour (&self->mix[i + 1]),
                         step_error (&self->mix[i], &self->mix[i + 1]), &self->settings);
}

/* A recipe that the painter locked, where its paints are all in the set. */
static void
take_locked (TsStepMix *mix, const char *text, TsPaintSet *paints)
{
  TsRecipe recipe;

  mix->locked = FALSE;
  if (text == NULL || paints == NULL || !ts_recipe_parse (paints, text, &recipe, NULL))
    return;
  ts_recipe_predict (paints, &recipe);
  ts_recipe_compare (paints, &recipe, mix->wanted);
  mix->recipe = recipe;
  mix->known = TRUE;
  mix->locked = TRUE;
}

/* Keeps what @previous knew: it is shown until better is known. */
static void
keep_recipes (TsSurfaceResult *self, const TsSurfaceResult *previous)
{
  guint n = ts_stair_get_n_steps (self->stair);

  if (previous == NULL || previous->paints == NULL || previous->paints != self->paints ||
      ts_stair_get_n_steps (previous->stair) != n)
    return;
  self->search = previous->search != NULL ? ts_recipe_search_ref (previous->search) : NULL;
  for (guint i = 0; i < n; i++)
    {
      const TsStepMix *old = &previous->mix[i];
      TsLab wanted = self->mix[i].wanted;

      self->mix[i] = *old;
      self->mix[i].choices = old->choices != NULL ? g_array_ref (old->choices) : NULL;
      if (previous->joint != NULL)
        self->mix[i].recipe = *ts_joint_plan_get_recipe (previous->joint, i);
      else if (old->choices != NULL && old->choices->len > 0)
        self->mix[i].recipe = g_array_index (old->choices, TsRecipe, 0);
      self->mix[i].locked = FALSE;
      /* The colour that the choices were looked for stays with them, so that a change is seen. */
      if (ts_delta_e_76 (old->wanted, wanted) > 0.0 || previous->stale)
        {
          g_clear_pointer (&self->mix[i].choices, g_array_unref);
          self->mix[i].wanted = wanted;
          self->stale = TRUE;
        }
    }
}

/* How the surface itself is looked at, whoever's stair it has, and how much of it there is. */
static void
take_settings (TsSurfaceResult *self, const TsPlan *plan, const TsSurface *surface,
               const TsSurface *of)
{
  self->settings = plan->contrast;
  if (surface->band > 0.0)
    self->settings.band = surface->band;
  if (surface->distance > 0.0)
    self->settings.distance = surface->distance;
  /* Bold neighbours are what makes a polished surface look so: none is too wide. */
  if (of->polished)
    self->settings.most_step = WIDEST;
  self->has_areas = surface->outline != NULL && surface->outline->tones->len > 0;
  if (self->has_areas)
    ts_stair_get_areas (self->stair, (const TsTone *) surface->outline->tones->data,
                        surface->outline->tones->len, self->area);
}

/**
 * ts_surface_result_new:
 * @plan: a plan
 * @surface: index of the surface
 * @previous: (nullable): an earlier result of the same surface
 * @error: return location for an error, or %NULL
 *
 * Fits the curve, cuts the stair and checks the wanted colours: some milliseconds.
 *
 * Returns: (transfer full) (nullable): the result, or %NULL with a #TsError
 */
TsSurfaceResult *
ts_surface_result_new (const TsPlan *plan, guint surface, const TsSurfaceResult *previous,
                       GError **error)
{
  g_autoptr (TsSurfaceResult) self = g_atomic_rc_box_new0 (TsSurfaceResult);
  const TsSurface *of = ts_plan_get_stair_source (plan, surface);

  self->curve = ts_surface_result_fit_curve (of, previous != NULL ? previous->curve : NULL, error);
  if (self->curve == NULL)
    return NULL;
  self->stair = ts_surface_cut_stair (of, self->curve, error);
  if (self->stair == NULL)
    return NULL;
  self->paints = plan->paints != NULL ? ts_paint_set_ref (plan->paints) : NULL;
  self->reach = plan->mix.reach;
  take_settings (self, plan, ts_plan_get_surface (plan, surface), of);
  for (guint i = 0; i < ts_stair_get_n_steps (self->stair); i++)
    self->mix[i].wanted = ts_stair_get_step (self->stair, i)->wanted;
  keep_recipes (self, previous);
  for (guint i = 0; i < ts_stair_get_n_steps (self->stair); i++)
    take_locked (&self->mix[i], of->locked[i], self->paints);
  check_neighbours (self);
  return g_steal_pointer (&self);
}

/* The same curve, stair and settings, and no mixes yet. */
static TsSurfaceResult *
copy_without_mixes (const TsSurfaceResult *self, TsRecipeSearch *search)
{
  TsSurfaceResult *copy = g_atomic_rc_box_new0 (TsSurfaceResult);

  copy->curve = ts_curve_ref (self->curve);
  copy->stair = ts_stair_ref (self->stair);
  copy->search = ts_recipe_search_ref (search);
  copy->paints = ts_paint_set_ref (ts_recipe_search_get_set (search));
  copy->reach = self->reach;
  copy->settings = self->settings;
  copy->has_areas = self->has_areas;
  memcpy (copy->area, self->area, sizeof copy->area);
  return copy;
}

static gboolean
mix_step (TsSurfaceResult *copy, const TsSurfaceResult *self, guint step, const char *locked,
          GCancellable *cancellable, GError **error)
{
  TsStepMix *mix = &copy->mix[step];
  const TsStepMix *old = &self->mix[step];

  mix->wanted = ts_stair_get_step (copy->stair, step)->wanted;
  if (old->choices != NULL && self->search == copy->search &&
      ts_delta_e_76 (old->wanted, mix->wanted) <= 0.0)
    mix->choices = g_array_ref (old->choices);
  else
    mix->choices = ts_recipe_search_run (copy->search, mix->wanted, cancellable, NULL, NULL, error);
  if (mix->choices == NULL)
    return FALSE;
  if (mix->choices->len > 0)
    {
      mix->recipe = g_array_index (mix->choices, TsRecipe, 0);
      mix->known = TRUE;
    }
  take_locked (mix, locked, copy->paints);
  return TRUE;
}

/**
 * ts_surface_result_mix:
 * @self: a result
 * @plan: the plan it was made from
 * @surface: index of the surface
 * @search: where to look for mixes
 * @cancellable: (nullable): stops the search
 * @progress: (nullable): told after every step
 * @progress_data: for @progress
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): a result with recipes, or %NULL with G_IO_ERROR_CANCELLED
 */
TsSurfaceResult *
ts_surface_result_mix (const TsSurfaceResult *self, const TsPlan *plan, guint surface,
                       TsRecipeSearch *search, GCancellable *cancellable, TsProgressFunc progress,
                       gpointer progress_data, GError **error)
{
  g_autoptr (TsSurfaceResult) copy = copy_without_mixes (self, search);
  const TsSurface *of = ts_plan_get_stair_source (plan, surface);
  guint n = ts_stair_get_n_steps (copy->stair);

  for (guint i = 0; i < n; i++)
    {
      if (!mix_step (copy, self, i, of->locked[i], cancellable, error))
        return NULL;
      if (progress != NULL)
        progress ((i + 1.0) / n, progress_data);
    }
  if (!ts_surface_result_mix_together (copy, plan, of, cancellable, error))
    return NULL;
  check_neighbours (copy);
  return g_steal_pointer (&copy);
}

/**
 * ts_surface_result_get_curve:
 * @self: a result
 *
 * Returns: (transfer none): the lightness curve
 */
TsCurve *
ts_surface_result_get_curve (const TsSurfaceResult *self)
{
  return self->curve;
}

/**
 * ts_surface_result_get_stair:
 * @self: a result
 *
 * Returns: (transfer none): the stair
 */
TsStair *
ts_surface_result_get_stair (const TsSurfaceResult *self)
{
  return self->stair;
}

/**
 * ts_surface_result_get_n_steps:
 * @self: a result
 *
 * Returns: the number of steps
 */
guint
ts_surface_result_get_n_steps (const TsSurfaceResult *self)
{
  return ts_stair_get_n_steps (self->stair);
}

/**
 * ts_surface_result_get_paints:
 * @self: a result
 *
 * Returns: (transfer none) (nullable): the set that the recipes count in
 */
TsPaintSet *
ts_surface_result_get_paints (const TsSurfaceResult *self)
{
  return self->paints;
}

/**
 * ts_surface_result_get_recipe:
 * @self: a result
 * @step: which step, from 0
 *
 * Returns: (transfer none) (nullable): the recipe in use
 */
const TsRecipe *
ts_surface_result_get_recipe (const TsSurfaceResult *self, guint step)
{
  g_return_val_if_fail (step < TS_STAIR_MAX_STEPS, NULL);

  return self->mix[step].known ? &self->mix[step].recipe : NULL;
}

/**
 * ts_surface_result_get_choices:
 * @self: a result
 * @step: which step, from 0
 *
 * Returns: (transfer none) (nullable) (element-type TsRecipe): other recipes, nearest first
 */
const GArray *
ts_surface_result_get_choices (const TsSurfaceResult *self, guint step)
{
  g_return_val_if_fail (step < TS_STAIR_MAX_STEPS, NULL);

  return self->mix[step].choices;
}

/**
 * ts_surface_result_is_locked:
 * @self: a result
 * @step: which step, from 0
 *
 * Returns: whether the painter chose the recipe
 */
gboolean
ts_surface_result_is_locked (const TsSurfaceResult *self, guint step)
{
  g_return_val_if_fail (step < TS_STAIR_MAX_STEPS, FALSE);

  return self->mix[step].locked;
}

/**
 * ts_surface_result_is_stale:
 * @self: a result
 *
 * Returns: whether the recipes are of an earlier stair
 */
gboolean
ts_surface_result_is_stale (const TsSurfaceResult *self)
{
  return self->stale;
}

/**
 * ts_surface_result_get_reach:
 * @self: a result
 * @step: which step, from 0
 *
 * Returns: whether the wanted colour can be mixed, or in which way it cannot
 */
TsReach
ts_surface_result_get_reach (const TsSurfaceResult *self, guint step)
{
  g_return_val_if_fail (step < TS_STAIR_MAX_STEPS, TS_REACH_WITHIN);

  if (!self->mix[step].known)
    return TS_REACH_WITHIN;
  return ts_reach_of (self->mix[step].wanted, &self->mix[step].recipe, self->reach);
}

/**
 * ts_surface_result_get_error:
 * @self: a result
 * @step: which step, from 0
 *
 * Returns: 95 % radius of the mixed colour, CIEDE2000; 0 where there is no recipe yet
 */
double
ts_surface_result_get_error (const TsSurfaceResult *self, guint step)
{
  g_return_val_if_fail (step < TS_STAIR_MAX_STEPS, 0.0);

  return self->mix[step].known ? self->mix[step].recipe.error : 0.0;
}

/**
 * ts_surface_result_get_colour:
 * @self: a result
 * @step: which step, from 0
 *
 * Returns: the mixed colour, or the wanted one before the first search
 */
TsLab
ts_surface_result_get_colour (const TsSurfaceResult *self, guint step)
{
  g_return_val_if_fail (step < TS_STAIR_MAX_STEPS, ((TsLab){ 0.0, 0.0, 0.0 }));

  return mixed_colour (&self->mix[step]);
}

/**
 * ts_surface_result_get_contrast:
 * @self: a result
 * @step: the lit one of two neighbours
 *
 * Returns: the check between @step and the next
 */
TsContrast
ts_surface_result_get_contrast (const TsSurfaceResult *self, guint step)
{
  g_assert (step + 1 < ts_stair_get_n_steps (self->stair));

  return self->contrast[step];
}

/**
 * ts_surface_result_get_range:
 * @self: a result
 *
 * Returns: L* of the lightest step less that of the darkest, as mixed
 */
double
ts_surface_result_get_range (const TsSurfaceResult *self)
{
  double least = G_MAXDOUBLE, most = -G_MAXDOUBLE;

  for (guint i = 0; i < ts_stair_get_n_steps (self->stair); i++)
    {
      double L = mixed_colour (&self->mix[i]).L;

      least = fmin (least, L);
      most = fmax (most, L);
    }
  return most - least;
}

/**
 * ts_surface_result_get_range_error:
 * @self: a result
 *
 * Returns: the 95 % error of ts_surface_result_get_range(), L*: what the mixes of the lightest and
 * the darkest step get wrong apart from each other; 0 before both are known
 */
double
ts_surface_result_get_range_error (const TsSurfaceResult *self)
{
  guint lightest = 0, darkest = 0;

  for (guint i = 1; i < ts_stair_get_n_steps (self->stair); i++)
    {
      double L = mixed_colour (&self->mix[i]).L;

      if (L > mixed_colour (&self->mix[lightest]).L)
        lightest = i;
      if (L < mixed_colour (&self->mix[darkest]).L)
        darkest = i;
    }
  return step_error (&self->mix[lightest], &self->mix[darkest]);
}

/**
 * ts_surface_result_get_area:
 * @self: a result
 * @step: which step, from 0
 *
 * Returns: the share of the surface that the step covers, 0 to 1, or -1 where it has no outline
 */
double
ts_surface_result_get_area (const TsSurfaceResult *self, guint step)
{
  g_return_val_if_fail (step < TS_STAIR_MAX_STEPS, -1.0);

  return self->has_areas ? self->area[step] : -1.0;
}

/**
 * ts_surface_result_get_settings:
 * @self: a result
 *
 * Returns: how this surface is looked at
 */
TsContrastSettings
ts_surface_result_get_settings (const TsSurfaceResult *self)
{
  return self->settings;
}

/**
 * ts_surface_result_compare:
 * @lit: a result
 * @step: which of its steps, from 0
 * @shadow: another surface's result
 * @other: which of its steps
 *
 * Checks two tones that lie side by side on different surfaces: they need not blend, so none is too
 * wide. Their errors count as independent. It is looked at as @lit is.
 *
 * Returns: the differences and the verdict
 */
TsContrast
ts_surface_result_compare (const TsSurfaceResult *lit, guint step, const TsSurfaceResult *shadow,
                           guint other)
{
  TsContrastSettings settings = lit->settings;

  settings.most_step = WIDEST;
  return ts_contrast_check (ts_surface_result_get_colour (lit, step),
                            ts_surface_result_get_colour (shadow, other),
                            LIGHTNESS_SHARE * hypot (ts_surface_result_get_error (lit, step),
                                                     ts_surface_result_get_error (shadow, other)),
                            &settings);
}
