/* ts-paint-reading.c: what a row of a paint set says was measured, before K and S are known
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-reading.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"

#define MOST_K_S 1e5 /* per coat: far beyond any paint */
#define LEAST_COATS 0.01
#define MOST_COATS 100.0

/* The groups of columns, best known first. */
static const TsPaintSource groups[] = {
  TS_SOURCE_DIRECT,    TS_SOURCE_TINTS,    TS_SOURCE_FILMS_SPECTRA,
  TS_SOURCE_FILMS_LAB, TS_SOURCE_MASSTONE, TS_SOURCE_WORD,
};

static const char *const lab_columns[] = { "L", "a", "b" };
static const char *const film_columns[] = { "L_white", "a_white", "b_white",
                                            "L_black", "a_black", "b_black" };
static const char *const card_columns[] = { "card_white_L", "card_white_a", "card_white_b",
                                            "card_black_L", "card_black_a", "card_black_b" };

/* Two runs of one column a band. */
static char *
dup_band_name (const char *first, const char *second, guint index)
{
  return g_strdup_printf ("%s%u", index < TS_BANDS ? first : second,
                          TS_BAND_FIRST + TS_BAND_STEP * (index % TS_BANDS));
}

/**
 * ts_paint_column_count:
 * @source: where K and S come from
 *
 * Returns: how many columns that group has
 */
guint
ts_paint_column_count (TsPaintSource source)
{
  switch (source)
    {
    case TS_SOURCE_WORD:
      return G_N_ELEMENTS (lab_columns);
    case TS_SOURCE_FILMS_LAB:
      return G_N_ELEMENTS (film_columns);
    case TS_SOURCE_MASSTONE:
      return TS_BANDS;
    case TS_SOURCE_FILMS_SPECTRA:
    case TS_SOURCE_TINTS:
    case TS_SOURCE_DIRECT:
    case TS_SOURCE_CALIBRATED:
    default:
      return 2 * TS_BANDS;
    }
}

/**
 * ts_paint_column_dup_name:
 * @source: where K and S come from
 * @index: which column of that group
 *
 * Returns: (transfer full): the column's name
 */
char *
ts_paint_column_dup_name (TsPaintSource source, guint index)
{
  switch (source)
    {
    case TS_SOURCE_WORD:
      return g_strdup (lab_columns[index]);
    case TS_SOURCE_FILMS_LAB:
      return g_strdup (film_columns[index]);
    case TS_SOURCE_MASSTONE:
      return dup_band_name ("R", "R", index);
    case TS_SOURCE_FILMS_SPECTRA:
      return dup_band_name ("RW", "RB", index);
    case TS_SOURCE_TINTS:
      return dup_band_name ("R", "RT", index);
    case TS_SOURCE_DIRECT:
    case TS_SOURCE_CALIBRATED:
    default:
      return dup_band_name ("K", "S", index);
    }
}

/* Whether the row fills the group: the columns that set it off from the other groups are looked at.
 * A tint is told by RT.., since R.. alone is a masstone. */
static gboolean
is_filled (const TsCsv *table, guint row, TsPaintSource source)
{
  guint first = source == TS_SOURCE_TINTS ? TS_BANDS : 0;

  for (guint i = first; i < ts_paint_column_count (source); i++)
    {
      g_autofree char *name = ts_paint_column_dup_name (source, i);
      int column = ts_csv_find_column (table, name);

      if (column >= 0 && *ts_csv_get_cell (table, row, column) != '\0')
        return TRUE;
    }
  return FALSE;
}

static gboolean
read_named (const TsCsv *table, guint row, const char *name, double least, double most,
            const char *what, double *number, GError **error)
{
  int column = ts_csv_find_column (table, name);

  if (column < 0 || *ts_csv_get_cell (table, row, column) == '\0')
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_TOO_FEW,
        _ ("%s, line %u: %s is missing; fill the whole group of columns, or leave all of it "
           "empty"),
        what, ts_csv_get_line (table, row), name);
      return FALSE;
    }
  return ts_csv_get_number (table, row, column, least, most, number, error);
}

