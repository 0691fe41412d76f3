/* ts-paint-set-again.c: paints of a set that are measured again
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-set-private.h"

#include <glib/gi18n.h>
#include <string.h>

#include "paint/ts-paint-reading.h"
#include "paint/ts-paint-table.h"

/* What else goes with a measurement; the colours themselves are in groups by their source. */
static const char *const more_columns[] = {
  "film_coats",   "card_white_L",   "card_white_a", "card_white_b", "card_black_L", "card_black_a",
  "card_black_b", "reading_within", "tint_parts",   "tint_white",   "known_from",   "known_within",
};

/* What the painter says of a paint, whatever is measured. */
static const char *const kept_columns[] = { "name",     "kind",  "opacity", "finish",
                                            "pigments", "stock", "notes",   NULL };

static void
clear (TsPaintTable *table, const TsCsv *csv, guint row, const char *column)
{
  if (ts_csv_find_column (csv, column) >= 0)
    ts_paint_table_set (table, row, column, "");
}

static void
forget_measurement (TsPaintTable *table, const TsCsv *csv, guint row)
{
  for (TsPaintSource source = TS_SOURCE_WORD; source <= TS_SOURCE_CALIBRATED; source++)
    for (guint i = 0; i < ts_paint_column_count (source); i++)
      {
        g_autofree char *column = ts_paint_column_dup_name (source, i);

        clear (table, csv, row, column);
      }
  for (gsize i = 0; i < G_N_ELEMENTS (more_columns); i++)
    clear (table, csv, row, more_columns[i]);
}

static void
take_over (TsPaintTable *table, guint row, const TsCsv *rows, guint from, gboolean is_new)
{
  for (guint c = 0; c < ts_csv_get_n_columns (rows); c++)
    {
      const char *column = ts_csv_get_header (rows, c);
      const char *cell = ts_csv_get_cell (rows, from, (int) c);

      if (*cell != '\0' && (is_new || !g_strv_contains (kept_columns, column)))
        ts_paint_table_set (table, row, column, cell);
    }
}

/**
 * ts_paint_set_measured_again:
 * @self: (nullable): a set; %NULL for none yet
 * @text: a table as ts_paint_set_parse() reads it, of colours or spectra
 * @length: bytes in @text, or -1 where it ends with a zero byte
 * @what: its name, for messages
 * @error: return location for an error, or %NULL
 *
 * A paint that @self has already gets what was measured now in place of all that was known of its
 * colour; its kind, opacity, finish, pigments, stock and notes stay. The others come at the end.
 *
 * Returns: (transfer full) (nullable): the set, or %NULL as ts_paint_set_parse() does
 */
TsPaintSet *
ts_paint_set_measured_again (const TsPaintSet *self, const char *text, gssize length,
                             const char *what, GError **error)
{
  g_autoptr (TsPaintSet) alone = ts_paint_set_parse (text, length, what, error);
  g_autoptr (TsPaintTable) table = NULL;
  g_autofree char *changed = NULL;

  if (alone == NULL || self == NULL)
    return g_steal_pointer (&alone);
  table = ts_paint_table_new (self->table);
  for (guint p = 0; p < alone->paints->len; p++)
    {
      int known = ts_paint_set_find (self, ts_paint_get_name (alone->paints->pdata[p]));
      guint row = known >= 0 ? (guint) known : ts_paint_table_add_row (table);

      if (known >= 0)
        forget_measurement (table, self->table, row);
      take_over (table, row, alone->table, p, known < 0);
    }
  changed = ts_paint_table_to_text (table);
  return ts_paint_set_parse (changed, -1, _ ("paint set"), error);
}
