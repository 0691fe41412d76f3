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
  TS_CORRECTION_CARD, /* one grey or white card: exposure and a gain per channel */
  TS_CORRECTION_CHART /* the 24-patch chart */
} TsCorrectionKind;

/* One photograph's correction. It never changes; threads may share it. */
typedef struct _TsCorrection TsCorrection;

TsCorrection     *ts_correction_new_none          (void);
/* @card is the mean of the card's disc as the picture has it, @lightness the card's own L*. */
TsCorrection     *ts_correction_new_card          (TsXyz                card,
                                                   double               lightness,
                                                   GError             **error);
TsCorrection     *ts_correction_ref               (TsCorrection        *self);
void              ts_correction_unref             (TsCorrection        *self);
TsCorrectionKind  ts_correction_get_kind          (const TsCorrection  *self);
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
