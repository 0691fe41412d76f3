/* ts-correction-card.c: corrections by neutral cards, by a guess, and by another photograph
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-correction-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "base/ts-error.h"
#include "base/ts-linalg.h"
#include "colour/ts-colour-convert.h"
#include "correction/ts-least-squares-fit.h"

/* A card's channels: darker cannot be told from noise, and wider apart is no grey card. */
#define DARKEST_CARD 0.002
#define WIDEST_GAINS 12.0
#define LEAST_APART 10.0 /* nearer cards draw noise */
/* Two photographs of a shoot are four stops apart at most. */
#define MOST_CHANGE 16.0

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

  model->n_terms = 3;
  for (int k = 0; k < 3; k++)
    {
      TsXyz at = ts_xyz_from_rgb (primaries[k]);
      TsVec3 column = ts_mat3_apply (adaptation, (TsVec3){ { at.X, at.Y, at.Z } });

      model->tone[k] = ts_tone_straight ();
      for (int i = 0; i < 3; i++)
        model->matrix[i][k] = column.v[i];
    }
}

static gboolean
check_card (TsXyz card, double lightness, GError **error)
{
  TsRgb rgb = ts_rgb_from_xyz (card);
  double most = MAX (rgb.r, MAX (rgb.g, rgb.b)), least = MIN (rgb.r, MIN (rgb.g, rgb.b));

  if (!(lightness >= 5.0 && lightness <= 100.0))
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_BAD_VALUE,
        _ ("A card of L* %g cannot be used; give the lightness printed on it, from 5 to 100 "
           "(49.5 for 18 %% grey)"),
        lightness);
      return FALSE;
    }
  if (!(least >= DARKEST_CARD && most <= 16.0))
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_BAD_VALUE,
        _ ("The card is too dark in the picture to measure; check that the circle lies on it"));
      return FALSE;
    }
  if (!(most <= WIDEST_GAINS * least))
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_BAD_VALUE,
        _ ("This is no grey or white card: its colour is too strong; check that the circle "
           "lies on it"));
      return FALSE;
    }
  return TRUE;
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
  TsMat3 adaptation;

  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!check_card (card, lightness, error))
    return NULL;
  self = ts_correction_new_kind (TS_CORRECTION_CARD);
  adaptation = adapt_card (card, ts_luminance_from_lightness (lightness));
  self->n_cards = 1;
  set_matrix_only (&self->model, &adaptation);
  return g_steal_pointer (&self);
}

static void
fail_apart (GError **error)
{
  g_set_error (
    error, TS_ERROR, TS_ERROR_BAD_VALUE,
    _ ("The cards do not go together: a lighter card has to be lighter in the picture too; "
       "check which circle lies on which card"));
}

static gboolean
check_apart (const TsNeutral *cards, guint n_cards, GError **error)
{
  for (guint i = 0; i < n_cards; i++)
    for (guint k = 0; k < i; k++)
      {
        double apart = cards[i].lightness - cards[k].lightness;

        if (!(fabs (apart) >= LEAST_APART))
          {
            g_set_error (
              error, TS_ERROR, TS_ERROR_BAD_VALUE,
              _ ("Two cards of L* %g and %g are too much alike; use cards at least %g apart"),
              cards[k].lightness, cards[i].lightness, LEAST_APART);
            return FALSE;
          }
        if (!((cards[i].xyz.Y - cards[k].xyz.Y) * apart > 0.0))
          {
            fail_apart (error);
            return FALSE;
          }
      }
  return TRUE;
}

static double
channel_of (const TsNeutral *card, int c)
{
  TsRgb rgb = ts_rgb_from_xyz (card->xyz);

  return c == 0 ? rgb.r : c == 1 ? rgb.g : rgb.b;
}

/* A gain and one bend through two cards, two bends through three and nearest to more. */
static gboolean
fit_channel (TsTone *tone, const TsNeutral *cards, guint n_cards, int c)
{
  double a[TS_CORRECTION_MAX_CARDS * 3], wanted[TS_CORRECTION_MAX_CARDS], x[3] = { 0 };
  guint n_unknowns = MIN (n_cards, 3u);

  for (guint i = 0; i < n_cards; i++)
    {
      double seen = channel_of (&cards[i], c), v = ts_srgb_encode (seen);
      const double row[] = { 1.0, v - 1.0, v * v - 1.0 };

      for (guint k = 0; k < n_unknowns; k++)
        a[i * n_unknowns + k] = row[k];
      wanted[i] = log (ts_luminance_from_lightness (cards[i].lightness) / seen);
    }
  if (!ts_least_squares_solve (a, wanted, n_cards, n_unknowns, x))
    return FALSE;
  *tone = (TsTone){ .gain = exp (x[0]), .bend = { x[1], x[2] } };
  return ts_tone_rises (tone);
}

