/* ts-mark.h: the shapes that stand for verdicts, so that no colour has to
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <cairo.h>

#include "checks/ts-check-brief.h"
#include "checks/ts-check-contrast.h"

G_BEGIN_DECLS

typedef enum
{
  TS_MARK_DISC,         /* reads */
  TS_MARK_RING,         /* may read */
  TS_MARK_MEETING,      /* too close: two triangles, points meeting */
  TS_MARK_PARTING,      /* too wide: two triangles, points apart */
  TS_MARK_TICK,         /* passes, kept */
  TS_MARK_CROSS,        /* fails */
  TS_MARK_DOWN,         /* merged, lights lost */
  TS_MARK_OUT_OF_REACH, /* ring with a stroke through */
  TS_MARK_PADLOCK,      /* locked */
  TS_MARK_CAUTION       /* triangle with a stroke and a dot */
} TsMark;

/* In the colour of @cr, within a square of @size at x, y. */
void        ts_mark_draw         (cairo_t    *cr,
                                  TsMark      mark,
                                  double      x,
                                  double      y,
                                  double      size);
TsMark      ts_mark_of_verdict   (TsVerdict   verdict);
/* "reads", ...: untranslated. */
const char *ts_mark_verdict_word (TsVerdict   verdict);
/* "passes", ..., translated, and its shape. */
const char *ts_mark_of_brief     (TsBriefVerdict verdict,
                                  TsMark     *mark);

G_END_DECLS
