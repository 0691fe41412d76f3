/* ts-paint-samples.h: what a paint looks like: at full strength, as a tint, as one coat on a card
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-mix.h"

G_BEGIN_DECLS

#define TS_TINT_PARTS 5 /* one part of paint in so many of the tint */

/* All colours D50. */
typedef struct
{
  TsLab     masstone;
  TsLab     tint;          /* with the set's white, or a plain one where it has none */
  TsLab     bare_white;    /* the contrast card's own halves */
  TsLab     bare_black;
  TsLab     over_white;    /* one coat */
  TsLab     over_black;
  double    contrast;      /* of one coat, 0..1 */
  double    coats_to_hide; /* or infinity */
  TsOpacity opacity;       /* the word that goes with that contrast */
} TsPaintSamples;

/* The lightest paint without a hue of its own, or -1. */
int       ts_paint_set_find_white  (const TsPaintSet  *self);
/* @white: what tints are made with, or -1 for a plain white. */
void      ts_paint_set_get_samples (const TsPaintSet  *self,
                                    guint              index,
                                    int                white,
                                    TsPaintSamples    *samples);
/* The word that goes with the contrast ratio of one coat. */
TsOpacity ts_opacity_from_contrast (double             contrast);
/* Whether its opacity was measured, and not taken from the word. */
gboolean  ts_paint_knows_opacity   (const TsPaint     *paint);

G_END_DECLS
