/* ts-surface-under.c: a stair under other lights, and to other eyes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-surface-under.h"

#include <math.h>

#include "checks/ts-visibility.h"
#include "colour/ts-colour-vision.h"

static gboolean
is_light (TsUnder under)
{
  return under == TS_UNDER_LED || under == TS_UNDER_A;
}

static gboolean
get_spectrum (const TsSurfaceResult *self, guint step, TsSpectrum *spectrum)
{
  const TsRecipe *recipe = ts_surface_result_get_recipe (self, step);

  if (recipe == NULL)
    return ts_spectrum_from_lab (ts_surface_result_get_colour (self, step), spectrum, NULL);
  ts_recipe_get_spectrum (ts_surface_result_get_paints (self), recipe, spectrum);
  return TRUE;
}

static TsLab
lit_by (const TsSurfaceResult *self, guint step, TsLight light)
{
  TsSpectrum spectrum;

  if (!get_spectrum (self, step, &spectrum))
    return ts_surface_result_get_colour (self, step);
  return ts_spectrum_to_lab (&spectrum, light);
}

static TsVision
vision_of (TsUnder under)
{
  return (TsVision) (TS_VISION_PROTAN + (under - TS_UNDER_PROTAN));
}

/* What Vienot (1999) covers is taken from there, the rest from Machado (2009). */
static TsMat3
get_matrix (TsUnder under)
{
  TsMat3 matrix;

  if (!ts_vision_get_vienot (vision_of (under), &matrix))
    matrix = ts_vision_get_machado (vision_of (under), 1.0);
  return matrix;
}

/**
 * ts_surface_result_get_colour_under:
 * @self: a result
 * @step: which step, from 0
 * @under: another light, or another eye
 *
 * Under a light the eye is taken to be adapted to it: the colour is relative to its white.
 *
 * Returns: the mixed colour there, or the wanted one before the first search
 */
TsLab
ts_surface_result_get_colour_under (const TsSurfaceResult *self, guint step, TsUnder under)
{
  TsMat3 matrix;

  if (is_light (under))
    return lit_by (self, step, under == TS_UNDER_LED ? TS_LIGHT_LED_B1 : TS_LIGHT_A);
  matrix = get_matrix (under);
  return ts_vision_apply (&matrix, ts_surface_result_get_colour (self, step));
}

static TsContrast
check (const TsSurfaceResult *self, guint step, TsLab lit, TsLab shadow)
{
  TsContrastSettings settings = ts_surface_result_get_settings (self);

  return ts_contrast_check (lit, shadow, ts_surface_result_get_contrast (self, step).error,
                            &settings);
}

/* Machado (2009) as the second opinion on what Vienot (1999) covers: the nearer two tones count. */
static TsContrast
check_eye (const TsSurfaceResult *self, guint step, TsUnder under)
{
  TsMat3 first = get_matrix (under), second = ts_vision_get_machado (vision_of (under), 1.0);
  TsLab lit = ts_surface_result_get_colour (self, step);
  TsLab shadow = ts_surface_result_get_colour (self, step + 1);
  TsContrast one =
    check (self, step, ts_vision_apply (&first, lit), ts_vision_apply (&first, shadow));
  TsContrast other =
    check (self, step, ts_vision_apply (&second, lit), ts_vision_apply (&second, shadow));

  return other.delta_L < one.delta_L ? other : one;
}

/**
 * ts_surface_result_get_contrast_under:
 * @self: a result
 * @step: the lit one of two neighbours
 * @under: another light, or another eye
 *
 * Returns: the check between @step and the next, as ts_surface_result_get_contrast() gives it under
 *   daylight
 */
TsContrast
ts_surface_result_get_contrast_under (const TsSurfaceResult *self, guint step, TsUnder under)
{
  if (!is_light (under))
    return check_eye (self, step, under);
  return check (self, step, ts_surface_result_get_colour_under (self, step, under),
                ts_surface_result_get_colour_under (self, step + 1, under));
}

/**
 * ts_surface_result_count_lost:
 * @self: a result
 * @under: another light, or another eye
 *
 * Returns: how many neighbours that do not merge under daylight do so there
 */
guint
ts_surface_result_count_lost (const TsSurfaceResult *self, TsUnder under)
{
  guint n = 0;

  for (guint i = 0; i + 1 < ts_surface_result_get_n_steps (self); i++)
    if (ts_surface_result_get_contrast (self, i).verdict != TS_VERDICT_TOO_CLOSE &&
        ts_surface_result_get_contrast_under (self, i, under).verdict == TS_VERDICT_TOO_CLOSE)
      n++;
  return n;
}

/**
 * ts_surface_result_get_least_band:
 * @self: a result
 *
 * Neighbours that are the same are not counted: no band keeps them apart.
 *
 * Returns: the width of bands on the figure, in mm, under which some neighbours of the stair cannot
 *   be told apart from where it is looked at
 */
double
ts_surface_result_get_least_band (const TsSurfaceResult *self)
{
  TsContrastSettings settings = ts_surface_result_get_settings (self);
  double least = 0.0;

  for (guint i = 0; i + 1 < ts_surface_result_get_n_steps (self); i++)
    {
      double lit = ts_surface_result_get_colour (self, i).L;
      double shadow = ts_surface_result_get_colour (self, i + 1).L;

      if (lit - shadow >= settings.least_step)
        least = fmax (
          least, ts_visibility_get_least_band (lit, shadow, settings.distance, settings.luminance));
    }
  return least;
}
