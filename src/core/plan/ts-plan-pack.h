/* ts-plan-pack.h: a plan and all the files it reads, in a folder of their own
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "plan/ts-plan.h"

G_BEGIN_DECLS

/* Makes a new folder in @folder, called as the plan is, with copies of its pictures and of charts
 * read from files; whole or not at all. The path of the plan in it. */
char *ts_plan_pack (const TsPlan  *plan,
                    const char    *folder,
                    GError       **error);

G_END_DECLS
