/* ts-pipeline.h: the stages in order, from a picture to a plan's results
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-chart.h"
#include "image/ts-image.h"
#include "palette/ts-paint-advice.h"
#include "palette/ts-variation.h"
#include "plan/ts-surface-result.h"

G_BEGIN_DECLS

/* Works out the correction that @settings ask for. @reading is nullable. */
TsCorrection *ts_pipeline_correct       (const TsCorrectionSettings  *settings,
                                         const TsImage               *image,
                                         TsChartReading              *reading,
                                         GError                     **error);
/* The same; @source (nullable) has the pixels of the other photograph that @settings name. */
TsCorrection *ts_pipeline_correct_with  (const TsCorrectionSettings  *settings,
                                         const TsImage               *image,
                                         const TsImage               *source,
                                         TsChartReading              *reading,
                                         GError                     **error);
/* Places spots evenly on @run (their present number, or one that suits its length) and measures. */
gboolean      ts_pipeline_lay_run       (TsRun                       *run,
                                         const TsImage               *image,
                                         const TsCorrection          *correction,
                                         GError                     **error);
/* Measures the spots of @run again where they stand. */
gboolean      ts_pipeline_measure_run   (TsRun                       *run,
                                         const TsImage               *image,
                                         const TsCorrection          *correction,
                                         GError                     **error);
/* Reads @outline again. */
gboolean      ts_pipeline_measure_outline (TsOutline                *outline,
                                         const TsImage               *image,
                                         const TsCorrection          *correction,
                                         GCancellable                *cancellable,
                                         GError                     **error);
/* Every spot of the plan that lies on picture @picture. */
gboolean      ts_pipeline_measure_plan  (TsPlan                      *plan,
                                         guint                        picture,
                                         const TsImage               *image,
                                         GError                     **error);
/* Takes the colour under the line's spot as the one asked for. */
gboolean      ts_pipeline_measure_brief_line (TsBriefLine             *line,
                                         const TsImage               *image,
                                         const TsCorrection          *correction,
                                         GError                     **error);
/* The same by a correction that is at hand. */
gboolean      ts_pipeline_measure_plan_with (TsPlan                  *plan,
                                         guint                        picture,
                                         const TsImage               *image,
                                         const TsCorrection          *correction,
                                         GError                     **error);
/* The search that the plan's paints and limits ask for; the costly part of a first mix. */
TsRecipeSearch *ts_pipeline_search      (const TsPlan                *plan,
                                         GCancellable                *cancellable,
                                         GError                     **error);
/* Whether the search for one plan serves the other: paints and limits are the same. */
gboolean      ts_pipeline_is_same_search (const TsPlan               *one,
                                         const TsPlan                *other);
/* The limits that the plan's search has. */
gboolean      ts_pipeline_limits        (const TsPlan                *plan,
                                         TsRuledLimits               *limits,
                                         GError                     **error);
/* Which kinds of paint would help most where the colours of @surface, or of the whole plan with its
 * brief for -1, are out of reach: an array of TsPaintAdvice; @n_out is how many colours are. */
GArray       *ts_pipeline_advise        (const TsPlan                *plan,
                                         const GPtrArray             *results,
                                         int                          surface,
                                         guint                       *n_out,
                                         GCancellable                *cancellable,
                                         GError                     **error);
/* The fewest paints for every step and every line of the brief: its recipes are in that order. */
TsJointPlan  *ts_pipeline_smallest      (const TsPlan                *plan,
                                         const GPtrArray             *results,
                                         double                       within,
                                         GCancellable                *cancellable,
                                         GError                     **error);
/* Uses of a paint that has run out in all recipes of the plan, in that order too: an array of
 * TsReplacement. */
GArray       *ts_pipeline_replace       (const TsPlan                *plan,
                                         const GPtrArray             *results,
                                         guint                        paint,
                                         GCancellable                *cancellable,
                                         GError                     **error);
/* Results of all surfaces, from nothing: an array of TsSurfaceResult, one a surface (%NULL where it
 * has no spots). For the shell and the card. */
GPtrArray    *ts_pipeline_run           (const TsPlan                *plan,
                                         GCancellable                *cancellable,
                                         TsProgressFunc               progress,
                                         gpointer                     progress_data,
                                         GError                     **error);

G_END_DECLS
