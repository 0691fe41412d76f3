/* ts-csv.c: tables in comma-separated text (RFC 4180), with comment lines before the header
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-csv.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-error.h"
#include "base/ts-file.h"
#include "base/ts-text.h"

/* Far beyond any table of paints, so that a wrong file is named and not swallowed. */
#define MAX_COLUMNS 4096
#define MAX_ROWS 1000000
#define MAX_CELLS 8000000

typedef struct
{
  gsize first; /* index into cells */
  guint n;
  guint line; /* 1 = first line of the file */
} Row;

struct _TsCsv
{
  char *what;
  GStringChunk *strings;
  GPtrArray *comments; /* borrowed from strings */
  GPtrArray *cells;    /* borrowed from strings */
  GArray *rows;        /* of Row; the first is the header */
};

typedef struct
{
  TsCsv *table;
  const char *at, *end;
  guint line;
  GString *cell;
} Reader;

static gboolean
at_line_end (const Reader *self)
{
  return self->at == self->end || *self->at == '\n' || *self->at == '\r';
}

static void
step_over_line_end (Reader *self)
{
  if (self->at == self->end)
    return;
  if (*self->at == '\r' && self->at + 1 < self->end && self->at[1] == '\n')
    self->at++;
  self->at++;
  self->line++;
}

static void
step_over_blanks (Reader *self)
{
  while (self->at < self->end && (*self->at == ' ' || *self->at == '\t'))
    self->at++;
}

/* Reads on from behind an opening quote to behind the closing one. */
static gboolean
read_quoted (Reader *self, GError **error)
{
  guint opened = self->line;

  while (self->at < self->end)
    {
      if (*self->at == '"')
        {
          if (!(self->at + 1 < self->end && self->at[1] == '"'))
            {
              self->at++;
              return TRUE;
            }
          self->at++;
        }
      else if (*self->at == '\n' ||
               (*self->at == '\r' && !(self->at + 1 < self->end && self->at[1] == '\n')))
        self->line++;
      g_string_append_c (self->cell, *self->at);
      self->at++;
    }
  g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
               _ ("%s, line %u: a quotation mark is opened here and never closed"),
               self->table->what, opened);
  return FALSE;
}

static gboolean
read_cell (Reader *self, GError **error)
{
  g_string_truncate (self->cell, 0);
  step_over_blanks (self);
  if (self->at < self->end && *self->at == '"')
    {
      self->at++;
      if (!read_quoted (self, error))
        return FALSE;
      step_over_blanks (self);
      if (!at_line_end (self) && *self->at != ',')
        {
          g_set_error (
            error, TS_ERROR, TS_ERROR_FORMAT,
            _ ("%s, line %u: text follows a closing quotation mark; put a comma between, "
               "or write the mark within a cell twice"),
            self->table->what, self->line);
          return FALSE;
        }
    }
  else
    while (!at_line_end (self) && *self->at != ',')
      g_string_append_c (self->cell, *self->at++);
  g_strstrip (self->cell->str);
  g_ptr_array_add (self->table->cells,
                   g_string_chunk_insert_const (self->table->strings, self->cell->str));
  return TRUE;
}

static gboolean
check_row (const Reader *self, const Row *row, GError **error)
{
  const TsCsv *table = self->table;
  const Row *header = table->rows->len > 0 ? &g_array_index (table->rows, Row, 0) : row;

  if (row->n > MAX_COLUMNS || table->rows->len > MAX_ROWS || table->cells->len > MAX_CELLS)
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_TOO_LARGE,
        _ ("%s, line %u: more than %d columns, %d rows or %d cells; is it the right file?"),
        table->what, row->line, MAX_COLUMNS, MAX_ROWS, MAX_CELLS);
      return FALSE;
    }
  for (guint i = header->n; i < row->n; i++)
    if (*(const char *) g_ptr_array_index (table->cells, row->first + i) != '\0')
      {
        g_set_error (
          error, TS_ERROR, TS_ERROR_FORMAT,
          _ ("%s, line %u: %u cells, but the header names %u columns; a text with a comma "
             "in it must stand between quotation marks"),
          table->what, row->line, row->n, header->n);
        return FALSE;
      }
  return TRUE;
}

static gboolean
read_row (Reader *self, GError **error)
{
  Row row = { .first = self->table->cells->len, .n = 0, .line = self->line };

  for (;;)
    {
      if (!read_cell (self, error))
        return FALSE;
      row.n++;
      if (at_line_end (self) || row.n > MAX_COLUMNS)
        break;
      self->at++;
    }
  if (!check_row (self, &row, error))
    return FALSE;
  step_over_line_end (self);
  g_array_append_val (self->table->rows, row);
  return TRUE;
}

