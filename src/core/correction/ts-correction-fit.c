/* ts-correction-fit.c: fitting a correction to the patches of a chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-correction-fit.h"

#include <math.h>
#include <string.h>

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "correction/ts-least-squares-fit.h"

#define ROUNDS 6 /* of Gauss-Newton; the cost no longer moves in its fourth digit */
#define LIGHT_ROUNDS 3
#define ROBUST_ROUNDS 8
#define TUKEY 4.7       /* sigmas; 95 % efficient for normal errors (Beaton and Tukey 1974) */
#define LEAST_SIGMA 0.3 /* CIEDE2000; a chart that fits better is not to be torn apart */
#define MAX_ROWS (3 * TS_CHART_PATCHES)
#define MAX_UNKNOWNS (3 * TS_CORRECTION_MAX_TERMS)

/* What one fit needs of each patch. */
typedef struct
{
  double terms[TS_CHART_PATCHES][TS_CORRECTION_MAX_TERMS];
  double root[TS_CHART_PATCHES][3][3]; /* G with G'G = the metric of CIEDE2000 at the reference */
} Prepared;

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

static TsRgb
divide_light (TsRgb rgb, const double light[2], guint index)
{
  double column = index % TS_CHART_COLUMNS - 0.5 * (TS_CHART_COLUMNS - 1);
  double row = index / TS_CHART_COLUMNS - 0.5 * (TS_CHART_ROWS - 1);
  double factor = exp (-light[0] * column - light[1] * row);

  return (TsRgb){ rgb.r * factor, rgb.g * factor, rgb.b * factor };
}

/* Cholesky's upper factor; the metric is positive definite. */
static void
factor_metric (double metric[3][3], double root[3][3])
{
  memset (root, 0, 9 * sizeof (double));
  for (int i = 0; i < 3; i++)
    for (int j = i; j < 3; j++)
      {
        double sum = metric[i][j];

        for (int k = 0; k < i; k++)
          sum -= root[k][i] * root[k][j];
        root[i][j] = j == i ? sqrt (fmax (sum, 1e-12)) : sum / root[i][i];
      }
}

static void
prepare (Prepared *self, const TsCorrectionModel *model, const TsFitPatches *patches)
{
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      double metric[3][3];

      ts_correction_terms (ts_correction_model_tone (model, patches->rgb[i]), model->n_terms,
                           self->terms[i]);
      ts_delta_e_2000_metric (patches->lab[i], metric);
      factor_metric (metric, self->root[i]);
    }
}

static TsXyz
model_xyz (const TsCorrectionModel *model, const double *terms)
{
  double out[3] = { 0.0, 0.0, 0.0 };

  for (int c = 0; c < 3; c++)
    for (guint k = 0; k < model->n_terms; k++)
      out[c] += model->matrix[c][k] * terms[k];
  return (TsXyz){ out[0], out[1], out[2] };
}

/* The sum of squared CIEDE2000. */
static double
cost_of (const TsCorrectionModel *model, const TsFitPatches *patches, const Prepared *prepared)
{
  double cost = 0.0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    if (patches->weight[i] > 0.0)
      {
        double e = ts_delta_e_2000 (ts_lab_from_xyz (model_xyz (model, prepared->terms[i])),
                                    patches->lab[i]);

        cost += patches->weight[i] * e * e;
      }
  return cost;
}

/* Derivative of CIELAB's function of one ratio (ISO/CIE 11664-4). */
static double
lab_slope (double t)
{
  const double delta = 6.0 / 29.0;

  return t > delta * delta * delta ? 1.0 / (3.0 * cbrt (t * t)) : 1.0 / (3.0 * delta * delta);
}

static void
lab_jacobian (TsXyz xyz, double j[3][3])
{
  double fx = lab_slope (xyz.X / TS_D50_X) / TS_D50_X;
  double fy = lab_slope (xyz.Y);
  double fz = lab_slope (xyz.Z / TS_D50_Z) / TS_D50_Z;
  const double out[3][3] = { { 0.0, 116.0 * fy, 0.0 },
                             { 500.0 * fx, -500.0 * fy, 0.0 },
                             { 0.0, 200.0 * fy, -200.0 * fz } };

  memcpy (j, out, sizeof out);
}

