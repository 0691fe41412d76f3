/* ts-paint-set-edit.c: changing a set's table, and the test swatches that it carries
 *
 * A swatch is a comment line, "# swatch: 2 Lamp Black + 1 Deep Blue,1,White Primer,0.7,31,2,-8", so
 * that the painter's measurements go wherever the table goes. K and S that a fit found take the
 * place of what the table gave; what it gave stands beside them in columns of its own.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-set-edit.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "paint/ts-paint-reading.h"
#include "paint/ts-paint-set-private.h"
#include "paint/ts-paint-table.h"

#define KEY "swatch:"
#define HEADER "recipe,coats,over,se,L,a,b\n"
#define KEPT "measured_" /* before the name of a column that a fit has overwritten */
#define DIGITS 5

static gboolean
is_swatch (const char *comment)
{
  return g_ascii_strncasecmp (comment, KEY, strlen (KEY)) == 0;
}

/* Index of the comment that holds the swatch, or -1. */
static int
find_comment (const TsCsv *table, guint swatch)
{
  for (guint i = 0; i < ts_csv_get_n_comments (table); i++)
    if (is_swatch (ts_csv_get_comment (table, i)) && swatch-- == 0)
      return (int) i;
  return -1;
}

/**
 * ts_paint_set_get_n_swatches:
 * @self: a set
 *
 * Returns: how many test swatches it carries
 */
guint
ts_paint_set_get_n_swatches (const TsPaintSet *self)
{
  guint n = 0;

  for (guint i = 0; i < ts_csv_get_n_comments (self->table); i++)
    n += is_swatch (ts_csv_get_comment (self->table, i)) ? 1 : 0;
  return n;
}

/**
 * ts_paint_set_get_swatch_text:
 * @self: a set
 * @index: which swatch
 *
 * Returns: (transfer none) (nullable): its line: recipe,coats,over,se,L,a,b
 */
const char *
ts_paint_set_get_swatch_text (const TsPaintSet *self, guint index)
{
  int comment = find_comment (self->table, index);
  const char *text;

  if (comment < 0)
    return NULL;
  text = ts_csv_get_comment (self->table, (guint) comment) + strlen (KEY);
  while (g_ascii_isspace (*text))
    text++;
  return text;
}

static gboolean
parse (const TsPaintSet *self, const char *line, TsSwatch *swatch, GError **error)
{
  g_autofree char *text = g_strconcat (HEADER, line, "\n", NULL);
  g_autoptr (GArray) found = ts_swatches_parse (self, text, -1, _ ("test swatch"), error);

  if (found == NULL || found->len != 1)
    return FALSE;
  *swatch = g_array_index (found, TsSwatch, 0);
  return TRUE;
}

/**
 * ts_paint_set_get_swatch:
 * @self: a set
 * @index: which swatch
 * @swatch: (out): it
 *
 * Returns: %FALSE where it cannot be read: a paint that it names is not in the set any more, say
 */
gboolean
ts_paint_set_get_swatch (const TsPaintSet *self, guint index, TsSwatch *swatch)
{
  const char *line = ts_paint_set_get_swatch_text (self, index);

  if (line == NULL || !parse (self, line, swatch, NULL))
    return FALSE;
  swatch->line = index + 1;
  return TRUE;
}

static char *
swatch_to_line (const TsTestSwatch *swatch)
{
  g_autoptr (GString) line = g_string_new (NULL);

  ts_csv_append_cell (line, swatch->recipe, TRUE);
  if (isfinite (swatch->coats))
    ts_csv_append_number (line, swatch->coats, DIGITS, FALSE);
  else
    ts_csv_append_cell (line, "", FALSE);
  ts_csv_append_cell (line, swatch->over != NULL ? swatch->over : "", FALSE);
  ts_csv_append_number (line, swatch->se, DIGITS, FALSE);
  ts_csv_append_number (line, swatch->lab.L, DIGITS, FALSE);
  ts_csv_append_number (line, swatch->lab.a, DIGITS, FALSE);
  ts_csv_append_number (line, swatch->lab.b, DIGITS, FALSE);
  return g_string_free (g_steal_pointer (&line), FALSE);
}

static TsPaintSet *
read_again (TsPaintTable *table, GError **error)
{
  g_autofree char *text = ts_paint_table_to_text (table);

  return ts_paint_set_parse (text, -1, _ ("paint set"), error);
}