/**
 * ts_correction_new_cards:
 * @cards: (array length=n_cards): neutral cards of different lightness, in any order: black, grey
 *   and white, say
 * @n_cards: 1 to %TS_CORRECTION_MAX_CARDS
 * @error: return location for an error, or %NULL
 *
 * With two or more, a curve for each channel takes the cards where they belong: exactly through
 * two or three, nearest to more. That undoes exposure, the light's colour and most of the camera's
 * contrast curve. With one card it is ts_correction_new_card().
 *
 * Returns: (transfer full) (nullable): the correction, or %NULL with %TS_ERROR_BAD_VALUE set where
 *   one can be no card or they do not go together
 */
TsCorrection *
ts_correction_new_cards (const TsNeutral *cards, guint n_cards, GError **error)
{
  g_autoptr (TsCorrection) self = NULL;
  TsMat3 identity = ts_mat3_identity ();

  g_return_val_if_fail (n_cards >= 1 && n_cards <= TS_CORRECTION_MAX_CARDS, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (n_cards == 1)
    return ts_correction_new_card (cards[0].xyz, cards[0].lightness, error);
  for (guint i = 0; i < n_cards; i++)
    if (!check_card (cards[i].xyz, cards[i].lightness, error))
      return NULL;
  if (!check_apart (cards, n_cards, error))
    return NULL;
  self = ts_correction_new_kind (TS_CORRECTION_CARD);
  self->n_cards = n_cards;
  set_matrix_only (&self->model, &identity);
  for (int c = 0; c < 3; c++)
    if (!fit_channel (&self->model.tone[c], cards, n_cards, c))
      {
        fail_apart (error);
        return NULL;
      }
  return g_steal_pointer (&self);
}

/**
 * ts_correction_new_guess:
 * @light: colour of the light as the picture has it, above 0; its luminance does not matter
 *
 * Takes the colour of the light out by Bradford and leaves lightness as it is. For a light that was
 * guessed from the picture alone, see ts_light_guess().
 *
 * Returns: (transfer full): the correction
 */
TsCorrection *
ts_correction_new_guess (TsXyz light)
{
  TsCorrection *self = ts_correction_new_kind (TS_CORRECTION_GUESS);
  TsMat3 adaptation = adapt_card (light, light.Y);

  set_matrix_only (&self->model, &adaptation);
  return self;
}

static gboolean
find_gains (const TsCorrectionModel *model, TsXyz there, TsXyz here, double gain[3])
{
  TsRgb want = ts_correction_model_tone (model, ts_rgb_from_xyz (there));
  TsRgb have = ts_correction_model_tone (model, ts_rgb_from_xyz (here));
  const double share[3] = { want.r / have.r, want.g / have.g, want.b / have.b };

  for (int c = 0; c < 3; c++)
    {
      if (!(share[c] >= 1.0 / MOST_CHANGE && share[c] <= MOST_CHANGE))
        return FALSE;
      gain[c] = share[c];
    }
  return TRUE;
}

/**
 * ts_correction_new_shared:
 * @other: the correction of another photograph of the same shoot
 * @card_there: (nullable): mean of a grey card in that photograph, as it has it
 * @card_here: (nullable): mean of the same card in this one
 * @error: return location for an error, or %NULL
 *
 * Corrects this photograph as the other. With the card in both, a gain for each channel after the
 * tone curve makes up for another exposure or white balance (equal gains are a factor on XYZ, as
 * all terms scale with exposure). Without, both photographs have to be taken with the same
 * settings, and the stated errors are larger for it.
 *
 * Returns: (transfer full) (nullable): the correction, or %NULL with %TS_ERROR_BAD_VALUE set where
 *   the two cards can hardly be the same
 */
TsCorrection *
ts_correction_new_shared (const TsCorrection *other, const TsXyz *card_there,
                          const TsXyz *card_here, GError **error)
{
  g_autoptr (TsCorrection) self = ts_correction_new_kind (other->kind);
  double gain[3];

  g_return_val_if_fail ((card_there == NULL) == (card_here == NULL), NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  *self = *other;
  self->shared = card_here != NULL ? TS_SHARED_BY_CARD : TS_SHARED_AS_IT_IS;
  if (card_here == NULL)
    return g_steal_pointer (&self);
  if (!find_gains (&self->model, *card_there, *card_here, gain))
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_BAD_VALUE,
        _ ("The grey card is not the same in both photographs, or one of them is far too dark; "
           "check both circles"));
      return NULL;
    }
  for (int c = 0; c < 3; c++)
    self->model.tone[c].gain *= gain[c];
  return g_steal_pointer (&self);
}
