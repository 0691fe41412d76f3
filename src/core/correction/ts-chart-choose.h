/* ts-chart-choose.h: how a chart lies, and which patches mislead
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-correction-fit.h"

G_BEGIN_DECLS

gboolean  ts_chart_find_turn  (const TsChartPatch     in[TS_CHART_PATCHES],
                               guint                  n_columns,
                               const TsChartReference *reference,
                               TsChartPatch           out[TS_CHART_PATCHES],
                               double                *misfit);
void      ts_chart_find_dirt  (TsFitPatches          *patches,
                               gboolean               dirty[TS_CHART_PATCHES]);

G_END_DECLS
