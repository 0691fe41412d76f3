/* ts-swatch.c: test swatches that a painter has painted and measured
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-swatch.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/ts-csv.h"
#include "base/ts-error.h"
#include "paint/ts-paint-reading.h"

#define MOST_SWATCHES 5000
#define MOST_PARTS 1000.0
#define LEAST_COATS 0.01
#define MOST_COATS 100.0
#define MOST_SE 20.0

/* One table being read, for messages. */
typedef struct
{
  const TsPaintSet *set;
  const TsCsv *table;
  const char *what;
  guint row;
} Reader;

static const char *
cell_of (const Reader *reader, const char *column)
{
  int c = ts_csv_find_column (reader->table, column);

  return c < 0 ? "" : ts_csv_get_cell (reader->table, reader->row, c);
}

static gboolean
refuse (const Reader *reader, TsError code, const char *says, const char *cell, GError **error)
{
  g_set_error (error, TS_ERROR, code, _ ("%s, line %u: \"%s\" %s"), reader->what,
               ts_csv_get_line (reader->table, reader->row), cell, says);
  return FALSE;
}

/* "2 Lamp Black", or a name alone for one part. A name may begin with a digit, so it is looked up
 * whole first. */
static gboolean
parse_term (const Reader *reader, const char *term, TsAmount *amount)
{
  char *rest = NULL;
  int paint = ts_paint_set_find (reader->set, term);

  amount->parts = 1.0;
  if (paint < 0)
    {
      amount->parts = g_ascii_strtod (term, &rest);
      if (rest == term || !g_ascii_isspace (*rest))
        return FALSE;
      while (g_ascii_isspace (*rest))
        rest++;
      paint = ts_paint_set_find (reader->set, rest);
    }
  if (paint < 0 || !(amount->parts > 0.0 && amount->parts <= MOST_PARTS))
    return FALSE;
  amount->paint = (guint) paint;
  return TRUE;
}

static gboolean
read_recipe (const Reader *reader, TsSwatch *swatch, GError **error)
{
  const char *recipe = cell_of (reader, "recipe");
  g_auto (GStrv) terms = g_strsplit (recipe, " + ", -1);

  if (g_strv_length (terms) == 0 || g_strv_length (terms) > TS_SWATCH_MAX_PAINTS)
    return refuse (reader, TS_ERROR_BAD_VALUE, _ ("is no recipe of 1 to 8 paints"), recipe, error);
  for (char **term = terms; *term != NULL; term++)
    if (!parse_term (reader, g_strstrip (*term), &swatch->amounts[swatch->n_amounts++]))
      return refuse (reader, TS_ERROR_NOT_FOUND,
                     _ ("is no paint of the set with its parts; write a recipe like "
                        "\"2 Lamp Black + 1 Deep Blue\""),
                     *term, error);
  return TRUE;
}

/* "L a b" */
static gboolean
parse_lab (const char *text, TsSpectrum *spectrum)
{
  double number[3];
  const char *at = text;

  for (guint i = 0; i < 3; i++)
    {
      char *end = NULL;

      number[i] = g_ascii_strtod (at, &end);
      if (end == at)
        return FALSE;
      at = end;
    }
  return *at == '\0' && number[0] >= 0.0 && number[0] <= 100.0 && isfinite (number[1]) &&
         isfinite (number[2]) &&
         ts_spectrum_from_lab ((TsLab){ number[0], number[1], number[2] }, spectrum, NULL);
}

static gboolean
read_ground (const Reader *reader, TsSwatch *swatch, GError **error)
{
  const char *over = cell_of (reader, "over");
  int ground = ts_paint_set_find (reader->set, over);
  const TsPaint *paint;

  if (*over == '\0')
    return refuse (reader, TS_ERROR_TOO_FEW,
                   _ ("says nothing of the ground; where coats are given, name what they lie on"),
                   over, error);
  if (ground < 0)
    return parse_lab (over, &swatch->ground) ||
           refuse (reader, TS_ERROR_NOT_FOUND,
                   _ ("is neither a ground of the set nor a colour like \"95 0 2\""), over, error);

  paint = ts_paint_set_get_paint (reader->set, (guint) ground);
  ts_mix_get_masstone (ts_paint_get_K (paint), ts_paint_get_S (paint),
                       ts_paint_set_get_surface (reader->set), &swatch->ground);
  return TRUE;
}

static gboolean
read_optional (const Reader *reader, const char *column, double least, double most, double *number,
               GError **error)
{
  return *cell_of (reader, column) == '\0' ||
         ts_csv_get_number (reader->table, reader->row, ts_csv_find_column (reader->table, column),
                            least, most, number, error);
}

