/* ts-check-brief.c: does a mix give what the client asked for
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "checks/ts-check-brief.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-cgats.h"
#include "base/ts-csv.h"
#include "base/ts-error.h"
#include "base/ts-file.h"
#include "colour/ts-colour-convert.h"

#define DEFAULT_TOLERANCE 2.0 /* CIEDE2000; common practice, no source */
#define MOST_BYTES (4 * 1024 * 1024)
#define MOST_LINES 1000
#define CODE_LENGTH 7 /* #5F8A8B */

/**
 * ts_brief_check:
 * @delta_e: CIEDE2000 from the mixed colour to the one asked for
 * @error: 95 % radius of the mixed colour, CIEDE2000
 * @tolerance: what the client allows, CIEDE2000
 *
 * Returns: passes where even the edge of the error lies within the tolerance
 */
TsBriefVerdict
ts_brief_check (double delta_e, double error, double tolerance)
{
  if (delta_e + error <= tolerance)
    return TS_BRIEF_PASSES;
  if (delta_e <= tolerance)
    return TS_BRIEF_MAY_PASS;
  return TS_BRIEF_FAILS;
}

/**
 * ts_brief_verdict_to_id:
 * @verdict: a verdict
 *
 * Returns: (transfer none): "fails", "may_pass" or "passes", for files
 */
const char *
ts_brief_verdict_to_id (TsBriefVerdict verdict)
{
  static const char *const ids[] = { "fails", "may_pass", "passes" };

  g_return_val_if_fail ((guint) verdict < G_N_ELEMENTS (ids), NULL);

  return ids[verdict];
}

void
ts_brief_entry_free (TsBriefEntry *entry)
{
  if (entry == NULL)
    return;
  g_free (entry->name);
  g_free (entry);
}

static int
find_needed (const TsCsv *table, const char *column, const char *what, GError **error)
{
  int index = ts_csv_find_column (table, column);

  if (index < 0)
    g_set_error (
      error, TS_ERROR, TS_ERROR_FORMAT,
      _ ("%s has no column \"%s\"; a brief has the columns name, L, a, b and, if you like, "
         "tolerance"),
      what, column);
  return index;
}

static gboolean
read_row (const TsCsv *table, guint row, const int column[5], TsBriefEntry *entry, GError **error)
{
  const char *name = ts_csv_get_cell (table, row, column[0]);
  gboolean has_tolerance = column[4] >= 0 && *ts_csv_get_cell (table, row, column[4]) != '\0';

  entry->name = *name != '\0' ? g_strdup (name) : g_strdup_printf (_ ("Colour %u"), row + 1);
  entry->tolerance = DEFAULT_TOLERANCE;
  return ts_csv_get_number (table, row, column[1], 0.0, 100.0, &entry->lab.L, error) &&
         ts_csv_get_number (table, row, column[2], -200.0, 200.0, &entry->lab.a, error) &&
         ts_csv_get_number (table, row, column[3], -200.0, 200.0, &entry->lab.b, error) &&
         (!has_tolerance ||
          ts_csv_get_number (table, row, column[4], 0.0, 100.0, &entry->tolerance, error));
}

static gboolean
check_count (guint n, const char *what, GError **error)
{
  if (n <= MOST_LINES)
    return TRUE;
  g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE,
               _ ("%s has %u colours; a brief holds at most %d, so cut it up"), what, n,
               MOST_LINES);
  return FALSE;
}

static GPtrArray *
parse_csv (const char *text, gssize length, const char *what, GError **error)
{
  static const char *const names[] = { "name", "L", "a", "b" };
  g_autoptr (TsCsv) table = ts_csv_parse (text, length, what, error);
  g_autoptr (GPtrArray) entries =
    g_ptr_array_new_with_free_func ((GDestroyNotify) ts_brief_entry_free);
  int column[5];

  if (table == NULL)
    return NULL;
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if ((column[i] = find_needed (table, names[i], what, error)) < 0)
      return NULL;
  column[4] = ts_csv_find_column (table, "tolerance");
  if (!check_count (ts_csv_get_n_rows (table), what, error))
    return NULL;
  for (guint row = 0; row < ts_csv_get_n_rows (table); row++)
    {
      TsBriefEntry *entry = g_new0 (TsBriefEntry, 1);

      g_ptr_array_add (entries, entry);
      if (!read_row (table, row, column, entry, error))
        return NULL;
    }
  return g_steal_pointer (&entries);
}

