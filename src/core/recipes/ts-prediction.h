/* ts-prediction.h: a mix put together by hand: hiding all, and coat by coat over grounds
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "recipes/ts-trial.h"

G_BEGIN_DECLS

#define TS_PREDICTION_MOST_COATS 5

typedef enum
{
  TS_GROUND_BLACK,
  TS_GROUND_GREY,
  TS_GROUND_WHITE,
  TS_GROUND_BASE, /* a paint of the set, dried and hiding all */
  TS_N_GROUNDS
} TsGround;

typedef struct
{
  TsLab  masstone;
  double error;                                         /* 95 % radius of the masstone, CIEDE2000 */
  TsLab  film[TS_N_GROUNDS][TS_PREDICTION_MOST_COATS + 1]; /* by coats; 0 is the bare ground */
  double contrast;                                      /* of one coat */
  double coats_to_hide;                                 /* or infinity */
} TsPrediction;

/* Measured reflectance of a ground; @base is a paint's index for TS_GROUND_BASE. */
void     ts_ground_get_reflectance (const TsPaintSet  *set,
                                    TsGround           ground,
                                    int                base,
                                    TsSpectrum        *reflectance);
/* As the line of a test swatch names it: a paint of the set, or "L a b". */
char    *ts_ground_to_text         (const TsPaintSet  *set,
                                    TsGround           ground,
                                    int                base);
/* FALSE without any parts. */
gboolean ts_trial_predict          (const TsPaintSet  *set,
                                    const TsTrial     *trial,
                                    TsPrediction      *prediction);

G_END_DECLS
