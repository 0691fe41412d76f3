/* ts-correction-fit.c: fitting a correction to the patches of a chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-correction-fit.h"

#include <math.h>

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "correction/ts-terms-fit.h"

#define ROUNDS 6 /* of Gauss-Newton; the cost no longer moves in its fourth digit */
#define ROBUST_ROUNDS 8
#define TUKEY 4.7       /* sigmas; 95 % efficient for normal errors (Beaton and Tukey 1974) */
#define LEAST_SIGMA 0.3 /* CIEDE2000; a chart that fits better is not to be torn apart */

/**
 * ts_fit_patches_collect:
 * @self: (out): patches
 * @patches: what the picture shows, in the chart's order
 * @reference: the chart
 *
 * Gives each patch that is used the weight 1 and the others 0.
 */
void
ts_fit_patches_collect (TsFitPatches *self, const TsChartPatch patches[TS_CHART_PATCHES],
                        const TsChartReference *reference)
{
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      self->rgb[i] = ts_rgb_from_xyz (patches[i].xyz);
      self->lab[i] = reference->lab[i];
      self->weight[i] = patches[i].used ? 1.0 : 0.0;
    }
}

/**
 * ts_fit_patches_count:
 * @self: patches
 *
 * Returns: how many have a weight
 */
guint
ts_fit_patches_count (const TsFitPatches *self)
{
  guint n = 0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    n += self->weight[i] > 0.0;
  return n;
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/**
 * ts_fit_patches_median:
 * @self: patches
 * @values: a value for each
 *
 * Returns: the median of the values of those that have a weight, 0 where none has
 */
double
ts_fit_patches_median (const TsFitPatches *self, const double values[TS_CHART_PATCHES])
{
  double sorted[TS_CHART_PATCHES];
  guint n = 0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    if (self->weight[i] > 0.0)
      sorted[n++] = values[i];
  qsort (sorted, n, sizeof sorted[0], compare);
  return n > 0 ? 0.5 * (sorted[n / 2] + sorted[(n - 1) / 2]) : 0.0;
}

/**
 * ts_chart_light:
 * @light: log of the light's rise over one column and one row
 * @index: a patch
 *
 * Returns: the light on the patch over that on the middle of the chart
 */
double
ts_chart_light (const double light[2], guint index)
{
  double column = index % TS_CHART_COLUMNS - 0.5 * (TS_CHART_COLUMNS - 1);
  double row = index / TS_CHART_COLUMNS - 0.5 * (TS_CHART_ROWS - 1);

  return exp (light[0] * column + light[1] * row);
}

/**
 * ts_correction_fit:
 * @model: (out): the fitted model
 * @patches: the patches and their weights
 * @form: the chain to fit
 *
 * Fits tone curve and terms to the patches alone, for the least sum of squared CIEDE2000.
 *
 * Returns: %TRUE, or %FALSE where the patches do not settle the form
 */
gboolean
ts_correction_fit (TsCorrectionModel *model, const TsFitPatches *patches, TsFitForm form)
{
  TsTermsColour colours[TS_CHART_PATCHES];

  *model = (TsCorrectionModel){ .n_terms = form.n_terms };
  for (int c = 0; c < 3; c++)
    model->tone[c] = ts_tone_straight ();
  if (ts_fit_patches_count (patches) < form.n_terms || (form.bent && !ts_tone_fit (model, patches)))
    return FALSE;
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      ts_terms_fit_set_lab (&colours[i], patches->lab[i]);
      ts_correction_terms (ts_correction_model_tone (model, patches->rgb[i]), form.n_terms,
                           colours[i].terms);
      colours[i].weight = patches->weight[i];
    }
  return ts_terms_fit_xyz (colours, TS_CHART_PATCHES, form.n_terms, model->matrix) &&
         ts_terms_fit_improve (colours, TS_CHART_PATCHES, form.n_terms, ROUNDS, model->matrix);
}

/**
 * ts_correction_fit_residual:
 * @model: a fitted model
 * @patches: the patches
 * @index: which patch
 *
 * Returns: its CIEDE2000 from the reference after the correction
 */
double
ts_correction_fit_residual (const TsCorrectionModel *model, const TsFitPatches *patches,
                            guint index)
{
  return ts_delta_e_2000 (ts_lab_from_xyz (ts_correction_model_apply (model, patches->rgb[index])),
                          patches->lab[index]);
}

/**
 * ts_correction_fit_leave_one_out:
 * @patches: the patches and their weights
 * @form: the chain to fit
 * @errors: (out): for each patch that has a weight, how far off it is when the whole chain is
 * fitted without it, CIEDE2000; 0 for the others
 *
 * Returns: %TRUE, or %FALSE where a fit fails
 */
gboolean
ts_correction_fit_leave_one_out (const TsFitPatches *patches, TsFitForm form,
                                 double errors[TS_CHART_PATCHES])
{
  TsFitPatches others = *patches;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      TsCorrectionModel model;

      errors[i] = 0.0;
      if (!(patches->weight[i] > 0.0))
        continue;
      others.weight[i] = 0.0;
      if (!ts_correction_fit (&model, &others, form))
        return FALSE;
      errors[i] = ts_correction_fit_residual (&model, patches, i);
      others.weight[i] = patches->weight[i];
    }
  return TRUE;
}

/**
 * ts_correction_fit_robust:
 * @patches: (inout): the patches; those that do not fit get little weight, never 0
 * @form: the chain to fit
 * @residuals: (out): CIEDE2000 of every patch
 *
 * Iteratively reweighted by Tukey's biweight (Beaton and Tukey 1974).
 *
 * Returns: %TRUE, or %FALSE where a fit fails
 */
gboolean
ts_correction_fit_robust (TsFitPatches *patches, TsFitForm form, double residuals[TS_CHART_PATCHES])
{
  for (int round = 0; round < ROBUST_ROUNDS; round++)
    {
      TsCorrectionModel model;
      double sigma;

      if (!ts_correction_fit (&model, patches, form))
        return FALSE;
      for (guint i = 0; i < TS_CHART_PATCHES; i++)
        residuals[i] = ts_correction_fit_residual (&model, patches, i);
      /* The median of a distance in three directions is 1.54 sigma (chi, 3 degrees of freedom). */
      sigma = MAX (ts_fit_patches_median (patches, residuals) / 1.54, LEAST_SIGMA);
      for (guint i = 0; i < TS_CHART_PATCHES; i++)
        if (patches->weight[i] > 0.0)
          {
            double u = MIN (residuals[i] / (TUKEY * sigma), 1.0);

            patches->weight[i] = MAX ((1.0 - u * u) * (1.0 - u * u), 1e-4);
          }
    }
  return TRUE;
}