/**
 * ts_paint_set_with_swatch:
 * @self: a set
 * @swatch: what was painted and measured
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the set and that swatch, which does not refine it yet, or
 *   %NULL as ts_swatches_parse() does where the swatch cannot be
 */
TsPaintSet *
ts_paint_set_with_swatch (const TsPaintSet *self, const TsTestSwatch *swatch, GError **error)
{
  g_autoptr (TsPaintTable) table = ts_paint_table_new (self->table);
  g_autofree char *line = swatch_to_line (swatch);
  g_autofree char *comment = g_strconcat (KEY " ", line, NULL);
  TsSwatch checked;

  if (!parse (self, line, &checked, error))
    return NULL;
  ts_paint_table_add_comment (table, comment);
  return read_again (table, error);
}

/**
 * ts_paint_set_without_swatch:
 * @self: a set
 * @index: which swatch, below their number
 *
 * Returns: (transfer full): the set but for that swatch; what it refined stays until the next fit
 */
TsPaintSet *
ts_paint_set_without_swatch (const TsPaintSet *self, guint index)
{
  g_autoptr (TsPaintTable) table = ts_paint_table_new (self->table);
  int comment = find_comment (self->table, index);

  g_return_val_if_fail (comment >= 0, NULL);

  ts_paint_table_remove_comment (table, (guint) comment);
  /* It was read once already, so nothing in it can be refused. */
  return read_again (table, NULL);
}

static const char *
cell_of (const TsCsv *table, guint row, const char *column)
{
  int c = ts_csv_find_column (table, column);

  return c < 0 ? "" : ts_csv_get_cell (table, row, c);
}

/* Copies the K and S of a row between their own columns and those that keep what was measured. A
 * column that nothing would be written to is not made. */
static void
copy_columns (const TsCsv *csv, TsPaintTable *table, guint row, gboolean keep)
{
  for (guint i = 0; i <= ts_paint_column_count (TS_SOURCE_DIRECT); i++)
    {
      g_autofree char *own = i < ts_paint_column_count (TS_SOURCE_DIRECT)
                               ? ts_paint_column_dup_name (TS_SOURCE_DIRECT, i)
                               : g_strdup ("known_within");
      g_autofree char *kept = g_strconcat (KEPT, own, NULL);
      const char *from = keep ? own : kept, *to = keep ? kept : own;

      if (*cell_of (csv, row, from) != '\0' || ts_csv_find_column (csv, to) >= 0)
        ts_paint_table_set (table, row, to, cell_of (csv, row, from));
      if (!keep && ts_csv_find_column (csv, kept) >= 0)
        ts_paint_table_set (table, row, kept, "");
    }
}

/**
 * ts_paint_set_as_measured:
 * @self: a set
 *
 * Returns: (transfer full): the set without what swatches have refined, made ready for another fit
 */
TsPaintSet *
ts_paint_set_as_measured (const TsPaintSet *self)
{
  g_autoptr (TsPaintTable) plain = ts_paint_table_new (self->table);
  g_autoptr (TsPaintTable) ready = NULL;
  g_autoptr (TsPaintSet) measured = NULL;

  for (guint r = 0; r < self->paints->len; r++)
    if (ts_paint_get_source (ts_paint_set_get_paint (self, r)) == TS_SOURCE_CALIBRATED)
      {
        copy_columns (self->table, plain, r, FALSE);
        ts_paint_table_set (plain, r, "known_from", "");
      }
  measured = read_again (plain, NULL);
  /* Refined by other means than ours, and nothing measured beside it: then that is what is known.
   */
  if (measured == NULL)
    return ts_paint_set_ref ((TsPaintSet *) self);

  ready = ts_paint_table_new (measured->table);
  for (guint r = 0; r < measured->paints->len; r++)
    if (ts_paint_get_source (ts_paint_set_get_paint (measured, r)) == TS_SOURCE_DIRECT)
      copy_columns (measured->table, ready, r, TRUE);
  return read_again (ready, NULL);
}

/**
 * ts_paint_set_with_cells:
 * @self: (nullable): a set; %NULL starts one
 * @index: which paint, or -1 for a new one at the end
 * @cells: (array zero-terminated=1): columns, ours or not, each followed by its text
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the set, or %NULL as ts_paint_set_parse() does where it
 *   cannot be so
 */
