/* ts-sample.h: the mean of a handful of pixels, without those that mislead
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

/* What is left of some pixels after leaving out clipped ones and the farthest tenth. */
typedef struct
{
  TsXyz  mean;          /* in linear light */
  gsize  n_kept;
  double clipped_share; /* 0..1 of all pixels */
} TsSample;

TsSample ts_sample_trim (TsXyz        *xyz,
                         const guint8 *clipped,
                         gsize         n);

G_END_DECLS
