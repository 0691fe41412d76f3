/* ts-document-steps.c: verbs that change a stair, its recipes, paints and limits
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-paints.h"
#include "document/ts-document-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "plan/ts-surface-curve.h"

#define N_HALVINGS 30

static TsStairSettings *
copied_stair (TsPlan *plan, guint surface)
{
  return &ts_plan_get_surface (plan, surface)->stair;
}

/* Fixes the steps where they stand now, so that single ones can be moved. FALSE without a stair. */
static gboolean
place_by_hand (TsDocument *self, guint surface, TsStairSettings *stair)
{
  TsSurfaceResult *result = ts_document_get_result (self, surface);

  if (result == NULL)
    return FALSE;
  if (stair->spacing != TS_SPACING_BY_HAND)
    {
      stair->spacing = TS_SPACING_BY_HAND;
      for (guint i = 0; i < stair->n_steps; i++)
        {
          stair->position[i] =
            ts_stair_get_step (ts_surface_result_get_stair (result), i)->position;
          stair->shift[i] = 0.0;
        }
    }
  return TRUE;
}

/* Spreads the places by hand over another number of steps. */
static void
resample_by_hand (TsStairSettings *stair, guint n_steps)
{
  TsStairSettings old = *stair;

  for (guint i = 0; i < n_steps; i++)
    {
      double place = i * (old.n_steps - 1.0) / (n_steps - 1.0);
      guint below = MIN ((guint) place, old.n_steps - 2);
      double share = place - below;

      stair->position[i] = (1.0 - share) * old.position[below] + share * old.position[below + 1];
      stair->shift[i] = (1.0 - share) * old.shift[below] + share * old.shift[below + 1];
    }
}

/* The step of @stair whose lightness is nearest. */
static guint
find_nearest (const TsStair *stair, double lightness)
{
  guint nearest = 0;

  for (guint i = 1; i < ts_stair_get_n_steps (stair); i++)
    if (fabs (ts_stair_get_step (stair, i)->wanted.L - lightness) <
        fabs (ts_stair_get_step (stair, nearest)->wanted.L - lightness))
      nearest = i;
  return nearest;
}

/* Kept mixes go with their tone to the step that is nearest now; of two that meet there, the nearer
 * stays. */
static void
carry_locks (TsSurface *of, const TsStair *before, const TsStair *after)
{
  char *old[TS_STAIR_MAX_STEPS];
  double far[TS_STAIR_MAX_STEPS];

  memcpy (old, of->locked, sizeof old);
  memset (of->locked, 0, sizeof of->locked);
  for (guint i = 0; i < ts_stair_get_n_steps (before); i++)
    {
      double lightness = ts_stair_get_step (before, i)->wanted.L;
      guint step = find_nearest (after, lightness);
      double here = fabs (ts_stair_get_step (after, step)->wanted.L - lightness);

      if (old[i] == NULL || (of->locked[step] != NULL && far[step] <= here))
        continue;
      g_free (of->locked[step]);
      of->locked[step] = g_steal_pointer (&old[i]);
      far[step] = here;
    }
  for (guint i = 0; i < TS_STAIR_MAX_STEPS; i++)
    g_free (old[i]);
}

static void
unlock_all (TsSurface *surface)
{
  for (guint i = 0; i < TS_STAIR_MAX_STEPS; i++)
    g_clear_pointer (&surface->locked[i], g_free);
}

static void
carry_accents (TsPlan *plan, guint surface, const TsStair *before, const TsStair *after)
{
  guint moved[TS_STAIR_MAX_STEPS], n = ts_stair_get_n_steps (before);

  for (guint i = 0; i < n; i++)
    moved[i] = find_nearest (after, ts_stair_get_step (before, i)->wanted.L);
  ts_document_move_accents (plan, surface, moved, n);
}

