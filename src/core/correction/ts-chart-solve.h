/* ts-chart-solve.h: the correction that the patches of a chart ask for
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-correction-fit.h"

G_BEGIN_DECLS

gboolean ts_chart_solve (const TsFitPatches *patches,
                         TsCorrectionModel  *model,
                         double              residuals[TS_CHART_PATCHES],
                         double              errors[TS_CHART_PATCHES]);

G_END_DECLS
