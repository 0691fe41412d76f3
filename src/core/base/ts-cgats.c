/* ts-cgats.c: tables of colour data as CGATS text (ISO 28178)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-cgats.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-error.h"
#include "base/ts-file.h"
#include "base/ts-text.h"

#define MAX_FIELDS 4096
#define MAX_CELLS 4000000

typedef struct
{
  const char *word; /* borrowed from strings */
  guint line;
} Word;

struct _TsCgats
{
  char *what;
  GStringChunk *strings;
  GHashTable *keywords; /* upper case to value, borrowed from strings */
  GPtrArray *fields;    /* borrowed from strings */
  GArray *cells;        /* of Word */
};

typedef struct
{
  TsCgats *table;
  const char *at, *end;
  guint line;
  gboolean failed;
} Reader;

static gboolean
fail (GError **error, const TsCgats *self, guint line, int code, const char *message)
{
  g_set_error (error, TS_ERROR, code, _ ("%s, line %u: %s"), self->what, line, message);
  return FALSE;
}

static const char *
keep (Reader *self, const char *start, const char *end)
{
  return g_string_chunk_insert_len (self->table->strings, start, end - start);
}

static void
step_over_blanks (Reader *self, gboolean lines)
{
  for (; self->at < self->end; self->at++)
    if (*self->at == '#')
      {
        while (self->at + 1 < self->end && self->at[1] != '\n' && self->at[1] != '\r')
          self->at++;
      }
    else if (*self->at == '\n' || *self->at == '\r')
      {
        if (!lines)
          return;
        if (*self->at == '\n' || !(self->at + 1 < self->end && self->at[1] == '\n'))
          self->line++;
      }
    else if (!g_ascii_isspace (*self->at))
      return;
}

/* The rest of a quoted word; a mark within is written twice. */
static const char *
read_quoted (Reader *self, GError **error)
{
  g_autoptr (GString) word = g_string_new (NULL);

  for (; self->at < self->end && *self->at != '\n' && *self->at != '\r'; self->at++)
    {
      if (*self->at == '"')
        {
          if (!(self->at + 1 < self->end && self->at[1] == '"'))
            {
              self->at++;
              return keep (self, word->str, word->str + word->len);
            }
          self->at++;
        }
      g_string_append_c (word, *self->at);
    }
  self->failed = TRUE;
  fail (error, self->table, self->line, TS_ERROR_FORMAT,
        _ ("a quotation mark is opened here and not closed on the line"));
  return NULL;
}

/* The next word, %NULL at the end of the line (or of the file, where @lines) or on failure. */
static const char *
read_word (Reader *self, gboolean lines, GError **error)
{
  const char *start;

  step_over_blanks (self, lines);
  if (self->at == self->end || *self->at == '\n' || *self->at == '\r')
    return NULL;
  if (*self->at == '"')
    {
      self->at++;
      return read_quoted (self, error);
    }
  start = self->at;
  while (self->at < self->end && !g_ascii_isspace (*self->at))
    self->at++;
  return keep (self, start, self->at);
}

static gboolean
read_fields (Reader *self, GError **error)
{
  guint begun = self->line;
  const char *word;

  if (self->table->fields->len > 0)
    return fail (error, self->table, begun, TS_ERROR_FORMAT, _ ("a second list of fields"));
  while ((word = read_word (self, TRUE, error)) != NULL)
    {
      if (strcmp (word, "END_DATA_FORMAT") == 0)
        {
          if (self->table->fields->len == 0)
            return fail (error, self->table, begun, TS_ERROR_FORMAT, _ ("an empty list of fields"));
          return TRUE;
        }
      if (ts_cgats_find_field (self->table, word) >= 0)
        return fail (error, self->table, self->line, TS_ERROR_FORMAT, _ ("a field is named twice"));
      g_ptr_array_add (self->table->fields, (gpointer) word);
      if (self->table->fields->len > MAX_FIELDS)
        return fail (error, self->table, begun, TS_ERROR_TOO_LARGE, _ ("too many fields"));
    }
  if (!self->failed)
    fail (error, self->table, begun, TS_ERROR_FORMAT, _ ("END_DATA_FORMAT is missing"));
  return FALSE;
}

/* The first line whose number of words is not that of the fields, or 0. */
static guint
find_odd_line (const TsCgats *self)
{
  guint n = 0;

  for (guint i = 0; i < self->cells->len; i++)
    {
      guint line = g_array_index (self->cells, Word, i).line;

      n++;
      if (i + 1 == self->cells->len || g_array_index (self->cells, Word, i + 1).line != line)
        {
          if (n != self->fields->len)
            return line;
          n = 0;
        }
    }
  return 0;
}

static gboolean
check_count (const TsCgats *self, GError **error)
{
  const char *sets = ts_cgats_get_keyword (self, "NUMBER_OF_SETS");
  double wanted;

  if (self->cells->len % self->fields->len != 0)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("%s, line %u: the number of words differs from the %u fields"), self->what,
                   find_odd_line (self), self->fields->len);
      return FALSE;
    }
  if (sets != NULL &&
      !(ts_text_parse_number (sets, &wanted) && wanted >= ts_cgats_get_n_rows (self) &&
        wanted <= ts_cgats_get_n_rows (self)))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("%s: NUMBER_OF_SETS is %s, but there are %u; the file may be cut short"),
                   self->what, sets, ts_cgats_get_n_rows (self));
      return FALSE;
    }
  return TRUE;
}

