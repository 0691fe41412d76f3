/* ts-patch-grid.h: the chart's colours in its own arrangement, wanted over corrected
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "correction/ts-chart.h"

G_BEGIN_DECLS

#define TS_TYPE_PATCH_GRID (ts_patch_grid_get_type ())
G_DECLARE_FINAL_TYPE (TsPatchGrid, ts_patch_grid, TS, PATCH_GRID, GtkWidget)

void        ts_patch_grid_set      (TsPatchGrid            *self,
                                    const TsChartReading   *reading,
                                    const TsChartReference *reference,
                                    const TsCorrection     *correction);
/* Patch 0 to 23, translated. */
const char *ts_patch_name          (guint                   patch);
/* Why a patch was left out, in words. */
const char *ts_patch_reason        (const TsChartPatch     *patch);

G_END_DECLS
