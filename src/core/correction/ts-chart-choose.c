/* ts-chart-choose.c: how a chart lies, which patches mislead, and which form fits
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-chart-choose.h"

#include <math.h>
#include <string.h>

#include "colour/ts-colour-convert.h"

/* Below this many patches 18 numbers are too many. */
#define ENOUGH_FOR_ROOTS 15
/* A patch is spoilt when it is this far off, in CIEDE2000 and in medians, whichever is more. */
#define SPOILT 6.0
#define SPOILT_MEDIANS 5.0
#define MOST_SPOILT 8
#define FEWEST_CLEAN 12
/* How much better a curve or a gradient must do to be believed. */
#define TONE_GAIN 0.93
#define UNEVEN_GAIN 0.97

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
  const TsFitForm plain = { .tone = TS_TONE_NONE, .n_terms = 3 };
  double residuals[TS_CHART_PATCHES], light[2];
  TsCorrectionModel model;

  if (!ts_correction_fit (&model, patches, plain, light))
    return G_MAXDOUBLE;
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    residuals[i] = ts_correction_fit_residual (&model, patches, light, i);
  return ts_fit_patches_median (patches, residuals);
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

/* How far beyond the limit patch @i is; at most 1 where it is within it. */
static double
excess (const TsFitPatches *patches, const double values[TS_CHART_PATCHES], guint i)
{
  return values[i] / MAX (SPOILT, SPOILT_MEDIANS * ts_fit_patches_median (patches, values));
}

/* The patch that a robust linear and a robust root-polynomial fit both find farthest off, and which
 * stays so when it is left out; -1 where none is. */
static int
find_worst (const TsFitPatches *patches)
{
  double worst_by = 1.0, residuals[2][TS_CHART_PATCHES];
  int worst = -1;

  for (int k = 0; k < 2; k++)
    {
      TsFitForm form = { .tone = TS_TONE_POWER, .n_terms = k == 0 ? 3 : TS_CORRECTION_MAX_TERMS };
      TsFitPatches weighted = *patches;

      if (!ts_correction_fit_robust (&weighted, form, residuals[k]))
        {
          form.tone = TS_TONE_NONE;
          weighted = *patches;
          if (!ts_correction_fit_robust (&weighted, form, residuals[k]))
            return -1;
        }
    }
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      double by = MIN (excess (patches, residuals[0], i), excess (patches, residuals[1], i));

      if (patches->weight[i] > 0.0 && by > worst_by)
        {
          worst_by = by;
          worst = (int)i;
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

static double
mean_of (const TsFitPatches *patches, const double errors[TS_CHART_PATCHES])
{
  double sum = 0.0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    sum += errors[i];
  return sum / ts_fit_patches_count (patches);
}

/**
 * ts_chart_choose:
 * @patches: the patches and their weights
 * @form: (out): the form that predicts patches it has not seen best
 * @errors: (out): its leave-one-out errors, CIEDE2000
 *
 * Six terms from 15 patches up, else three. A tone curve is taken where the mean leave-one-out
 * error falls by 7 %, a gradient of the light where it falls by 3 %.
 *
 * Returns: %TRUE, or %FALSE where not even the plain form can be fitted
 */
gboolean
ts_chart_choose (const TsFitPatches *patches, TsFitForm *form, double errors[TS_CHART_PATCHES])
{
  gboolean enough = ts_fit_patches_count (patches) >= ENOUGH_FOR_ROOTS;
  TsFitForm best = { .tone = TS_TONE_NONE, .n_terms = enough ? TS_CORRECTION_MAX_TERMS : 3 };
  double tried[TS_CHART_PATCHES], least;

  if (!ts_correction_fit_leave_one_out (patches, best, errors))
    return FALSE;
  least = TONE_GAIN * mean_of (patches, errors);
  for (int tone = TS_TONE_POWER; tone < (enough ? (int)TS_N_TONES : (int)TS_TONE_CUBIC); tone++)
    {
      TsFitForm bent = { .tone = (TsToneKind)tone, .n_terms = best.n_terms };

      if (ts_correction_fit_leave_one_out (patches, bent, tried) &&
          mean_of (patches, tried) < least)
        {
          least = mean_of (patches, tried);
          best = bent;
          memcpy (errors, tried, sizeof tried);
        }
    }
  *form = best;
  form->uneven = TRUE;
  if (ts_correction_fit_leave_one_out (patches, *form, tried) &&
      mean_of (patches, tried) < UNEVEN_GAIN * mean_of (patches, errors))
    memcpy (errors, tried, sizeof tried);
  else
    form->uneven = FALSE;
  return TRUE;
}
