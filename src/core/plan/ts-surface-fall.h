/* ts-surface-fall.h: which way the light falls on a surface, and whether it does on the others
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "checks/ts-check-fall.h"
#include "plan/ts-plan.h"

G_BEGIN_DECLS

/* One run against its picture's arrow. */
TsFall   ts_run_get_fall             (const TsPlan  *plan,
                                      const TsRun   *run);
/* The surface's runs together against the arrow; without an arrow, against the other surfaces. */
TsFall   ts_surface_get_fall         (const TsPlan  *plan,
                                      guint          surface);

G_END_DECLS
