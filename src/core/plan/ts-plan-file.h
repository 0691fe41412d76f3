/* ts-plan-file.h: plans as files (*.tonestair, UTF-8 JSON)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "plan/ts-plan.h"

G_BEGIN_DECLS

#define TS_PLAN_FILE_VERSION 1

/* Picture paths are stored relative to the plan's folder and come back absolute. */
TsPlan   *ts_plan_load      (const char    *path,
                             GError       **error);
gboolean  ts_plan_save      (const TsPlan  *plan,
                             const char    *path,
                             GError       **error);
/* The text that would be saved in @folder, and back. */
char     *ts_plan_to_text   (const TsPlan  *plan,
                             const char    *folder);
TsPlan   *ts_plan_from_text (const char    *text,
                             gssize         length,
                             const char    *folder,
                             const char    *what,
                             GError       **error);

G_END_DECLS
