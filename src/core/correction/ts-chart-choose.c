/* ts-chart-choose.c: how a chart lies, and which patches mislead
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-chart-choose.h"

#include <math.h>
#include <string.h>

#include "colour/ts-colour-convert.h"

#define ROOT_TERMS 6
/* A patch is spoilt when it is this far off, in CIEDE2000 and in medians, whichever is more. */
#define SPOILT 6.0
#define SPOILT_MEDIANS 5.0
#define SPOILT_IN_FIT 5.0
#define MOST_SPOILT 8
#define FEWEST_CLEAN 12

/* Where patch @i of the chart lies in a reading of @n_columns, for one of four ways round. */
static guint
turned (guint i, guint n_columns, guint way)
{
  guint column = i % TS_CHART_COLUMNS, row = i / TS_CHART_COLUMNS;

  if (way & 1)
    column = TS_CHART_COLUMNS - 1 - column;
  if (way & 2)
    row = TS_CHART_ROWS - 1 - row;
  return n_columns == TS_CHART_COLUMNS ? row * n_columns + column : column * n_columns + row;
}

/* Median residual of the plain linear correction; huge where even that cannot be fitted. */
static double
misfit_of (const TsFitPatches *patches)
{
  const TsFitForm plain = { .bent = FALSE, .n_terms = 3 };
  double residuals[TS_CHART_PATCHES];
  double n = ts_fit_patches_count (patches);
  TsCorrectionModel model;

  if (!(n > 3.0) || !ts_correction_fit (&model, patches, plain))
    return G_MAXDOUBLE;
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    residuals[i] = ts_correction_fit_residual (&model, patches, i);
  /* Three numbers a channel leave that much less to be off by. */
  return ts_fit_patches_median (patches, residuals) * sqrt (n / (n - 3.0));
}

/**
 * ts_chart_find_turn:
 * @in: the patches in the order of the picture
 * @n_columns: how many of them lie in a row there, 6 or 4
 * @reference: the chart
 * @out: (out): the patches in the order of the chart
 * @misfit: (inout): the least median CIEDE2000 so far; @out is written where a way round beats it
 *
 * Returns: whether a way round beat @misfit
 */
gboolean
ts_chart_find_turn (const TsChartPatch in[TS_CHART_PATCHES], guint n_columns,
                    const TsChartReference *reference, TsChartPatch out[TS_CHART_PATCHES],
                    double *misfit)
{
  gboolean better = FALSE;

  for (guint way = 0; way < 4; way++)
    {
      TsChartPatch tried[TS_CHART_PATCHES];
      TsFitPatches patches;
      double found;

      for (guint i = 0; i < TS_CHART_PATCHES; i++)
        tried[i] = in[turned (i, n_columns, way)];
      ts_fit_patches_collect (&patches, tried, reference);
      found = misfit_of (&patches);
      if (!(found < *misfit))
        continue;
      *misfit = found;
      memcpy (out, tried, sizeof tried);
      better = TRUE;
    }
  return better;
}

/* What one form says of every patch, in a plain and in a robust fit. */
typedef struct
{
  double plain[TS_CHART_PATCHES];
  double robust[TS_CHART_PATCHES];
} Suspicion;

static gboolean
suspect_with (Suspicion *self, const TsFitPatches *patches, TsFitForm form)
{
  TsFitPatches weighted = *patches;
  TsCorrectionModel model;

  if (!ts_correction_fit (&model, patches, form))
    return FALSE;
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    self->plain[i] = ts_correction_fit_residual (&model, patches, i);
  return ts_correction_fit_robust (&weighted, form, self->robust);
}

/* A spoilt grey may leave no sensible curve, which then does without. */
static gboolean
suspect (Suspicion *self, const TsFitPatches *patches, guint n_terms)
{
  return suspect_with (self, patches, (TsFitForm){ .bent = TRUE, .n_terms = n_terms }) ||
         suspect_with (self, patches, (TsFitForm){ .bent = FALSE, .n_terms = n_terms });
}

/* How far beyond the limits patch @i is; at most 1 where it is within one of them. A colour at the
 * edge of what the camera tells apart is off in a robust fit alone. */
static double
excess (const Suspicion *self, const TsFitPatches *patches, guint i)
{
  double limit = MAX (SPOILT, SPOILT_MEDIANS * ts_fit_patches_median (patches, self->robust));

  return MIN (self->robust[i] / limit, self->plain[i] / SPOILT_IN_FIT);
}

/* The patch that the linear and the root-polynomial form both find farthest off; -1 for none. */
static int
find_worst (const TsFitPatches *patches)
{
  Suspicion linear, root;
  double worst_by = 1.0;
  int worst = -1;

  if (!suspect (&linear, patches, 3) || !suspect (&root, patches, ROOT_TERMS))
    return -1;
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      double by = MIN (excess (&linear, patches, i), excess (&root, patches, i));

      if (patches->weight[i] > 0.0 && by > worst_by)
        {
          worst_by = by;
          worst = (int) i;
        }
    }
  return worst;
}

/**
 * ts_chart_find_dirt:
 * @patches: (inout): the patches; a spoilt one gets weight 0
 * @dirty: (out): which were found spoilt
 *
 * Names the worst patch, by a fit that heeds outliers little (Tukey), leaves it out and begins
 * anew, for as long as one is far off. Smaller faults hardly matter and stay.
 */
void
ts_chart_find_dirt (TsFitPatches *patches, gboolean dirty[TS_CHART_PATCHES])
{
  memset (dirty, 0, TS_CHART_PATCHES * sizeof dirty[0]);
  for (int n = 0; n < MOST_SPOILT && ts_fit_patches_count (patches) > FEWEST_CLEAN; n++)
    {
      int worst = find_worst (patches);

      if (worst < 0)
        return;
      dirty[worst] = TRUE;
      patches->weight[worst] = 0.0;
    }
}
