/* ts-chart-read.h: the patches of a chart as a picture shows them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-chart.h"

G_BEGIN_DECLS

/* Where the measured areas lie, without looking at the picture. */
gboolean ts_chart_lay_out (const double corners[4][2],
                           guint        n_columns,
                           TsChartPatch patches[TS_CHART_PATCHES]);
gboolean ts_chart_read (const TsImage *image,
                        const double   corners[4][2],
                        guint          n_columns,
                        TsChartPatch   patches[TS_CHART_PATCHES],
                        GError       **error);

G_END_DECLS
