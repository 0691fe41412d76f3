/* ts-paint-chart.h: the colours of a set, and the edge of what they can mix
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "colour/ts-colour.h"

G_BEGIN_DECLS

typedef enum
{
  TS_PAINT_CHART_HUES,  /* b* over a* */
  TS_PAINT_CHART_DEPTHS /* L* over chroma */
} TsPaintChartKind;

/* Signal: "chosen" (uint paint). */
#define TS_TYPE_PAINT_CHART (ts_paint_chart_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintChart, ts_paint_chart, TS, PAINT_CHART, GtkWidget)

void ts_paint_chart_set_kind    (TsPaintChart     *self,
                                 TsPaintChartKind  kind);
/* A GListModel of TsPaintItem in the order of the set. */
void ts_paint_chart_set_items   (TsPaintChart     *self,
                                 GListModel       *items);
/* Points x, y in the chart's own axes, closed; 0 of them while it is not known. */
void ts_paint_chart_set_outline (TsPaintChart     *self,
                                 const double    (*points)[2],
                                 guint             n_points);
/* A place of its own: where a gap is. */
void ts_paint_chart_set_gap     (TsPaintChart     *self,
                                 const TsLab      *gap);
void ts_paint_chart_choose      (TsPaintChart     *self,
                                 int               paint);
void ts_paint_chart_describe    (TsPaintChart     *self,
                                 const char       *name,
                                 const char       *description);

G_END_DECLS
