/* ts-paint-samples.c: what a paint looks like: at full strength, as a tint, as one coat on a card
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-samples.h"

#include <math.h>

/* A white: from what lightness on, and up to what chroma. Common practice, no source. */
#define WHITE_LIGHTNESS 82.0
#define WHITE_CHROMA 12.0
/* K and S per coat of a plain white, for sets without one: a usual titanium white of its kind. */
#define PLAIN_WHITE_K 0.005
#define PLAIN_WHITE_S 5.0

/**
 * ts_paint_set_find_white:
 * @self: a set
 *
 * Returns: index of the lightest paint that has next to no hue, or -1 where there is none
 */
int
ts_paint_set_find_white (const TsPaintSet *self)
{
  double best = WHITE_LIGHTNESS;
  int white = -1;

  for (guint i = 0; i < ts_paint_set_get_n_paints (self); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (self, i);
      TsPaintKind kind = ts_paint_get_kind (paint);
      TsLab lab = ts_paint_get_masstone (paint);

      if ((kind == TS_PAINT_PAINT || kind == TS_PAINT_INK) && lab.L > best &&
          hypot (lab.a, lab.b) < WHITE_CHROMA)
        {
          best = lab.L;
          white = (int) i;
        }
    }
  return white;
}

/**
 * ts_opacity_from_contrast:
 * @contrast: contrast ratio of one coat, 0..1
 *
 * The bounds are common practice, no source.
 *
 * Returns: the word that painters have for it
 */
TsOpacity
ts_opacity_from_contrast (double contrast)
{
  if (contrast >= 0.9)
    return TS_OPACITY_OPAQUE;
  if (contrast >= 0.75)
    return TS_OPACITY_SEMI_OPAQUE;
  return contrast >= 0.45 ? TS_OPACITY_SEMI_TRANSPARENT : TS_OPACITY_TRANSPARENT;
}

/**
 * ts_paint_knows_opacity:
 * @paint: a paint
 *
 * Returns: whether how well it covers was measured; a masstone alone does not tell
 */
gboolean
ts_paint_knows_opacity (const TsPaint *paint)
{
  return ts_paint_get_source (paint) >= TS_SOURCE_FILMS_LAB;
}

static TsLab
colour_of (const TsSpectrum *reflectance)
{
  return ts_spectrum_to_lab (reflectance, TS_LIGHT_D50);
}

static void
find_tint (const TsPaintSet *self, guint index, int white, TsPaintSamples *samples)
{
  const TsPaint *paint = ts_paint_set_get_paint (self, index);
  const TsPaint *with = white >= 0 ? ts_paint_set_get_paint (self, (guint) white) : NULL;
  double share = 1.0 / TS_TINT_PARTS;
  TsSpectrum K, S, reflectance;

  for (guint b = 0; b < TS_BANDS; b++)
    {
      double k = with != NULL ? ts_paint_get_K (with)->band[b] : PLAIN_WHITE_K;
      double s = with != NULL ? ts_paint_get_S (with)->band[b] : PLAIN_WHITE_S;

      K.band[b] = share * ts_paint_get_K (paint)->band[b] + (1.0 - share) * k;
      S.band[b] = share * ts_paint_get_S (paint)->band[b] + (1.0 - share) * s;
    }
  ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (self), &reflectance);
  samples->tint = colour_of (&reflectance);
}

/**
 * ts_paint_set_get_samples:
 * @self: a set
 * @index: which paint
 * @white: index of the paint that tints are made with, or -1 for a plain white
 * @samples: (out): its colours
 */
void
ts_paint_set_get_samples (const TsPaintSet *self, guint index, int white, TsPaintSamples *samples)
{
  const TsPaint *paint = ts_paint_set_get_paint (self, index);
  const TsSpectrum *K = ts_paint_get_K (paint), *S = ts_paint_get_S (paint);
  TsSurfaceReflection surface = ts_paint_set_get_surface (self);
  TsSpectrum black, bright, film;

  for (guint b = 0; b < TS_BANDS; b++)
    {
      black.band[b] = ts_saunderson_measured (surface, TS_CARD_BLACK);
      bright.band[b] = ts_saunderson_measured (surface, TS_CARD_WHITE);
    }
  samples->masstone = ts_paint_get_masstone (paint);
  samples->bare_black = colour_of (&black);
  samples->bare_white = colour_of (&bright);
  ts_mix_get_film (K, S, surface, 1.0, &black, &film);
  samples->over_black = colour_of (&film);
  ts_mix_get_film (K, S, surface, 1.0, &bright, &film);
  samples->over_white = colour_of (&film);
  samples->contrast = ts_mix_get_contrast_ratio (K, S, surface, 1.0);
  samples->coats_to_hide = ts_mix_get_coats_to_hide (K, S, surface);
  samples->opacity = ts_opacity_from_contrast (samples->contrast);
  find_tint (self, index, white, samples);
}
