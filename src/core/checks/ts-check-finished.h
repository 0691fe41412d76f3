/* ts-check-finished.h: the finished figure against the plan, step by step
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "checks/ts-check-contrast.h"
#include "curve/ts-curve.h"
#include "steps/ts-stair.h"

G_BEGIN_DECLS

typedef enum
{
  TS_FINISH_AS_PLANNED,
  TS_FINISH_TOO_DARK,
  TS_FINISH_TOO_LIGHT
} TsFinishStep;

typedef struct
{
  TsLab        planned, achieved;
  double       delta_L; /* achieved minus planned */
  double       delta_e;
  TsFinishStep verdict;
} TsFinishedStep;

typedef struct
{
  guint          n_steps;
  TsFinishedStep step[TS_STAIR_MAX_STEPS];
  TsContrast     contrast[TS_STAIR_MAX_STEPS]; /* between achieved neighbours, n_steps - 1 */
  gboolean       merged[TS_STAIR_MAX_STEPS];   /* step i and i + 1 */
  double         range_planned, range_achieved, error;
} TsFinished;

/* What became of a whole stair, the worst first that holds. */
typedef enum
{
  TS_FINISH_MERGED,      /* neighbours can no longer be told apart */
  TS_FINISH_LIGHTS_LOST, /* the lightest step came out too dark */
  TS_FINISH_DARKS_LOST,  /* the darkest step came out too light */
  TS_FINISH_STEPS_OFF,   /* another step, or an end beyond what was planned */
  TS_FINISH_KEPT
} TsFinishVerdict;

/* @achieved is the curve fitted to the finished photograph along the same run. */
void            ts_finished_check       (const TsStair             *stair,
                                         const TsCurve             *achieved,
                                         double                     error_L,
                                         const TsContrastSettings  *settings,
                                         TsFinished                *result);
TsFinishVerdict ts_finished_get_verdict (const TsFinished          *self);

G_END_DECLS
