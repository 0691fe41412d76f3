/* ts-paint-table.c: a paint set's table with cells that can be changed before it is read again
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-table.h"

#include <string.h>

struct _TsPaintTable
{
  /* Owned */
  GPtrArray *comments; /* char * */
  GPtrArray *headers;  /* char * */
  GPtrArray *rows;     /* GPtrArray * of char *, as long as headers */
};

/**
 * ts_paint_table_new:
 * @csv: a table
 *
 * Returns: (transfer full): a copy of it that can be changed
 */
TsPaintTable *
ts_paint_table_new (const TsCsv *csv)
{
  TsPaintTable *self = g_new0 (TsPaintTable, 1);
  guint n_columns = ts_csv_get_n_columns (csv);

  self->comments = g_ptr_array_new_with_free_func (g_free);
  self->headers = g_ptr_array_new_with_free_func (g_free);
  self->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);

  for (guint i = 0; i < ts_csv_get_n_comments (csv); i++)
    g_ptr_array_add (self->comments, g_strdup (ts_csv_get_comment (csv, i)));
  for (guint c = 0; c < n_columns; c++)
    g_ptr_array_add (self->headers, g_strdup (ts_csv_get_header (csv, c)));
  for (guint r = 0; r < ts_csv_get_n_rows (csv); r++)
    {
      GPtrArray *row = g_ptr_array_new_with_free_func (g_free);

      for (guint c = 0; c < n_columns; c++)
        g_ptr_array_add (row, g_strdup (ts_csv_get_cell (csv, r, (int) c)));
      g_ptr_array_add (self->rows, row);
    }
  return self;
}

/**
 * ts_paint_table_free:
 * @self: (transfer full): a table
 */
void
ts_paint_table_free (TsPaintTable *self)
{
  g_ptr_array_unref (self->comments);
  g_ptr_array_unref (self->headers);
  g_ptr_array_unref (self->rows);
  g_free (self);
}

static guint
find_or_add_column (TsPaintTable *self, const char *name)
{
  for (guint c = 0; c < self->headers->len; c++)
    if (g_str_equal (g_ptr_array_index (self->headers, c), name))
      return c;

  g_ptr_array_add (self->headers, g_strdup (name));
  for (guint r = 0; r < self->rows->len; r++)
    g_ptr_array_add (g_ptr_array_index (self->rows, r), g_strdup (""));
  return self->headers->len - 1;
}

/**
 * ts_paint_table_set:
 * @self: a table
 * @row: a row, below their number
 * @column: name of a column
 * @text: what the cell is to hold
 */
void
ts_paint_table_set (TsPaintTable *self, guint row, const char *column, const char *text)
{
  guint c = find_or_add_column (self, column);
  GPtrArray *cells;
  char **cell;

  g_return_if_fail (row < self->rows->len);

  cells = g_ptr_array_index (self->rows, row);
  cell = (char **) &g_ptr_array_index (cells, c);
  g_free (*cell);
  *cell = g_strdup (text);
}

/**
 * ts_paint_table_add_row:
 * @self: a table
 *
 * Returns: index of a new, empty row at the end
 */
guint
ts_paint_table_add_row (TsPaintTable *self)
{
  GPtrArray *row = g_ptr_array_new_with_free_func (g_free);

  for (guint c = 0; c < self->headers->len; c++)
    g_ptr_array_add (row, g_strdup (""));
  g_ptr_array_add (self->rows, row);
  return self->rows->len - 1;
}

/**
 * ts_paint_table_remove_row:
 * @self: a table
 * @row: a row, below their number
 */
void
ts_paint_table_remove_row (TsPaintTable *self, guint row)
{
  g_return_if_fail (row < self->rows->len);

  g_ptr_array_remove_index (self->rows, row);
}

/**
 * ts_paint_table_set_comment:
 * @self: a table
 * @key: how the comment begins
 * @text: the whole comment, without the '#'
 */
void
ts_paint_table_set_comment (TsPaintTable *self, const char *key, const char *text)
{
  for (guint i = 0; i < self->comments->len; i++)
    {
      char **comment = (char **) &g_ptr_array_index (self->comments, i);

      if (g_ascii_strncasecmp (*comment, key, strlen (key)) == 0)
        {
          g_free (*comment);
          *comment = g_strdup (text);
          return;
        }
    }
  g_ptr_array_add (self->comments, g_strdup (text));
}

/**
 * ts_paint_table_add_comment:
 * @self: a table
 * @text: a comment, without the '#'
 */
void
ts_paint_table_add_comment (TsPaintTable *self, const char *text)
{
  g_ptr_array_add (self->comments, g_strdup (text));
}

/**
 * ts_paint_table_replace_comment:
 * @self: a table
 * @index: which comment, below their number
 * @text: what it says from now on, without the '#'
 */
void
ts_paint_table_replace_comment (TsPaintTable *self, guint index, const char *text)
{
  char **comment;

  g_return_if_fail (index < self->comments->len);

  comment = (char **) &g_ptr_array_index (self->comments, index);
  g_free (*comment);
  *comment = g_strdup (text);
}

/**
 * ts_paint_table_remove_comment:
 * @self: a table
 * @index: which comment, below their number
 */
void
ts_paint_table_remove_comment (TsPaintTable *self, guint index)
{
  g_return_if_fail (index < self->comments->len);

  g_ptr_array_remove_index (self->comments, index);
}

static void
append_line (GString *text, GPtrArray *cells)
{
  for (guint c = 0; c < cells->len; c++)
    ts_csv_append_cell (text, g_ptr_array_index (cells, c), c == 0);
  g_string_append_c (text, '\n');
}

/**
 * ts_paint_table_to_text:
 * @self: a table
 *
 * Returns: (transfer full): comments, header and rows, each cell as it stands
 */
char *
ts_paint_table_to_text (TsPaintTable *self)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < self->comments->len; i++)
    g_string_append_printf (text, "# %s\n", (char *) g_ptr_array_index (self->comments, i));
  append_line (text, self->headers);
  for (guint r = 0; r < self->rows->len; r++)
    append_line (text, g_ptr_array_index (self->rows, r));
  return g_string_free (g_steal_pointer (&text), FALSE);
}
