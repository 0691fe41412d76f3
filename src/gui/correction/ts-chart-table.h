/* ts-chart-table.h: what the chart tells, beside the picture
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "document/ts-correction-draft.h"

G_BEGIN_DECLS

#define TS_TYPE_CHART_TABLE (ts_chart_table_get_type ())
G_DECLARE_FINAL_TYPE (TsChartTable, ts_chart_table, TS, CHART_TABLE, GtkWidget)

void ts_chart_table_set_draft (TsChartTable *self,
                                    TsCorrectionDraft *draft);

G_END_DECLS
