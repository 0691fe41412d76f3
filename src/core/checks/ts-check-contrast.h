/* ts-check-contrast.h: do neighbouring tones read apart, and do they still blend
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

typedef enum
{
  TS_VERDICT_TOO_CLOSE,
  TS_VERDICT_MAY_READ, /* reads, but not at the edge of its error */
  TS_VERDICT_READS,
  TS_VERDICT_TOO_WIDE
} TsVerdict;

/* Defaults are common practice, no source. */
typedef struct
{
  double least_step;  /* L*, 4 */
  double most_step;   /* L*, 14 */
  double least_range; /* L*, 45 */
  double distance;    /* mm from eye to figure, 600 */
  double band;        /* mm, width of one step's band on the figure, 2 */
  double luminance;   /* cd/m2 of a white on the shelf, 100 */
} TsContrastSettings;

/* Two neighbours. */
typedef struct
{
  double    delta_L;    /* lighter minus darker as ordered: positive where the stair falls */
  double    delta_e;    /* CIEDE2000 */
  double    visibility; /* contrast over the threshold that can be seen at that distance */
  double    error;      /* 95 %, L* of the step between them */
  TsVerdict verdict;
} TsContrast;

void        ts_contrast_settings_init (TsContrastSettings        *settings);
/* Distance and band for a figure so many mm high, as painters hold and paint them. */
void        ts_contrast_settings_suit (TsContrastSettings        *settings,
                                       double                     figure_height);
/* @error_L is the 95 % error of the difference of lightness. */
TsContrast  ts_contrast_check         (TsLab                      lit,
                                       TsLab                      shadow,
                                       double                     error_L,
                                       const TsContrastSettings  *settings);
/* "too_close", "may_read", "reads", "too_wide": for files. */
const char *ts_verdict_to_id          (TsVerdict                  verdict);

G_END_DECLS