/* What belongs to steps that are others now. */
static void
settle_steps (TsDocument *self, TsPlan *plan, guint surface)
{
  TsSurface *of = ts_plan_get_surface (plan, surface);
  TsSurfaceResult *result = ts_document_get_result (self, surface);
  g_autoptr (TsStair) after =
    result != NULL ? ts_surface_cut_stair (of, ts_surface_result_get_curve (result), NULL) : NULL;

  if (after != NULL)
    carry_locks (of, ts_surface_result_get_stair (result), after);
  else
    unlock_all (of);
  if (after != NULL)
    carry_accents (plan, surface, ts_surface_result_get_stair (result), after);
}

/**
 * ts_document_set_n_steps:
 * @self: a document
 * @surface: index of a surface
 * @n_steps: 2 to TS_STAIR_MAX_STEPS
 *
 * Kept mixes and accents go with their tones to the nearest of the new steps.
 */
void
ts_document_set_n_steps (TsDocument *self, guint surface, guint n_steps)
{
  TsPlan *plan;
  TsStairSettings *stair;

  surface = ts_plan_get_stair_index (self->plan, surface);
  n_steps = CLAMP (n_steps, 2, TS_STAIR_MAX_STEPS);
  if (ts_plan_get_surface (self->plan, surface)->stair.n_steps == n_steps)
    return;
  plan = ts_plan_copy (self->plan);
  stair = copied_stair (plan, surface);
  if (stair->spacing == TS_SPACING_BY_HAND)
    resample_by_hand (stair, n_steps);
  stair->n_steps = n_steps;
  if (stair->base > n_steps)
    stair->base = 0;
  settle_steps (self, plan, surface);
  ts_document_change (self, plan, _ ("Number of steps"), (int) surface);
}

/**
 * ts_document_set_spacing:
 * @self: a document
 * @surface: index of a surface
 * @spacing: how the steps are spaced; by hand leaves them where they are
 */
void
ts_document_set_spacing (TsDocument *self, guint surface, TsSpacing spacing)
{
  TsPlan *plan;

  surface = ts_plan_get_stair_index (self->plan, surface);
  if (ts_plan_get_surface (self->plan, surface)->stair.spacing == spacing)
    return;
  plan = ts_plan_copy (self->plan);
  if (spacing == TS_SPACING_BY_HAND)
    place_by_hand (self, surface, copied_stair (plan, surface));
  else
    {
      copied_stair (plan, surface)->spacing = spacing;
      memset (copied_stair (plan, surface)->shift, 0, sizeof copied_stair (plan, surface)->shift);
    }
  ts_document_change (self, plan, _ ("Spacing"), (int) surface);
}

/**
 * ts_document_place_step:
 * @self: a document
 * @surface: index of a surface
 * @step: index of a step
 * @position: its place on the run, 0 to 1; held between its neighbours'
 * @lightness: its wanted L*
 */
void
ts_document_place_step (TsDocument *self, guint surface, guint step, double position,
                        double lightness)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  TsStairSettings *stair;
  const TsStair *now;

  surface = ts_plan_get_stair_index (self->plan, surface);
  stair = copied_stair (plan, surface);
  if (step >= stair->n_steps || !place_by_hand (self, surface, stair))
    {
      ts_plan_unref (plan);
      return;
    }
  now = ts_surface_result_get_stair (ts_document_get_result (self, surface));
  stair->position[step] = CLAMP (position, step > 0 ? stair->position[step - 1] : 0.0,
                                 step + 1 < stair->n_steps ? stair->position[step + 1] : 1.0);
  stair->shift[step] =
    CLAMP (lightness, 0.0, 100.0) - ts_stair_get_wanted (now, stair->position[step]).L;
  ts_document_change (self, plan, _ ("Move step"), (int) surface);
}

/* Where between two places of a run the wanted lightness is @lightness: it falls from one to the
 * other, but for steps that the painter moved. */
static double
find_between (const TsStair *stair, double from, double to, double lightness)
{
  for (guint i = 0; i < N_HALVINGS; i++)
    {
      double middle = 0.5 * (from + to);

      if (ts_stair_get_wanted (stair, middle).L > lightness)
        from = middle;
      else
        to = middle;
    }
  return 0.5 * (from + to);
}

