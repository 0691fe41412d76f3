/* ts-curve-outlier.c: samples that do not belong to their curve, and why
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-outlier.h"

#include <math.h>
#include <stdlib.h>

/* Named an outlier: farther off than this many deviations, or where it more likely is one. */
#define FAR 3.4
/* A value may leave the range of its neighbours by so many deviations and still lie between them.
 */
#define SLACK 0.5
/* Spots do not follow one curve: share of outliers; noise, L*; or times what was stated, where that
 * is not small. */
#define MOST_OUTLIERS 0.3
#define MOST_NOISE 8.0
#define MOST_FACTOR 5.0
#define LEAST_NOISE 3.0
/* L*, root mean square from the curve of the spots that are not named: a shadow across the run is
 * no noise, even where its spots say themselves that they are rough. */
#define MOST_MISFIT 6.0
/* Two spots side by side that are no noise: farther off than this, L*, and than so many times the
 * noise (reasoned, not measured). */
#define FAR_TOGETHER 8.0
#define FAR_TOGETHER_TIMES 3.0
/* Another hue: farther from the curve's a*, b* than this, CIELAB, and than so many times what the
 * samples of the curve are (reasoned, not measured). */
#define OTHER_HUE 8.0
#define OTHER_HUE_TIMES 4.0
/* So much of a sample is clipped that this alone explains it (reasoned, not measured). */
#define CLIPPED_SHARE 0.1

/* The kept samples just before and just after sample @i; FALSE where it is the first or the last.
 */
static gboolean
find_neighbours (const TsCurveSample *samples, gsize n, const double *share, gsize i,
                 double *before, double *after)
{
  double from = -1.0, to = 2.0;

  *before = *after = 0.0;
  for (gsize j = 0; j < n; j++)
    {
      double place = samples[j].position;

      if (j == i || share[j] < 0.5)
        continue;
      if (place <= samples[i].position && place > from)
        {
          from = place;
          *before = samples[j].lab.L;
        }
      if (place >= samples[i].position && place < to)
        {
          to = place;
          *after = samples[j].lab.L;
        }
    }
  return from >= 0.0 && to <= 1.0;
}

/* A value that lies between those before and after it fits a curve that falls steeply there; it is
 * no outlier however smooth the curve is elsewhere. Returns whether there are such values. */
gboolean
ts_curve_trust_between (TsCurveData *data, const TsCurveSample *samples,
                        const TsCurveEnsemble *ensemble)
{
  g_autofree double *share = g_new (double, data->n);
  double factor = ts_curve_ensemble_factor (ensemble);
  gboolean found = FALSE;

  for (gsize i = 0; i < data->n; i++)
    share[i] = ts_curve_ensemble_share (ensemble, i);
  for (gsize i = 0; i < data->n; i++)
    {
      double L = data->value[i], before, after;
      double slack = SLACK * sqrt (factor * data->variance[i]);

      if (share[i] < 0.5 && find_neighbours (samples, data->n, share, i, &before, &after) &&
          L <= MAX (before, after) + slack && L >= MIN (before, after) - slack)
        data->trusted[i] = found = TRUE;
    }
  return found;
}

typedef struct
{
  double position;
  gsize index;
} Place;

static int
compare_positions (const void *one, const void *other)
{
  const Place *a = one, *b = other;

  if (a->position < b->position || a->position > b->position)
    return a->position < b->position ? -1 : 1;
  return (a->index > b->index) - (a->index < b->index);
}

/* Sorts the samples from lit to shadow. */
static Place *
sort_places (const TsCurve *curve, const TsCurveSample *samples)
{
  Place *place = g_new (Place, curve->n_samples);

  for (gsize i = 0; i < curve->n_samples; i++)
    place[i] = (Place){ samples[i].position, i };
  qsort (place, curve->n_samples, sizeof *place, compare_positions);
  return place;
}

/* Whether two samples side by side are far off on the same side, and neither is an outlier: what
 * they show is there, and the curve passes it by. */
static gboolean
passes_by (const TsCurve *curve, const TsCurveSample *samples)
{
  g_autofree Place *place = sort_places (curve, samples);
  double far = fmax (FAR_TOGETHER, FAR_TOGETHER_TIMES * curve->noise), last = 0.0;

  for (gsize i = 0; i < curve->n_samples; i++)
    {
      gsize at = place[i].index;
      double off = curve->outlier[at] ? 0.0 : curve->residual[at];

      if (fabs (off) > far && fabs (last) > far && (off > 0.0) == (last > 0.0))
        return TRUE;
      last = off;
    }
  return FALSE;
}

