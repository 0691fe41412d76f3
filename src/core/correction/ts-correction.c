/* ts-correction.c: from the colours of a photograph to the colours of its subject
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-correction-private.h"

#include <math.h>

#include "base/ts-error.h"
#include "base/ts-linalg.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"

/* Radii that held 95 of 100 colours in simulated photographs: four measured cameras, four lights, a
 * plain and a developed rendering, paints that are in no chart
 * (tests/core/correction/test-chart-photos.c). */
#define NONE_ERROR 15.0
#define NONE_LIGHTNESS_ERROR 9.0
#define CARD_GREY_ERROR 4.5
#define CARD_COLOUR_ERROR 13.0
#define CARD_GREY_LIGHTNESS 5.0
#define CARD_COLOUR_LIGHTNESS 7.0
#define FULL_CHROMA 12.0
/* The same for a chart: the radius grows with the leave-one-out error and with the distance from
 * the nearest patch. */
#define CHART_RADIUS 2.5
#define CHART_DISTANCE_WEIGHT 0.05
#define CHART_LIGHTNESS_SHARE 0.45

#define LEAST_LIGHT 1e-6 /* below it the tone curve is a straight line */

/* A card's channels: darker cannot be told from noise, and wider apart is no grey card. */
#define DARKEST_CARD 0.002
#define WIDEST_GAINS 12.0

struct _TsCorrection
{
  TsCorrectionKind kind;
  TsCorrectionModel model;
  double leave_one_out;
  guint n_known;
  TsLab known[TS_CHART_PATCHES];
};

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
  double out = held * (self->b + held * (self->c + held * self->d));

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
  return (TsRgb){ ts_tone_apply (&self->tone, self->gain[0] * rgb.r),
                  ts_tone_apply (&self->tone, self->gain[1] * rgb.g),
                  ts_tone_apply (&self->tone, self->gain[2] * rgb.b) };
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

static TsCorrection *
correction_new (TsCorrectionKind kind)
{
  TsCorrection *self = g_atomic_rc_box_new0 (TsCorrection);

  self->kind = kind;
  return self;
}

/**
 * ts_correction_new_none:
 *
 * Returns: (transfer full): a correction that leaves every colour as it is
 */
TsCorrection *
ts_correction_new_none (void)
{
  return correction_new (TS_CORRECTION_NONE);
}

/* XYZ to the sharpened cone responses of Bradford (Lam 1985, as in ICC.1 Annex E). */
static const TsMat3 bradford = {
  { { 0.8951, 0.2664, -0.1614 }, { -0.7502, 1.7135, 0.0367 }, { 0.0389, -0.0685, 1.0296 } }
};

/* The matrix that takes @card to a grey of @luminance under D50. */
static TsMat3
adapt_card (TsXyz card, double luminance)
{
  TsVec3 from = ts_mat3_apply (&bradford, (TsVec3){ { card.X, card.Y, card.Z } });
  TsVec3 to = ts_mat3_apply (&bradford,
                             (TsVec3){ { luminance * TS_D50_X, luminance, luminance * TS_D50_Z } });
  TsMat3 scaled = bradford, back;

  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      scaled.m[i][j] *= to.v[i] / from.v[i];
  ts_mat3_invert (&bradford, &back);
  return ts_mat3_multiply (&back, &scaled);
}

/* No tone curve and no gains of its own: the columns of the matrix are where the primaries go. */
static void
set_matrix_only (TsCorrectionModel *model, const TsMat3 *adaptation)
{
  const TsRgb primaries[3] = { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };

  ts_tone_set_straight (&model->tone, 1.0);
  model->n_terms = 3;
  for (int k = 0; k < 3; k++)
    {
      TsXyz at = ts_xyz_from_rgb (primaries[k]);
      TsVec3 column = ts_mat3_apply (adaptation, (TsVec3){ { at.X, at.Y, at.Z } });

      model->gain[k] = 1.0;
      for (int i = 0; i < 3; i++)
        model->matrix[i][k] = column.v[i];
    }
}

/**
 * ts_correction_new_card:
 * @card: mean of the card's disc in linear light, as the picture has it
 * @lightness: the card's own CIE L*, 5 to 100; an 18 % grey card has 49.5
 * @error: return location for an error, or %NULL
 *
 * Exposure and the light's colour together, by Bradford: the card comes out neutral at @lightness.
 * Over paints in simulated photographs it makes no difference in which space the gains act (less
 * than 0.1 CIEDE2000, the camera's own error being larger); where a picture holds true colours
 * under a warm light, as a scan or a rendering does, Bradford is nearer than gains on RGB by 1
 * CIEDE2000.
 *
 * Returns: (transfer full) (nullable): the correction, or %NULL with %TS_ERROR_BAD_VALUE set where
 *   this can be no card
 */
