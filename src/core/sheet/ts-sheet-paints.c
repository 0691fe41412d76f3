/* ts-sheet-paints.c: from a sheet of swatches to paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "sheet/ts-sheet.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/ts-csv.h"
#include "base/ts-error.h"
#include "base/ts-text.h"

#define DIGITS 5
#define HIDES_FROM 0.98 /* contrast ratio from which on a film hides (ISO 6504-3) */

static const char header[] = "name,opacity,L,a,b,L_white,a_white,b_white,L_black,a_black,b_black,"
                             "card_white_L,card_white_a,card_white_b,card_black_L,card_black_a,"
                             "card_black_b,reading_within\n";

static void
append_lab (GString *text, TsLab lab)
{
  ts_csv_append_number (text, lab.L, DIGITS, FALSE);
  ts_csv_append_number (text, lab.a, DIGITS, FALSE);
  ts_csv_append_number (text, lab.b, DIGITS, FALSE);
}

static void
append_empty (GString *text, guint n)
{
  for (guint i = 0; i < n; i++)
    g_string_append_c (text, ',');
}

/* A film that hides says its masstone and no more. */
static gboolean
is_masstone (const TsSheetCell *cell)
{
  return !isfinite (cell->contrast) || cell->contrast >= HIDES_FROM;
}

static TsLab
mean_of (const TsSheetCell *cell)
{
  const TsLab *white = &cell->white.lab, *black = &cell->black.lab;

  if (!isfinite (cell->contrast))
    return *white;
  return (TsLab){ 0.5 * (white->L + black->L), 0.5 * (white->a + black->a),
                  0.5 * (white->b + black->b) };
}

static void
append_paint (GString *text, const TsSheetCell *cell, const TsSheetCard *card, const char *name)
{
  double within = cell->white.within;

  ts_csv_append_cell (text, name, TRUE);
  ts_csv_append_cell (text, isfinite (cell->contrast) && is_masstone (cell) ? "opaque" : "", FALSE);
  if (is_masstone (cell))
    {
      append_lab (text, mean_of (cell));
      append_empty (text, 12);
    }
  else
    {
      within = MAX (within, cell->black.within);
      append_empty (text, 3);
      append_lab (text, cell->white.lab);
      append_lab (text, cell->black.lab);
      /* Half a card is none: both colours count, or neither. */
      if (card->has_white && card->has_black)
        {
          append_lab (text, card->white);
          append_lab (text, card->black);
        }
      else
        append_empty (text, 6);
    }
  ts_csv_append_number (text, within, 2, FALSE);
  g_string_append_c (text, '\n');
}

/**
 * ts_sheet_to_csv:
 * @self: a sheet
 * @names: (array zero-terminated=1): names of the paints, in the order of the cells
 *
 * A cell without a name, or that is not usable, is left out. A paint that hides the card comes as
 * its masstone, L,a,b; one over white and black as both colours, one coat; reading_within is the 95
 * % radius of the reading, CIEDE2000.
 *
 * Returns: (transfer full): rows of a paint set, with their header
 */
char *
ts_sheet_to_csv (const TsSheet *self, const char *const *names)
{
  g_autoptr (GString) text = g_string_new (header);

  for (guint i = 0; names[i] != NULL && i < ts_sheet_get_n_cells (self); i++)
    {
      const TsSheetCell *cell = ts_sheet_get_cell (self, i);

      if (cell->usable && *names[i] != '\0')
        append_paint (text, cell, ts_sheet_get_card (self), names[i]);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/**
 * ts_sheet_count_taken:
 * @self: a sheet
 * @names: (array zero-terminated=1): names of the paints, in the order of the cells
 *
 * Returns: how many cells have a name and can be used
 */
guint
ts_sheet_count_taken (const TsSheet *self, const char *const *names)
{
  guint n = 0;

  for (guint i = 0; names[i] != NULL && i < ts_sheet_get_n_cells (self); i++)
    n += ts_sheet_get_cell (self, i)->usable && *names[i] != '\0' ? 1 : 0;
  return n;
}

/**
 * ts_sheet_add_to_set:
 * @self: a sheet
 * @set: (nullable): the paints there are; %NULL makes a new set
 * @names: (array zero-terminated=1): names of the paints, in the order of the cells
 * @error: return location for an error, or %NULL
 *
 * A name that is in @set already is a paint measured again: see ts_paint_set_measured_again().
 *
 * Returns: (transfer full) (nullable): @set with the new paints at its end, or %NULL with a
 *   %TS_ERROR set: more names than cells, one name twice, or no paint left to add
 */
TsPaintSet *
ts_sheet_add_to_set (const TsSheet *self, const TsPaintSet *set, const char *const *names,
                     GError **error)
{
  g_autofree char *text = NULL;
  guint n_names = g_strv_length ((char **) (gpointer) names);

  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (n_names > ts_sheet_get_n_cells (self))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("There are %u names for %u cells; give at most one for each cell"), n_names,
                   ts_sheet_get_n_cells (self));
      return NULL;
    }
  text = ts_sheet_to_csv (self, names);
  if (g_str_equal (text, header))
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_TOO_FEW,
        _ ("No cell with a name can be used; check the corners, the names and the light"));
      return NULL;
    }
  return ts_paint_set_measured_again (set, text, -1, _ ("the sheet"), error);
}

/* The column called name of a table, or NULL where the text is none. */
static GStrv
names_of_table (const char *text, gssize length)
{
  g_autoptr (TsCsv) table = ts_csv_parse (text, length, "names", NULL);
  g_autoptr (GPtrArray) names = NULL;
  int column = table == NULL ? -1 : ts_csv_find_column (table, "name");

  if (column < 0)
    return NULL;
  names = g_ptr_array_new ();
  for (guint r = 0; r < ts_csv_get_n_rows (table); r++)
    g_ptr_array_add (names, g_strdup (ts_csv_get_cell (table, r, column)));
  g_ptr_array_add (names, NULL);
  return (GStrv) g_ptr_array_free (g_steal_pointer (&names), FALSE);
}

/**
 * ts_sheet_parse_names:
 * @text: names, UTF-8
 * @length: its bytes, or -1 where a zero byte ends it
 *
 * One name a line, blanks at its ends dropped, as are empty lines at the end; or a table (CSV) with
 * a column called name.
 *
 * Returns: (transfer full) (array zero-terminated=1): the names
 */
GStrv
ts_sheet_parse_names (const char *text, gssize length)
{
  g_autofree char *whole = length < 0 ? g_strdup (text) : g_strndup (text, (gsize) length);
  g_autofree char *valid = g_utf8_make_valid (whole, -1);
  const char *start = g_str_has_prefix (valid, "\xef\xbb\xbf") ? valid + 3 : valid;
  GStrv names = names_of_table (start, -1);
  guint n;

  if (names != NULL)
    return names;
  names = g_strsplit (start, "\n", -1);
  n = g_strv_length (names);
  for (guint i = 0; i < n; i++)
    g_strstrip (names[i]);
  for (; n > 0 && *names[n - 1] == '\0'; n--)
    g_clear_pointer (&names[n - 1], g_free);
  return names;
}
