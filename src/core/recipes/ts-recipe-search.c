/* ts-recipe-search.c: the nearest mixes of a set to a colour, exactly
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-recipe-search.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "colour/ts-difference.h"
#include "recipes/ts-recipe-best.h"
#include "recipes/ts-recipe-index.h"

#include <math.h>

#define MOST_BEST 64
#define MOST_SETS 20000 /* of paints, when all near ones are asked for */

/* The kernel's colours and the predicted ones differ by less than this, in CIEDE2000. */
#define SLACK 1e-6

struct _TsRecipeSearch
{
  /* Owned */
  TsPaintSet *set;
  TsMixRows *mix_rows;
  TsRecipeIndex *index;
  GArray *parts[TS_SEARCH_MAX_PAINTS]; /* TsParts, for 1, 2 ... paints */
  gboolean *needed;                    /* by row of mix_rows */

  guint max_paints, n_best, n_needed;
  gboolean opaque_only;
};

/* One run: what the walk over the choices of paints carries along. */
typedef struct
{
  const TsRecipeSearch *search;
  TsRecipeBest *best;
  TsLab target;
  GCancellable *cancellable;
  TsProgressFunc progress;
  gpointer progress_data;
  TsLab *lab; /* room for the mixes of one choice */
} Walk;

/**
 * ts_search_limits_init:
 * @limits: (out): becomes 3 paints a mix, 8 parts, 6 recipes, within reach at CIEDE2000 2
 */
void
ts_search_limits_init (TsSearchLimits *limits)
{
  *limits = (TsSearchLimits){ .max_paints = 3, .max_parts = 8, .n_best = 6, .reach = 2.0 };
}

static gboolean
check_limits (const TsPaintSet *set, const TsSearchLimits *limits, GError **error)
{
  const char *what = NULL;
  guint n = ts_paint_set_get_n_paints (set);

  if (!(limits->max_paints >= 1 && limits->max_paints <= TS_SEARCH_MAX_PAINTS))
    what = _ ("Paints in one mix must be 1 to 4");
  else if (!(limits->max_parts >= 1 && limits->max_parts <= TS_SEARCH_MAX_PARTS))
    what = _ ("Parts in one mix must be 1 to 16");
  else if (!(limits->n_best >= 1 && limits->n_best <= MOST_BEST))
    what = _ ("Recipes wanted must be 1 to 64");
  else if (!(limits->reach >= 0.0 && limits->reach <= 100.0))
    what = _ ("The difference within reach must be 0 to 100");
  else if (limits->n_needed > limits->max_paints)
    what =
      _ ("More paints must be in the mix than it may have; allow more paints or ask for fewer");
  for (guint i = 0; limits->allowed != NULL && i < limits->n_allowed; i++)
    if (limits->allowed[i] >= n)
      what = _ ("A paint allowed is not in the set");
  for (guint i = 0; i < limits->n_needed; i++)
    if (limits->needed[i] >= n)
      what = _ ("A paint that must be in the mix is not in the set");
  if (what != NULL)
    g_set_error_literal (error, TS_ERROR, TS_ERROR_BAD_VALUE, what);
  return what == NULL;
}

static gboolean
holds (const guint *paints, guint n, guint paint)
{
  for (guint i = 0; i < n; i++)
    if (paints[i] == paint)
      return TRUE;
  return FALSE;
}

/* In the order of the set, whatever the order in the limits; those needed come first, so that the
 * choices that hold them all stand together. */
static GArray *
choose_paints (const TsPaintSet *set, const TsSearchLimits *limits)
{
  GArray *paints = g_array_new (FALSE, FALSE, sizeof (guint));
  guint n = ts_paint_set_get_n_paints (set);

  for (guint i = 0; i < n; i++)
    if (holds (limits->needed, limits->n_needed, i))
      g_array_append_val (paints, i);
  for (guint i = 0; i < n; i++)
    if (!holds (limits->needed, limits->n_needed, i) &&
        (limits->allowed != NULL ? holds (limits->allowed, limits->n_allowed, i)
                                 : ts_paint_is_for_mixing (ts_paint_set_get_paint (set, i))))
      g_array_append_val (paints, i);
  return paints;
}

/**
 * ts_recipe_search_new:
 * @set: the paints
 * @limits: what a mix may be
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the search, or %NULL with %TS_ERROR_BAD_VALUE for limits out
 *   of range, %TS_ERROR_TOO_FEW where no paint is left, %G_IO_ERROR_CANCELLED
 */
