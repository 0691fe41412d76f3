/* ts-pipeline.c: the stages in order, from a picture to a plan's results
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-pipeline.h"

#include <glib/gi18n.h>
#include <math.h>

#include "base/ts-error.h"

#define N_CHOICES 12

/**
 * ts_pipeline_lay_run:
 * @run: a run; its spots are laid anew
 * @image: the picture it lies on
 * @correction: of that picture
 * @error: return location for an error, or %NULL
 *
 * Places the spots evenly, as many as there are or as suit the length, and measures them.
 *
 * Returns: %FALSE with a #TsError, and the spots as they were
 */
gboolean
ts_pipeline_lay_run (TsRun *run, const TsImage *image, const TsCorrection *correction,
                     GError **error)
{
  const TsPoint *points = (const TsPoint *) run->points->data;
  double length = ts_run_get_length (points, run->points->len);
  guint n = run->spots->len >= 2 ? run->spots->len : ts_run_suggest_spots (length);
  GArray *spots;

  spots = ts_run_measure (image, correction, points, run->points->len, n, run->radius, error);
  if (spots == NULL)
    return FALSE;
  g_array_unref (run->spots);
  run->spots = spots;
  return TRUE;
}

/**
 * ts_pipeline_measure_run:
 * @run: a run with spots
 * @image: the picture it lies on
 * @correction: of that picture
 * @error: return location for an error, or %NULL
 *
 * Measures the spots again where they stand.
 *
 * Returns: %FALSE with a #TsError, and the spots as they were
 */
gboolean
ts_pipeline_measure_run (TsRun *run, const TsImage *image, const TsCorrection *correction,
                         GError **error)
{
  g_autoptr (GArray) spots = g_array_copy (run->spots);

  for (guint i = 0; i < spots->len; i++)
    {
      TsSpot *spot = &g_array_index (spots, TsSpot, i);
      double position = spot->position;

      if (!ts_spot_measure (image, correction, spot->x, spot->y, spot->radius, spot, error))
        return FALSE;
      spot->position = position;
    }
  g_array_unref (run->spots);
  run->spots = g_steal_pointer (&spots);
  return TRUE;
}

/**
 * ts_pipeline_measure_outline:
 * @outline: an outline; what was read within it is replaced
 * @image: the picture it lies on
 * @correction: of that picture
 * @cancellable: (nullable): stops it
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with a #TsError or G_IO_ERROR_CANCELLED, and the outline as it was
 */
gboolean
ts_pipeline_measure_outline (TsOutline *outline, const TsImage *image,
                             const TsCorrection *correction, GCancellable *cancellable,
                             GError **error)
{
  GArray *tones = ts_outline_measure (image, correction, (const TsPoint *) outline->points->data,
                                      outline->points->len, cancellable, &outline->pixels,
                                      &outline->left_out, error);

  if (tones == NULL)
    return FALSE;
  g_array_unref (outline->tones);
  outline->tones = tones;
  return TRUE;
}

/* Where it lies on @picture. */
static gboolean
measure_outline_on (TsOutline *outline, guint picture, const TsImage *image,
                    const TsCorrection *correction, GError **error)
{
  return outline == NULL || outline->picture != picture ||
         ts_pipeline_measure_outline (outline, image, correction, NULL, error);
}

static gboolean
measure_surface (TsSurface *surface, guint picture, const TsImage *image,
                 const TsCorrection *correction, GError **error)
{
  for (guint i = 0; i < surface->runs->len; i++)
    {
      TsRun *run = ts_surface_get_run (surface, i);

      if (run->picture == picture && !ts_pipeline_measure_run (run, image, correction, error))
        return FALSE;
    }
  return measure_outline_on (surface->outline, picture, image, correction, error) &&
         measure_outline_on (surface->finish_outline, picture, image, correction, error);
}

/**
 * ts_pipeline_measure_brief_line:
 * @line: a line with a spot on the picture
 * @image: its pixels
 * @correction: of that picture
 * @error: return location for an error, or %NULL
 *
 * Takes the colour that the spot has as the one asked for.
 *
 * Returns: %FALSE as ts_spot_measure()
 */
gboolean
ts_pipeline_measure_brief_line (TsBriefLine *line, const TsImage *image,
                                const TsCorrection *correction, GError **error)
{
  TsSpot spot;

  if (!ts_spot_measure (image, correction, line->x, line->y, line->radius, &spot, error))
    return FALSE;
  line->lab = spot.lab;
  return TRUE;
}

/**
 * ts_pipeline_measure_plan_with:
 * @plan: a plan that has not been given away; its spots on @picture are measured anew
 * @picture: index of the picture
 * @image: its pixels
 * @correction: of that picture
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with a #TsError; some spots may then be measured and others not
 */
gboolean
ts_pipeline_measure_plan_with (TsPlan *plan, guint picture, const TsImage *image,
                               const TsCorrection *correction, GError **error)
{
  for (guint i = 0; i < plan->surfaces->len; i++)
    if (!measure_surface (ts_plan_get_surface (plan, i), picture, image, correction, error))
      return FALSE;
  for (guint i = 0; i < plan->finish->len; i++)
    {
      TsFinishRun *finish = g_ptr_array_index (plan->finish, i);

      if (finish->run->picture == picture &&
          !ts_pipeline_measure_run (finish->run, image, correction, error))
        return FALSE;
    }
  for (guint i = 0; i < plan->brief->len; i++)
    {
      TsBriefLine *line = ts_plan_get_brief_line (plan, i);

      if (line->radius > 0.0 && line->picture == picture &&
          !ts_pipeline_measure_brief_line (line, image, correction, error))
        return FALSE;
    }
  return TRUE;
}

