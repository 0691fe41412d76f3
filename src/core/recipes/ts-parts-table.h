/* ts-parts-table.h: all ways to share out whole parts among a few paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define TS_PARTS_MAX_PAINTS 4

typedef struct
{
  guint8 parts[TS_PARTS_MAX_PAINTS];
} TsParts;

/* Every mix once: parts with a common divisor are the same mix in a larger pot. */
GArray *ts_parts_table_new (guint n_paints,
                            guint max_parts);

G_END_DECLS
