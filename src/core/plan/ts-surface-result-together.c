/* ts-surface-result-together.c: a stair's recipes as one: chosen together, mixed one from another
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-surface-result-private.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-difference.h"

static TsJointWeights
weights_of (const TsPlan *plan, const TsSurface *surface)
{
  TsJointWeights weights = ts_together_get_weights (MAX (surface->together, TS_TOGETHER_TRUEST));

  weights.most_paints = surface->most_paints > 0 ? surface->most_paints : plan->mix.most_paints;
  return weights;
}

/* What the steps have to choose from, the painter's own recipes as they are. */
static guint
list_steps (const TsSurfaceResult *self, TsLab *wanted, const TsRecipe **locked)
{
  guint n = ts_stair_get_n_steps (self->stair);

  for (guint i = 0; i < n; i++)
    {
      wanted[i] = self->mix[i].wanted;
      locked[i] = self->mix[i].locked ? &self->mix[i].recipe : NULL;
    }
  return n;
}

/* Chooses the recipes together where that is asked for. Too few paints are no failure: the steps
 * keep their own. */
gboolean
ts_surface_result_mix_together (TsSurfaceResult *self, const TsPlan *plan, const TsSurface *surface,
                                GCancellable *cancellable, GError **error)
{
  TsJointWeights weights = weights_of (plan, surface);
  TsLab wanted[TS_STAIR_MAX_STEPS];
  const TsRecipe *locked[TS_STAIR_MAX_STEPS];
  guint n = list_steps (self, wanted, locked);
  g_autoptr (GError) fault = NULL;

  if (surface->together == TS_TOGETHER_APART && weights.most_paints == 0)
    return TRUE;
  self->joint =
    ts_joint_choose_for (self->search, wanted, locked, n, &weights, cancellable, &fault);
  if (self->joint == NULL && g_error_matches (fault, TS_ERROR, TS_ERROR_TOO_FEW))
    {
      self->joint_problem = g_strdup (fault->message);
      return TRUE;
    }
  if (self->joint == NULL)
    {
      g_propagate_error (error, g_steal_pointer (&fault));
      return FALSE;
    }
  for (guint i = 0; i < n; i++)
    {
      self->mix[i].recipe = *ts_joint_plan_get_recipe (self->joint, i);
      self->mix[i].known = TRUE;
    }
  return TRUE;
}

static guint
find_base (const TsStair *stair)
{
  for (guint i = 0; i < ts_stair_get_n_steps (stair); i++)
    if (g_strcmp0 (ts_stair_get_role (stair, i), "base") == 0)
      return i;
  return 0;
}

/**
 * ts_surface_result_offer_paints:
 * @self: a result with recipes
 * @plan: the plan it was made from
 * @surface: index of the surface
 * @cancellable: (nullable): stops it
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsJointPlan): choices for all steps, each the
 *   truest with so few paints, most paints first; %NULL with a #TsError or G_IO_ERROR_CANCELLED
 */
GPtrArray *
ts_surface_result_offer_paints (const TsSurfaceResult *self, const TsPlan *plan, guint surface,
                                GCancellable *cancellable, GError **error)
{
  TsJointWeights weights = weights_of (plan, ts_plan_get_surface (plan, surface));
  TsLab wanted[TS_STAIR_MAX_STEPS];
  const TsRecipe *locked[TS_STAIR_MAX_STEPS];
  guint n = list_steps (self, wanted, locked);
  g_autoptr (GArray) steps = NULL;

  if (self->search == NULL)
    {
      g_set_error_literal (error, TS_ERROR, TS_ERROR_NOT_FOUND, _ ("There are no mixes yet"));
      return NULL;
    }
  steps = ts_joint_gather (self->search, wanted, locked, n, TS_JOINT_WITHIN, cancellable, error);
  return steps != NULL ? ts_joint_offer (steps, weights.change, cancellable, error) : NULL;
}

