/* ts-stair.c: the tones to be painted, cut from a lightness curve
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "steps/ts-stair-spacing.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"

#include <math.h>

/* The steps of a stair that nobody has set yet (common practice, no source). */
#define DEFAULT_STEPS 7
/* L*: what rounding in a file may change, and no eye sees */
#define AS_NEAR 0.02

struct _TsStair
{
  guint n_steps, base, core;
  gboolean core_in_stair;
  TsStep step[TS_STAIR_MAX_STEPS];
  TsStairSettings settings;
  TsStairLift lift;

  /* Owned. */
  TsCurve *curve;
};

/**
 * ts_stair_settings_init:
 * @settings: (out): to be filled
 *
 * Seven steps of equal lightness, as the photo has them.
 */
void
ts_stair_settings_init (TsStairSettings *settings)
{
  *settings = (TsStairSettings){ .n_steps = DEFAULT_STEPS, .spacing = TS_SPACING_LIGHTNESS };
}

static gboolean
refuse (GError **error, const char *what, double number, const char *mend)
{
  g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE, _ ("%s is %g; %s"), what, number, mend);
  return FALSE;
}

static gboolean
check_by_hand (const TsStairSettings *settings, GError **error)
{
  for (guint i = 0; i < settings->n_steps; i++)
    {
      if (!(settings->position[i] >= 0.0 && settings->position[i] <= 1.0))
        return refuse (error, _ ("the place of a step on its run"), settings->position[i],
                       _ ("it must be 0 to 1"));
      if (!(fabs (settings->shift[i]) <= 100.0))
        return refuse (error, _ ("the shift of a step's lightness"), settings->shift[i],
                       _ ("it must be -100 to 100"));
    }
  return TRUE;
}

/* @says and @amount_says: the messages for that end, with places for the numbers. */
static gboolean
check_colour (const char *says, const char *amount_says, TsLab lab, double amount, GError **error)
{
  if (!(lab.L >= 0.0 && lab.L <= 100.0 && fabs (lab.a) <= 150.0 && fabs (lab.b) <= 150.0))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE, says, lab.L, lab.a, lab.b);
      return FALSE;
    }
  if (!(amount >= 0.0 && amount <= 1.0))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE, amount_says, amount);
      return FALSE;
    }
  return TRUE;
}

static gboolean
check_settings (const TsStairSettings *settings, GError **error)
{
  if (settings->n_steps < 2 || settings->n_steps > TS_STAIR_MAX_STEPS)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("the number of steps is %u; it must be 2 to %d"), settings->n_steps,
                   TS_STAIR_MAX_STEPS);
      return FALSE;
    }
  if (settings->spacing == TS_SPACING_BY_HAND && !check_by_hand (settings, error))
    return FALSE;
  if (settings->has_light &&
      !check_colour (
        _ ("the colour of the light is %g, %g, %g; L* must be 0 to 100, a* and b* -150 to 150"),
        _ ("the amount of the colour of the light is %g; it must be 0 to 1"), settings->light,
        settings->light_amount, error))
    return FALSE;
  if (settings->has_shadow &&
      !check_colour (
        _ ("the colour of the shadow is %g, %g, %g; L* must be 0 to 100, a* and b* -150 to 150"),
        _ ("the amount of the colour of the shadow is %g; it must be 0 to 1"), settings->shadow,
        settings->shadow_amount, error))
    return FALSE;
  if (settings->has_range && !(settings->range_dark >= 0.0 && settings->range_light <= 100.0))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("the wanted lightness is %g to %g; both must be 0 to 100"),
                   settings->range_light, settings->range_dark);
      return FALSE;
    }
  if (settings->base > settings->n_steps)
    return refuse (error, _ ("the number of the base step"), settings->base,
                   _ ("it must not be more than there are steps"));
  return TRUE;
}

/* Both ends, which the range or the colours of light and shadow set. */
static gboolean
check_ends (const TsStairLift *lift, GError **error)
{
  if (lift->light >= lift->dark)
    return TRUE;
  g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
               _ ("the light end of the stair would be L* %.0f, darker than its dark end at L* "
                  "%.0f; ask for a lighter light or a darker shadow"),
               lift->light, lift->dark);
  return FALSE;
}

/* The step whose photo is nearest to @L, the lighter of two that are as near; none of the ends
 * where there are others. */
static guint
find_inner_step (const TsStair *self, double L)
{
  guint nearest = 0;
  double least = G_MAXDOUBLE;

  for (guint i = 0; i < self->n_steps; i++)
    {
      double far = fabs (self->step[i].photo.L - L);

      if (self->n_steps > 2 && (i == 0 || i + 1 == self->n_steps))
        continue;
      if (far < least - AS_NEAR)
        {
          least = far;
          nearest = i;
        }
    }
  return nearest;
}

static guint
find_core_step (const TsStair *self, double core)
{
  guint nearest = 0;

  for (guint i = 1; i < self->n_steps; i++)
    if (fabs (self->step[i].position - core) <= fabs (self->step[nearest].position - core))
      nearest = i;
  return nearest;
}

/* The halftone is taken to be the tone halfway from the lightest to the darkest (common practice,
 * no source). */
static void
name_steps (TsStair *self, const TsStairLift *lift)
{
  self->base = lift->settings->base > 0
                 ? lift->settings->base - 1
                 : find_inner_step (self, 0.5 * (lift->photo_top + lift->photo_core));
  self->core = find_core_step (self, lift->core);
  self->core_in_stair = ts_curve_get_shape (lift->curve) == TS_CURVE_FALLING_THEN_RISING ||
                        self->core + 1 < self->n_steps;
}