/**
 * ts_pipeline_measure_plan:
 * @plan: a plan that has not been given away; its spots on @picture are measured anew
 * @picture: index of the picture
 * @image: its pixels
 * @error: return location for an error, or %NULL
 *
 * Works out the picture's correction first.
 *
 * Returns: %FALSE with a #TsError; some spots may then be measured and others not
 */
gboolean
ts_pipeline_measure_plan (TsPlan *plan, guint picture, const TsImage *image, GError **error)
{
  g_autoptr (TsCorrection) correction =
    ts_pipeline_correct (&ts_plan_get_picture (plan, picture)->correction, image, NULL, error);

  return correction != NULL &&
         ts_pipeline_measure_plan_with (plan, picture, image, correction, error);
}

/**
 * ts_pipeline_limits:
 * @plan: a plan with paints
 * @limits: (out): what its mixes may be
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE as ts_ruled_limits_init()
 */
gboolean
ts_pipeline_limits (const TsPlan *plan, TsRuledLimits *limits, GError **error)
{
  TsSearchLimits plain;

  ts_search_limits_init (&plain);
  plain.max_paints = plan->mix.max_paints;
  plain.max_parts = plan->mix.max_parts;
  plain.reach = plan->mix.reach;
  plain.n_best = N_CHOICES;
  plain.opaque_only = plan->mix.opaque_only;
  return ts_ruled_limits_init (limits, &plain, plan->rules, plan->paints, error);
}

/**
 * ts_pipeline_search:
 * @plan: a plan with paints
 * @cancellable: (nullable): stops it
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): a search of the plan's paints within its limits, or %NULL
 *   with a #TsError or G_IO_ERROR_CANCELLED
 */
TsRecipeSearch *
ts_pipeline_search (const TsPlan *plan, GCancellable *cancellable, GError **error)
{
  g_auto (TsRuledLimits) ruled = { 0 };

  if (plan->paints == NULL)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND, _ ("No paints yet. Choose a paint set."));
      return NULL;
    }
  if (!ts_pipeline_limits (plan, &ruled, error))
    return NULL;
  return ts_recipe_search_new (plan->paints, &ruled.limits, cancellable, error);
}

/**
 * ts_pipeline_is_same_search:
 * @one: a plan
 * @other: another
 *
 * Returns: whether ts_pipeline_search() gives the same for both
 */
gboolean
ts_pipeline_is_same_search (const TsPlan *one, const TsPlan *other)
{
  const TsMixSettings *mine = &one->mix, *theirs = &other->mix;

  return one->paints == other->paints && mine->max_paints == theirs->max_paints &&
         mine->max_parts == theirs->max_parts && mine->opaque_only == theirs->opaque_only &&
         fabs (mine->reach - theirs->reach) <= 0.0 &&
         ts_paint_rules_is_equal (one->rules, other->rules);
}

/* Passes the progress of one surface on as a part of the whole. */
typedef struct
{
  TsProgressFunc progress;
  gpointer data;
  guint surface, n_surfaces;
} Part;

static void
on_part (double done, gpointer data)
{
  const Part *part = data;

  part->progress ((part->surface + done) / part->n_surfaces, part->data);
}

static TsSurfaceResult *
run_surface (const TsPlan *plan, guint surface, TsRecipeSearch *search, GCancellable *cancellable,
             Part *part, GError **error)
{
  g_autoptr (TsSurfaceResult) result = ts_surface_result_new (plan, surface, NULL, error);

  if (result == NULL || search == NULL)
    return g_steal_pointer (&result);
  return ts_surface_result_mix (result, plan, surface, search, cancellable,
                                part->progress != NULL ? on_part : NULL, part, error);
}

static void
free_result (gpointer result)
{
  if (result != NULL)
    ts_surface_result_unref (result);
}

/**
 * ts_pipeline_run:
 * @plan: a plan
 * @cancellable: (nullable): stops it
 * @progress: (nullable): told from time to time
 * @progress_data: for @progress
 * @error: return location for an error, or %NULL
 *
 * Works out everything from the measured spots on, from nothing. Without paints there are curves
 * and stairs and no recipes.
 *
 * Returns: (transfer full) (nullable) (element-type TsSurfaceResult): one result a surface, %NULL
 *   for a surface without spots; or %NULL with a #TsError or G_IO_ERROR_CANCELLED
 */
GPtrArray *
ts_pipeline_run (const TsPlan *plan, GCancellable *cancellable, TsProgressFunc progress,
                 gpointer progress_data, GError **error)
{
  g_autoptr (GPtrArray) results = g_ptr_array_new_with_free_func (free_result);
  g_autoptr (TsRecipeSearch) search = NULL;
  Part part = { progress, progress_data, 0, plan->surfaces->len };

  if (plan->paints != NULL)
    {
      search = ts_pipeline_search (plan, cancellable, error);
      if (search == NULL)
        return NULL;
    }
  for (part.surface = 0; part.surface < part.n_surfaces; part.surface++)
    {
      TsSurfaceResult *result = NULL;

      if (ts_surface_is_measured (ts_plan_get_stair_source (plan, part.surface)))
        {
          result = run_surface (plan, part.surface, search, cancellable, &part, error);
          if (result == NULL)
            return NULL;
        }
      g_ptr_array_add (results, result);
    }
  return g_steal_pointer (&results);
}
