/* ts-finish.c: a plan's surfaces on the photograph of the finished figure
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-finish.h"

#include <math.h>

/* Of an outline on the finished figure, and no more: each can be moved. */
#define MOST_CORNERS 12

/**
 * ts_finish_find_run:
 * @plan: a plan
 * @surface: index of a surface
 * @run: which of its runs on the finished figure
 *
 * Returns: (transfer none) (nullable): the run, or %NULL past the last
 */
TsFinishRun *
ts_finish_find_run (const TsPlan *plan, guint surface, guint run)
{
  for (guint i = 0; i < plan->finish->len; i++)
    {
      TsFinishRun *finish = g_ptr_array_index (plan->finish, i);

      if (finish->surface == surface && run-- == 0)
        return finish;
    }
  return NULL;
}

/**
 * ts_finish_find_picture:
 * @plan: a plan
 * @surface: index of a surface
 *
 * Returns: index of the photograph that its runs or its outline on the finished figure lie on, or
 *   -1 where there are none
 */
int
ts_finish_find_picture (const TsPlan *plan, guint surface)
{
  const TsFinishRun *finish = ts_finish_find_run (plan, surface, 0);
  const TsOutline *outline = ts_plan_get_surface (plan, surface)->finish_outline;

  if (finish != NULL)
    return (int) finish->run->picture;
  return outline != NULL ? (int) outline->picture : -1;
}

/**
 * ts_finish_get_surface:
 * @plan: a plan
 * @surface: index of a surface
 *
 * Returns: (transfer full) (nullable): a surface with copies of its runs on the finished figure, or
 *   else of its outline there; %NULL where there are none
 */
TsSurface *
ts_finish_get_surface (const TsPlan *plan, guint surface)
{
  const TsSurface *of = ts_plan_get_surface (plan, surface);
  const TsFinishRun *finish;
  TsSurface *achieved;

  if (ts_finish_find_picture (plan, surface) < 0)
    return NULL;
  achieved = ts_surface_new (of->name);
  for (guint i = 0; (finish = ts_finish_find_run (plan, surface, i)) != NULL; i++)
    g_ptr_array_add (achieved->runs, ts_run_copy (finish->run));
  if (achieved->runs->len == 0)
    achieved->outline = ts_outline_copy (of->finish_outline);
  return achieved;
}

/* From the reference to the finished figure's picture, each side by itself. */
static TsPoint
get_scale (const TsImage *reference, const TsImage *finished)
{
  const TsImage *from = reference != NULL ? reference : finished;

  return (TsPoint){ (double) ts_image_get_width (finished) / ts_image_get_width (from),
                    (double) ts_image_get_height (finished) / ts_image_get_height (from) };
}

static void
scale_points (GArray *points, TsPoint scale)
{
  for (guint i = 0; i < points->len; i++)
    {
      TsPoint *point = &g_array_index (points, TsPoint, i);

      *point = (TsPoint){ point->x * scale.x, point->y * scale.y };
    }
}

/**
 * ts_finish_lay_run:
 * @run: a run on the reference
 * @picture: index of the finished figure's picture
 * @reference: (nullable): the picture that @run lies on; %NULL takes it to be as large as @finished
 * @finished: the finished figure's picture
 * @correction: of @finished
 * @error: return location for an error, or %NULL
 *
 * Lays the run at the same place of the finished figure's picture, each side scaled as the pictures
 * are, and measures it there. The figure may stand elsewhere in it; the painter moves the ends.
 *
 * Returns: (transfer full) (nullable): the run, or %NULL with a #TsError
 */
TsRun *
ts_finish_lay_run (const TsRun *run, guint picture, const TsImage *reference,
                   const TsImage *finished, const TsCorrection *correction, GError **error)
{
  g_autoptr (TsRun) laid = ts_run_copy (run);
  TsPoint scale = get_scale (reference, finished);

  laid->picture = picture;
  laid->radius *= sqrt (scale.x * scale.y);
  scale_points (laid->points, scale);
  if (!ts_pipeline_lay_run (laid, finished, correction, error))
    return NULL;
  return g_steal_pointer (&laid);
}

/**
 * ts_finish_place_outline:
 * @outline: an outline on the reference
 * @picture: index of the finished figure's picture
 * @reference: (nullable): the picture that @outline lies on; %NULL takes it to be as large as
 *   @finished
 * @finished: the finished figure's picture
 *
 * Places the outline as ts_finish_lay_run() does a run. One that was drawn by a free hand keeps as
 * many of its corners as can be moved one by one.
 *
 * Returns: (transfer full): the outline, to be read by ts_pipeline_measure_outline()
 */