TsPaintSet *
ts_paint_set_with_cells (const TsPaintSet *self, int index, const char *const *cells,
                         GError **error)
{
  g_autoptr (TsCsv) empty =
    self == NULL ? ts_csv_parse ("name\n", -1, _ ("paint set"), error) : NULL;
  g_autoptr (TsPaintTable) table = NULL;
  guint row;

  g_return_val_if_fail (index < 0 || (self != NULL && index < (int) self->paints->len), NULL);

  if (self == NULL && empty == NULL)
    return NULL;
  table = ts_paint_table_new (self != NULL ? self->table : empty);
  row = index < 0 ? ts_paint_table_add_row (table) : (guint) index;
  for (; cells[0] != NULL; cells += 2)
    ts_paint_table_set (table, row, cells[0], cells[1]);
  return read_again (table, error);
}

/* @text with the paint that was called @old called @name, or %NULL where it is not in it. */
static char *
rename_in_recipe (const char *text, const char *old, const char *name)
{
  g_auto (GStrv) parts = g_strsplit (text, " + ", -1);
  g_autofree char *key = g_utf8_casefold (old, -1);
  gboolean found = FALSE;

  for (char **part = parts; *part != NULL; part++)
    {
      const char *called = strchr (*part, ' ');
      g_autofree char *folded = called != NULL ? g_utf8_casefold (called + 1, -1) : NULL;

      if (g_strcmp0 (folded, key) == 0)
        {
          char *renamed = g_strdup_printf ("%.*s %s", (int) (called - *part), *part, name);

          g_free (*part);
          *part = renamed;
          found = TRUE;
        }
    }
  return found ? g_strjoinv (" + ", parts) : NULL;
}

/* The line of a swatch with one paint called otherwise. */
static char *
rename_in_line (const char *line, const char *old, const char *name)
{
  g_autofree char *text = g_strconcat (HEADER, line, "\n", NULL);
  g_autoptr (TsCsv) csv = ts_csv_parse (text, -1, _ ("test swatch"), NULL);
  g_autoptr (GString) renamed = g_string_new (NULL);

  if (csv == NULL || ts_csv_get_n_rows (csv) != 1)
    return g_strdup (line);
  for (guint c = 0; c < ts_csv_get_n_columns (csv); c++)
    {
      const char *cell = ts_csv_get_cell (csv, 0, (int) c);
      g_autofree char *recipe = c == 0 ? rename_in_recipe (cell, old, name) : NULL;

      if (c == 2 && g_utf8_collate (cell, old) == 0)
        cell = name;
      ts_csv_append_cell (renamed, recipe != NULL ? recipe : cell, c == 0);
    }
  return g_string_free (g_steal_pointer (&renamed), FALSE);
}

/**
 * ts_paint_set_with_name:
 * @self: a set
 * @index: which paint
 * @name: what it is called from now on
 * @error: return location for an error, or %NULL
 *
 * Tints made with that paint, and test swatches that have it in them, follow.
 *
 * Returns: (transfer full) (nullable): the set, or %NULL as ts_paint_set_parse() does where no
 * paint can have that name, or another has it already
 */
TsPaintSet *
ts_paint_set_with_name (const TsPaintSet *self, guint index, const char *name, GError **error)
{
  g_autoptr (TsPaintTable) table = ts_paint_table_new (self->table);
  g_autofree char *old = NULL;

  g_return_val_if_fail (index < self->paints->len, NULL);

  old = g_strdup (ts_paint_get_name (ts_paint_set_get_paint (self, index)));
  ts_paint_table_set (table, index, "name", name);
  for (guint r = 0; r < self->paints->len; r++)
    {
      const char *white = cell_of (self->table, r, "tint_white");

      if (*white != '\0' && ts_paint_set_find (self, white) == (int) index)
        ts_paint_table_set (table, r, "tint_white", name);
    }
  for (guint i = 0; i < ts_csv_get_n_comments (self->table); i++)
    {
      const char *comment = ts_csv_get_comment (self->table, i);
      g_autofree char *line = NULL, *whole = NULL;

      if (!is_swatch (comment))
        continue;
      comment += strlen (KEY);
      while (g_ascii_isspace (*comment))
        comment++;
      line = rename_in_line (comment, old, name);
      whole = g_strconcat (KEY " ", line, NULL);
      ts_paint_table_replace_comment (table, i, whole);
    }
  return read_again (table, error);
}
