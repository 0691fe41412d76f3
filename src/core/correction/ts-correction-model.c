/* ts-correction-model.c: the arithmetic of a correction
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-correction-private.h"

#include <math.h>

#include "colour/ts-colour-convert.h"

#define MOST_ENCODED 1.1 /* a little above white the curve goes on straight */
#define DARKEST 1e-3
#define STEP 1.2
/* In log: no camera's curve is steeper or flatter. */
#define LEAST_RISE 0.2
#define MOST_RISE 4.0

/**
 * ts_tone_straight:
 *
 * Returns: a tone curve that changes nothing
 */
TsTone
ts_tone_straight (void)
{
  return (TsTone){ .gain = 1.0 };
}

/**
 * ts_tone_apply:
 * @self: a tone curve
 * @x: linear light, 1 = white; may be below 0
 *
 * Returns: linear light with the curve undone; a straight line below 0 and above white
 */
double
ts_tone_apply (const TsTone *self, double x)
{
  double v = ts_srgb_encode (MAX (x, 0.0)), power = 1.0, sum = 0.0;

  v = MIN (v, MOST_ENCODED);
  for (int k = 0; k < TS_TONE_BENDS; k++)
    {
      power *= v;
      sum += self->bend[k] * (power - 1.0);
    }
  return self->gain * (x * exp (sum) - self->offset);
}

/**
 * ts_tone_rises:
 * @self: a tone curve
 *
 * Returns: whether it rises everywhere as a camera's may
 */
gboolean
ts_tone_rises (const TsTone *self)
{
  TsTone plain = *self;

  plain.gain = 1.0;
  plain.offset = 0.0;
  for (double x = DARKEST; x < 1.0; x *= STEP)
    {
      double rise = log (ts_tone_apply (&plain, STEP * x) / ts_tone_apply (&plain, x)) / log (STEP);

      if (!(rise >= LEAST_RISE && rise <= MOST_RISE))
        return FALSE;
    }
  return TRUE;
}

/**
 * ts_correction_model_tone:
 * @self: a model
 * @rgb: linear sRGB as the picture has it
 *
 * Returns: @rgb with the tone curves undone
 */
TsRgb
ts_correction_model_tone (const TsCorrectionModel *self, TsRgb rgb)
{
  return (TsRgb){ ts_tone_apply (&self->tone[0], rgb.r), ts_tone_apply (&self->tone[1], rgb.g),
                  ts_tone_apply (&self->tone[2], rgb.b) };
}

/**
 * ts_correction_terms:
 * @rgb: linear camera colour
 * @n_terms: 3, 6 or 13: degree 1, 2 or 3
 * @terms: (out): r, g, b; then the square roots of rg, gb, rb; then the cube roots of rgg, gbb,
 * rbb, grr, bgg, brr, rgb
 *
 * The terms of root-polynomial colour correction (Finlayson, Mackiewicz and Hurlbert 2015, IEEE
 * Trans. Image Processing 24(5)). Each scales as exposure does. A channel below 0 counts as 0 under
 * a root.
 */
void
ts_correction_terms (TsRgb rgb, guint n_terms, double terms[TS_CORRECTION_MAX_TERMS])
{
  double r = MAX (rgb.r, 0.0), g = MAX (rgb.g, 0.0), b = MAX (rgb.b, 0.0);

  terms[0] = rgb.r;
  terms[1] = rgb.g;
  terms[2] = rgb.b;
  if (n_terms < 6)
    return;
  terms[3] = sqrt (r * g);
  terms[4] = sqrt (g * b);
  terms[5] = sqrt (r * b);
  if (n_terms < TS_CORRECTION_MAX_TERMS)
    return;
  terms[6] = cbrt (r * g * g);
  terms[7] = cbrt (g * b * b);
  terms[8] = cbrt (r * b * b);
  terms[9] = cbrt (g * r * r);
  terms[10] = cbrt (b * g * g);
  terms[11] = cbrt (b * r * r);
  terms[12] = cbrt (r * g * b);
}

/**
 * ts_correction_model_apply:
 * @self: a model
 * @rgb: linear sRGB as the picture has it
 *
 * Returns: the corrected colour
 */
TsXyz
ts_correction_model_apply (const TsCorrectionModel *self, TsRgb rgb)
{
  double terms[TS_CORRECTION_MAX_TERMS], out[3] = { 0.0, 0.0, 0.0 };

  ts_correction_terms (ts_correction_model_tone (self, rgb), self->n_terms, terms);
  for (int i = 0; i < 3; i++)
    for (guint k = 0; k < self->n_terms; k++)
      out[i] += self->matrix[i][k] * terms[k];
  return (TsXyz){ out[0], out[1], out[2] };
}
