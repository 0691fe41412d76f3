/* ts-paint-set.c: the painter's own paints, read from and written to a table
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-set-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/ts-cgats.h"
#include "base/ts-error.h"
#include "base/ts-file.h"
#include "base/ts-text.h"
#include "paint/ts-paint-cgats.h"
#include "paint/ts-paint-reading.h"
#include "paint/ts-paint-table.h"

#define SAME_K1 0.002 /* moves the masstone of a near-black by less than CIEDE2000 1 */
#define SAME_K2 0.02
#define DIGITS 6 /* of K and S: a thousandth of what any swatch can tell */

static void
set_clear (gpointer data)
{
  TsPaintSet *self = data;

  g_clear_pointer (&self->table, ts_csv_free);
  g_clear_pointer (&self->paints, g_ptr_array_unref);
  g_clear_pointer (&self->notes, g_ptr_array_unref);
  g_clear_pointer (&self->rows, g_hash_table_unref);
}

/* The text of a paint set in a file: CSV, or CGATS made into it. */
static char *
load_text (const char *path, const char *what, GError **error)
{
  g_autoptr (GBytes) bytes = ts_file_read (path, TS_TEXT_MAX_BYTES, error);
  const char *text;
  gsize n;

  if (bytes == NULL)
    return NULL;
  text = g_bytes_get_data (bytes, &n);
  if (n > 0 && ts_cgats_looks_like (text, (gssize) n))
    return ts_paint_cgats_to_csv (text, (gssize) n, what, error);
  if (!ts_text_check (&text, &n, what, error))
    return NULL;
  return g_strndup (n > 0 ? text : "", n);
}

/**
 * ts_paint_set_load:
 * @path: a paint set's file, CSV or CGATS text
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the set, or %NULL as ts_paint_set_parse() and
 *   ts_paint_cgats_to_csv() do, and with %TS_ERROR_IO set where the file cannot be read
 */
TsPaintSet *
ts_paint_set_load (const char *path, GError **error)
{
  g_autofree char *what = ts_text_dup_file_name (path);
  g_autofree char *text = load_text (path, what, error);

  return text == NULL ? NULL : ts_paint_set_parse (text, -1, what, error);
}

/**
 * ts_paint_set_parse:
 * @text: comma-separated text (RFC 4180) with a header row
 * @length: bytes in @text, or -1 where it ends with a zero byte
 * @what: its name, for messages
 * @error: return location for an error, or %NULL
 *
 * Columns in any order: name, kind, opacity, finish, pigments, stock, notes, and for each row one
 * group, L,a,b · L_white..b_white,L_black..b_black · R400..R700 · RW400..RW700,RB400..RB700 ·
 * R400..R700,RT400..RT700,tint_parts,tint_white · K400..K700,S400..S700. Beside films, film_coats
 * is their thickness (1 where empty) and card_white_L..card_black_b are the bare card. The comment
 * "# surface: k1=0.04 k2=0.6" says how all was measured.
 *
 * Returns: (transfer full) (nullable): the set, or %NULL with %TS_ERROR_FORMAT, %TS_ERROR_TOO_FEW,
 *   %TS_ERROR_TOO_LARGE, %TS_ERROR_BAD_VALUE or %TS_ERROR_NOT_FOUND set; the message names the line
 */
TsPaintSet *
ts_paint_set_parse (const char *text, gssize length, const char *what, GError **error)
{
  TsCsv *table = ts_csv_parse (text, length, what, error);

  return table == NULL ? NULL : ts_paint_set_new_from_table (table, what, error);
}

/**
 * ts_paint_set_to_csv:
 * @self: a set
 *
 * Comments, columns that are not ours, and every cell are written as they were read.
 *
 * Returns: (transfer full): the table as text
 */
char *
ts_paint_set_to_csv (const TsPaintSet *self)
{
  g_autoptr (TsPaintTable) table = ts_paint_table_new (self->table);

  return ts_paint_table_to_text (table);
}

/**
 * ts_paint_set_ref:
 * @self: a set
 *
 * Returns: (transfer full): @self
 */