/* Steps that the painter moved past a neighbour stop there: a stair never rises. */
static void
fill_steps (TsStair *self, const TsStairLift *lift, const double *positions)
{
  double most = 100.0;

  for (guint i = 0; i < self->n_steps; i++)
    {
      TsStep *step = &self->step[i];

      step->position = positions[i];
      step->photo = ts_curve_get_colour (lift->curve, positions[i]);
      step->wanted = ts_stair_lift_at (lift, positions[i]);
      if (lift->settings->spacing == TS_SPACING_BY_HAND)
        step->wanted.L += lift->settings->shift[i];
      step->wanted.L = CLAMP (step->wanted.L, 0.0, most);
      most = step->wanted.L;
    }
}

/**
 * ts_stair_new:
 * @curve: a lightness curve
 * @settings: the painter's wishes
 * @error: return location for an error, or %NULL
 *
 * Cuts the fall of @curve, from its lightest place to its darkest, into steps. Steps of equal
 * CIEDE2000 are equal in the wanted colours. The whole of the fall is lifted to the wanted range,
 * so that moving one step by hand leaves the others alone.
 *
 * Returns: (transfer full) (nullable): the stair, or %NULL with %TS_ERROR_BAD_VALUE set
 */
TsStair *
ts_stair_new (const TsCurve *curve, const TsStairSettings *settings, GError **error)
{
  TsStair *self;
  TsStairLift lift;
  double positions[TS_STAIR_MAX_STEPS];

  g_return_val_if_fail (curve != NULL && settings != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!check_settings (settings, error))
    return NULL;
  ts_stair_lift_init (&lift, curve, settings);
  if (!check_ends (&lift, error))
    return NULL;
  ts_stair_space (&lift, positions);
  self = g_atomic_rc_box_new0 (TsStair);
  self->n_steps = settings->n_steps;
  self->curve = g_atomic_rc_box_acquire ((gpointer) curve);
  self->settings = *settings;
  ts_stair_lift_init (&self->lift, self->curve, &self->settings);
  fill_steps (self, &lift, positions);
  name_steps (self, &lift);
  return self;
}

static void
clear_stair (gpointer data)
{
  TsStair *self = data;

  ts_curve_unref (self->curve);
}

/**
 * ts_stair_ref:
 * @self: a stair
 *
 * Returns: (transfer full): @self, held once more
 */
TsStair *
ts_stair_ref (TsStair *self)
{
  return g_atomic_rc_box_acquire (self);
}

/**
 * ts_stair_unref:
 * @self: (transfer full): a stair
 *
 * Lets go of @self.
 */
void
ts_stair_unref (TsStair *self)
{
  g_atomic_rc_box_release_full (self, clear_stair);
}

/**
 * ts_stair_get_n_steps:
 * @self: a stair
 *
 * Returns: 2 to TS_STAIR_MAX_STEPS
 */
guint
ts_stair_get_n_steps (const TsStair *self)
{
  return self->n_steps;
}

/**
 * ts_stair_get_step:
 * @self: a stair
 * @index: a step, 0 = lightest
 *
 * Returns: (transfer none): the step
 */
const TsStep *
ts_stair_get_step (const TsStair *self, guint index)
{
  g_return_val_if_fail (index < self->n_steps, NULL);

  return &self->step[index];
}

/**
 * ts_stair_find_places:
 * @self: a stair
 * @index: a step, 0 = lightest
 * @places: (out) (array fixed-size=TS_CURVE_MAX_PLACES): filled in the order of the run
 *
 * Returns: how many places on the run have the lightness that the photo has at the step, at least 1
 */
guint
ts_stair_find_places (const TsStair *self, guint index, double *places)
{
  g_return_val_if_fail (index < self->n_steps, 0);

  return ts_curve_find_places (self->curve, self->step[index].photo.L, places);
}

/**
 * ts_stair_find_stretches:
 * @self: a stair
 * @index: a step, 0 = lightest
 * @stretches: (out) (array fixed-size=TS_CURVE_MAX_STRETCHES): filled in the order of the run
 *
 * The stretches of all steps cover the run once, where no step was moved past a neighbour.
 *
 * Returns: on how many stretches of the run the photo is nearer to the lightness of this step than
 * to that of the steps beside it
 */
guint
ts_stair_find_stretches (const TsStair *self, guint index, TsCurveStretch *stretches)
{
  const TsStep *step = self->step;
  double light = G_MAXDOUBLE, dark = -G_MAXDOUBLE;

  g_return_val_if_fail (index < self->n_steps, 0);

  if (index > 0)
    light = 0.5 * (step[index - 1].photo.L + step[index].photo.L);
  if (index + 1 < self->n_steps)
    dark = 0.5 * (step[index].photo.L + step[index + 1].photo.L);
  return dark <= light ? ts_curve_find_stretches (self->curve, dark, light, stretches) : 0;
}

/**
 * ts_stair_get_wanted:
 * @self: a stair
 * @position: on the run, 0 to 1
 *
 * Returns: what the lift and the colours of light and shadow make of the photo there, without the
 * shift of any step
 */
TsLab
ts_stair_get_wanted (const TsStair *self, double position)
{
  return ts_stair_lift_at (&self->lift, position);
}

/**
 * ts_stair_get_role:
 * @self: a stair
 * @index: a step, 0 = lightest
 *
 * Returns: (nullable): "highlight", "base", "core shadow" or "deepest", untranslated, or %NULL
 */
const char *
ts_stair_get_role (const TsStair *self, guint index)
{
  g_return_val_if_fail (index < self->n_steps, NULL);

  if (index == self->base)
    return "base";
  if (index == 0)
    return "highlight";
  if (index == self->core && self->core_in_stair)
    return "core shadow";
  return index + 1 == self->n_steps ? "deepest" : NULL;
}
