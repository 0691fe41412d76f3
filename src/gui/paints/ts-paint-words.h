/* ts-paint-words.h: what is known of a paint, in words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-paint-samples.h"

G_BEGIN_DECLS

/* Translated. */
const char *ts_paint_words_kind     (TsPaintKind           kind);
const char *ts_paint_words_opacity  (TsOpacity             opacity);
const char *ts_paint_words_stock    (TsStock               stock);
/* "metallic, opaque"; a plain paint's kind goes without saying. */
char       *ts_paint_words_summary  (const TsPaint        *paint);
/* "semi-transparent on the label; measured: one coat hides 71 %, three coats hide black" */
char       *ts_paint_words_hiding   (const TsPaint        *paint,
                                     const TsPaintSamples *samples);
/* Whether the word on the label and the measured contrast disagree by more than one word. */
gboolean    ts_paint_words_disagree (const TsPaint        *paint,
                                     const TsPaintSamples *samples);
/* "one coat on white and on black, spectra; refined by 6 of your swatches" */
char       *ts_paint_words_source   (const TsPaintSet     *set,
                                     guint                 index);
/* How a spot lies to the mix: "the spot is dE 4 away, 3 L* darker"; CIELAB under D50. */
char       *ts_paint_words_compare  (TsLab                 mixed,
                                     TsLab                 spot);
/* How many of the set's test swatches have this paint in them. */
guint       ts_paint_words_count_swatches
                                    (const TsPaintSet     *set,
                                     guint                 index);

G_END_DECLS