TsPaintSet *
ts_paint_set_ref (TsPaintSet *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return g_atomic_rc_box_acquire (self);
}

/**
 * ts_paint_set_unref:
 * @self: (transfer full): a set
 */
void
ts_paint_set_unref (TsPaintSet *self)
{
  g_return_if_fail (self != NULL);

  g_atomic_rc_box_release_full (self, set_clear);
}

/**
 * ts_paint_set_get_n_paints:
 * @self: a set
 *
 * Returns: how many paints it has, at least 1
 */
guint
ts_paint_set_get_n_paints (const TsPaintSet *self)
{
  return self->paints->len;
}

/**
 * ts_paint_set_get_paint:
 * @self: a set
 * @index: which paint, in the order of the file
 *
 * Returns: (transfer none): the paint
 */
TsPaint *
ts_paint_set_get_paint (const TsPaintSet *self, guint index)
{
  g_return_val_if_fail (index < self->paints->len, NULL);

  return g_ptr_array_index (self->paints, index);
}

/**
 * ts_paint_set_find:
 * @self: a set
 * @name: a paint's name, without regard to case
 *
 * Returns: its index, or -1
 */
int
ts_paint_set_find (const TsPaintSet *self, const char *name)
{
  g_autofree char *key = g_utf8_casefold (name, -1);

  return GPOINTER_TO_INT (g_hash_table_lookup (self->rows, key)) - 1;
}

/**
 * ts_paint_set_get_surface:
 * @self: a set
 *
 * Returns: what the surface of its paints sends back, as they were measured
 */
TsSurfaceReflection
ts_paint_set_get_surface (const TsPaintSet *self)
{
  return self->surface;
}

/* The set of a table that was changed. */
static TsPaintSet *
read_again (TsPaintTable *table, GError **error)
{
  g_autofree char *text = ts_paint_table_to_text (table);

  return ts_paint_set_parse (text, -1, _ ("paint set"), error);
}

/**
 * ts_paint_set_with_stock:
 * @self: a set
 * @index: which paint
 * @stock: how much of it is left
 *
 * Returns: (transfer full): the same set but for that
 */
TsPaintSet *
ts_paint_set_with_stock (const TsPaintSet *self, guint index, TsStock stock)
{
  g_autoptr (TsPaintTable) table = ts_paint_table_new (self->table);

  g_return_val_if_fail (index < self->paints->len, NULL);

  ts_paint_table_set (table, index, "stock", ts_stock_to_word (stock));
  /* It was read once already, so nothing in it can be refused. */
  return read_again (table, NULL);
}

static void
set_number (TsPaintTable *table, guint row, const char *column, double number, int digits)
{
  g_autoptr (GString) text = g_string_new (NULL);

  ts_csv_append_number (text, number, digits, TRUE);
  ts_paint_table_set (table, row, column, text->str);
}

static void
set_surface_comment (TsPaintTable *table, TsSurfaceReflection surface)
{
  g_autoptr (GString) text = g_string_new (TS_PAINT_SURFACE_KEY " k1=");

  ts_csv_append_number (text, surface.k1, DIGITS, TRUE);
  g_string_append (text, " k2=");
  ts_csv_append_number (text, surface.k2, DIGITS, TRUE);
  ts_paint_table_set_comment (table, TS_PAINT_SURFACE_KEY, text->str);
}

TsPaintSet *
ts_paint_set_with_refined (const TsPaintSet *self, const guint *paints, guint n_paints,
                           const TsSpectrum *K, const TsSpectrum *S, const double *within)
{
  g_autoptr (TsPaintTable) table = ts_paint_table_new (self->table);

  /* K and S only mean something with the surface they were found with. */
  set_surface_comment (table, self->surface);
  for (guint p = 0; p < n_paints; p++)
    {
      ts_paint_table_set (table, paints[p], "known_from", TS_PAINT_SWATCHES_WORD);
      if (within != NULL)
        set_number (table, paints[p], "known_within", within[p], 2);
      for (guint i = 0; i < 2 * TS_BANDS; i++)
        {
          g_autofree char *column = ts_paint_column_dup_name (TS_SOURCE_CALIBRATED, i);

          set_number (table, paints[p], column,
                      i < TS_BANDS ? K[p].band[i] : S[p].band[i - TS_BANDS], DIGITS);
        }
    }
  return read_again (table, NULL);
}