/* A table in percent is the common slip. */
static void
say_that_shares_are_meant (GError *error)
{
  char *said;

  if (!g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE))
    return;
  /* xgettext:no-c-format */
  said = g_strconcat (error->message, _ ("; write 42 % as 0.42, and what lies below 0 as 0"), NULL);
  g_free (error->message);
  error->message = said;
}

/* One spectrum from the columns PREFIX400..PREFIX700. */
static gboolean
read_bands (const TsCsv *table, guint row, const char *prefix, double most, const char *what,
            TsSpectrum *spectrum, GError **error)
{
  for (guint b = 0; b < TS_BANDS; b++)
    {
      g_autofree char *name = dup_band_name (prefix, prefix, b);

      if (!read_named (table, row, name, 0.0, most, what, &spectrum->band[b], error))
        {
          if (!(most > 1.0) && error != NULL)
            say_that_shares_are_meant (*error);
          return FALSE;
        }
    }
  return TRUE;
}

/* One colour from three columns, as a smooth reflectance. */
static gboolean
read_lab (const TsCsv *table, guint row, const char *const *names, const char *what,
          TsSpectrum *spectrum, GError **error)
{
  TsLab lab;

  if (!read_named (table, row, names[0], 0.0, 100.0, what, &lab.L, error) ||
      !read_named (table, row, names[1], -200.0, 200.0, what, &lab.a, error) ||
      !read_named (table, row, names[2], -200.0, 200.0, what, &lab.b, error))
    return FALSE;
  if (ts_spectrum_from_lab (lab, spectrum, error))
    return TRUE;
  g_prefix_error (error, _ ("%s, line %u: "), what, ts_csv_get_line (table, row));
  return FALSE;
}

/* The card's own colours, where the table has them. */
static gboolean
read_card (TsPaintReading *self, const TsCsv *table, guint row, const char *what, GError **error)
{
  for (guint i = 0; i < G_N_ELEMENTS (card_columns); i++)
    {
      int column = ts_csv_find_column (table, card_columns[i]);

      if (column >= 0 && *ts_csv_get_cell (table, row, column) != '\0')
        self->has_card = TRUE;
    }
  return !self->has_card || (read_lab (table, row, card_columns, what, &self->white, error) &&
                             read_lab (table, row, card_columns + 3, what, &self->black, error));
}

/* Films: their thickness, where the table says that it was not one coat, and their card. */
static gboolean
read_film (TsPaintReading *self, const TsCsv *table, guint row, const char *what, GError **error)
{
  int column = ts_csv_find_column (table, "film_coats");

  self->film_coats = 1.0;
  if (column >= 0 && *ts_csv_get_cell (table, row, column) != '\0' &&
      !ts_csv_get_number (table, row, column, LEAST_COATS, MOST_COATS, &self->film_coats, error))
    return FALSE;
  return read_card (self, table, row, what, error);
}

/* The row of the white that a tint was made with. */
static gboolean
read_tint_white (TsPaintReading *self, const TsCsv *table, guint row, const char *what,
                 GError **error)
{
  int names = ts_csv_find_column (table, "name");
  int column = ts_csv_find_column (table, "tint_white");
  g_autofree char *wanted =
    g_utf8_casefold (column < 0 ? "" : ts_csv_get_cell (table, row, column), -1);

  for (guint r = 0; r < ts_csv_get_n_rows (table); r++)
    {
      g_autofree char *name = g_utf8_casefold (ts_csv_get_cell (table, r, names), -1);

      if (r != row && *name != '\0' && g_str_equal (name, wanted))
        {
          self->tint_white = r;
          return TRUE;
        }
    }
  g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND,
               _ ("%s, line %u: a tint needs in tint_white the name of another paint of the set"),
               what, ts_csv_get_line (table, row));
  return FALSE;
}

