/* ts-format.h: numbers and findings to words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "base/ts-length.h"
#include "checks/ts-check-brief.h"
#include "plan/ts-finish-words.h"
#include "plan/ts-surface-fall.h"
#include "plan/ts-surface-under.h"
#include "card/ts-mark.h"

G_BEGIN_DECLS

/* What distances are told in, in every window; centimetres unless set. */
void        ts_format_set_length_unit (TsLengthUnit           unit);
TsLengthUnit ts_format_get_length_unit (void);
/* "60 cm" */
char       *ts_format_distance       (double                  mm);
/* "L* 37   a* -14   b* -4   value 3.6" */
char       *ts_format_colour         (TsLab                   lab);
/* "value 3.6" */
char       *ts_format_value          (double                  lightness);
/* The same of a spot; where too much of it is clipped, also that it counts less. */
char       *ts_format_spot           (const TsSpot           *spot);
/* "clipped, 23 %: it counts less", or %NULL. */
char       *ts_format_clipped        (const TsSpot           *spot);
/* "L* 66 a 8 b 45": for descriptions. */
char       *ts_format_lab            (TsLab                   lab);
/* "sRGB #C89F50", or "outside sRGB" */
char       *ts_format_code           (TsLab                   lab);
/* "L* 66 a 8 b 45, sRGB #C89F50" */
char       *ts_format_colour_text    (TsLab                   lab);
/* "mix 4: dE 6 from the picture, 4 L* darker, give or take 3": a step's colour, that has an error of
 * its own, beside a spot. */
char       *ts_format_swatch         (guint                   step,
                                      gboolean                wanted,
                                      TsLab                   lab,
                                      double                  error,
                                      const TsSpot           *spot);
/* "within about dE 3" */
char       *ts_format_error          (double                  delta_e);
/* "7 steps" */
char       *ts_format_n_steps        (guint                   n_steps);
const char *ts_format_spacing        (TsSpacing               spacing);
/* Translated word of a step's role, or "". */
const char *ts_format_role           (const TsStair          *stair,
                                      guint                   step);
/* "covers 18 %" */
char       *ts_format_area           (double                  share);
/* "falls away from the light", "lit from elsewhere", or "" where nothing is known. */
const char *ts_format_fall           (TsFall                  fall,
                                      gboolean                said);
/* "under a white LED", "without red cones" */
const char *ts_format_under          (TsUnder                 under);
const char *ts_format_verdict        (TsVerdict               verdict);
gboolean    ts_format_verdict_is_problem (TsVerdict           verdict);
/* "10 L* apart, dE 9, 4 times what can be seen at 60 cm" */
char       *ts_format_contrast       (TsContrast              contrast,
                                      double                  distance);
/* "6 Chalk White + 2 Deep Teal", or NULL without a recipe. */
char       *ts_format_recipe         (const TsSurfaceResult  *result,
                                      guint                   step);
/* "out of reach by about dE 7", or @brief "out of reach, dE 7" */
char       *ts_format_out_of_reach   (const TsSurfaceResult  *result,
                                      guint                   step,
                                      gboolean                brief);
/* "1 too close, 1 too wide", its mark, and whether it is a problem. */
char       *ts_format_summary        (const TsSurfaceResult  *result,
                                      TsMark                 *mark,
                                      gboolean               *problem);
/* "L* 13 to 68, range 55: wide enough"; @brief leaves the ends out. */
char       *ts_format_range          (const TsSurfaceResult  *result,
                                      double                  least_range,
                                      gboolean                brief);
/* "falling, within about L* 2" */
char       *ts_format_curve          (const TsCurve          *curve);
/* "falls from 57 to 32, core shadow at 80 % (71 to 88), 1 outlier" */
char       *ts_format_course         (const TsCurve          *curve);
/* Why a spot is left out, most likely. */
const char *ts_format_outlier        (const TsCurve          *curve,
                                      gsize                   index,
                                      double                  clipped_share);
/* "4, base, locked. L* 46. 2 Chalk White, 4 Deep Teal, within about dE 3. Too close to 3; 5 reads." */
char       *ts_format_step           (const TsSurfaceResult  *result,
                                      guint                   step);
/* "kept", "steps merged", "lights lost", and its mark. */
const char *ts_format_finished       (TsFinishVerdict         verdict,
                                      TsMark                 *mark);

G_END_DECLS