/* The start: least squares in XYZ, the same terms for each of X, Y and Z. */
static gboolean
solve_xyz (TsCorrectionModel *model, const TsFitPatches *patches, const Prepared *prepared)
{
  double a[TS_CHART_PATCHES * TS_CORRECTION_MAX_TERMS], b[3][TS_CHART_PATCHES];
  guint n = 0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    if (patches->weight[i] > 0.0)
      {
        TsXyz want = ts_xyz_from_lab (patches->lab[i]);
        double w = sqrt (patches->weight[i]);

        for (guint k = 0; k < model->n_terms; k++)
          a[n * model->n_terms + k] = w * prepared->terms[i][k];
        b[0][n] = w * want.X;
        b[1][n] = w * want.Y;
        b[2][n] = w * want.Z;
        n++;
      }
  for (int c = 0; c < 3; c++)
    if (!ts_least_squares_solve (a, b[c], n, model->n_terms, model->matrix[c]))
      return FALSE;
  return TRUE;
}

/* One patch's three rows: G (Lab + J (T x - XYZ) - reference) = 0, linear in the matrix x. */
static void
fill_rows (double *a, double *b, const TsCorrectionModel *model, const TsFitPatches *patches,
           const Prepared *prepared, guint i)
{
  guint n_terms = model->n_terms;
  TsXyz xyz = model_xyz (model, prepared->terms[i]);
  TsLab lab = ts_lab_from_xyz (xyz), want = patches->lab[i];
  const double present[3] = { xyz.X, xyz.Y, xyz.Z };
  const double off[3] = { want.L - lab.L, want.a - lab.a, want.b - lab.b };
  double w = sqrt (patches->weight[i]);
  double j[3][3];

  lab_jacobian (xyz, j);
  for (int m = 0; m < 3; m++)
    {
      double right = 0.0;

      for (int c = 0; c < 3; c++)
        {
          double gj = 0.0;

          for (int k = 0; k < 3; k++)
            gj += w * prepared->root[i][m][k] * j[k][c];
          for (guint k = 0; k < n_terms; k++)
            a[((guint) m * 3 + (guint) c) * n_terms + k] = gj * prepared->terms[i][k];
          right += gj * present[c] + w * prepared->root[i][m][c] * off[c];
        }
      b[m] = right;
    }
}

static gboolean
gauss_newton_step (TsCorrectionModel *model, const TsFitPatches *patches, const Prepared *prepared)
{
  double a[MAX_ROWS * MAX_UNKNOWNS], b[MAX_ROWS], x[MAX_UNKNOWNS];
  guint n_unknowns = 3 * model->n_terms, n = 0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    if (patches->weight[i] > 0.0)
      {
        fill_rows (a + n * n_unknowns, b + n, model, patches, prepared, i);
        n += 3;
      }
  if (!ts_least_squares_solve (a, b, n, n_unknowns, x))
    return FALSE;
  for (guint c = 0; c < 3; c++)
    for (guint k = 0; k < model->n_terms; k++)
      model->matrix[c][k] = x[c * model->n_terms + k];
  return TRUE;
}

/* The matrix of least CIEDE2000 for the gains and tone curve of @model. */
static gboolean
fit_matrix (TsCorrectionModel *model, const TsFitPatches *patches)
{
  Prepared prepared;
  TsCorrectionModel best;
  double least;

  prepare (&prepared, model, patches);
  if (!solve_xyz (model, patches, &prepared))
    return FALSE;
  best = *model;
  least = cost_of (model, patches, &prepared);
  for (int round = 0; round < ROUNDS; round++)
    {
      double cost;

      if (!gauss_newton_step (model, patches, &prepared))
        break;
      cost = cost_of (model, patches, &prepared);
      if (cost < least)
        {
          double gained = least - cost;

          least = cost;
          best = *model;
          if (gained < 1e-5 * least)
            break;
        }
    }
  *model = best;
  return isfinite (least);
}