static gboolean
read_group (TsPaintReading *self, const TsCsv *table, guint row, const char *what, GError **error)
{
  switch (self->source)
    {
    case TS_SOURCE_WORD:
      return read_lab (table, row, lab_columns, what, &self->masstone, error);
    case TS_SOURCE_MASSTONE:
      return read_bands (table, row, "R", 1.0, what, &self->masstone, error);
    case TS_SOURCE_FILMS_LAB:
      return read_lab (table, row, film_columns, what, &self->over_white, error) &&
             read_lab (table, row, film_columns + 3, what, &self->over_black, error) &&
             read_film (self, table, row, what, error);
    case TS_SOURCE_FILMS_SPECTRA:
      return read_bands (table, row, "RW", 1.0, what, &self->over_white, error) &&
             read_bands (table, row, "RB", 1.0, what, &self->over_black, error) &&
             read_film (self, table, row, what, error);
    case TS_SOURCE_TINTS:
      return read_bands (table, row, "R", 1.0, what, &self->masstone, error) &&
             read_bands (table, row, "RT", 1.0, what, &self->tint, error) &&
             read_named (table, row, "tint_parts", 0.01, 1000.0, what, &self->tint_parts, error) &&
             read_tint_white (self, table, row, what, error);
    case TS_SOURCE_DIRECT:
    case TS_SOURCE_CALIBRATED:
    default:
      return read_bands (table, row, "K", MOST_K_S, what, &self->K, error) &&
             read_bands (table, row, "S", MOST_K_S, what, &self->S, error);
    }
}

/**
 * ts_paint_reading_read:
 * @self: (out): the reading
 * @table: a paint set's table
 * @row: which row
 * @what: the table's name, for messages
 * @error: return location for an error, or %NULL
 *
 * Where a row fills several groups, the one that tells most counts.
 *
 * Returns: %FALSE with %TS_ERROR_TOO_FEW, %TS_ERROR_BAD_VALUE or %TS_ERROR_NOT_FOUND set where a
 * group is filled in part or holds what no paint has; %TRUE also where the row has no colour at all
 */
gboolean
ts_paint_reading_read (TsPaintReading *self, const TsCsv *table, guint row, const char *what,
                       GError **error)
{
  *self = (TsPaintReading){ 0 };
  for (gsize i = 0; i < G_N_ELEMENTS (groups) && !self->has_colour; i++)
    if (is_filled (table, row, groups[i]))
      {
        self->has_colour = TRUE;
        self->source = groups[i];
      }
  return !self->has_colour || read_group (self, table, row, what, error);
}

static double
darkest_of (const TsSpectrum *spectrum)
{
  double least = 1.0;

  for (guint b = 0; b < TS_BANDS; b++)
    least = MIN (least, spectrum->band[b]);
  return least;
}

/**
 * ts_paint_reading_darkest:
 * @self: a reading
 *
 * The bare card does not count: its black is no paint, and nothing is lost where it reads as none.
 *
 * Returns: the least reflectance as measured, or 1 where there is none
 */
double
ts_paint_reading_darkest (const TsPaintReading *self)
{
  if (!self->has_colour)
    return 1.0;

  switch (self->source)
    {
    case TS_SOURCE_WORD:
    case TS_SOURCE_MASSTONE:
      return darkest_of (&self->masstone);
    case TS_SOURCE_TINTS:
      return MIN (darkest_of (&self->masstone), darkest_of (&self->tint));
    case TS_SOURCE_FILMS_LAB:
    case TS_SOURCE_FILMS_SPECTRA:
      return MIN (darkest_of (&self->over_white), darkest_of (&self->over_black));
    case TS_SOURCE_DIRECT:
    case TS_SOURCE_CALIBRATED:
    default:
      return 1.0;
    }
}
