/* ts-curve.c: how lightness falls along a surface, from lit to shadow
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-private.h"

#include "curve/ts-curve-basis.h"

TsCurve *
ts_curve_new (gsize n_samples)
{
  TsCurve *self = g_atomic_rc_box_new0 (TsCurve);

  self->n_samples = n_samples;
  self->sample = g_new0 (TsCurveSample, n_samples);
  self->residual = g_new0 (double, n_samples);
  self->outlier = g_new0 (gboolean, n_samples);
  self->reason = g_new0 (TsOutlierReason, n_samples);
  return self;
}

static void
clear_curve (gpointer data)
{
  TsCurve *self = data;

  g_free (self->sample);
  g_free (self->residual);
  g_free (self->outlier);
  g_free (self->reason);
}

/**
 * ts_curve_ref:
 * @self: a curve
 *
 * Returns: (transfer full): @self, held once more
 */
TsCurve *
ts_curve_ref (TsCurve *self)
{
  return g_atomic_rc_box_acquire (self);
}

/**
 * ts_curve_unref:
 * @self: (transfer full): a curve
 *
 * Lets go of @self.
 */
void
ts_curve_unref (TsCurve *self)
{
  g_atomic_rc_box_release_full (self, clear_curve);
}

/* Equal to the last bit, since they were checked to be numbers. */
static gboolean
is_same_sample (const TsCurveSample *one, const TsCurveSample *other)
{
  return one->position == other->position && one->lab.L == other->lab.L &&
         one->lab.a == other->lab.a && one->lab.b == other->lab.b &&
         one->standard_error == other->standard_error;
}

/**
 * ts_curve_is_of:
 * @self: a curve
 * @samples: (array length=n_samples): measured spots
 * @n_samples: how many
 * @rule: the shapes that are allowed
 *
 * Returns: %TRUE where @self was fitted to these samples in this order and by this rule, so that it
 * need not be fitted again
 */
gboolean
ts_curve_is_of (const TsCurve *self, const TsCurveSample *samples, gsize n_samples,
                TsCurveRule rule)
{
  if (self->rule != rule || self->n_samples != n_samples)
    return FALSE;
  for (gsize i = 0; i < n_samples; i++)
    if (!is_same_sample (&self->sample[i], &samples[i]))
      return FALSE;
  return TRUE;
}

/**
 * ts_curve_get_shape:
 * @self: a curve
 *
 * Returns: the shape that was chosen from what the rule allows
 */
TsCurveShape
ts_curve_get_shape (const TsCurve *self)
{
  return self->shape;
}

/**
 * ts_curve_get_lightness:
 * @self: a curve
 * @position: 0 = lit end, 1 = shadow end; held within them
 *
 * Returns: L* of the curve there
 */
double
ts_curve_get_lightness (const TsCurve *self, double position)
{
  TsBasis basis = ts_basis_at (self->segments, position);

  return ts_basis_sum (&basis, self->L);
}

/**
 * ts_curve_get_colour:
 * @self: a curve
 * @position: 0 = lit end, 1 = shadow end; held within them
 *
 * Returns: CIELAB of the curve there, D50
 */
TsLab
ts_curve_get_colour (const TsCurve *self, double position)
{
  TsBasis basis = ts_basis_at (self->segments, position);

  return (TsLab){ ts_basis_sum (&basis, self->L), ts_basis_sum (&basis, self->a),
                  ts_basis_sum (&basis, self->b) };
}

/**
 * ts_curve_get_band:
 * @self: a curve
 * @position: 0 = lit end, 1 = shadow end; held within them
 * @low: (out): lower edge, L*
 * @high: (out): upper edge, L*
 *
 * The band holds the true curve at a place in 95 of 100 runs.
 */
void
ts_curve_get_band (const TsCurve *self, double position, double *low, double *high)
{
  double place = position > 0.0 ? MIN (position, 1.0) * TS_CURVE_BAND_SEGMENTS : 0.0;
  guint i = MIN ((guint) place, TS_CURVE_BAND_SEGMENTS - 1);
  double share = place - i;

  *low = (1.0 - share) * self->low[i] + share * self->low[i + 1];
  *high = (1.0 - share) * self->high[i] + share * self->high[i + 1];
}

/**
 * ts_curve_get_error:
 * @self: a curve
 *
 * Returns: half the width of the band in the middle of the run, L*
 */
double
ts_curve_get_error (const TsCurve *self)
{
  double low, high;

  ts_curve_get_band (self, 0.5, &low, &high);
  return 0.5 * (high - low);
}

/**
 * ts_curve_get_n_samples:
 * @self: a curve
 *
 * Returns: the number of samples it was fitted to
 */
gsize
ts_curve_get_n_samples (const TsCurve *self)
{
  return self->n_samples;
}

/**
 * ts_curve_is_reversed:
 * @self: a curve
 *
 * Returns: %TRUE where the spots rise from the lit end to the shadow end; the run is then to be
 * drawn the other way round
 */
gboolean
ts_curve_is_reversed (const TsCurve *self)
{
  return self->reversed;
}

/**
 * ts_curve_seems_polished:
 * @self: a curve
 *
 * Returns: %TRUE where the spots go from light to dark and back more often than lit and shadow can,
 * as on polished metal or glass: the surface is then better fitted with %TS_CURVE_RULE_POLISHED.
 * Always %FALSE for a curve fitted so
 */
gboolean
ts_curve_seems_polished (const TsCurve *self)
{
  return self->seems_polished;
}

/**
 * ts_curve_get_noise:
 * @self: a curve
 *
 * Returns: the standard deviation of the spots about the curve, outliers left out, L*
 */
double
ts_curve_get_noise (const TsCurve *self)
{
  return self->noise;
}

/**
 * ts_curve_is_sound:
 * @self: a curve
 *
 * Returns: %FALSE where the spots do not follow one curve; a stair cut from it is not to be trusted
 */
gboolean
ts_curve_is_sound (const TsCurve *self)
{
  return self->sound;
}
