/* ts-correction.h: from the colours of a photograph to the colours of its subject
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

typedef enum
{
  TS_CORRECTION_NONE, /* taken as it is */
  TS_CORRECTION_CARD, /* neutral cards: exposure and a gain per channel, or a curve from several */
  TS_CORRECTION_CHART, /* the 24-patch chart */
  TS_CORRECTION_GUESS /* the light's colour guessed from the picture alone; say so wherever it is used */
} TsCorrectionKind;

#define TS_CORRECTION_MAX_CARDS 6

/* A neutral card as the picture has it (mean in linear light), and its own L*. */
typedef struct
{
  TsXyz  xyz;
  double lightness;
} TsNeutral;

/* One photograph's correction. It never changes; threads may share it. */
typedef struct _TsCorrection TsCorrection;

TsCorrection     *ts_correction_new_none          (void);
/* @card is the mean of the card's disc as the picture has it, @lightness the card's own L*. */
TsCorrection     *ts_correction_new_card          (TsXyz                card,
                                                   double               lightness,
                                                   GError             **error);
/* Several neutral cards, as black, grey and white: a curve for each channel through them. */
TsCorrection     *ts_correction_new_cards         (const TsNeutral        *cards,
                                                   guint                n_cards,
                                                   GError             **error);
/* Takes the colour of @light out and leaves lightness as it is; see ts_light_guess(). */
TsCorrection     *ts_correction_new_guess         (TsXyz                light);
/* The correction of another photograph of the shoot for this one. @card_there and @card_here, one
 * grey card in that photograph and in this one, make up for another exposure or white balance; both
 * %NULL where the settings were the same. */
TsCorrection     *ts_correction_new_shared        (const TsCorrection  *other,
                                                   const TsXyz         *card_there,
                                                   const TsXyz         *card_here,
                                                   GError             **error);
TsCorrection     *ts_correction_ref               (TsCorrection        *self);
void              ts_correction_unref             (TsCorrection        *self);
TsCorrectionKind  ts_correction_get_kind          (const TsCorrection  *self);
/* How many neutral cards it rests on; 0 for other kinds. */
guint             ts_correction_get_n_cards       (const TsCorrection  *self);
/* Whether it was worked out from another photograph. */
gboolean          ts_correction_get_shared        (const TsCorrection  *self);
TsXyz             ts_correction_apply             (const TsCorrection  *self,
                                                   TsXyz                xyz);
/* Radius about @lab, as CIEDE2000, that holds the true colour 95 times in 100. */
double            ts_correction_get_error         (const TsCorrection  *self,
                                                   TsLab                lab);
/* The same for lightness alone, in L*. */
double            ts_correction_get_lightness_error (const TsCorrection *self,
                                                     TsLab               lab);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsCorrection, ts_correction_unref)

G_END_DECLS