static gboolean
read_data (Reader *self, GError **error)
{
  guint begun = self->line;
  const char *word;

  if (self->table->fields->len == 0)
    return fail (error, self->table, begun, TS_ERROR_FORMAT,
                 _ ("the list of fields (BEGIN_DATA_FORMAT) must come before the data"));
  while ((word = read_word (self, TRUE, error)) != NULL)
    {
      Word cell = { word, self->line };

      if (strcmp (word, "END_DATA") == 0)
        return check_count (self->table, error);
      g_array_append_val (self->table->cells, cell);
      if (self->table->cells->len > MAX_CELLS)
        return fail (error, self->table, begun, TS_ERROR_TOO_LARGE, _ ("too much data"));
    }
  if (!self->failed)
    fail (error, self->table, begun, TS_ERROR_FORMAT, _ ("END_DATA is missing"));
  return FALSE;
}

/* KEYWORD NAME makes a name known and sets nothing; other lines are NAME VALUE. */
static gboolean
read_keyword (Reader *self, const char *name, GError **error)
{
  const char *value = read_word (self, FALSE, error);
  g_autofree char *upper = g_ascii_strup (name, -1);

  if (self->failed)
    return FALSE;
  if (strcmp (upper, "KEYWORD") != 0 && value != NULL)
    g_hash_table_insert (self->table->keywords, g_string_chunk_insert (self->table->strings, upper),
                         (gpointer) value);
  while (read_word (self, FALSE, error) != NULL)
    ;
  return !self->failed;
}

static gboolean
read_table (Reader *self, GError **error)
{
  const char *word;

  while ((word = read_word (self, TRUE, error)) != NULL)
    {
      if (strcmp (word, "BEGIN_DATA") == 0)
        return read_data (self, error);
      if (strcmp (word, "BEGIN_DATA_FORMAT") == 0)
        {
          if (!read_fields (self, error))
            return FALSE;
        }
      else if (!read_keyword (self, word, error))
        return FALSE;
    }
  if (!self->failed)
    g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                 _ ("%s: no BEGIN_DATA in it; this is not CGATS text (ISO 28178)"),
                 self->table->what);
  return FALSE;
}

/**
 * ts_cgats_parse:
 * @text: the text of a file, UTF-8 (plain ASCII is), with or without a byte order mark
 * @length: its bytes, or -1 where a zero byte ends it
 * @what: what messages call it
 * @error: return location for an error, or %NULL
 *
 * Reads the keywords, fields and data of the first table; what follows its END_DATA is not read.
 * Data may be broken into lines in any way. Linear time.
 *
 * Returns: (transfer full) (nullable): the table, or %NULL with %TS_ERROR_FORMAT or
 *   %TS_ERROR_TOO_LARGE set
 */
TsCgats *
ts_cgats_parse (const char *text, gssize length, const char *what, GError **error)
{
  g_autoptr (TsCgats) self = NULL;
  gsize n = length < 0 ? strlen (text) : (gsize) length;
  Reader reader;

  g_return_val_if_fail (what != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!ts_text_check (&text, &n, what, error))
    return NULL;
  self = g_new0 (TsCgats, 1);
  self->what = g_strdup (what);
  self->strings = g_string_chunk_new (4096);
  self->keywords = g_hash_table_new (g_str_hash, g_str_equal);
  self->fields = g_ptr_array_new ();
  self->cells = g_array_new (FALSE, FALSE, sizeof (Word));
  reader = (Reader){ .table = self, .at = text, .end = text + n, .line = 1 };
  return read_table (&reader, error) ? g_steal_pointer (&self) : NULL;
}

/**
 * ts_cgats_load:
 * @path: a regular file
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the table in it; see ts_cgats_parse() and ts_file_read()
 */
TsCgats *
ts_cgats_load (const char *path, GError **error)
{
  g_autoptr (GBytes) bytes = ts_file_read (path, TS_TEXT_MAX_BYTES, error);
  g_autofree char *what = NULL;
  const char *text;
  gsize n;

  if (bytes == NULL)
    return NULL;
  what = ts_text_dup_file_name (path);
  text = g_bytes_get_data (bytes, &n);
  return ts_cgats_parse (text != NULL ? text : "", (gssize) n, what, error);
}

/**
 * ts_cgats_free:
 * @self: (transfer full) (nullable): a table
 */
void
ts_cgats_free (TsCgats *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->cells);
  g_ptr_array_unref (self->fields);
  g_hash_table_unref (self->keywords);
  g_string_chunk_free (self->strings);
  g_free (self->what);
  g_free (self);
}

/**
 * ts_cgats_get_n_rows:
 * @self: a table
 *
 * Returns: number of data sets
 */
guint
ts_cgats_get_n_rows (const TsCgats *self)
{
  return self->cells->len / self->fields->len;
}

