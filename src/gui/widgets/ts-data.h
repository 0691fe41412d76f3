/* ts-data.h: where the program's own files are
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

char *ts_data_dup_path (const char *name);

G_END_DECLS
