/* ts-parts-table.c: all ways to share out whole parts among a few paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-parts-table.h"

static guint
common_divisor (guint a, guint b)
{
  return b == 0 ? a : common_divisor (b, a % b);
}

static void
add_rest (GArray *table, TsParts *parts, guint place, guint n_paints, guint left, guint divisor)
{
  guint others = n_paints - place - 1;

  if (place == n_paints)
    {
      if (divisor == 1)
        g_array_append_val (table, *parts);
      return;
    }
  for (guint p = 1; p + others <= left; p++)
    {
      parts->parts[place] = (guint8) p;
      add_rest (table, parts, place + 1, n_paints, left - p, common_divisor (divisor, p));
    }
}

/**
 * ts_parts_table_new:
 * @n_paints: how many paints share, 1 to %TS_PARTS_MAX_PAINTS
 * @max_parts: most parts in all, at most 255
 *
 * Returns: (transfer full) (element-type TsParts): all shares of at least 1 part each and no common
 *   divisor, in lexical order
 */
GArray *
ts_parts_table_new (guint n_paints, guint max_parts)
{
  GArray *table = g_array_new (FALSE, FALSE, sizeof (TsParts));
  TsParts parts = { { 0 } };

  g_return_val_if_fail (n_paints >= 1 && n_paints <= TS_PARTS_MAX_PAINTS, table);
  g_return_val_if_fail (max_parts <= G_MAXUINT8, table);

  add_rest (table, &parts, 0, n_paints, max_parts, 0);
  return table;
}