static gboolean
read_colour (const Reader *reader, TsSwatch *swatch, GError **error)
{
  TsPaintReading reading;

  if (!ts_paint_reading_read (&reading, reader->table, reader->row, reader->what, error))
    return FALSE;
  if (!reading.has_colour ||
      (reading.source != TS_SOURCE_WORD && reading.source != TS_SOURCE_MASSTONE))
    return refuse (reader, TS_ERROR_TOO_FEW, _ ("has no colour; fill in L,a,b or R400..R700"),
                   cell_of (reader, "recipe"), error);
  swatch->reflectance = reading.masstone;
  swatch->from_lab = reading.source == TS_SOURCE_WORD;
  swatch->lab = ts_spectrum_to_lab (&swatch->reflectance, TS_LIGHT_D50);
  return TRUE;
}

static gboolean
read_swatch (const Reader *reader, TsSwatch *swatch, GError **error)
{
  *swatch =
    (TsSwatch){ .coats = (double) INFINITY, .line = ts_csv_get_line (reader->table, reader->row) };
  return read_recipe (reader, swatch, error) &&
         read_optional (reader, "coats", LEAST_COATS, MOST_COATS, &swatch->coats, error) &&
         (isinf (swatch->coats) || read_ground (reader, swatch, error)) &&
         read_optional (reader, "se", 0.0, MOST_SE, &swatch->se, error) &&
         read_colour (reader, swatch, error);
}

static GArray *
read_table (const TsPaintSet *set, const TsCsv *table, const char *what, GError **error)
{
  g_autoptr (GArray) swatches = g_array_new (FALSE, FALSE, sizeof (TsSwatch));
  guint n_rows = ts_csv_get_n_rows (table);

  if (ts_csv_find_column (table, "recipe") < 0 || n_rows == 0 || n_rows > MOST_SWATCHES)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("%s: a swatch file needs a column called recipe and 1 to %d rows"), what,
                   MOST_SWATCHES);
      return NULL;
    }
  for (guint r = 0; r < n_rows; r++)
    {
      Reader reader = { set, table, what, r };
      TsSwatch swatch;

      if (!read_swatch (&reader, &swatch, error))
        return NULL;
      g_array_append_val (swatches, swatch);
    }
  return g_steal_pointer (&swatches);
}

/**
 * ts_swatches_load:
 * @set: the paints they are painted with
 * @path: a swatch file
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsSwatch): the swatches, or %NULL as
 *   ts_swatches_parse() does, and with %TS_ERROR_IO set where the file cannot be read
 */
GArray *
ts_swatches_load (const TsPaintSet *set, const char *path, GError **error)
{
  g_autoptr (TsCsv) table = ts_csv_load (path, error);
  g_autofree char *what = g_filename_display_basename (path);

  return table == NULL ? NULL : read_table (set, table, what, error);
}

/**
 * ts_swatches_parse:
 * @set: the paints they are painted with
 * @text: comma-separated text with a header row
 * @length: bytes in @text, or -1 where it ends with a zero byte
 * @what: its name, for messages
 * @error: return location for an error, or %NULL
 *
 * Columns in any order: recipe ("2 Lamp Black + 1 Deep Blue", a name alone is one part), coats
 * (empty: nothing under it shows), over (a paint of the set, taken as a dry ground, or "L a b"),
 * se, and L,a,b or R400..R700.
 *
 * Returns: (transfer full) (nullable) (element-type TsSwatch): the swatches, or %NULL with
 *   %TS_ERROR_FORMAT, %TS_ERROR_NOT_FOUND, %TS_ERROR_TOO_FEW or %TS_ERROR_BAD_VALUE set
 */
GArray *
ts_swatches_parse (const TsPaintSet *set, const char *text, gssize length, const char *what,
                   GError **error)
{
  g_autoptr (TsCsv) table = ts_csv_parse (text, length, what, error);

  return table == NULL ? NULL : read_table (set, table, what, error);
}

/**
 * ts_swatch_predict:
 * @set: the paints
 * @swatch: a swatch painted with them
 * @reflectance: (out) (optional): its predicted reflectance
 *
 * Returns: its predicted colour, D50
 */
TsLab
ts_swatch_predict (const TsPaintSet *set, const TsSwatch *swatch, TsSpectrum *reflectance)
{
  TsSpectrum K, S, predicted;

  ts_mix_get_K_S (set, swatch->amounts, swatch->n_amounts, &K, &S);
  ts_mix_get_film (&K, &S, ts_paint_set_get_surface (set), swatch->coats, &swatch->ground,
                   &predicted);
  if (reflectance != NULL)
    *reflectance = predicted;
  return ts_spectrum_to_lab (&predicted, TS_LIGHT_D50);
}
