/* ts-chart-solve.c: the correction that the patches of a chart ask for
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-chart-solve.h"

#include <string.h>

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "correction/ts-chart-linear.h"
#include "correction/ts-terms-fit.h"

#define N_COLOURS (TS_CHART_PATCHES + TS_PRIOR_PAINTS)
#define N_TERMS TS_CORRECTION_MAX_TERMS
/* What an expected paint counts beside a patch that was seen. More of it lowers the 90th percentile
 * and raises the median a little. */
#define PAINT_WEIGHT 0.2
#define MOST_UNLIKE                                                                                \
  5.0 /* mean CIEDE2000; the two makes are 1.2 from the spectra that are known                     \
       */
#define ENOUGH_FOR_ROOTS 15 /* below, 18 numbers are too many */
#define BENT_GAIN 0.95
#define ROUNDS 6
#define ROUNDS_AGAIN 2 /* of nearly the same fit */

/* One fit of the whole chain. */
typedef struct
{
  TsChartLinear linear;
  TsTermsColour colour[N_COLOURS]; /* patches, then the prior's paints */
  double matrix[3][TS_CORRECTION_MAX_TERMS];
} Chain;

static void
set_terms (TsTermsColour *colour, TsRgb rgb, double light)
{
  ts_correction_terms ((TsRgb){ rgb.r / light, rgb.g / light, rgb.b / light }, N_TERMS,
                       colour->terms);
}

static TsRgb
apply_tone (const TsTone *tone, TsRgb rgb)
{
  return (TsRgb){ ts_tone_apply (tone, rgb.r), ts_tone_apply (tone, rgb.g),
                  ts_tone_apply (tone, rgb.b) };
}

static void
set_labs (Chain *self, const TsFitPatches *patches, const TsChartPrior *prior)
{
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    ts_terms_fit_set_lab (&self->colour[i], patches->lab[i]);
  for (guint i = 0; i < TS_PRIOR_PAINTS; i++)
    {
      TsTermsColour *colour = &self->colour[TS_CHART_PATCHES + i];

      ts_terms_fit_set_lab (colour, ts_lab_from_xyz (prior->paint[i]));
      colour->weight = PAINT_WEIGHT;
    }
}

/* What the linear fit makes of the patches and expects of the paints. */
static gboolean
set_seen (Chain *self, const TsFitPatches *patches, const TsChartPrior *prior)
{
  TsRgb paint[TS_PRIOR_PAINTS];

  if (!ts_chart_linear_expect (&self->linear, prior, paint))
    return FALSE;
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      self->colour[i].weight = patches->weight[i];
      set_terms (&self->colour[i], apply_tone (&self->linear.tone, patches->rgb[i]),
                 ts_chart_light (self->linear.light, i));
    }
  for (guint i = 0; i < TS_PRIOR_PAINTS; i++)
    set_terms (&self->colour[TS_CHART_PATCHES + i], paint[i], 1.0);
  return TRUE;
}

static double
error_of (const Chain *self, guint patch)
{
  const TsTermsColour *colour = &self->colour[patch];
  double out[3] = { 0.0, 0.0, 0.0 };

  for (int c = 0; c < 3; c++)
    for (guint k = 0; k < N_TERMS; k++)
      out[c] += self->matrix[c][k] * colour->terms[k];
  return ts_delta_e_2000 (ts_lab_from_xyz ((TsXyz){ out[0], out[1], out[2] }), colour->lab);
}

/* With a tone curve and without, whichever is more probable. */
static gboolean
fit_first (Chain *self, const TsFitPatches *patches, const TsChartPrior *prior)
{
  TsChartLinear bent;
  gboolean plain = ts_chart_linear_fit (&self->linear, patches, prior, FALSE, NULL);

  if (ts_chart_linear_fit (&bent, patches, prior, TRUE, NULL) &&
      (!plain || bent.evidence > self->linear.evidence))
    self->linear = bent;
  else if (!plain)
    return FALSE;
  set_labs (self, patches, prior);
  return set_seen (self, patches, prior) &&
         ts_terms_fit_xyz (self->colour, N_COLOURS, N_TERMS, self->matrix) &&
         ts_terms_fit_improve (self->colour, N_COLOURS, N_TERMS, ROUNDS, self->matrix);
}

