/* ts-correction.c: from the colours of a photograph to the colours of its subject
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-correction-private.h"

#include <math.h>

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"

/* Radii that held 95 of 100 colours in simulated photographs: four measured cameras, four lights, a
 * plain and a developed rendering, paints that are in no chart
 * (tests/core/correction/test-chart-photos.c). */
#define NONE_ERROR 15.0
#define NONE_LIGHTNESS_ERROR 9.0
#define CARD_COLOUR_ERROR 13.0
#define CARD_COLOUR_LIGHTNESS 7.0
#define FULL_CHROMA 12.0
/* Greys by one card, by two, by three or more; the light on the card and on the figure differ by
 * some percent too. */
static const double card_grey_error[] = { 6.0, 4.5, 2.5 };
static const double card_grey_lightness[] = { 6.0, 4.5, 2.5 };
/* The same for a chart: the radius grows with the leave-one-out error and with the distance from
 * the nearest patch, and is half as much again for greens and blue-greens, where cameras and the
 * eye differ most. */
#define CHART_RADIUS 1.8
#define CHART_LEAST 0.5
#define CHART_DISTANCE 0.25
#define CHART_GREEN 0.5
#define FULL_GREEN 10.0
/* Of lightness: a share of it, and the light on the figure that is not quite that on the chart. */
#define CHART_LIGHTNESS_SHARE 0.35
#define CHART_LIGHT 0.025
/* Beside that, where the correction comes from another photograph; without a card in both the
 * exposure may differ by some percent more. */
static const double shared_error[] = { [TS_SHARED_BY_CARD] = 0.7, [TS_SHARED_AS_IT_IS] = 3.0 };

TsCorrection *
ts_correction_new_kind (TsCorrectionKind kind)
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
  return ts_correction_new_kind (TS_CORRECTION_NONE);
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
  TsCorrection *self = ts_correction_new_kind (TS_CORRECTION_CHART);

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
 * ts_correction_get_n_cards:
 * @self: a correction
 *
 * Returns: how many neutral cards it rests on; 0 for one of another kind
 */
guint
ts_correction_get_n_cards (const TsCorrection *self)
{
  return self->n_cards;
}

/**
 * ts_correction_get_shared:
 * @self: a correction
 *
 * Returns: whether it was worked out from another photograph of the shoot
 */
gboolean
ts_correction_get_shared (const TsCorrection *self)
{
  return self->shared != TS_SHARED_NOT;
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

/* For tables by the number of cards. */
static guint
cards_at (const TsCorrection *self)
{
  return CLAMP (self->n_cards, 1u, 3u) - 1;
}

static double
chart_error (const TsCorrection *self, TsLab lab)
{
  double nearest = G_MAXDOUBLE, green = CLAMP (-lab.a / FULL_GREEN, 0.0, 1.0);

  for (guint i = 0; i < self->n_known; i++)
    nearest = MIN (nearest, ts_delta_e_76 (lab, self->known[i]));
  return (1.0 + CHART_GREEN * green) *
         hypot (hypot (CHART_RADIUS * self->leave_one_out, CHART_LEAST), CHART_DISTANCE * nearest);
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
      return hypot (between (card_grey_error[cards_at (self)], CARD_COLOUR_ERROR, lab),
                    shared_error[self->shared]);
    case TS_CORRECTION_CHART:
      return hypot (chart_error (self, lab), shared_error[self->shared]);
    case TS_CORRECTION_GUESS:
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
      return hypot (between (card_grey_lightness[cards_at (self)], CARD_COLOUR_LIGHTNESS, lab),
                    shared_error[self->shared]);
    case TS_CORRECTION_CHART:
      return hypot (
        hypot (CHART_LIGHTNESS_SHARE * chart_error (self, lab), CHART_LIGHT * (lab.L + 16.0)),
        shared_error[self->shared]);
    case TS_CORRECTION_GUESS:
    case TS_CORRECTION_NONE:
    default:
      return NONE_LIGHTNESS_ERROR;
    }
}
