/* ts-reduce-private.h: the loops of area-average scaling
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define TS_REDUCE_MAX_FACTOR 4096 /* sums of as many 16-bit samples fit 32 bits */

/* sums[i] += row[i] */
void ts_reduce_add_row8   (const guint8   *row,
                           gsize           n,
                           guint32        *sums);
void ts_reduce_add_row16  (const guint16  *row,
                           gsize           n,
                           guint32        *sums);
/* One row of averages, to the nearest, of groups of @factor pixels; the last group has what is left
 * of @width. */
void ts_reduce_average8   (const guint32  *sums,
                           guint           width,
                           guint           channels,
                           guint           factor,
                           guint           n_rows,
                           guint8         *out);
void ts_reduce_average16  (const guint32  *sums,
                           guint           width,
                           guint           channels,
                           guint           factor,
                           guint           n_rows,
                           guint16        *out);

G_END_DECLS
