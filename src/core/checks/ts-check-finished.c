/* ts-check-finished.c: the finished figure against the plan, step by step
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "checks/ts-check-finished.h"

#include "colour/ts-difference.h"

#include <math.h>

/* A step is off where it lies beyond its error and nearer to where a neighbour may stand. */
static TsFinishStep
judge_step (double delta_L, double error, double least_step)
{
  double limit = fmax (error, 0.5 * least_step);

  if (delta_L < -limit)
    return TS_FINISH_TOO_DARK;
  return delta_L > limit ? TS_FINISH_TOO_LIGHT : TS_FINISH_AS_PLANNED;
}

/**
 * ts_finished_check:
 * @stair: the plan
 * @achieved: the curve of the finished photo along the same run
 * @error_L: 95 % error of the photo's lightness, L*, 0 or more
 * @settings: what neighbours are held to
 * @result: (out caller-allocates): to be filled
 *
 * Holds each step to the finished colour at its place. Neighbours that are too close there have
 * merged.
 */
void
ts_finished_check (const TsStair *stair, const TsCurve *achieved, double error_L,
                   const TsContrastSettings *settings, TsFinished *result)
{
  guint n = ts_stair_get_n_steps (stair);

  *result = (TsFinished){ .n_steps = n, .error = hypot (error_L, ts_curve_get_error (achieved)) };
  for (guint i = 0; i < n; i++)
    {
      const TsStep *step = ts_stair_get_step (stair, i);
      TsFinishedStep *finished = &result->step[i];

      finished->planned = step->wanted;
      finished->achieved = ts_curve_get_colour (achieved, step->position);
      finished->delta_L = finished->achieved.L - finished->planned.L;
      finished->delta_e = ts_delta_e_2000 (finished->planned, finished->achieved);
      finished->verdict = judge_step (finished->delta_L, result->error, settings->least_step);
    }
  for (guint i = 0; i + 1 < n; i++)
    {
      result->contrast[i] = ts_contrast_check (
        result->step[i].achieved, result->step[i + 1].achieved, result->error, settings);
      result->merged[i] = result->contrast[i].verdict == TS_VERDICT_TOO_CLOSE;
    }
  result->range_planned = result->step[0].planned.L - result->step[n - 1].planned.L;
  result->range_achieved = result->step[0].achieved.L - result->step[n - 1].achieved.L;
}

/**
 * ts_finished_get_verdict:
 * @self: a finished stair
 *
 * Returns: what became of it as a whole
 */
TsFinishVerdict
ts_finished_get_verdict (const TsFinished *self)
{
  for (guint i = 0; i + 1 < self->n_steps; i++)
    if (self->merged[i])
      return TS_FINISH_MERGED;
  if (self->step[0].verdict == TS_FINISH_TOO_DARK)
    return TS_FINISH_LIGHTS_LOST;
  if (self->step[self->n_steps - 1].verdict == TS_FINISH_TOO_LIGHT)
    return TS_FINISH_DARKS_LOST;
  for (guint i = 0; i < self->n_steps; i++)
    if (self->step[i].verdict != TS_FINISH_AS_PLANNED)
      return TS_FINISH_STEPS_OFF;
  return TS_FINISH_KEPT;
}