/* The place of an sRGB code such as #5F8A8B in @line, or -1. */
static int
find_code (const char *line, guint8 code[3])
{
  for (const char *at = strchr (line, '#'); at != NULL; at = strchr (at + 1, '#'))
    {
      gsize n = strspn (at + 1, "0123456789abcdefABCDEF");

      if (n != 6)
        continue;
      for (guint i = 0; i < 3; i++)
        code[i] = (guint8) (g_ascii_xdigit_value (at[1 + 2 * i]) * 16 +
                            g_ascii_xdigit_value (at[2 + 2 * i]));
      return (int) (at - line);
    }
  return -1;
}

/* What stands before the code, or else behind it. */
static char *
dup_name_beside (const char *line, int at)
{
  g_autofree char *before = g_strndup (line, (gsize) at);
  g_autofree char *behind = g_strdup (line + at + CODE_LENGTH);

  g_strdelimit (before, ",;:=\t\"()", ' ');
  g_strdelimit (behind, ",;:=\t\"()", ' ');
  return g_strdup (*g_strstrip (before) != '\0' ? before : g_strstrip (behind));
}

/**
 * ts_brief_entry_from_words:
 * @line: such as "Faded teal #5f8a8b"
 *
 * Returns: (transfer full) (nullable): the colour of the sRGB code in it, with the other words as
 *   its name, which may be ""; or %NULL where there is none
 */
TsBriefEntry *
ts_brief_entry_from_words (const char *line)
{
  TsBriefEntry *entry;
  guint8 code[3];
  int at = find_code (line, code);

  if (at < 0)
    return NULL;
  entry = g_new0 (TsBriefEntry, 1);
  entry->name = dup_name_beside (line, at);
  entry->lab = ts_lab_from_srgb8 (code);
  entry->tolerance = DEFAULT_TOLERANCE;
  return entry;
}

/* A letter with codes in it: lines without one are other words. */
static GPtrArray *
parse_words (const char *text, gssize length, const char *what, GError **error)
{
  g_autofree char *whole = length < 0 ? g_strdup (text) : g_strndup (text, (gsize) length);
  g_auto (GStrv) lines = g_strsplit_set (whole, "\r\n", -1);
  g_autoptr (GPtrArray) entries =
    g_ptr_array_new_with_free_func ((GDestroyNotify) ts_brief_entry_free);

  for (guint i = 0; lines[i] != NULL; i++)
    {
      TsBriefEntry *entry = ts_brief_entry_from_words (lines[i]);

      if (entry == NULL)
        continue;
      g_ptr_array_add (entries, entry);
      if (*entry->name == '\0')
        {
          g_free (entry->name);
          entry->name = g_strdup_printf (_ ("Colour %u"), entries->len);
        }
    }
  return check_count (entries->len, what, error) ? g_steal_pointer (&entries) : NULL;
}

/* Whether the first line names the columns of a table. */
static gboolean
has_header (const char *text, gssize length)
{
  gsize n = length < 0 ? strlen (text) : (gsize) length;
  const char *end = memchr (text, '\n', n);
  g_autofree char *line = g_strndup (text, end != NULL ? (gsize) (end - text) : n);

  return strstr (line, ",L,") != NULL || strstr (line, "\"L\"") != NULL;
}

static gboolean
has_code (const char *text, gssize length)
{
  g_autofree char *whole = length < 0 ? g_strdup (text) : g_strndup (text, (gsize) length);
  guint8 code[3];

  return find_code (whole, code) >= 0;
}

