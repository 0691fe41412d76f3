/* ts-recipe-reach.c: how a colour that no mix reaches differs from the nearest one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-recipe-search.h"

#include <glib/gi18n.h>

#include "colour/ts-colour-convert.h"

#include <math.h>

/* A wanted chroma counts as the reason from this share of the lightness's: the nearest mix gives up
 * some of both, and it is the chroma that a further paint can mend. */
#define CHROMA_COUNTS 0.5

/**
 * ts_reach_of:
 * @wanted: the wanted colour, D50
 * @nearest: the nearest recipe, compared with it
 * @reach: CIEDE2000 within which a colour counts as reached
 *
 * The differences of lightness, chroma and hue are weighed as in CIE94, of which CIEDE2000 keeps
 * the weights of chroma and hue in the main.
 *
 * Returns: whether it is reached, or what is in the way
 */
TsReach
ts_reach_of (TsLab wanted, const TsRecipe *nearest, double reach)
{
  TsLch one = ts_lch_from_lab (wanted);
  TsLch other = ts_lch_from_lab (nearest->lab);
  double C = 0.5 * (one.C + other.C);
  double lightness = wanted.L - nearest->lab.L;
  double chroma = (one.C - other.C) / (1.0 + 0.045 * C);
  double angle = (one.h - other.h) * (G_PI / 360.0);
  double hue = fabs (2.0 * sqrt (one.C * other.C) * sin (angle)) / (1.0 + 0.015 * C);

  if (nearest->delta_e <= reach)
    return TS_REACH_WITHIN;
  if (chroma >= CHROMA_COUNTS * fabs (lightness) && chroma >= hue)
    return TS_REACH_TOO_CHROMATIC;
  if (fabs (lightness) >= hue && fabs (lightness) >= fabs (chroma))
    return lightness > 0.0 ? TS_REACH_TOO_LIGHT : TS_REACH_TOO_DARK;
  return TS_REACH_OTHER_HUE;
}

/**
 * ts_reach_to_word:
 * @reach: a verdict
 *
 * Returns: (transfer none): "within reach", "too chromatic", "too light", "too dark" or
 *   "another hue". Untranslated.
 */
const char *
ts_reach_to_word (TsReach reach)
{
  static const char *const words[] = {
    N_ ("within reach"), N_ ("too chromatic"), N_ ("too light"),
    N_ ("too dark"),     N_ ("another hue"),
  };

  g_return_val_if_fail ((guint) reach < G_N_ELEMENTS (words), NULL);

  return words[reach];
}