TsCorrection *
ts_correction_new_card (TsXyz card, double lightness, GError **error)
{
  g_autoptr (TsCorrection) self = NULL;
  TsRgb rgb = ts_rgb_from_xyz (card);
  double most = MAX (rgb.r, MAX (rgb.g, rgb.b)), least = MIN (rgb.r, MIN (rgb.g, rgb.b));
  double luminance = ts_luminance_from_lightness (lightness);
  TsMat3 adaptation;

  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!(lightness >= 5.0 && lightness <= 100.0))
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_BAD_VALUE,
        "A card of L* %g cannot be used; give the lightness printed on it, from 5 to 100 "
        "(49.5 for 18 %% grey)",
        lightness);
      return NULL;
    }
  if (!(least >= DARKEST_CARD && most <= 16.0))
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_BAD_VALUE,
        "The card is too dark in the picture to measure; check that the circle lies on it");
      return NULL;
    }
  if (!(most <= WIDEST_GAINS * least))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   "This is no grey or white card: its colour is too strong; check that the circle "
                   "lies on it");
      return NULL;
    }
  self = correction_new (TS_CORRECTION_CARD);
  adaptation = adapt_card (card, luminance);
  set_matrix_only (&self->model, &adaptation);
  return g_steal_pointer (&self);
}

/**
 * ts_correction_new_chart:
 * @model: the fitted model
 * @leave_one_out: root mean square of its leave-one-out errors, CIEDE2000
 * @known: (array length=n_known): reference colours of the patches it rests on
 * @n_known: how many, at most %TS_CHART_PATCHES
 *
 * Returns: (transfer full): the correction
 */
TsCorrection *
ts_correction_new_chart (const TsCorrectionModel *model, double leave_one_out, const TsLab *known,
                         guint n_known)
{
  TsCorrection *self = correction_new (TS_CORRECTION_CHART);

  self->model = *model;
  self->leave_one_out = leave_one_out;
  self->n_known = MIN (n_known, TS_CHART_PATCHES);
  for (guint i = 0; i < self->n_known; i++)
    self->known[i] = known[i];
  return self;
}

/**
 * ts_correction_ref:
 * @self: a correction
 *
 * Returns: (transfer full): @self
 */
TsCorrection *
ts_correction_ref (TsCorrection *self)
{
  return g_atomic_rc_box_acquire (self);
}

/**
 * ts_correction_unref:
 * @self: (transfer full): a correction
 */
void
ts_correction_unref (TsCorrection *self)
{
  g_atomic_rc_box_release (self);
}

/**
 * ts_correction_get_kind:
 * @self: a correction
 *
 * Returns: what it rests on
 */
TsCorrectionKind
ts_correction_get_kind (const TsCorrection *self)
{
  return self->kind;
}

/**
 * ts_correction_apply:
 * @self: a correction
 * @xyz: a colour as the picture has it
 *
 * Returns: the subject's colour under D50. Luminance is never below 0.
 */
TsXyz
ts_correction_apply (const TsCorrection *self, TsXyz xyz)
{
  TsXyz out;

  if (self->kind == TS_CORRECTION_NONE)
    return xyz;
  out = ts_correction_model_apply (&self->model, ts_rgb_from_xyz (xyz));
  return (TsXyz){ MAX (out.X, 0.0), MAX (out.Y, 0.0), MAX (out.Z, 0.0) };
}

static double
between (double grey, double colour, TsLab lab)
{
  double share = MIN (hypot (lab.a, lab.b) / FULL_CHROMA, 1.0);

  return grey + share * (colour - grey);
}

static double
chart_error (const TsCorrection *self, TsLab lab)
{
  double nearest = G_MAXDOUBLE;

  for (guint i = 0; i < self->n_known; i++)
    nearest = MIN (nearest, ts_delta_e_76 (lab, self->known[i]));
  return CHART_RADIUS * hypot (self->leave_one_out, CHART_DISTANCE_WEIGHT * nearest);
}

/**
 * ts_correction_get_error:
 * @self: a correction
 * @lab: a corrected colour
 *
 * What the correction leaves; the spot's own error comes on top, in squares.
 *
 * Returns: the radius about @lab, as CIEDE2000, that holds the true colour 95 times in 100
 */
double
ts_correction_get_error (const TsCorrection *self, TsLab lab)
{
  switch (self->kind)
    {
    case TS_CORRECTION_CARD:
      return between (CARD_GREY_ERROR, CARD_COLOUR_ERROR, lab);
    case TS_CORRECTION_CHART:
      return chart_error (self, lab);
    case TS_CORRECTION_NONE:
    default:
      return NONE_ERROR;
    }
}

/**
 * ts_correction_get_lightness_error:
 * @self: a correction
 * @lab: a corrected colour
 *
 * Returns: half of the range of L* about that of @lab that holds the true one 95 times in 100
 */
double
ts_correction_get_lightness_error (const TsCorrection *self, TsLab lab)
{
  switch (self->kind)
    {
    case TS_CORRECTION_CARD:
      return between (CARD_GREY_LIGHTNESS, CARD_COLOUR_LIGHTNESS, lab);
    case TS_CORRECTION_CHART:
      return CHART_LIGHTNESS_SHARE * chart_error (self, lab);
    case TS_CORRECTION_NONE:
    default:
      return NONE_LIGHTNESS_ERROR;
    }
}