/* SAMPLE_NAME, else SAMPLE_ID; LAB_L, LAB_A, LAB_B; TOLERANCE, which is our own. */
static gboolean
read_set (const TsCgats *table, guint row, const int field[5], TsBriefEntry *entry, GError **error)
{
  const char *name = field[0] >= 0 ? ts_cgats_get_cell (table, row, field[0]) : "";

  entry->name = *name != '\0' ? g_strdup (name) : g_strdup_printf (_ ("Colour %u"), row + 1);
  entry->tolerance = DEFAULT_TOLERANCE;
  return ts_cgats_get_number (table, row, field[1], 0.0, 100.0, &entry->lab.L, error) &&
         ts_cgats_get_number (table, row, field[2], -200.0, 200.0, &entry->lab.a, error) &&
         ts_cgats_get_number (table, row, field[3], -200.0, 200.0, &entry->lab.b, error) &&
         (field[4] < 0 ||
          ts_cgats_get_number (table, row, field[4], 0.0, 100.0, &entry->tolerance, error));
}

static GPtrArray *
parse_cgats (const char *text, gssize length, const char *what, GError **error)
{
  static const char *const names[] = { "SAMPLE_NAME", "LAB_L", "LAB_A", "LAB_B", "TOLERANCE" };
  g_autoptr (TsCgats) table = ts_cgats_parse (text, length, what, error);
  g_autoptr (GPtrArray) entries =
    g_ptr_array_new_with_free_func ((GDestroyNotify) ts_brief_entry_free);
  int field[5];

  if (table == NULL)
    return NULL;
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    field[i] = ts_cgats_find_field (table, names[i]);
  if (field[0] < 0)
    field[0] = ts_cgats_find_field (table, "SAMPLE_ID");
  for (guint i = 1; i <= 3; i++)
    if (field[i] < 0)
      {
        g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                     _ ("%s has no field %s; a brief needs LAB_L, LAB_A and LAB_B"), what,
                     names[i]);
        return NULL;
      }
  if (!check_count (ts_cgats_get_n_rows (table), what, error))
    return NULL;
  for (guint row = 0; row < ts_cgats_get_n_rows (table); row++)
    {
      TsBriefEntry *entry = g_new0 (TsBriefEntry, 1);

      g_ptr_array_add (entries, entry);
      if (!read_set (table, row, field, entry, error))
        return NULL;
    }
  return g_steal_pointer (&entries);
}

/**
 * ts_brief_parse:
 * @text: CSV with the columns name, L, a, b and perhaps tolerance; or CGATS text (ISO 28178) with
 *   LAB_L, LAB_A, LAB_B and perhaps SAMPLE_NAME or SAMPLE_ID and TOLERANCE; or any words with
 *   sRGB codes in them, one colour a line
 * @length: its length in bytes, or -1
 * @what: what to call it in errors
 * @error: return location for an error, or %NULL
 *
 * A line without a tolerance gets CIEDE2000 2, one without a name "Colour 3".
 *
 * Returns: (transfer full) (nullable) (element-type TsBriefEntry): the lines, or %NULL with
 *   %TS_ERROR_FORMAT, %TS_ERROR_BAD_VALUE, %TS_ERROR_TOO_FEW or %TS_ERROR_TOO_LARGE
 */
GPtrArray *
ts_brief_parse (const char *text, gssize length, const char *what, GError **error)
{
  g_autoptr (GPtrArray) entries = NULL;

  g_return_val_if_fail (text != NULL && what != NULL, NULL);

  if (ts_cgats_looks_like (text, length))
    entries = parse_cgats (text, length, what, error);
  else if (!has_header (text, length) && has_code (text, length))
    entries = parse_words (text, length, what, error);
  else
    entries = parse_csv (text, length, what, error);
  if (entries != NULL && entries->len == 0)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW,
                   _ ("%s has no colours; write one a line under the header name,L,a,b"), what);
      return NULL;
    }
  return g_steal_pointer (&entries);
}

/**
 * ts_brief_load:
 * @path: a file
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsBriefEntry): as ts_brief_parse(), or %NULL
 *   with %TS_ERROR_IO or %TS_ERROR_NOT_FOUND besides
 */
GPtrArray *
ts_brief_load (const char *path, GError **error)
{
  g_autoptr (GBytes) bytes = ts_file_read (path, MOST_BYTES, error);
  g_autofree char *name = g_filename_display_basename (path);
  gsize size;
  const char *text;

  if (bytes == NULL)
    return NULL;
  text = g_bytes_get_data (bytes, &size);
  return ts_brief_parse (text != NULL ? text : "", (gssize) size, name, error);
}
