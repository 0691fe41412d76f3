/* ts-curve-places.c: where on the run a curve has what
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-private.h"

#include "curve/ts-curve-basis.h"

#include <stdlib.h>

/* Halvings after which a place is known to the last bit. */
#define HALVINGS 52
/* Places that look equally dark, L*; chosen on simulated curves. */
#define ALIKE 0.1

/**
 * ts_curve_get_highlight:
 * @self: a curve
 * @low: (out) (nullable): lit edge of the 95 % range of that place
 * @high: (out) (nullable): its shadow edge
 *
 * On a surface that falls this is the lit end, and the range says how far from it the light holds;
 * a polished one has its highlight anywhere.
 *
 * Returns: the place where the curve is lightest
 */
double
ts_curve_get_highlight (const TsCurve *self, double *low, double *high)
{
  if (low != NULL)
    *low = self->highlight.low;
  if (high != NULL)
    *high = self->highlight.high;
  return self->highlight.value;
}

/**
 * ts_curve_get_core_shadow:
 * @self: a curve
 * @low: (out) (nullable): lit edge of the 95 % range of that place
 * @high: (out) (nullable): its shadow edge
 *
 * Where it is as dark over a stretch before a rise, within 0.1 L*, the shadow end of that stretch.
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
  double from = self->highlight.value, to = self->core.value;
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
  if (!(lightness < ts_curve_get_lightness (self, self->highlight.value)))
    return self->highlight.value;
  if (!(lightness > ts_curve_get_lightness (self, self->core.value)))
    return self->core.value;
  return find_first_below (self, lightness);
}

/* Where the curve passes through @lightness, in the order of the run. */
static guint
find_crossings (const TsCurve *self, double lightness, double *places)
{
  gboolean before = ts_curve_get_lightness (self, 0.0) > lightness;
  guint count = 0;

  for (guint i = 1; i <= TS_CURVE_BAND_SEGMENTS && count < TS_CURVE_MAX_PLACES; i++)
    {
      double left = (i - 1.0) / TS_CURVE_BAND_SEGMENTS, right = (double) i / TS_CURVE_BAND_SEGMENTS;
      gboolean now = ts_curve_get_lightness (self, right) > lightness;

      if (now == before)
        continue;
      for (guint round = 0; round < HALVINGS; round++)
        {
          double middle = 0.5 * (left + right);

          if ((ts_curve_get_lightness (self, middle) > lightness) == before)
            left = middle;
          else
            right = middle;
        }
      places[count++] = right;
      before = now;
    }
  return count;
}

/**
 * ts_curve_find_places:
 * @self: a curve
 * @lightness: L*
 * @places: (out) (array fixed-size=TS_CURVE_MAX_PLACES): filled in the order of the run
 *
 * Every place with that lightness: one on a surface that falls, one more where it rises again, and
 * several on a polished one. Beyond the lightest or darkest of the curve, that place alone.
 *
 * Returns: how many there are, at least 1
 */
guint
ts_curve_find_places (const TsCurve *self, double lightness, double *places)
{
  guint count = 0;

  if (lightness < ts_curve_get_lightness (self, self->highlight.value) &&
      lightness > ts_curve_get_lightness (self, self->core.value))
    count = find_crossings (self, lightness, places);
  if (count == 0)
    {
      places[0] = ts_curve_find_lightness (self, lightness);
      count = 1;
    }
  return count;
}

static int
compare_places (const void *one, const void *other)
{
  double a = *(const double *) one, b = *(const double *) other;

  return (a > b) - (a < b);
}

/**
 * ts_curve_find_stretches:
 * @self: a curve
 * @dark: L*, or -infinity
 * @light: L*, not less than @dark, or infinity
 * @stretches: (out) (array fixed-size=TS_CURVE_MAX_STRETCHES): filled in the order of the run
 *
 * Every stretch of the run where the curve is from @dark to @light.
 *
 * Returns: how many there are
 */
guint
ts_curve_find_stretches (const TsCurve *self, double dark, double light, TsCurveStretch *stretches)
{
  double edge[2 * TS_CURVE_MAX_PLACES + 2] = { 0.0, 1.0 };
  guint n = 2, count = 0;
  gboolean inside = FALSE;

  n += find_crossings (self, dark, edge + n);
  n += find_crossings (self, light, edge + n);
  qsort (edge, n, sizeof *edge, compare_places);
  for (guint i = 0; i + 1 < n; i++)
    {
      double L = ts_curve_get_lightness (self, 0.5 * (edge[i] + edge[i + 1]));
      gboolean before = inside;

      inside = L >= dark && L <= light;
      if (inside && before)
        stretches[count - 1].to = edge[i + 1];
      else if (inside)
        stretches[count++] = (TsCurveStretch){ edge[i], edge[i + 1] };
    }
  return count;
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

/* Light that is reflected begins at once where the shadow turns to it, while the fall fades: a
 * smooth curve has its lowest point too far towards the light. */
static double
find_shadow_end (const TsCurve *self, double darkest)
{
  double limit = ts_curve_get_lightness (self, darkest) + ALIKE, next;

  while ((next = darkest + 1.0 / TS_CURVE_BAND_SEGMENTS) < 1.0 &&
         ts_curve_get_lightness (self, next) < limit)
    darkest = next;
  return darkest;
}

void
ts_curve_find_ends (TsCurve *self)
{
  self->highlight.value = self->shape == TS_CURVE_FREE ? find_extreme (self, -1.0) : 0.0;
  self->core.value = self->shape == TS_CURVE_FALLING ? 1.0 : find_extreme (self, 1.0);
  if (self->shape == TS_CURVE_FALLING_THEN_RISING)
    self->core.value = find_shadow_end (self, self->core.value);
}