/* A line of nothing but blanks and commas is what a spreadsheet leaves of an emptied row. */
static gboolean
line_is_blank (const Reader *self)
{
  for (const char *p = self->at; p < self->end && *p != '\n' && *p != '\r'; p++)
    if (*p != ' ' && *p != '\t' && *p != ',')
      return FALSE;
  return TRUE;
}

static void
skip_line (Reader *self)
{
  while (!at_line_end (self))
    self->at++;
  step_over_line_end (self);
}

static void
read_comment (Reader *self)
{
  const char *start = self->at + 1;

  while (!at_line_end (self))
    self->at++;
  g_autofree char *comment = g_strndup (start, (gsize) (self->at - start));
  g_ptr_array_add (self->table->comments,
                   g_string_chunk_insert (self->table->strings, g_strstrip (comment)));
  step_over_line_end (self);
}

static gboolean
check_header (const TsCsv *self, GError **error)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  const char *first = ts_csv_get_header (self, 0);

  if (ts_csv_get_n_columns (self) == 1 && strpbrk (first, ";\t") != NULL)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_UNSUPPORTED,
                   _ ("%s: the cells are separated by semicolons or tabs; save it with commas"),
                   self->what);
      return FALSE;
    }
  for (guint i = 0; i < ts_csv_get_n_columns (self); i++)
    {
      const char *name = ts_csv_get_header (self, i);

      if (*name != '\0' && !g_hash_table_add (seen, (gpointer) name))
        {
          g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                       _ ("%s: two columns are named “%s”; rename or remove one"), self->what,
                       name);
          return FALSE;
        }
    }
  return TRUE;
}

static gboolean
read_table (Reader *self, GError **error)
{
  TsCsv *table = self->table;

  while (self->at < self->end)
    {
      if (line_is_blank (self))
        skip_line (self);
      else if (table->rows->len == 0 && *self->at == '#')
        read_comment (self);
      else if (!read_row (self, error))
        return FALSE;
    }
  if (table->rows->len == 0)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW,
                   _ ("%s: no table in it; its first line must name the columns"), table->what);
      return FALSE;
    }
  return check_header (table, error);
}

/**
 * ts_csv_parse:
 * @text: the text of a table, UTF-8, with or without a byte order mark
 * @length: its bytes, or -1 where a zero byte ends it
 * @what: what messages call it
 * @error: return location for an error, or %NULL
 *
 * Reads a table: comment lines, a header row, then rows. Line ends may be LF, CRLF or CR; lines
 * without any text are skipped; a row may have fewer cells than the header, not more. Linear time.
 *
 * Returns: (transfer full) (nullable): the table, or %NULL with %TS_ERROR_FORMAT,
 *   %TS_ERROR_UNSUPPORTED, %TS_ERROR_TOO_LARGE or %TS_ERROR_TOO_FEW (nothing in it) set
 */
TsCsv *
ts_csv_parse (const char *text, gssize length, const char *what, GError **error)
{
  g_autoptr (TsCsv) self = NULL;
  g_autoptr (GString) cell = NULL;
  gsize n = length < 0 ? strlen (text) : (gsize) length;
  Reader reader;

  g_return_val_if_fail (what != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!ts_text_check (&text, &n, what, error))
    return NULL;

  self = g_new0 (TsCsv, 1);
  self->what = g_strdup (what);
  self->strings = g_string_chunk_new (4096);
  self->comments = g_ptr_array_new ();
  self->cells = g_ptr_array_new ();
  self->rows = g_array_new (FALSE, FALSE, sizeof (Row));
  cell = g_string_new (NULL);
  reader = (Reader){ .table = self, .at = text, .end = text + n, .line = 1, .cell = cell };
  if (!read_table (&reader, error))
    return NULL;
  return g_steal_pointer (&self);
}

/**
 * ts_csv_load:
 * @path: a regular file
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the table in it; see ts_csv_parse() and ts_file_read()
 */
TsCsv *
ts_csv_load (const char *path, GError **error)
{
  g_autoptr (GBytes) bytes = ts_file_read (path, TS_TEXT_MAX_BYTES, error);
  g_autofree char *what = NULL;
  const char *text;
  gsize n;

  if (bytes == NULL)
    return NULL;
  what = ts_text_dup_file_name (path);
  text = g_bytes_get_data (bytes, &n);
  return ts_csv_parse (text != NULL ? text : "", (gssize) n, what, error);
}

