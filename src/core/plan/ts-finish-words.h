/* ts-finish-words.h: what became of the plan on the finished figure, in words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "plan/ts-finish.h"

G_BEGIN_DECLS

/* "kept", "steps merged", "lights lost" */
const char *ts_finish_verdict_to_words    (TsFinishVerdict        verdict);
/* Whether hues can be judged on a photograph corrected like that, and in words how it is. */
gboolean    ts_finish_judges_hues         (TsCorrectionKind       kind);
const char *ts_finish_correction_to_words (TsCorrectionKind       kind);
/* "18 L* too dark", "as planned" */
char       *ts_finished_step_to_words     (const TsFinishedStep  *step);
/* "range 31 of 55 kept, within about 3" */
char       *ts_finished_range_to_words    (const TsFinished      *finished);
/* All of it as plain text for a message: planned and achieved step by step, what became of each
 * surface, and what to repaint. @finished has a TsFinished or %NULL for each surface. */
char       *ts_finish_report              (const TsPlan          *plan,
                                           const GPtrArray       *results,
                                           const GPtrArray       *finished,
                                           TsCorrectionKind       kind);

G_END_DECLS