/**
 * ts_paint_set_with_cell:
 * @self: a set
 * @index: which paint
 * @column: a column, ours or not; one that is not there is added
 * @text: what the cell is to hold
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the set but for that cell, or %NULL as ts_paint_set_parse()
 *   does where the cell cannot hold that
 */
TsPaintSet *
ts_paint_set_with_cell (const TsPaintSet *self, guint index, const char *column, const char *text,
                        GError **error)
{
  g_autoptr (TsPaintTable) table = ts_paint_table_new (self->table);

  g_return_val_if_fail (index < self->paints->len, NULL);

  ts_paint_table_set (table, index, column, text);
  return read_again (table, error);
}

/**
 * ts_paint_set_with_paint:
 * @self: a set
 * @name: name of the new paint, unlike the others
 * @kind: what kind it is
 * @opacity: the word on its label
 * @masstone: colour of a layer that hides all, D50
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the set and that paint at its end, or %NULL as
 *   ts_paint_set_parse() does where there can be no such paint
 */
TsPaintSet *
ts_paint_set_with_paint (const TsPaintSet *self, const char *name, TsPaintKind kind,
                         TsOpacity opacity, TsLab masstone, GError **error)
{
  g_autoptr (TsPaintTable) table = ts_paint_table_new (self->table);
  guint row = ts_paint_table_add_row (table);

  ts_paint_table_set (table, row, "name", name);
  ts_paint_table_set (table, row, "kind", ts_paint_kind_to_word (kind));
  ts_paint_table_set (table, row, "opacity", ts_opacity_to_word (opacity));
  set_number (table, row, "L", masstone.L, DIGITS);
  set_number (table, row, "a", masstone.a, DIGITS);
  set_number (table, row, "b", masstone.b, DIGITS);
  return read_again (table, error);
}

/* Refuses a row whose paint is in the set already: two of a name cannot be told apart in a recipe.
 */
static gboolean
check_new_names (const TsPaintSet *self, const TsCsv *rows, const char *what, GError **error)
{
  int column = ts_csv_find_column (rows, "name");

  for (guint r = 0; column >= 0 && r < ts_csv_get_n_rows (rows); r++)
    {
      const char *name = ts_csv_get_cell (rows, r, column);

      if (ts_paint_set_find (self, name) < 0)
        continue;
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("%s: a paint called %s is in the set already; give the new one another name"),
                   what, name);
      return FALSE;
    }
  return TRUE;
}

/* K and S only mean something with the surface they were found with. */
static gboolean
check_new_surface (const TsPaintSet *self, const TsPaintSet *rows, const char *what, GError **error)
{
  double off_k1 = fabs (self->surface.k1 - rows->surface.k1);
  double off_k2 = fabs (self->surface.k2 - rows->surface.k2);

  for (guint p = 0; p < rows->paints->len; p++)
    if (ts_paint_get_source (rows->paints->pdata[p]) >= TS_SOURCE_DIRECT &&
        ts_paint_get_kind (rows->paints->pdata[p]) != TS_PAINT_MEDIUM &&
        ts_paint_get_kind (rows->paints->pdata[p]) != TS_PAINT_VARNISH &&
        (off_k1 > SAME_K1 || off_k2 > SAME_K2))
      {
        g_set_error (
          error, TS_ERROR, TS_ERROR_BAD_VALUE,
          _ ("%s: the absorption and scattering there were found with a surface of k1=%.3g "
             "k2=%.3g, and this set has k1=%.3g k2=%.3g; use the paints' spectra or colours"),
          what, rows->surface.k1, rows->surface.k2, self->surface.k1, self->surface.k2);
        return FALSE;
      }
  return TRUE;
}

