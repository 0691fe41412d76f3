/* ts-correction-model.c: the arithmetic of a correction
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-correction-private.h"

#include <math.h>

#include "colour/ts-colour-convert.h"

#define LEAST_LIGHT 1e-6 /* below it the tone curve is a straight line */

/**
 * ts_tone_set_straight:
 * @self: (out): a tone curve
 * @exponent: its exponent; 1 changes nothing
 */
void
ts_tone_set_straight (TsTone *self, double exponent)
{
  *self = (TsTone){ .b = exponent, .slope = { exponent, exponent } };
}

static double
tone_log (const TsTone *self, double l)
{
  double held = l < self->l[0] ? self->l[0] : l > self->l[1] ? self->l[1] : l;
  double out = self->a + held * (self->b + held * (self->c + held * self->d));

  if (l < held)
    out += (l - held) * self->slope[0];
  else if (l > held)
    out += (l - held) * self->slope[1];
  return out;
}

/**
 * ts_tone_apply:
 * @self: a tone curve
 * @x: linear light, 1 = white; may be below 0
 *
 * Returns: linear light with the curve undone; a straight line through 0 below 1e-6
 */
double
ts_tone_apply (const TsTone *self, double x)
{
  if (x > LEAST_LIGHT)
    return exp (tone_log (self, log (x)));
  return x * exp (tone_log (self, log (LEAST_LIGHT))) / LEAST_LIGHT;
}

/**
 * ts_correction_model_tone:
 * @self: a model
 * @rgb: linear sRGB as the picture has it
 *
 * Returns: @rgb after gains and tone curve
 */
TsRgb
ts_correction_model_tone (const TsCorrectionModel *self, TsRgb rgb)
{
  return (TsRgb){ ts_tone_apply (&self->tone[0], self->gain[0] * rgb.r),
                  ts_tone_apply (&self->tone[1], self->gain[1] * rgb.g),
                  ts_tone_apply (&self->tone[2], self->gain[2] * rgb.b) };
}

/**
 * ts_correction_terms:
 * @rgb: linear camera colour
 * @n_terms: 3 or 6
 * @terms: (out): r, g, b and, with 6, the roots of rg, gb and rb
 *
 * The terms of degree 1 and 2 of root-polynomial colour correction (Finlayson, Mackiewicz and
 * Hurlbert 2015, IEEE Trans. Image Processing 24(5)). Each scales as exposure does. A channel below
 * 0 counts as 0 under a root.
 */
void
ts_correction_terms (TsRgb rgb, guint n_terms, double terms[TS_CORRECTION_MAX_TERMS])
{
  double r = MAX (rgb.r, 0.0), g = MAX (rgb.g, 0.0), b = MAX (rgb.b, 0.0);

  terms[0] = rgb.r;
  terms[1] = rgb.g;
  terms[2] = rgb.b;
  if (n_terms < TS_CORRECTION_MAX_TERMS)
    return;
  terms[3] = sqrt (r * g);
  terms[4] = sqrt (g * b);
  terms[5] = sqrt (r * b);
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
