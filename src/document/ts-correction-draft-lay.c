/* ts-correction-draft-lay.c: what the painter lays on the photograph: corners, discs, another one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-correction-draft-private.h"

#include <math.h>

#include "correction/ts-chart-read.h"
#include "document/ts-document-private.h"
#include "spots/ts-spot-find.h"

#define LEAST_DISC 2.0 /* pixels of the picture */

static TsPoint
hold (TsCorrectionDraft *self, guint picture, TsPoint place)
{
  TsImage *image = ts_document_get_image (self->document, picture);

  return image != NULL ? ts_document_hold_within (image, place) : place;
}

/**
 * ts_correction_draft_get_corners:
 * @self: a draft
 *
 * Returns: (transfer none) (nullable) (array fixed-size=4): centres of the corner patches, upright
 *   pixels, in turn round the chart; %NULL before they are laid
 */
const TsPoint *
ts_correction_draft_get_corners (TsCorrectionDraft *self)
{
  return self->has_corners ? self->corner : NULL;
}

/**
 * ts_correction_draft_set_corners:
 * @self: a draft
 * @corners: (array fixed-size=4): centres of the corner patches, in turn round the chart
 */
void
ts_correction_draft_set_corners (TsCorrectionDraft *self, const TsPoint corners[4])
{
  for (guint i = 0; i < 4; i++)
    self->corner[i] = hold (self, self->picture, corners[i]);
  self->has_corners = TRUE;
  self->read_columns = 0;
  ts_correction_draft_wish (self, TRUE);
}

/**
 * ts_correction_draft_move_corner:
 * @self: a draft with corners
 * @corner: index of a corner
 * @place: upright pixels; held within the picture
 */
void
ts_correction_draft_move_corner (TsCorrectionDraft *self, guint corner, TsPoint place)
{
  g_return_if_fail (self->has_corners && corner < 4);

  self->corner[corner] = hold (self, self->picture, place);
  ts_correction_draft_wish (self, FALSE);
}

/**
 * ts_correction_draft_lay_out:
 * @self: a draft
 * @layout: (out): where the measured areas lie now
 *
 * Follows the corners at once, before anything is measured.
 *
 * Returns: %FALSE where there are no corners, or they do not go round a chart
 */
gboolean
ts_correction_draft_lay_out (TsCorrectionDraft *self, TsChartLayout *layout)
{
  TsChartPatch seen[TS_CHART_PATCHES];
  double corners[4][2];
  double along, down;

  if (!self->has_corners)
    return FALSE;
  for (guint i = 0; i < 4; i++)
    {
      corners[i][0] = self->corner[i].x;
      corners[i][1] = self->corner[i].y;
    }
  along = hypot (corners[1][0] - corners[0][0], corners[1][1] - corners[0][1]) +
          hypot (corners[2][0] - corners[3][0], corners[2][1] - corners[3][1]);
  down = hypot (corners[2][0] - corners[1][0], corners[2][1] - corners[1][1]) +
         hypot (corners[3][0] - corners[0][0], corners[3][1] - corners[0][1]);
  layout->n_columns = self->read_columns > 0 ? self->read_columns
                      : along >= down        ? TS_CHART_COLUMNS
                                             : TS_CHART_ROWS;
  if (!ts_chart_lay_out ((const double (*)[2]) corners, layout->n_columns, seen))
    return FALSE;
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      layout->patch[i] = self->has_reading && self->read_columns > 0 ? self->patch[i] : -1;
      for (guint k = 0; k < 4; k++)
        layout->corner[i][k] = (TsPoint){ seen[i].x[k], seen[i].y[k] };
    }
  return TRUE;
}

/**
 * ts_correction_draft_get_chart:
 * @self: a draft
 *
 * Returns: (transfer none): "earlier", "later", or the path of a CGATS file
 */
const char *
ts_correction_draft_get_chart (TsCorrectionDraft *self)
{
  return self->chart;
}

/**
 * ts_correction_draft_set_chart:
 * @self: a draft
 * @chart: "earlier", "later", or the path of a CGATS file
 */
void
ts_correction_draft_set_chart (TsCorrectionDraft *self, const char *chart)
{
  if (g_strcmp0 (self->chart, chart) == 0)
    return;
  g_free (self->chart);
  self->chart = g_strdup (chart);
  ts_correction_draft_wish (self, TRUE);
}

/**
 * ts_correction_draft_get_disc:
 * @self: a draft
 * @disc: one of its discs
 *
 * Returns: (transfer none): where it lies; radius 0: nowhere
 */
const TsCardPlace *
ts_correction_draft_get_disc (TsCorrectionDraft *self, TsDraftDisc disc)
{
  return &self->disc[disc];
}

/* The photograph that a disc lies in; -1: it is not there. */
static int
get_picture_of (TsCorrectionDraft *self, TsDraftDisc disc)
{
  return disc == TS_DISC_THERE ? ts_correction_draft_get_source (self) : (int) self->picture;
}

/**
 * ts_correction_draft_set_disc:
 * @self: a draft
 * @disc: one of its discs
 * @place: its middle, upright pixels; held within the picture
 * @radius: pixels, at least 2
 */
void
ts_correction_draft_set_disc (TsCorrectionDraft *self, TsDraftDisc disc, TsPoint place,
                              double radius)
{
  int picture = get_picture_of (self, disc);

  if (picture < 0)
    return;
  place = hold (self, (guint) picture, place);
  self->disc[disc].x = place.x;
  self->disc[disc].y = place.y;
  self->disc[disc].radius = MAX (radius, LEAST_DISC);
  ts_correction_draft_wish (self, FALSE);
}

