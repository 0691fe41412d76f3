/* ts-finish.c: a plan's surfaces on the photograph of the finished figure
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-finish.h"

#include <math.h>

/**
 * ts_finish_find_run:
 * @plan: a plan
 * @surface: index of a surface
 *
 * Returns: (transfer none) (nullable): the surface's run on the finished figure
 */
TsFinishRun *
ts_finish_find_run (const TsPlan *plan, guint surface)
{
  for (guint i = 0; i < plan->finish->len; i++)
    {
      TsFinishRun *finish = g_ptr_array_index (plan->finish, i);

      if (finish->surface == surface)
        return finish;
    }
  return NULL;
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
  const TsImage *from = reference != NULL ? reference : finished;
  double sx = (double) ts_image_get_width (finished) / ts_image_get_width (from);
  double sy = (double) ts_image_get_height (finished) / ts_image_get_height (from);

  laid->picture = picture;
  laid->radius *= sqrt (sx * sy);
  for (guint i = 0; i < laid->points->len; i++)
    {
      TsPoint *point = &g_array_index (laid->points, TsPoint, i);

      *point = (TsPoint){ point->x * sx, point->y * sy };
    }
  if (!ts_pipeline_lay_run (laid, finished, correction, error))
    return NULL;
  return g_steal_pointer (&laid);
}

/* What the correction leaves of the lightness of these colours, root mean square; the spots' own
 * error is that of the curve. */
static double
usual_error (const TsRun *laid, const TsCorrection *correction)
{
  double squares = 0.0;

  for (guint i = 0; i < laid->spots->len; i++)
    {
      double error =
        ts_correction_get_lightness_error (correction, g_array_index (laid->spots, TsSpot, i).lab);

      squares += error * error;
    }
  return sqrt (squares / MAX (laid->spots->len, 1u));
}

/**
 * ts_finish_check_run:
 * @plan: a plan
 * @surface: index of a surface
 * @planned: what follows from the surface
 * @laid: the run on the finished figure, measured
 * @correction: (nullable): of the finished figure's picture; %NULL: none
 * @result: (out caller-allocates): to be filled
 * @error: return location for an error, or %NULL
 *
 * Fits a curve to the run's spots, and holds the stair to it.
 *
 * Returns: %FALSE with a #TsError where the spots are too few
 */
gboolean
ts_finish_check_run (const TsPlan *plan, guint surface, const TsSurfaceResult *planned,
                     const TsRun *laid, const TsCorrection *correction, TsFinished *result,
                     GError **error)
{
  const TsSurface *of = ts_plan_get_surface (plan, surface);
  g_autoptr (TsSurface) achieved = ts_surface_new (of->name);
  g_autoptr (TsCorrection) none = ts_correction_new_none ();
  g_autoptr (TsCurve) curve = NULL;

  achieved->polished = of->polished;
  g_ptr_array_add (achieved->runs, ts_run_copy (laid));
  curve = ts_surface_result_fit_curve (achieved, NULL, error);
  if (curve == NULL)
    return FALSE;
  ts_finished_check (ts_surface_result_get_stair (planned), curve,
                     usual_error (laid, correction != NULL ? correction : none), &plan->contrast,
                     result);
  return TRUE;
}
