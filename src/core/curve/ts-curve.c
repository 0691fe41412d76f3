/* ts-curve.c: how lightness falls along a surface, from lit to shadow
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-private.h"

#include "curve/ts-curve-basis.h"

/* Halvings after which a place is known to the last bit. */
#define HALVINGS 52

TsCurve *
ts_curve_new (gsize n_samples)
{
  TsCurve *self = g_atomic_rc_box_new0 (TsCurve);

  self->n_samples = n_samples;
  self->residual = g_new0 (double, n_samples);
  self->outlier = g_new0 (gboolean, n_samples);
  return self;
}

static void
clear_curve (gpointer data)
{
  TsCurve *self = data;

  g_free (self->residual);
  g_free (self->outlier);
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
 * ts_curve_get_core_shadow:
 * @self: a curve
 * @low: (out) (nullable): lit edge of the 95 % range of that place
 * @high: (out) (nullable): its shadow edge
 *
 * Returns: the place where the curve is darkest
 */
double
ts_curve_get_core_shadow (const TsCurve *self, double *low, double *high)
{
  if (low != NULL)
    *low = self->core.low;
  if (high != NULL)
    *high = self->core.high;
  return self->core.value;
}

/**
 * ts_curve_get_terminator:
 * @self: a curve
 * @position: (out) (nullable): the middle of the steepest stretch
 * @low: (out) (nullable): lit edge of the 95 % range of that place
 * @high: (out) (nullable): its shadow edge
 *
 * Returns: %FALSE, and nothing is set, where the fall is too even to have a steepest stretch
 */
gboolean
ts_curve_get_terminator (const TsCurve *self, double *position, double *low, double *high)
{
  if (!self->has_terminator)
    return FALSE;
  if (position != NULL)
    *position = self->terminator.value;
  if (low != NULL)
    *low = self->terminator.low;
  if (high != NULL)
    *high = self->terminator.high;
  return TRUE;
}

/* Place between @from and @to of the band's grid where the curve first is @lightness or less, going
 * from @top towards @core, which may lie on either side. */
static double
find_first_below (const TsCurve *self, double lightness)
{
  double from = self->top, to = self->core.value;
  double above = from, below = to;

  for (guint i = 1; i < TS_CURVE_BAND_SEGMENTS; i++)
    {
      double place = from + (to - from) * i / TS_CURVE_BAND_SEGMENTS;

      if (ts_curve_get_lightness (self, place) <= lightness)
        {
          below = place;
          break;
        }
      above = place;
    }
  for (guint i = 0; i < HALVINGS; i++)
    {
      double middle = 0.5 * (above + below);

      if (ts_curve_get_lightness (self, middle) > lightness)
        above = middle;
      else
        below = middle;
    }
  return below;
}

/**
 * ts_curve_find_lightness:
 * @self: a curve
 * @lightness: L*
 *
 * Looks from the lightest place towards the darkest one; on a surface these are the lit end and the
 * core shadow.
 *
 * Returns: the first place where the curve has fallen to @lightness, held at the ends of the fall
 */
double
ts_curve_find_lightness (const TsCurve *self, double lightness)
{
  if (!(lightness < ts_curve_get_lightness (self, self->top)))
    return self->top;
  if (!(lightness > ts_curve_get_lightness (self, self->core.value)))
    return self->core.value;
  return find_first_below (self, lightness);
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

/**
 * ts_curve_may_rise:
 * @self: a curve
 *
 * Returns: %TRUE where the spots hint at a rise after the core shadow, whether or not the shape has
 * one
 */
gboolean
ts_curve_may_rise (const TsCurve *self)
{
  return self->may_rise;
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

/* The extreme between the grid places around @place, where the slope changes its sign. */
static double
refine_extreme (const TsCurve *self, double place, double sign)
{
  double left = MAX (place - 1.0 / TS_CURVE_BAND_SEGMENTS, 0.0);
  double right = MIN (place + 1.0 / TS_CURVE_BAND_SEGMENTS, 1.0);

  for (guint i = 0; i < HALVINGS; i++)
    {
      double middle = 0.5 * (left + right);
      TsBasis slope = ts_basis_slope (self->segments, middle);

      if (sign * ts_basis_sum (&slope, self->L) < 0.0)
        left = middle;
      else
        right = middle;
    }
  return right;
}

/* Where @sign times the curve is least; the lit one of equal places. */
static double
find_extreme (const TsCurve *self, double sign)
{
  double best = 0.0, least = G_MAXDOUBLE;

  for (guint i = 0; i <= TS_CURVE_BAND_SEGMENTS; i++)
    {
      double place = (double) i / TS_CURVE_BAND_SEGMENTS;
      double value = sign * ts_curve_get_lightness (self, place);

      if (value < least)
        {
          least = value;
          best = place;
        }
    }
  if (best > 0.0 && best < 1.0)
    {
      double finer = refine_extreme (self, best, sign);

      if (sign * ts_curve_get_lightness (self, finer) < least)
        return finer;
    }
  return best;
}

void
ts_curve_find_ends (TsCurve *self)
{
  self->top = self->shape == TS_CURVE_FREE ? find_extreme (self, -1.0) : 0.0;
  self->core.value = self->shape == TS_CURVE_FALLING ? 1.0 : find_extreme (self, 1.0);
}