void
ts_curve_name_outliers (TsCurve *curve, const TsCurveEnsemble *ensemble, const TsCurveData *data,
                        const TsCurveSample *samples)
{
  double factor = ts_curve_ensemble_factor (ensemble), squares = 0.0, misfit = 0.0;
  guint count = 0;

  for (gsize i = 0; i < data->n; i++)
    {
      double sigma = sqrt (factor * data->variance[i]);
      double share = ts_curve_ensemble_share (ensemble, i);

      curve->residual[i] = samples[i].lab.L - ts_curve_get_lightness (curve, samples[i].position);
      curve->outlier[i] =
        data->robust && share < 0.5 && fabs (curve->residual[i]) > FAR * sigma &&
        ts_curve_model_belief (&ensemble->shaped[0], data, i, curve->residual[i]) < 0.5;
      if (!curve->outlier[i])
        misfit += curve->residual[i] * curve->residual[i];
      squares += data->variance[i];
      count += curve->outlier[i];
    }
  curve->noise = sqrt (factor * squares / data->n);
  curve->sound =
    !ensemble->reversed && curve->noise <= MOST_NOISE && count <= MOST_OUTLIERS * data->n &&
    misfit <= MOST_MISFIT * MOST_MISFIT * data->n && !passes_by (curve, samples) &&
    (!data->stated || factor <= MOST_FACTOR * MOST_FACTOR || curve->noise <= LEAST_NOISE);
}

static double
hue_distance (const TsCurve *curve, const TsCurveSample *sample)
{
  TsLab lab = ts_curve_get_colour (curve, sample->position);

  return hypot (sample->lab.a - lab.a, sample->lab.b - lab.b);
}

static double
find_hue_limit (const TsCurve *curve, const TsCurveSample *samples)
{
  double squares = 0.0;
  gsize count = 0;

  for (gsize i = 0; i < curve->n_samples; i++)
    if (!curve->outlier[i])
      {
        squares += pow (hue_distance (curve, &samples[i]), 2.0);
        count++;
      }
  return fmax (OTHER_HUE, OTHER_HUE_TIMES * sqrt (squares / MAX (count, 1)));
}

/* A glint adds the colour of the lamp, which after the correction is none: what is lighter may move
 * towards grey, by any amount. */
static gboolean
is_towards_grey (const TsCurve *curve, const TsCurveSample *sample, double limit)
{
  TsLab lab = ts_curve_get_colour (curve, sample->position);
  double square = lab.a * lab.a + lab.b * lab.b;
  double share = square > 0.0 ? (sample->lab.a * lab.a + sample->lab.b * lab.b) / square : 0.0;

  share = CLAMP (share, 0.0, 1.0);
  return hypot (sample->lab.a - share * lab.a, sample->lab.b - share * lab.b) <= limit;
}

static TsOutlierReason
explain (const TsCurve *curve, const TsCurveSample *sample, double residual, gboolean alone,
         double limit)
{
  if (residual > 0.0)
    return is_towards_grey (curve, sample, limit) ? TS_OUTLIER_GLINT : TS_OUTLIER_SURFACE;
  return alone && hue_distance (curve, sample) <= limit ? TS_OUTLIER_DIRT : TS_OUTLIER_SURFACE;
}

static gboolean
is_like (const TsCurve *curve, gsize one, gsize other)
{
  return curve->outlier[other] && (curve->residual[one] > 0.0) == (curve->residual[other] > 0.0);
}

void
ts_curve_explain_outliers (TsCurve *curve, const TsCurveSample *samples)
{
  g_autofree Place *place = sort_places (curve, samples);
  double limit = find_hue_limit (curve, samples);

  for (gsize i = 0; i < curve->n_samples; i++)
    {
      gsize at = place[i].index;
      gboolean alone = !(i > 0 && is_like (curve, at, place[i - 1].index)) &&
                       !(i + 1 < curve->n_samples && is_like (curve, at, place[i + 1].index));

      if (curve->outlier[at])
        curve->reason[at] = explain (curve, &samples[at], curve->residual[at], alone, limit);
    }
}

/**
 * ts_curve_sample_is_outlier:
 * @self: a curve
 * @index: a sample, in the order they were given
 *
 * Returns: %TRUE where the sample does not belong to the curve and was left out of it
 */
gboolean
ts_curve_sample_is_outlier (const TsCurve *self, gsize index)
{
  g_return_val_if_fail (index < self->n_samples, FALSE);

  return self->outlier[index];
}

/**
 * ts_curve_get_outlier_reason:
 * @self: a curve
 * @index: a sample, in the order they were given
 * @clipped_share: of the sample's pixels that are clipped, 0 to 1; 0 where it is not known
 *
 * The likely reason: clipped pixels; else what is lighter is a glint while its hue stays or fades
 * to grey; what is darker is dirt while it is alone and keeps its hue; all else is another surface
 * (common practice, no source).
 *
 * Returns: why it was left out, %TS_OUTLIER_NONE where it was not
 */
TsOutlierReason
ts_curve_get_outlier_reason (const TsCurve *self, gsize index, double clipped_share)
{
  g_return_val_if_fail (index < self->n_samples, TS_OUTLIER_NONE);

  if (self->outlier[index] && clipped_share > CLIPPED_SHARE)
    return TS_OUTLIER_CLIPPED;
  return self->reason[index];
}

/**
 * ts_curve_get_residual:
 * @self: a curve
 * @index: a sample, in the order they were given
 *
 * Returns: L* of the sample less that of the curve
 */
double
ts_curve_get_residual (const TsCurve *self, gsize index)
{
  g_return_val_if_fail (index < self->n_samples, 0.0);

  return self->residual[index];
}
