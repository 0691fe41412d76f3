/* ts-chart-make.h: which make of the chart it is, or a file with its values
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A drop-down list. Signal "chosen": the painter has chosen another. */
#define TS_TYPE_CHART_MAKE (ts_chart_make_get_type ())
G_DECLARE_FINAL_TYPE (TsChartMake, ts_chart_make, TS, CHART_MAKE, GtkWidget)

/* "later", "earlier", or the path of a CGATS file. */
const char *ts_chart_make_get (TsChartMake *self);
void        ts_chart_make_set (TsChartMake *self,
                               const char  *chart);

G_END_DECLS
