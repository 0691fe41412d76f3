/* ts-brief-result.h: what is mixed for the lines of a brief, and whether it passes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "checks/ts-check-brief.h"
#include "plan/ts-plan.h"

G_BEGIN_DECLS

/* A plain value. */
typedef struct
{
  guint              index;      /* of the line in the plan */
  const TsBriefLine *line;       /* borrowed from the plan */
  gboolean           has_recipe; /* what follows counts */
  gboolean           locked;     /* the painter chose it */
  TsRecipe           recipe;
  TsBriefVerdict     verdict;
} TsBriefResult;

/* Another mix for a line. */
typedef struct
{
  TsRecipe       recipe;
  TsBriefVerdict verdict;
  gboolean       one_more; /* holds a paint more than the plan's mixes may */
} TsBriefOffer;

/* @choices (nullable) are recipes for the line, nearest first. */
TsBriefResult ts_brief_result_of      (const TsPlan         *plan,
                                       guint                 index,
                                       const GArray         *choices);
/* Results of all lines (TsBriefResult), in the order of the brief. @choices holds an array of recipes
 * for each line, or %NULL. */
GArray       *ts_brief_results_new    (const TsPlan         *plan,
                                       const GPtrArray      *choices);
/* Those that fail first, then the doubtful. */
void          ts_brief_results_rank   (GArray               *results);
/* Why it fails, may pass or passes: a sentence. */
char         *ts_brief_result_why     (const TsBriefResult  *self);
/* "3 of 5 lines pass, 1 may pass, 1 fails." */
char         *ts_brief_results_to_summary (const GArray     *results);
/* As a table: name,asked_L,...,verdict,recipe; or as CGATS text. */
char         *ts_brief_results_to_csv (const GArray         *results,
                                       const TsPaintSet     *paints);
char         *ts_brief_results_to_cgats (const GArray       *results,
                                       const TsPaintSet     *paints);
/* Mixes that are no worse than the one in use by their verdict, and nearer where that fails
 * (TsBriefOffer): one with a paint more, then others of @choices, the nearest first. */
GArray       *ts_brief_result_offers  (const TsBriefResult  *self,
                                       const TsPlan         *plan,
                                       const GArray         *choices,
                                       GCancellable         *cancellable,
                                       GError              **error);

G_END_DECLS