/**
 * ts_correction_draft_find_disc:
 * @self: a draft
 * @disc: one of its discs
 * @place: a place on the card, upright pixels
 *
 * Lays the disc as large as the card looks even about the place.
 */
void
ts_correction_draft_find_disc (TsCorrectionDraft *self, TsDraftDisc disc, TsPoint place)
{
  int picture = get_picture_of (self, disc);
  TsImage *image = picture >= 0 ? ts_document_get_image (self->document, (guint) picture) : NULL;

  if (image == NULL)
    return;
  place = ts_document_hold_within (image, place);
  ts_correction_draft_set_disc (self, disc, place, ts_spot_find_radius (image, place.x, place.y));
}

/**
 * ts_correction_draft_set_lightness:
 * @self: a draft
 * @disc: a card
 * @lightness: its own L*
 */
void
ts_correction_draft_set_lightness (TsCorrectionDraft *self, TsDraftDisc disc, double lightness)
{
  if (!(fabs (self->disc[disc].lightness - lightness) > 1e-6))
    return;
  self->disc[disc].lightness = lightness;
  if (self->disc[disc].radius > 0.0)
    ts_correction_draft_wish (self, FALSE);
}

/**
 * ts_correction_draft_clear_disc:
 * @self: a draft
 * @disc: one of its discs; its lightness stays
 */
void
ts_correction_draft_clear_disc (TsCorrectionDraft *self, TsDraftDisc disc)
{
  self->disc[disc].radius = 0.0;
  ts_correction_draft_wish (self, TRUE);
}

/**
 * ts_correction_draft_get_aim:
 * @self: a draft
 *
 * Returns: the disc that a click on the picture lays
 */
TsDraftDisc
ts_correction_draft_get_aim (TsCorrectionDraft *self)
{
  return self->aim;
}

/**
 * ts_correction_draft_set_aim:
 * @self: a draft
 * @disc: the disc that a click on the picture is to lay
 *
 * The photograph that it lies in is shown.
 */
void
ts_correction_draft_set_aim (TsCorrectionDraft *self, TsDraftDisc disc)
{
  int picture = get_picture_of (self, disc);

  if (picture < 0)
    return;
  self->aim = disc;
  ts_document_show_picture (self->document, (guint) picture);
  ts_correction_draft_changed (self);
}

/**
 * ts_correction_draft_may_lend:
 * @self: a draft
 * @picture: index of a picture
 *
 * Returns: whether it is another photograph, with a chart or a card of its own
 */
gboolean
ts_correction_draft_may_lend (TsCorrectionDraft *self, guint picture)
{
  const TsPlan *plan = ts_document_get_plan (self->document);
  const TsCorrectionSettings *settings;

  if (picture == self->picture || picture >= plan->pictures->len ||
      ts_document_get_image (self->document, picture) == NULL)
    return FALSE;
  settings = &ts_plan_get_picture (plan, picture)->correction;
  return settings->source == NULL &&
         (settings->kind == TS_CORRECTION_CHART || settings->kind == TS_CORRECTION_CARD);
}

/**
 * ts_correction_draft_get_source:
 * @self: a draft
 *
 * Returns: index of the other photograph, or -1 where none is chosen or it is not in the plan
 */
int
ts_correction_draft_get_source (TsCorrectionDraft *self)
{
  const TsPlan *plan = ts_document_get_plan (self->document);

  for (guint i = 0; self->source != NULL && plan != NULL && i < plan->pictures->len; i++)
    if (g_str_equal (ts_plan_get_picture (plan, i)->path, self->source) &&
        ts_correction_draft_may_lend (self, i))
      return (int) i;
  return -1;
}

/**
 * ts_correction_draft_set_source:
 * @self: a draft
 * @picture: index of a picture that may lend its correction
 *
 * Where that photograph has a card, the same card in this one is enough to match them.
 */
void
ts_correction_draft_set_source (TsCorrectionDraft *self, guint picture)
{
  const TsPicture *of;
  const TsCorrectionSettings *settings;

  g_return_if_fail (ts_correction_draft_may_lend (self, picture));

  of = ts_plan_get_picture (ts_document_get_plan (self->document), picture);
  settings = &of->correction;
  g_free (self->source);
  self->source = g_strdup (of->path);
  self->disc[TS_DISC_THERE].radius = 0.0;
  if (settings->kind == TS_CORRECTION_CARD)
    self->disc[TS_DISC_THERE] = (TsCardPlace){ settings->card_x, settings->card_y,
                                               settings->card_radius, settings->card_lightness };
  ts_correction_draft_wish (self, TRUE);
}

/**
 * ts_correction_draft_get_guess:
 * @self: a draft
 *
 * Returns: (transfer none) (nullable): the light of the photograph, as it can be guessed from it
 */
const TsLightGuess *
ts_correction_draft_get_guess (TsCorrectionDraft *self)
{
  return self->has_guess ? &self->guess : NULL;
}

/**
 * ts_correction_draft_get_use_guess:
 * @self: a draft
 *
 * Returns: whether the guess is to be corrected for
 */
gboolean
ts_correction_draft_get_use_guess (TsCorrectionDraft *self)
{
  return self->use_guess;
}

/**
 * ts_correction_draft_set_use_guess:
 * @self: a draft without a card
 * @use: whether the guess is to be corrected for
 */
void
ts_correction_draft_set_use_guess (TsCorrectionDraft *self, gboolean use)
{
  if (self->use_guess == use)
    return;
  self->use_guess = use;
  ts_correction_draft_wish (self, TRUE);
}
