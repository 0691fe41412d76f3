/* ts-stair-lift.c: from the photo's colours to the wanted ones
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "steps/ts-stair-lift.h"

/* A surface whose lightness varies less than this is even, L*. */
#define EVEN 1e-3

static double
between (double one, double other, double share)
{
  return one + share * (other - one);
}

/* 1 at the end of the stair, 0 from its middle on, smooth in between; @far is 0 at that end. */
static double
share_of_end (double far)
{
  double near = CLAMP (1.0 - 2.0 * far, 0.0, 1.0);

  return near * near * (3.0 - 2.0 * near);
}

/**
 * ts_stair_lift_init:
 * @self: to be filled
 * @curve: a curve that outlives @self
 * @settings: the painter's wishes, checked; they outlive @self
 *
 * The ends of the fall go to the wanted range where there is one, else they follow the colours of
 * the light and of the shadow.
 */
void
ts_stair_lift_init (TsStairLift *self, const TsCurve *curve, const TsStairSettings *settings)
{
  self->curve = curve;
  self->settings = settings;
  self->core = ts_curve_get_core_shadow (curve, NULL, NULL);
  self->top = ts_curve_find_lightness (curve, G_MAXDOUBLE);
  self->photo_top = ts_curve_get_lightness (curve, self->top);
  self->photo_core = ts_curve_get_lightness (curve, self->core);
  self->even = !(self->photo_top - self->photo_core > EVEN);
  self->mixed_top = self->photo_top;
  self->mixed_core = self->photo_core;
  if (settings->has_light)
    self->mixed_top = between (self->photo_top, settings->light.L, settings->light_amount);
  if (settings->has_shadow)
    self->mixed_core = between (self->photo_core, settings->shadow.L, settings->shadow_amount);
  self->light = settings->has_range ? settings->range_light : self->mixed_top;
  self->dark = settings->has_range ? settings->range_dark : self->mixed_core;
}

/* How far down the fall: 0 at its light end, 1 at its dark one. */
static double
get_depth (const TsStairLift *self, double position, double L)
{
  if (!self->even)
    return CLAMP ((self->photo_top - L) / (self->photo_top - self->photo_core), 0.0, 1.0);
  return self->core != self->top
           ? CLAMP ((position - self->top) / (self->core - self->top), 0.0, 1.0)
           : 0.0;
}

/**
 * ts_stair_lift_at:
 * @self: a lift
 * @position: on the run, 0 to 1
 *
 * Lightness is stretched evenly, so that equal steps stay equal. The colours of light and shadow
 * come in smoothly from the middle of the fall towards its ends. What the wanted range darkens
 * loses chroma with it, as a surface does in less light: XYZ shrink together, and with them a* and
 * b* as L* + 16 does (ISO/CIE 11664-4). What it lightens keeps its chroma, since paints have no
 * more.
 *
 * Returns: the wanted colour there
 */
TsLab
ts_stair_lift_at (const TsStairLift *self, double position)
{
  const TsStairSettings *settings = self->settings;
  TsLab lab = ts_curve_get_colour (self->curve, position);
  double depth = get_depth (self, position, lab.L);
  double light = settings->has_light ? settings->light_amount * share_of_end (depth) : 0.0;
  double shadow = settings->has_shadow ? settings->shadow_amount * share_of_end (1.0 - depth) : 0.0;
  double mixed = between (self->mixed_top, self->mixed_core, depth);

  lab.L = between (self->light, self->dark, depth);
  lab.a = between (between (lab.a, settings->light.a, light), settings->shadow.a, shadow);
  lab.b = between (between (lab.b, settings->light.b, light), settings->shadow.b, shadow);
  if (lab.L < mixed)
    {
      double less = (lab.L + 16.0) / (mixed + 16.0);

      lab.a *= less;
      lab.b *= less;
    }
  return lab;
}
