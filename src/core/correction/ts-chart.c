/* ts-chart.c: a correction from the 24-patch chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-chart.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "correction/ts-chart-choose.h"
#include "correction/ts-chart-read.h"
#include "correction/ts-chart-solve.h"

/* Charts that were found had a median under 3.2 in the plain linear fit, other things over 20. */
#define NOT_THE_CHART 8.0
#define LEAST_RANGE_L 30.0 /* of a reference; the chart's greys alone have 75 */
#define FEWEST_FOR_FIT 5
#define ENOUGH_TO_COMPARE 0.7

static gboolean
fail_unlike (GError **error)
{
  g_set_error (
    error, TS_ERROR, TS_ERROR_FORMAT,
    _ ("This does not look like the chart; check that the four corners lie on the centres of "
       "its corner patches"));
  return FALSE;
}

/* Any picture at all would fit a reference whose colours are one. */
static gboolean
check_reference (const TsChartReference *reference, GError **error)
{
  double least = reference->lab[0].L, most = least;

  for (guint i = 1; i < TS_CHART_PATCHES; i++)
    {
      least = fmin (least, reference->lab[i].L);
      most = fmax (most, reference->lab[i].L);
    }
  if (most - least >= LEAST_RANGE_L)
    return TRUE;
  g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
               _ ("The colours in the chart's file lie within L* %.0f; take the file of a 24-patch "
                  "chart"),
               most - least);
  return FALSE;
}

static guint
count_used (const TsChartPatch patches[TS_CHART_PATCHES])
{
  guint used = 0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    used += patches[i].used;
  return used;
}

/* Reads the chart lying and standing and keeps the way that fits. A reading across the patches
 * meets the black between them, so one with far fewer usable patches than the other is not tried: a
 * few patches fit anything. */
static gboolean
read_turned (const TsImage *image, const double corners[4][2], const TsChartReference *reference,
             TsChartPatch patches[TS_CHART_PATCHES], GError **error)
{
  static const guint columns[] = { TS_CHART_COLUMNS, TS_CHART_ROWS };
  TsChartPatch seen[G_N_ELEMENTS (columns)][TS_CHART_PATCHES];
  double misfit = G_MAXDOUBLE;
  guint most_used = 0;

  for (guint k = 0; k < G_N_ELEMENTS (columns); k++)
    {
      if (!ts_chart_read (image, corners, columns[k], seen[k], error))
        return FALSE;
      most_used = MAX (most_used, count_used (seen[k]));
    }
  if (most_used < FEWEST_FOR_FIT)
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_TOO_FEW,
        _ ("All but %u patches of the chart are clipped; use a picture with less exposure, or "
           "a grey card"),
        most_used);
      return FALSE;
    }
  for (guint k = 0; k < G_N_ELEMENTS (columns); k++)
    if (count_used (seen[k]) >= ENOUGH_TO_COMPARE * most_used)
      ts_chart_find_turn (seen[k], columns[k], reference, patches, &misfit);
  return misfit <= NOT_THE_CHART || fail_unlike (error);
}

static void
leave_out_dirt (TsFitPatches *patches, TsChartReading *reading)
{
  gboolean dirty[TS_CHART_PATCHES];

  ts_chart_find_dirt (patches, dirty);
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    if (dirty[i])
      {
        reading->patch[i].used = FALSE;
        reading->patch[i].why = "dirt or glare";
      }
}

static double
root_mean_square (const double errors[TS_CHART_PATCHES], guint n)
{
  double squares = 0.0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    squares += errors[i] * errors[i];
  return sqrt (squares / n);
}

static double
leave_one_out_with (const TsFitPatches *patches, guint n_terms)
{
  double errors[TS_CHART_PATCHES];

  return ts_correction_fit_leave_one_out (patches, (TsFitForm){ .n_terms = n_terms }, errors)
           ? root_mean_square (errors, ts_fit_patches_count (patches))
           : (double) NAN;
}

static TsCorrection *
fit_reading (const TsFitPatches *patches, TsChartReading *reading, GError **error)
{
  TsLab known[TS_CHART_PATCHES];
  double residuals[TS_CHART_PATCHES], errors[TS_CHART_PATCHES];
  TsCorrectionModel model;
  guint n = 0;

  if (!ts_chart_solve (patches, &model, residuals, errors))
    {
      fail_unlike (error);
      return NULL;
    }
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      reading->patch[i].residual = residuals[i];
      if (patches->weight[i] > 0.0)
        known[n++] = patches->lab[i];
    }
  reading->n_used = n;
  reading->leave_one_out = root_mean_square (errors, n);
  reading->leave_one_out_linear = leave_one_out_with (patches, 3);
  reading->leave_one_out_root =
    model.n_terms > 3 ? reading->leave_one_out : leave_one_out_with (patches, 6);
  return ts_correction_new_chart (&model, reading->leave_one_out, known, n);
}

/**
 * ts_chart_fit:
 * @image: a picture
 * @corners: x, y of the centres of the four corner patches, upright pixels, in turn round the
 * chart; any of them may be the first
 * @reference: the chart's own colours
 * @reading: (out): what was found of each patch, in the chart's order
 * @error: return location for an error, or %NULL
 *
 * The method: mean of the inner part of each patch in linear light; clipped and spoilt patches left
 * out by name; then ts_chart_solve(). Takes a tenth of a second.
 *
 * Returns: (transfer full) (nullable): the correction, or %NULL with %TS_ERROR_FORMAT (this is not
 *   the chart), %TS_ERROR_TOO_FEW or %TS_ERROR_BAD_VALUE set
 */
TsCorrection *
ts_chart_fit (const TsImage *image, const double corners[4][2], const TsChartReference *reference,
              TsChartReading *reading, GError **error)
{
  TsFitPatches patches;

  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  memset (reading, 0, sizeof *reading);
  if (!check_reference (reference, error) ||
      !read_turned (image, corners, reference, reading->patch, error))
    return NULL;
  ts_fit_patches_collect (&patches, reading->patch, reference);
  leave_out_dirt (&patches, reading);
  return fit_reading (&patches, reading, error);
}