/* Makes room after @step, and fills it with the tone halfway to the next. */
static void
insert_step (TsSurface *of, const TsStair *now, guint step)
{
  TsStairSettings *stair = &of->stair;
  double lightness =
    0.5 * (ts_stair_get_step (now, step)->wanted.L + ts_stair_get_step (now, step + 1)->wanted.L);
  double position = find_between (now, stair->position[step], stair->position[step + 1], lightness);

  for (guint i = stair->n_steps; i > step + 1; i--)
    {
      stair->position[i] = stair->position[i - 1];
      stair->shift[i] = stair->shift[i - 1];
      of->locked[i] = of->locked[i - 1];
    }
  of->locked[step + 1] = NULL;
  stair->position[step + 1] = position;
  stair->shift[step + 1] = lightness - ts_stair_get_wanted (now, position).L;
  stair->n_steps++;
  if (stair->base > step + 1)
    stair->base++;
}

/* Accents of the steps from @first on go @by one. */
static void
shift_accents (TsPlan *plan, guint surface, guint first, int by)
{
  guint moved[TS_STAIR_MAX_STEPS];

  for (guint i = 0; i < TS_STAIR_MAX_STEPS; i++)
    moved[i] = i < first ? i : (guint) CLAMP ((int) i + by, 0, TS_STAIR_MAX_STEPS - 1);
  ts_document_move_accents (plan, surface, moved, TS_STAIR_MAX_STEPS);
}

/**
 * ts_document_add_step:
 * @self: a document
 * @surface: index of a surface
 * @step: the new step comes between this and the next, halfway in lightness
 */
void
ts_document_add_step (TsDocument *self, guint surface, guint step)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  TsSurface *of;

  surface = ts_plan_get_stair_index (self->plan, surface);
  of = ts_plan_get_surface (plan, surface);
  if (step + 1 >= of->stair.n_steps || of->stair.n_steps >= TS_STAIR_MAX_STEPS ||
      !place_by_hand (self, surface, &of->stair))
    {
      ts_plan_unref (plan);
      return;
    }
  insert_step (of, ts_surface_result_get_stair (ts_document_get_result (self, surface)), step);
  shift_accents (plan, surface, step + 1, 1);
  ts_document_change (self, plan, _ ("Add step"), (int) surface);
  ts_document_select_step (self, (int) step + 1);
}

/**
 * ts_document_merge_step:
 * @self: a document
 * @surface: index of a surface
 * @step: merged with the next; the stair keeps two steps at least
 */
void
ts_document_merge_step (TsDocument *self, guint surface, guint step)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  TsSurface *of;
  TsStairSettings *stair;
  g_autofree char *text = NULL;

  surface = ts_plan_get_stair_index (self->plan, surface);
  of = ts_plan_get_surface (plan, surface);
  stair = &of->stair;
  if (step + 1 >= stair->n_steps || stair->n_steps <= 2 || !place_by_hand (self, surface, stair))
    {
      ts_plan_unref (plan);
      return;
    }
  /* The ends of the stair stay where they are. */
  if (step + 2 == stair->n_steps)
    stair->position[step] = stair->position[step + 1];
  else if (step > 0)
    stair->position[step] = 0.5 * (stair->position[step] + stair->position[step + 1]);
  stair->shift[step] = 0.5 * (stair->shift[step] + stair->shift[step + 1]);
  g_free (of->locked[step + 1]);
  for (guint i = step + 1; i + 1 < stair->n_steps; i++)
    {
      stair->position[i] = stair->position[i + 1];
      stair->shift[i] = stair->shift[i + 1];
      of->locked[i] = of->locked[i + 1];
    }
  stair->n_steps--;
  if (stair->base > step + 1)
    stair->base--;
  of->locked[stair->n_steps] = NULL;
  shift_accents (plan, surface, step + 1, -1);
  ts_document_change (self, plan, _ ("Merge steps"), (int) surface);
  ts_document_select_step (self, (int) step);
  text = g_strdup_printf (_ ("Step %u merged into %u."), step + 2, step + 1);
  ts_document_tell (self, text, "win.undo", _ ("Undo"));
}

