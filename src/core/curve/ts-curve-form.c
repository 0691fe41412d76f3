/* ts-curve-form.c: steps and bends, the common ways in which light falls off
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-form.h"

#include <math.h>

/* Half the widths of the steps, in runs: from the edge of a facet to a ball. */
static const double halves[] = { 0.0, 0.06, 0.12, 0.2, 0.32, 0.5 };

/* Steps lie so many of their half widths apart. */
#define STRIDE 0.4
/* How much less likely a step of one width is than a curve without a form, as evidence: twice a
 * logarithm. Chosen on simulated curves, with the widths. */
#define STEP_HANDICAP 3.0

/* Share of the fall: on a rounded surface the light that is caught goes with a cosine (Lambert), so
 * that the fall begins and ends gently. */
static double
get_step (double place, double half)
{
  if (place >= half)
    return 1.0;
  return place <= -half ? 0.0 : 0.5 + 0.5 * sin (0.5 * G_PI * place / half);
}

/* Where coefficient @i of a spline counts most. */
static double
get_place (guint i, guint segments)
{
  return (i - 1.0) / segments;
}

static guint
fill_steps (TsCurveForm *forms, guint segments, double half)
{
  guint count = (guint) floor (1.0 / fmax (1.0 / segments, STRIDE * half));

  for (guint k = 0; k < count; k++)
    {
      double middle = (k + 0.5) / count;

      for (guint i = 0; i < segments + 3; i++)
        forms[k].coefficients[i] = get_step (get_place (i, segments) - middle, half);
      forms[k].handicap = 2.0 * log (count) + STEP_HANDICAP;
    }
  return count;
}

/* Level up to a place and straight from there on: where a lit plateau ends, or a rise begins. */
static guint
fill_bends (TsCurveForm *forms, guint segments)
{
  guint count = segments - 1;

  for (guint k = 0; k < count; k++)
    {
      double bend = (k + 1.0) / segments;

      for (guint i = 0; i < segments + 3; i++)
        forms[k].coefficients[i] =
          fmax (get_place (i, segments) - bend, 0.0) / fmax (bend, 1.0 - bend);
      forms[k].handicap = 2.0 * log (count);
    }
  return count;
}

/**
 * ts_curve_forms_fill:
 * @forms: (out) (array fixed-size=TS_FORMS_MOST): forms of height 1
 * @segments: of the spline
 *
 * Steps of many widths, sharp ones among them, and bends, each at every place.
 *
 * Returns: how many there are
 */
guint
ts_curve_forms_fill (TsCurveForm *forms, guint segments)
{
  guint count = 0;

  for (guint i = 0; i < G_N_ELEMENTS (halves); i++)
    /* Narrower than that, a spline cannot tell it from a sharp one. */
    if (i == 0 || halves[i] * segments >= 0.75)
      count += fill_steps (forms + count, segments, halves[i]);
  count += fill_bends (forms + count, segments);
  g_assert (count <= TS_FORMS_MOST);
  return count;
}