TsOutline *
ts_finish_place_outline (const TsOutline *outline, guint picture, const TsImage *reference,
                         const TsImage *finished)
{
  TsOutline *placed = ts_outline_copy (outline);

  placed->picture = picture;
  g_array_set_size (placed->tones, 0);
  scale_points (placed->points, get_scale (reference, finished));
  ts_outline_simplify (placed->points, MOST_CORNERS);
  return placed;
}

/**
 * ts_finish_lay_surface:
 * @surface: a surface of the reference with runs, or with an outline
 * @reference: (nullable): the picture that they lie on; %NULL takes it to be as large as @finished
 * @finished: the finished figure's picture
 * @correction: of @finished
 * @error: return location for an error, or %NULL
 *
 * All of the runs are laid as ts_finish_lay_run() does, so that what they say is pooled as it was
 * for the plan.
 *
 * Returns: (transfer full) (nullable): the surface as the finished figure has it, or %NULL with a
 *   #TsError
 */
TsSurface *
ts_finish_lay_surface (const TsSurface *surface, const TsImage *reference, const TsImage *finished,
                       const TsCorrection *correction, GError **error)
{
  g_autoptr (TsSurface) laid = ts_surface_new (surface->name);

  for (guint i = 0; i < surface->runs->len; i++)
    {
      TsRun *run = ts_finish_lay_run (ts_surface_get_run (surface, i), 0, reference, finished,
                                      correction, error);

      if (run == NULL)
        return NULL;
      g_ptr_array_add (laid->runs, run);
    }
  if (laid->runs->len > 0 || surface->outline == NULL)
    return g_steal_pointer (&laid);
  laid->outline = ts_finish_place_outline (surface->outline, 0, reference, finished);
  if (!ts_pipeline_measure_outline (laid->outline, finished, correction, NULL, error))
    return NULL;
  return g_steal_pointer (&laid);
}

static double
squared_error (const TsCorrection *correction, TsLab lab)
{
  double error = ts_correction_get_lightness_error (correction, lab);

  return error * error;
}

/* What the correction leaves of the lightness of these colours, root mean square; the spots' own
 * error is that of the curve. */
static double
usual_error (const TsSurface *achieved, const TsCorrection *correction)
{
  double squares = 0.0;
  guint n = 0;

  for (guint i = 0; i < achieved->runs->len; i++)
    {
      const GArray *spots = ts_surface_get_run (achieved, i)->spots;

      for (guint j = 0; j < spots->len; j++, n++)
        squares += squared_error (correction, g_array_index (spots, TsSpot, j).lab);
    }
  for (guint i = 0; n == 0 && i < achieved->outline->tones->len; i++)
    squares += squared_error (correction, g_array_index (achieved->outline->tones, TsTone, i).lab) /
               achieved->outline->tones->len;
  return sqrt (squares / MAX (n, 1u));
}

/**
 * ts_finish_check_surface:
 * @plan: a plan
 * @surface: index of a surface
 * @planned: what follows from the surface
 * @achieved: the same surface on the finished figure, measured
 * @correction: (nullable): of the finished figure's picture; %NULL: none
 * @result: (out caller-allocates): to be filled
 * @error: return location for an error, or %NULL
 *
 * Fits a curve to what was measured, and holds the stair to it.
 *
 * Returns: %FALSE with a #TsError where that is too little
 */
gboolean
ts_finish_check_surface (const TsPlan *plan, guint surface, const TsSurfaceResult *planned,
                         const TsSurface *achieved, const TsCorrection *correction,
                         TsFinished *result, GError **error)
{
  g_autoptr (TsSurface) as_planned = ts_surface_copy (achieved);
  g_autoptr (TsCorrection) none = ts_correction_new_none ();
  g_autoptr (TsCurve) curve = NULL;

  as_planned->polished = ts_plan_get_surface (plan, surface)->polished;
  curve = ts_surface_result_fit_curve (as_planned, NULL, error);
  if (curve == NULL)
    return FALSE;
  ts_finished_check (ts_surface_result_get_stair (planned), curve,
                     usual_error (achieved, correction != NULL ? correction : none),
                     &plan->contrast, result);
  return TRUE;
}