TsRecipeSearch *
ts_recipe_search_new (TsPaintSet *set, const TsSearchLimits *limits, GCancellable *cancellable,
                      GError **error)
{
  g_autoptr (TsRecipeSearch) self = NULL;
  g_autoptr (GArray) paints = NULL;

  g_return_val_if_fail (set != NULL && limits != NULL, NULL);

  if (!check_limits (set, limits, error) ||
      g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  paints = choose_paints (set, limits);
  if (paints->len == 0)
    {
      g_set_error_literal (error, TS_ERROR, TS_ERROR_TOO_FEW,
                           _ ("There is no paint to mix with: all are out of stock, left out, or "
                              "primers, varnishes and mediums"));
      return NULL;
    }

  self = g_atomic_rc_box_new0 (TsRecipeSearch);
  self->set = ts_paint_set_ref (set);
  self->mix_rows = ts_mix_rows_new (set, (const guint *) paints->data, paints->len);
  self->max_paints = MIN (limits->max_paints, paints->len);
  self->n_best = limits->n_best;
  self->opaque_only = limits->opaque_only;
  self->needed = g_new0 (gboolean, paints->len);
  for (guint i = 0; i < paints->len; i++)
    {
      self->needed[i] = holds (limits->needed, limits->n_needed, g_array_index (paints, guint, i));
      self->n_needed += self->needed[i] ? 1 : 0;
    }
  for (guint n = 1; n <= self->max_paints; n++)
    self->parts[n - 1] = ts_parts_table_new (n, limits->max_parts);
  self->index = ts_recipe_index_new (self->mix_rows, self->needed, self->max_paints,
                                     limits->max_parts, cancellable, error);
  if (self->index == NULL)
    return NULL;
  return g_steal_pointer (&self);
}

TsRecipeSearch *
ts_recipe_search_ref (TsRecipeSearch *self)
{
  return g_atomic_rc_box_acquire (self);
}

static void
clear (gpointer data)
{
  TsRecipeSearch *self = data;

  ts_paint_set_unref (self->set);
  ts_recipe_index_free (self->index);
  ts_mix_rows_free (self->mix_rows);
  g_free (self->needed);
  for (guint i = 0; i < TS_SEARCH_MAX_PAINTS; i++)
    g_clear_pointer (&self->parts[i], g_array_unref);
}

void
ts_recipe_search_unref (TsRecipeSearch *self)
{
  if (self != NULL)
    g_atomic_rc_box_release_full (self, clear);
}

/**
 * ts_recipe_search_get_set:
 * @self: a search
 *
 * Returns: (transfer none): the set it searches
 */
TsPaintSet *
ts_recipe_search_get_set (const TsRecipeSearch *self)
{
  return self->set;
}

/**
 * ts_recipe_search_get_size:
 * @self: a search
 *
 * Returns: bytes that its index holds, at most 400 million
 */
gsize
ts_recipe_search_get_size (const TsRecipeSearch *self)
{
  return ts_recipe_index_get_size (self->index);
}

static void
try_choice (Walk *walk, const guint *rows, guint n)
{
  const TsRecipeSearch *search = walk->search;
  const GArray *parts = search->parts[n - 1];
  const TsParts *shares = (const TsParts *) parts->data;

  ts_recipe_kernel (search->mix_rows, rows, n, shares, parts->len, walk->lab);
  for (guint m = 0; m < parts->len; m++)
    {
      double worst = ts_recipe_best_get_worst (walk->best) + SLACK;
      guint paints[TS_SEARCH_MAX_PAINTS];

      /* No weight of lightness in CIEDE2000 exceeds 1.76 for L* within 0 to 100. */
      if (fabs (walk->lab[m].L - walk->target.L) > 2.0 * worst ||
          !(ts_delta_e_2000 (walk->lab[m], walk->target) <= worst))
        continue;
      for (guint i = 0; i < n; i++)
        paints[i] = search->mix_rows->paint[rows[i]];
      ts_recipe_best_offer (walk->best, paints, shares[m].parts, n);
    }
}

/* Chooses the paints from @place on in rising order, first all choices of fewer paints; those that
 * cannot come to hold every paint needed are passed over. */
static gboolean
walk_choices (Walk *walk, guint *rows, guint place, guint n, guint n_needed, GError **error)
{
  const TsRecipeSearch *search = walk->search;
  guint first = place == 0 ? 0 : rows[place - 1] + 1;

  if (place == n)
    {
      if (n_needed == search->n_needed)
        try_choice (walk, rows, n);
      return TRUE;
    }
  if (search->n_needed - n_needed > n - place)
    return TRUE;
  for (guint row = first; row + (n - place) <= search->mix_rows->n_paints; row++)
    {
      if (place <= 1 && g_cancellable_set_error_if_cancelled (walk->cancellable, error))
        return FALSE;
      if (place == 0 && n > 1 && n == search->max_paints && walk->progress != NULL)
        walk->progress ((double) row / search->mix_rows->n_paints, walk->progress_data);
      rows[place] = row;
      if (!walk_choices (walk, rows, place + 1, n, n_needed + (search->needed[row] ? 1 : 0), error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
check_target (TsLab target, GError **error)
{
  if (target.L >= 0.0 && target.L <= 100.0 && fabs (target.a) <= 200.0 && fabs (target.b) <= 200.0)
    return TRUE;
  g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
               _ ("The wanted colour %g, %g, %g is no CIELAB colour: L is 0 to 100, a and b are "
                  "-200 to 200"),
               target.L, target.a, target.b);
  return FALSE;
}

/* Fills @best, first with few paints, then with more. */
static gboolean
run (const TsRecipeSearch *self, TsLab target, TsRecipeBest *best, GCancellable *cancellable,
     TsProgressFunc progress, gpointer progress_data, GError **error)
{
  g_autofree TsLab *lab = g_new (TsLab, self->parts[self->max_paints - 1]->len + 128);
  guint rows[TS_SEARCH_MAX_PAINTS];
  Walk walk = { self, best, target, cancellable, progress, progress_data, lab };

  ts_recipe_best_set_opaque_only (best, self->opaque_only);
  if (!walk_choices (&walk, rows, 0, 1, 0, error) ||
      !ts_recipe_index_search (self->index, target, best, cancellable, progress, progress_data,
                               error))
    return FALSE;
  for (guint n = ts_recipe_index_get_most_paints (self->index) + 1; n <= self->max_paints; n++)
    if (!walk_choices (&walk, rows, 0, n, 0, error))
      return FALSE;
  if (progress != NULL)
    progress (1.0, progress_data);
  return TRUE;
}

/**
 * ts_recipe_search_run:
 * @self: a search
 * @target: the wanted colour, D50
 * @cancellable: (nullable): to stop it
 * @progress: (nullable) (scope call): told how far it is
 * @progress_data: for @progress
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsRecipe): the nearest mixes, with unlike sets
 *   of paints, nearest first; %NULL with %TS_ERROR_BAD_VALUE for a target that is no colour or
 *   %G_IO_ERROR_CANCELLED
 */
GArray *
ts_recipe_search_run (const TsRecipeSearch *self, TsLab target, GCancellable *cancellable,
                      TsProgressFunc progress, gpointer progress_data, GError **error)
{
  g_autoptr (TsRecipeBest) best = NULL;

  g_return_val_if_fail (self != NULL, NULL);

  if (!check_target (target, error))
    return NULL;
  best = ts_recipe_best_new (self->set, target, self->n_best);
  if (!run (self, target, best, cancellable, progress, progress_data, error))
    return NULL;
  return ts_recipe_best_to_array (best, cancellable);
}

/**
 * ts_recipe_search_within:
 * @self: a search
 * @target: the wanted colour, D50
 * @within: CIEDE2000 more than the nearest mix that still counts, above 0
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Every set of paints that can come so near gives one mix: of its three nearest the one with the
 * least expected difference when drops vary. Beyond 20000 sets the farther ones are left out.
 *
 * Returns: (transfer full) (nullable) (element-type TsRecipe): the mixes, nearest first, without
 *   the difference under illuminant A; %NULL as ts_recipe_search_run()
 */
GArray *
ts_recipe_search_within (const TsRecipeSearch *self, TsLab target, double within,
                         GCancellable *cancellable, GError **error)
{
  g_autoptr (TsRecipeBest) best = NULL;
  g_autoptr (GArray) recipes = NULL;

  g_return_val_if_fail (self != NULL && within > 0.0, NULL);

  if (!check_target (target, error))
    return NULL;
  best = ts_recipe_best_new_within (self->set, target, within, MOST_SETS);
  if (!run (self, target, best, cancellable, NULL, NULL, error))
    return NULL;
  recipes = ts_recipe_best_to_array (best, cancellable);
  return g_cancellable_set_error_if_cancelled (cancellable, error) ? NULL
                                                                   : g_steal_pointer (&recipes);
}