/**
 * ts_cgats_get_n_fields:
 * @self: a table
 *
 * Returns: number of fields, at least 1
 */
guint
ts_cgats_get_n_fields (const TsCgats *self)
{
  return self->fields->len;
}

/**
 * ts_cgats_get_field:
 * @self: a table
 * @field: which field
 *
 * Returns: (transfer none): its name as the file writes it
 */
const char *
ts_cgats_get_field (const TsCgats *self, guint field)
{
  g_return_val_if_fail (field < self->fields->len, "");

  return g_ptr_array_index (self->fields, field);
}

/**
 * ts_cgats_find_field:
 * @self: a table
 * @name: a field's name, such as "LAB_L"
 *
 * Returns: which field it is, or -1
 */
int
ts_cgats_find_field (const TsCgats *self, const char *name)
{
  for (guint i = 0; i < self->fields->len; i++)
    if (g_ascii_strcasecmp (g_ptr_array_index (self->fields, i), name) == 0)
      return (int) i;
  return -1;
}

/**
 * ts_cgats_get_keyword:
 * @self: a table
 * @name: a keyword's name in capitals
 *
 * Returns: (transfer none) (nullable): its value; the last one where it is given more than once
 */
const char *
ts_cgats_get_keyword (const TsCgats *self, const char *name)
{
  return g_hash_table_lookup (self->keywords, name);
}

/**
 * ts_cgats_get_cell:
 * @self: a table
 * @row: which row
 * @field: which field; -1 (a field that was not found) reads as ""
 *
 * Returns: (transfer none): the word there
 */
const char *
ts_cgats_get_cell (const TsCgats *self, guint row, int field)
{
  g_return_val_if_fail (row < ts_cgats_get_n_rows (self), "");
  g_return_val_if_fail (field < (int) self->fields->len, "");

  return field < 0
           ? ""
           : g_array_index (self->cells, Word, row * self->fields->len + (guint) field).word;
}

/**
 * ts_cgats_get_line:
 * @self: a table
 * @row: which row
 *
 * Returns: the line of the file on which the row begins, 1 = the first
 */
guint
ts_cgats_get_line (const TsCgats *self, guint row)
{
  g_return_val_if_fail (row < ts_cgats_get_n_rows (self), 0);

  return g_array_index (self->cells, Word, row * self->fields->len).line;
}

/**
 * ts_cgats_get_number:
 * @self: a table
 * @row: which row
 * @field: which field
 * @least: smallest number allowed
 * @most: largest number allowed
 * @number: (out): the number; untouched on failure
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_BAD_VALUE set, naming line and field
 */
gboolean
ts_cgats_get_number (const TsCgats *self, guint row, int field, double least, double most,
                     double *number, GError **error)
{
  const char *cell = ts_cgats_get_cell (self, row, field);
  const char *name = field < 0 ? "?" : ts_cgats_get_field (self, (guint) field);
  double value;

  if (!ts_text_parse_number (cell, &value))
    {
      g_autofree char *excerpt = ts_text_dup_excerpt (cell);

      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("%s, line %u, field %s: “%s” is not a number such as 12.5"), self->what,
                   ts_cgats_get_line (self, row), name, excerpt);
      return FALSE;
    }
  if (!(value >= least && value <= most))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("%s, line %u, field %s: %g is not from %g to %g"), self->what,
                   ts_cgats_get_line (self, row), name, value, least, most);
      return FALSE;
    }
  *number = value;
  return TRUE;
}

/**
 * ts_cgats_looks_like:
 * @text: the beginning of a file
 * @length: its bytes, or -1 where a zero byte ends it
 *
 * Returns: whether it begins with a file identifier of ISO 28178 ("ISO28178", "CGATS.17", "CGATS")
 */
gboolean
ts_cgats_looks_like (const char *text, gssize length)
{
  gsize n = length < 0 ? strlen (text) : (gsize) length;

  if (n >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0)
    {
      text += 3;
      n -= 3;
    }
  for (; n > 0 && g_ascii_isspace (*text); n--)
    text++;
  return (n >= 5 && g_ascii_strncasecmp (text, "CGATS", 5) == 0) ||
         (n >= 8 && g_ascii_strncasecmp (text, "ISO28178", 8) == 0);
}

/**
 * ts_cgats_append_cell:
 * @text: text to append to
 * @cell: the word, UTF-8; line ends in it become blanks, as a word cannot hold them
 * @first: whether it is the first of its row
 */
void
ts_cgats_append_cell (GString *text, const char *cell, gboolean first)
{
  if (!first)
    g_string_append_c (text, '\t');
  if (*cell != '\0' && strpbrk (cell, " \t\r\n\v\f\"#") == NULL)
    {
      g_string_append (text, cell);
      return;
    }
  g_string_append_c (text, '"');
  for (const char *p = cell; *p != '\0'; p++)
    {
      if (*p == '"')
        g_string_append_c (text, '"');
      g_string_append_c (text, *p == '\n' || *p == '\r' ? ' ' : *p);
    }
  g_string_append_c (text, '"');
}