static gboolean
fit_again (Chain *self, const Chain *first, const TsFitPatches *patches, const TsChartPrior *prior)
{
  *self = *first;
  return ts_chart_linear_fit (&self->linear, patches, prior, first->linear.bent, &first->linear) &&
         set_seen (self, patches, prior) &&
         ts_terms_fit_improve (self->colour, N_COLOURS, N_TERMS, ROUNDS_AGAIN, self->matrix);
}

static gboolean
leave_one_out (const Chain *first, const TsFitPatches *patches, const TsChartPrior *prior,
               double errors[TS_CHART_PATCHES])
{
  g_autofree Chain *chain = g_new (Chain, 1);
  TsFitPatches others = *patches;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      errors[i] = 0.0;
      if (!(patches->weight[i] > 0.0))
        continue;
      others.weight[i] = 0.0;
      if (!fit_again (chain, first, &others, prior))
        return FALSE;
      errors[i] = error_of (chain, i);
      others.weight[i] = patches->weight[i];
    }
  return TRUE;
}

/* Whether @patches are those of the chart that the prior knows; other charts exist that look alike.
 */
static gboolean
is_known_chart (const TsFitPatches *patches, const TsChartPrior *prior)
{
  double sum = 0.0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    sum += ts_delta_e_2000 (patches->lab[i], prior->chart[i]);
  return sum <= MOST_UNLIKE * TS_CHART_PATCHES;
}

static double
sum_of (const double errors[TS_CHART_PATCHES])
{
  double sum = 0.0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    sum += errors[i];
  return sum;
}

/* By the patches alone: six terms where there are enough of them, and a curve where it helps. */
static gboolean
solve_alone (const TsFitPatches *patches, TsCorrectionModel *model,
             double residuals[TS_CHART_PATCHES], double errors[TS_CHART_PATCHES])
{
  TsFitForm form = { .n_terms = ts_fit_patches_count (patches) >= ENOUGH_FOR_ROOTS ? 6 : 3 };
  double bent[TS_CHART_PATCHES];

  if (!ts_correction_fit_leave_one_out (patches, form, errors))
    return FALSE;
  form.bent = TRUE;
  if (ts_correction_fit_leave_one_out (patches, form, bent) &&
      sum_of (bent) < BENT_GAIN * sum_of (errors))
    memcpy (errors, bent, sizeof bent);
  else
    form.bent = FALSE;
  if (!ts_correction_fit (model, patches, form))
    return FALSE;
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    residuals[i] = ts_correction_fit_residual (model, patches, i);
  return TRUE;
}

/**
 * ts_chart_solve:
 * @patches: the patches; those of weight 0 are left out
 * @model: (out): the correction
 * @residuals: (out): CIEDE2000 of every patch
 * @errors: (out): of every patch that has a weight, how far off it is when the whole chain is
 * fitted without it; 0 of the others
 *
 * Tone curve, uneven light and a linear matrix first, by what is known of cameras; then
 * root-polynomial terms for least CIEDE2000 over the patches and over paints that are not in the
 * picture, as the same knowledge expects the camera to show them. Takes some hundredths of a
 * second.
 *
 * Returns: %FALSE where the patches are too few
 */
gboolean
ts_chart_solve (const TsFitPatches *patches, TsCorrectionModel *model,
                double residuals[TS_CHART_PATCHES], double errors[TS_CHART_PATCHES])
{
  g_autofree TsChartPrior *prior = ts_chart_prior_new ();
  g_autofree Chain *chain = g_new0 (Chain, 1);

  if (!is_known_chart (patches, prior))
    return solve_alone (patches, model, residuals, errors);
  if (!fit_first (chain, patches, prior) || !leave_one_out (chain, patches, prior, errors))
    return FALSE;
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    residuals[i] = error_of (chain, i);
  model->n_terms = N_TERMS;
  for (int c = 0; c < 3; c++)
    model->tone[c] = chain->linear.tone;
  memcpy (model->matrix, chain->matrix, sizeof model->matrix);
  return TRUE;
}
