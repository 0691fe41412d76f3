/* ts-correction-settings.h: how one photograph is to be corrected, not yet worked out
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-correction.h"

G_BEGIN_DECLS

/* Where a neutral card lies, upright pixels; radius 0: nowhere. */
typedef struct
{
  double x, y, radius;
  double lightness; /* L* of the card itself */
} TsCardPlace;

/* The painter's choice for one photograph. */
typedef struct
{
  TsCorrectionKind kind;
  double           card_x, card_y, card_radius; /* the first card, upright pixels */
  double           card_lightness;              /* L* of the card itself */
  TsCardPlace      more_card[TS_CORRECTION_MAX_CARDS - 1]; /* black, white ... */
  guint            n_more_cards;
  double           corner[4][2];                /* centres of corner patches, clockwise from patch 1 */
  char            *chart;                       /* "earlier", "later", or the path of a CGATS file */
  /* The cards or the chart lie in another photograph of the shoot: its absolute path, or %NULL. One
   * grey card in that photograph and in this one (both or none) makes up for another exposure. */
  char            *source;
  TsCardPlace      match_there, match_here;
} TsCorrectionSettings;

void     ts_correction_settings_copy  (TsCorrectionSettings       *self,
                                       const TsCorrectionSettings *other);
void     ts_correction_settings_clear (TsCorrectionSettings       *self);
gboolean ts_correction_settings_equal (const TsCorrectionSettings *one,
                                       const TsCorrectionSettings *other);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TsCorrectionSettings, ts_correction_settings_clear)

G_END_DECLS