/**
 * ts_csv_free:
 * @self: (transfer full) (nullable): a table
 */
void
ts_csv_free (TsCsv *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->rows);
  g_ptr_array_unref (self->cells);
  g_ptr_array_unref (self->comments);
  g_string_chunk_free (self->strings);
  g_free (self->what);
  g_free (self);
}

/**
 * ts_csv_get_n_rows:
 * @self: a table
 *
 * Returns: number of rows, the header not counted
 */
guint
ts_csv_get_n_rows (const TsCsv *self)
{
  return self->rows->len - 1;
}

/**
 * ts_csv_get_n_columns:
 * @self: a table
 *
 * Returns: number of columns that the header names, at least 1
 */
guint
ts_csv_get_n_columns (const TsCsv *self)
{
  return g_array_index (self->rows, Row, 0).n;
}

/**
 * ts_csv_get_n_comments:
 * @self: a table
 *
 * Returns: number of comment lines before the header
 */
guint
ts_csv_get_n_comments (const TsCsv *self)
{
  return self->comments->len;
}

/**
 * ts_csv_get_comment:
 * @self: a table
 * @index: which comment line
 *
 * Returns: (transfer none): its text without the '#' and the blanks around
 */
const char *
ts_csv_get_comment (const TsCsv *self, guint index)
{
  g_return_val_if_fail (index < self->comments->len, "");

  return g_ptr_array_index (self->comments, index);
}

static const char *
get_cell (const TsCsv *self, guint row, guint column)
{
  const Row *r = &g_array_index (self->rows, Row, row);

  return column < r->n ? g_ptr_array_index (self->cells, r->first + column) : "";
}

/**
 * ts_csv_get_header:
 * @self: a table
 * @column: which column
 *
 * Returns: (transfer none): its name, "" where it has none
 */
const char *
ts_csv_get_header (const TsCsv *self, guint column)
{
  return get_cell (self, 0, column);
}

/**
 * ts_csv_find_column:
 * @self: a table
 * @name: a column's name, exactly
 *
 * Returns: which column it is, or -1
 */
int
ts_csv_find_column (const TsCsv *self, const char *name)
{
  for (guint i = 0; i < ts_csv_get_n_columns (self); i++)
    if (strcmp (ts_csv_get_header (self, i), name) == 0)
      return (int) i;
  return -1;
}

/**
 * ts_csv_get_cell:
 * @self: a table
 * @row: which row, 0 = the first below the header
 * @column: which column; -1 (a column that was not found) reads as ""
 *
 * Returns: (transfer none): the text of the cell
 */
const char *
ts_csv_get_cell (const TsCsv *self, guint row, int column)
{
  g_return_val_if_fail (row < ts_csv_get_n_rows (self), "");

  return column < 0 ? "" : get_cell (self, row + 1, (guint) column);
}

/**
 * ts_csv_get_number:
 * @self: a table
 * @row: which row
 * @column: which column
 * @least: smallest number allowed
 * @most: largest number allowed
 * @number: (out): the number; untouched on failure
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_BAD_VALUE set, naming line and column
 */
gboolean
ts_csv_get_number (const TsCsv *self, guint row, int column, double least, double most,
                   double *number, GError **error)
{
  const char *cell = ts_csv_get_cell (self, row, column);
  const char *name = column < 0 ? "?" : ts_csv_get_header (self, (guint) column);
  double value;

  if (!ts_text_parse_number (cell, &value))
    {
      g_autofree char *excerpt = ts_text_dup_excerpt (cell);

      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("%s, line %u, column “%s”: “%s” is not a number such as 12.5"), self->what,
                   ts_csv_get_line (self, row), name, excerpt);
      return FALSE;
    }
  if (!(value >= least && value <= most))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("%s, line %u, column “%s”: %g is not from %g to %g"), self->what,
                   ts_csv_get_line (self, row), name, value, least, most);
      return FALSE;
    }
  *number = value;
  return TRUE;
}

/**
 * ts_csv_get_line:
 * @self: a table
 * @row: which row
 *
 * Returns: the line of the file on which the row begins, 1 = the first
 */
guint
ts_csv_get_line (const TsCsv *self, guint row)
{
  g_return_val_if_fail (row < ts_csv_get_n_rows (self), 0);

  return g_array_index (self->rows, Row, row + 1).line;
}