/**
 * ts_surface_result_wants_same:
 * @self: a result
 * @other: another
 *
 * Returns: whether what is offered for one serves the other
 */
gboolean
ts_surface_result_wants_same (const TsSurfaceResult *self, const TsSurfaceResult *other)
{
  guint n = ts_stair_get_n_steps (self->stair);

  if (self->search != other->search || n != ts_stair_get_n_steps (other->stair))
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      const TsStepMix *one = &self->mix[i], *two = &other->mix[i];

      if (ts_delta_e_76 (one->wanted, two->wanted) > 0.0 || one->locked != two->locked ||
          (one->locked && ts_delta_e_76 (one->recipe.lab, two->recipe.lab) > 0.0))
        return FALSE;
    }
  return TRUE;
}

/**
 * ts_surface_result_sequence:
 * @self: a result
 * @plan: the plan it was made from
 * @surface: index of the surface
 *
 * Returns: (transfer full) (nullable): the order of work for the recipes in use, or %NULL where a
 *   step has none
 */
TsMixingSequence *
ts_surface_result_sequence (const TsSurfaceResult *self, const TsPlan *plan, guint surface)
{
  const TsSurface *of = ts_plan_get_surface (plan, surface);
  guint n = ts_stair_get_n_steps (self->stair);
  TsRecipe recipes[TS_STAIR_MAX_STEPS];
  TsSequenceSettings settings;

  for (guint i = 0; i < n; i++)
    {
      if (!self->mix[i].known)
        return NULL;
      recipes[i] = self->mix[i].recipe;
    }
  ts_sequence_settings_init (&settings);
  settings.base = find_base (self->stair);
  settings.drop = plan->mix.drop;
  settings.shares = self->has_areas ? self->area : NULL;
  settings.thinning = plan->mix.thinning;
  if (of->area > 0.0)
    settings.area = of->area;
  if (of->coats > 0.0)
    settings.coats = of->coats;
  return ts_mixing_sequence_new (recipes, n, &settings);
}

/**
 * ts_surface_result_find_painted:
 * @self: a result
 * @plan: the plan it was made from
 * @surface: index of the surface
 * @painted: (out): for each step whether all that is to be painted of it is ticked off
 */
void
ts_surface_result_find_painted (const TsSurfaceResult *self, const TsPlan *plan, guint surface,
                                gboolean painted[TS_STAIR_MAX_STEPS])
{
  char **done = ts_plan_get_surface (plan, surface)->done;
  g_autoptr (TsMixingSequence) sequence =
    done != NULL ? ts_surface_result_sequence (self, plan, surface) : NULL;
  gboolean open[TS_STAIR_MAX_STEPS] = { FALSE };

  memset (painted, 0, sizeof *painted * TS_STAIR_MAX_STEPS);
  for (guint i = 0; sequence != NULL && i < ts_mixing_sequence_get_n (sequence); i++)
    {
      const TsWork *work = ts_mixing_sequence_get_work (sequence, i);
      g_autofree char *key = ts_work_to_key (work, self->paints);

      if (work->kind != TS_WORK_PAINT)
        continue;
      if (g_strv_contains ((const char *const *) done, key))
        painted[work->step] = TRUE;
      else
        open[work->step] = TRUE;
    }
  for (guint i = 0; i < TS_STAIR_MAX_STEPS; i++)
    painted[i] = painted[i] && !open[i];
}

/**
 * ts_surface_result_get_joint:
 * @self: a result
 *
 * Returns: (transfer none) (nullable): the choice for all steps together
 */
TsJointPlan *
ts_surface_result_get_joint (const TsSurfaceResult *self)
{
  return self->joint;
}

/**
 * ts_surface_result_get_joint_problem:
 * @self: a result
 *
 * Returns: (transfer none) (nullable): why no choice for all steps could be made
 */
const char *
ts_surface_result_get_joint_problem (const TsSurfaceResult *self)
{
  return self->joint_problem;
}
