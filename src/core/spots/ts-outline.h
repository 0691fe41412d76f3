/* ts-outline.h: a whole surface read at once, from lit to shadow
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "spots/ts-run.h"

G_BEGIN_DECLS

#define TS_OUTLINE_TONES 60

/* One of TS_OUTLINE_TONES equal shares of a surface's area. */
typedef struct
{
  TsLab  lab;            /* mean */
  double standard_error; /* of L* */
} TsTone;

/* What lies within the outline through @points: tones in falling lightness into a new array of
 * TsTone, pixels that were read, and the share of them that seems to be something else. */
GArray  *ts_outline_measure   (const TsImage       *image,
                               const TsCorrection  *correction,
                               const TsPoint       *points,
                               guint                n_points,
                               GCancellable        *cancellable,
                               guint               *pixels,
                               double              *left_out,
                               GError             **error);
/* In square pixels. */
double   ts_outline_get_area  (const TsPoint       *points,
                               guint                n_points);
/* Leaves no more than @most of its corners (TsPoint), with as little change of area as can be. */
void     ts_outline_simplify  (GArray              *points,
                               guint                most);
gboolean ts_outline_contains  (const TsPoint       *points,
                               guint                n_points,
                               TsPoint              place);

G_END_DECLS
