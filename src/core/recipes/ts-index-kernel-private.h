/* ts-index-kernel-private.h: the loops of the index of mixes, many mixes at once in single precision
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-spectrum.h"

G_BEGIN_DECLS

/* Paints are padded to whole packs; a loop runs over one pack at a time. */
#define TS_PACK 8

/* What Kubelka-Munk, Saunderson and the weights of D50 come to, each of X, Y, Z over its white:
 * base + sum over bands of weight S / (K + out S + sqrt (K (K + 2 S))). */
typedef struct
{
  float weight[TS_BANDS][3];
  float base[3];
  float out;
} TsIndexOptics;

/* Whether @wide may be %TRUE below; the results are the same bits either way. */
gboolean ts_index_kernel_has_avx2 (void);
/* L, a, b of @n mixes (a multiple of TS_PACK): a mix of K and S per band, the same in all, plus
 * paint i of @n paints, whose bands stand @stride apart. */
void     ts_index_kernel_add      (const TsIndexOptics  *optics,
                                   const float          *mix_K,
                                   const float          *mix_S,
                                   const float          *paint_K,
                                   const float          *paint_S,
                                   gsize                 stride,
                                   guint                 n,
                                   float *const         *lab,
                                   gboolean              wide);
/* L, a, b of a pack of mixes of the same paints. */
void     ts_index_kernel_mix      (const float *const   *K,
                                   const float *const   *S,
                                   const float          *shares,
                                   guint                 n_paints,
                                   const TsIndexOptics  *optics,
                                   float *const         *lab,
                                   gboolean              wide);
/* Adds @share of one paint's bands to a mix's. */
void     ts_index_kernel_add_share (float                share,
                                   const float          *paint,
                                   float                *sum);
/* Widens ranges by @n values. */
void     ts_index_kernel_widen    (const float          *values,
                                   float                *low,
                                   float                *high,
                                   guint                 n,
                                   gboolean              wide);
/* Bytes floor (@scale (value + @shift)), held within 0..255. */
void     ts_index_kernel_pack     (const float          *values,
                                   float                 shift,
                                   float                 scale,
                                   guint8               *bytes,
                                   guint                 n,
                                   gboolean              wide);
/* Which of @n boxes overlap a box: @boxes holds the low bytes of L, a, b, then the high ones, each
 * @stride apart. Returns how many; their places go to @hits, which has room for all. */
guint    ts_index_kernel_find     (const guint8         *boxes,
                                   gsize                 stride,
                                   guint                 n,
                                   const guint8          low[3],
                                   const guint8          high[3],
                                   guint                *hits,
                                   gboolean              wide);

G_END_DECLS