/**
 * ts_document_set_stair:
 * @self: a document
 * @surface: index of a surface
 * @settings: the whole of the stair's settings
 * @name: what the step back is called
 */
void
ts_document_set_stair (TsDocument *self, guint surface, const TsStairSettings *settings,
                       const char *name)
{
  TsPlan *plan = ts_plan_copy (self->plan);

  surface = ts_plan_get_stair_index (self->plan, surface);
  *copied_stair (plan, surface) = *settings;
  ts_document_change (self, plan, name, (int) surface);
}

/* Sets or clears a lock, where that changes something. */
static void
set_lock (TsDocument *self, guint surface, guint step, char *recipe, const char *name)
{
  TsPlan *plan;
  TsSurface *of;

  g_return_if_fail (step < TS_STAIR_MAX_STEPS);

  surface = ts_plan_get_stair_index (self->plan, surface);
  if (g_strcmp0 (ts_plan_get_surface (self->plan, surface)->locked[step], recipe) == 0)
    {
      g_free (recipe);
      return;
    }
  plan = ts_plan_copy (self->plan);
  of = ts_plan_get_surface (plan, surface);
  g_free (of->locked[step]);
  of->locked[step] = recipe;
  ts_document_change (self, plan, name, (int) surface);
}

/**
 * ts_document_lock_recipe:
 * @self: a document with paints
 * @surface: index of a surface
 * @step: index of a step
 * @recipe: the recipe that is kept for it
 */
void
ts_document_lock_recipe (TsDocument *self, guint surface, guint step, const TsRecipe *recipe)
{
  set_lock (self, surface, step, ts_recipe_to_text (self->plan->paints, recipe), _ ("Keep mix"));
}

/**
 * ts_document_unlock_recipe:
 * @self: a document
 * @surface: index of a surface
 * @step: index of a step
 */
void
ts_document_unlock_recipe (TsDocument *self, guint surface, guint step)
{
  set_lock (self, surface, step, NULL, _ ("Let mix go"));
}

/**
 * ts_document_set_paints:
 * @self: a document
 * @paints: a set
 * @name: what it is called
 *
 * Mixes from these paints from now on. Locked recipes stay where their paints are in the set.
 */
void
ts_document_set_paints (TsDocument *self, TsPaintSet *paints, const char *name)
{
  ts_document_take_paints (self, paints, name, _ ("Choose paints"));
}

/**
 * ts_document_set_mix:
 * @self: a document
 * @settings: limits of the search for mixes
 */
void
ts_document_set_mix (TsDocument *self, const TsMixSettings *settings)
{
  TsPlan *plan = ts_plan_copy (self->plan);

  plan->mix = *settings;
  ts_document_change (self, plan, _ ("Limits of mixes"), TS_SURFACE_ALL);
}

/**
 * ts_document_set_contrast:
 * @self: a document
 * @settings: what the stair check goes by
 */
void
ts_document_set_contrast (TsDocument *self, const TsContrastSettings *settings)
{
  TsPlan *plan = ts_plan_copy (self->plan);

  plan->contrast = *settings;
  ts_document_change (self, plan, _ ("Stair check"), TS_SURFACE_ALL);
}

/**
 * ts_document_set_title:
 * @self: a document
 * @title: what the plan is called
 */
void
ts_document_set_title (TsDocument *self, const char *title)
{
  TsPlan *plan;

  if (g_strcmp0 (self->plan->title, title) == 0)
    return;
  plan = ts_plan_copy (self->plan);
  g_free (plan->title);
  plan->title = g_strdup (title);
  ts_document_change (self, plan, _ ("Rename plan"), TS_SURFACE_NONE);
}