/**
 * ts_paint_set_with_rows:
 * @self: (nullable): a set; %NULL for none yet
 * @text: a table as ts_paint_set_parse() reads it
 * @length: bytes in @text, or -1 where it ends with a zero byte
 * @what: its name, for messages
 * @error: return location for an error, or %NULL
 *
 * Its columns go to the columns of the same name; those that @self lacks are added, also ones that
 * are not ours. Its comments are not taken over.
 *
 * Returns: (transfer full) (nullable): @self and the paints of those rows at its end, or %NULL as
 *   ts_paint_set_parse() does, and where a name is in the set already, or K and S belong to another
 *   surface
 */
TsPaintSet *
ts_paint_set_with_rows (const TsPaintSet *self, const char *text, gssize length, const char *what,
                        GError **error)
{
  g_autoptr (TsPaintSet) alone = ts_paint_set_parse (text, length, what, error);
  g_autoptr (TsPaintTable) table = NULL;
  const TsCsv *rows;

  if (alone == NULL || self == NULL)
    return g_steal_pointer (&alone);
  rows = alone->table;
  if (!check_new_names (self, rows, what, error) || !check_new_surface (self, alone, what, error))
    return NULL;
  table = ts_paint_table_new (self->table);
  for (guint r = 0; r < ts_csv_get_n_rows (rows); r++)
    {
      guint row = ts_paint_table_add_row (table);

      for (guint c = 0; c < ts_csv_get_n_columns (rows); c++)
        if (*ts_csv_get_cell (rows, r, (int) c) != '\0')
          ts_paint_table_set (table, row, ts_csv_get_header (rows, c),
                              ts_csv_get_cell (rows, r, (int) c));
    }
  return read_again (table, error);
}

/**
 * ts_paint_set_with_file:
 * @self: (nullable): a set; %NULL for none yet
 * @path: a file that ts_paint_set_load() reads
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): @self and the paints of the file at its end, or %NULL as
 *   ts_paint_set_load() and ts_paint_set_with_rows() do
 */
TsPaintSet *
ts_paint_set_with_file (const TsPaintSet *self, const char *path, GError **error)
{
  g_autofree char *what = ts_text_dup_file_name (path);
  g_autofree char *text = load_text (path, what, error);

  return text == NULL ? NULL : ts_paint_set_with_rows (self, text, -1, what, error);
}

/* Where the path's ending is that of CGATS text. */
static gboolean
is_cgats_path (const char *path)
{
  g_autofree char *lower = g_ascii_strdown (path, -1);

  return g_str_has_suffix (lower, ".txt") || g_str_has_suffix (lower, ".cgats");
}

/**
 * ts_paint_set_save:
 * @self: a set
 * @path: where to; .txt and .cgats hold CGATS text, all else CSV
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with %TS_ERROR_IO set; a file that was there is then as it was
 */
gboolean
ts_paint_set_save (const TsPaintSet *self, const char *path, GError **error)
{
  g_autofree char *text =
    is_cgats_path (path) ? ts_paint_set_to_cgats (self) : ts_paint_set_to_csv (self);

  return ts_file_save (path, text, strlen (text), TS_FILE_SAVE_PLAIN, error);
}

/**
 * ts_paint_set_without:
 * @self: a set
 * @index: which paint
 * @error: see ts_paint_set_parse()
 *
 * Returns: (transfer full) (nullable): the set but for that paint, or %NULL where it is the last
 * one, or the white of another one's tint
 */
TsPaintSet *
ts_paint_set_without (const TsPaintSet *self, guint index, GError **error)
{
  g_autoptr (TsPaintTable) table = ts_paint_table_new (self->table);

  g_return_val_if_fail (index < self->paints->len, NULL);

  ts_paint_table_remove_row (table, index);
  return read_again (table, error);
}

/**
 * ts_paint_set_get_notes:
 * @self: a set
 *
 * Returns: (transfer none) (array zero-terminated=1): what a reader should know of it
 */
const char *const *
ts_paint_set_get_notes (const TsPaintSet *self)
{
  return (const char *const *) self->notes->pdata;
}