/* The gradient that is left: log of fitted over wanted Y against column and row. */
static gboolean
find_gradient (const TsCorrectionModel *model, const TsFitPatches *patches, double gradient[2])
{
  double a[TS_CHART_PATCHES * 3], b[TS_CHART_PATCHES], x[3];
  guint n = 0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      double Y = ts_luminance_from_lightness (patches->lab[i].L);
      double fitted = ts_correction_model_apply (model, patches->rgb[i]).Y;
      double w = cbrt (Y) * sqrt (patches->weight[i]);

      if (!(w > 0.0 && fitted > 1e-4))
        continue;
      a[3 * n] = w;
      a[3 * n + 1] = w * (i % TS_CHART_COLUMNS - 0.5 * (TS_CHART_COLUMNS - 1));
      a[3 * n + 2] = w * (i / TS_CHART_COLUMNS - 0.5 * (TS_CHART_ROWS - 1));
      b[n] = w * log (fitted / Y);
      n++;
    }
  if (!ts_least_squares_solve (a, b, n, 3, x))
    return FALSE;
  gradient[0] = x[1];
  gradient[1] = x[2];
  return TRUE;
}

/**
 * ts_correction_fit:
 * @model: (out): the fitted model
 * @patches: the patches and their weights
 * @form: the chain to fit
 * @light: (out): log of the light's rise over one column and one row; 0 unless the form is uneven
 *
 * Fits gains, tone curve, terms and, where wanted, the gradient of the light for the least sum of
 * squared CIEDE2000: Gauss-Newton from the least squares in XYZ, with the metric of CIEDE2000 at
 * the reference. As all terms scale with exposure, exposure does not change hue.
 *
 * Returns: %TRUE, or %FALSE where the patches do not settle the form
 */
gboolean
ts_correction_fit (TsCorrectionModel *model, const TsFitPatches *patches, TsFitForm form,
                   double light[2])
{
  TsFitPatches even = *patches;

  *model = (TsCorrectionModel){ .n_terms = form.n_terms };
  light[0] = light[1] = 0.0;
  if (!ts_tone_fit (model, &even, form.tone) || !fit_matrix (model, &even))
    return FALSE;
  for (int round = 0; form.uneven && round < LIGHT_ROUNDS; round++)
    {
      double gradient[2];

      if (!find_gradient (model, &even, gradient))
        return FALSE;
      light[0] += gradient[0];
      light[1] += gradient[1];
      for (guint i = 0; i < TS_CHART_PATCHES; i++)
        even.rgb[i] = divide_light (patches->rgb[i], light, i);
      if (!ts_tone_fit (model, &even, form.tone) || !fit_matrix (model, &even))
        return FALSE;
    }
  return TRUE;
}

/**
 * ts_correction_fit_residual:
 * @model: a fitted model
 * @patches: the patches
 * @light: the gradient that was fitted with it
 * @index: which patch
 *
 * Returns: its CIEDE2000 from the reference after the correction
 */
double
ts_correction_fit_residual (const TsCorrectionModel *model, const TsFitPatches *patches,
                            const double light[2], guint index)
{
  TsRgb rgb = divide_light (patches->rgb[index], light, index);

  return ts_delta_e_2000 (ts_lab_from_xyz (ts_correction_model_apply (model, rgb)),
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
      double light[2];

      errors[i] = 0.0;
      if (!(patches->weight[i] > 0.0))
        continue;
      others.weight[i] = 0.0;
      if (!ts_correction_fit (&model, &others, form, light))
        return FALSE;
      errors[i] = ts_correction_fit_residual (&model, patches, light, i);
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
      double light[2], sigma;

      if (!ts_correction_fit (&model, patches, form, light))
        return FALSE;
      for (guint i = 0; i < TS_CHART_PATCHES; i++)
        residuals[i] = ts_correction_fit_residual (&model, patches, light, i);
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
