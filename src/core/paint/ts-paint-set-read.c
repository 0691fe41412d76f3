/* ts-paint-set-read.c: from the table of a set to its paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-set-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/ts-error.h"
#include "paint/ts-km.h"
#include "paint/ts-mix.h"
#include "paint/ts-paint-private.h"
#include "paint/ts-paint-reading.h"
#include "paint/ts-paint-solve.h"

#define MOST_PAINTS 1000
#define LONGEST_NAME 200 /* characters */
#define DEFAULT_K1 0.04  /* Fresnel at normal incidence for a refractive index of 1.5 */
#define DEFAULT_K2 0.6   /* diffuse light from inside at that index (Saunderson 1942) */
#define MOST_K1 0.5
#define MOST_K2 0.95
#define FEW_BANDS 8 /* films that tell less than this are no better than a masstone */
#define MOST_ERROR 100.0

static const char *
cell_of (const TsCsv *table, guint row, const char *column)
{
  int c = ts_csv_find_column (table, column);

  return c < 0 ? "" : ts_csv_get_cell (table, row, c);
}

static gboolean
is_good_name (const char *name)
{
  if (*name == '\0' || g_utf8_strlen (name, -1) > LONGEST_NAME)
    return FALSE;
  for (const char *c = name; *c != '\0'; c = g_utf8_next_char (c))
    if (g_unichar_iscntrl (g_utf8_get_char (c)))
      return FALSE;
  /* Recipes are written "2 This + 1 That". */
  return strstr (name, " + ") == NULL;
}

/* Names are unlike without regard to case, so that a recipe can be typed. */
static gboolean
read_names (TsPaintSet *self, const char *what, GError **error)
{
  guint n_rows = ts_csv_get_n_rows (self->table);

  if (ts_csv_find_column (self->table, "name") < 0)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("%s: there is no column called name; the first line must name the columns"),
                   what);
      return FALSE;
    }
  if (n_rows == 0 || n_rows > MOST_PAINTS)
    {
      g_set_error (error, TS_ERROR, n_rows == 0 ? TS_ERROR_TOO_FEW : TS_ERROR_TOO_LARGE,
                   _ ("%s holds %u paints; a set has 1 to %d"), what, n_rows, MOST_PAINTS);
      return FALSE;
    }

  for (guint r = 0; r < n_rows; r++)
    {
      const char *name = cell_of (self->table, r, "name");
      g_autofree char *key = g_utf8_casefold (name, -1);
      guint before = GPOINTER_TO_UINT (g_hash_table_lookup (self->rows, key));

      if (!is_good_name (name))
        {
          g_set_error (
            error, TS_ERROR, TS_ERROR_BAD_VALUE,
            _ ("%s, line %u: a paint needs a name of 1 to %d characters on one line, without "
               "a \"+\" between blanks"),
            what, ts_csv_get_line (self->table, r), LONGEST_NAME);
          return FALSE;
        }
      if (before > 0)
        {
          g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                       _ ("%s, line %u: the name %s stands in line %u already; give one of the two "
                          "another name"),
                       what, ts_csv_get_line (self->table, r), name,
                       ts_csv_get_line (self->table, before - 1));
          return FALSE;
        }
      g_hash_table_insert (self->rows, g_steal_pointer (&key), GUINT_TO_POINTER (r + 1));
    }
  return TRUE;
}

static gboolean
refuse_word (const TsCsv *table, guint row, const char *what, const char *column, const char *words,
             GError **error)
{
  g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
               _ ("%s, line %u: %s is \"%s\"; it is one of %s, or empty"), what,
               ts_csv_get_line (table, row), column, cell_of (table, row, column), words);
  return FALSE;
}

/* Everything of a paint but its K and S. */
static gboolean
read_words (TsPaint *paint, const TsCsv *table, guint row, const char *what, GError **error)
{
  if (!ts_paint_kind_from_word (cell_of (table, row, "kind"), &paint->kind))
    return refuse_word (table, row, what, "kind",
                        "paint, ink, wash, metallic, medium, primer, varnish", error);
  if (!ts_opacity_from_word (cell_of (table, row, "opacity"), &paint->opacity))
    return refuse_word (table, row, what, "opacity",
                        "opaque, semi-opaque, semi-transparent, transparent", error);
  if (!ts_stock_from_word (cell_of (table, row, "stock"), &paint->stock))
    return refuse_word (table, row, what, "stock", "full, low, out", error);

  paint->name = g_strdup (cell_of (table, row, "name"));
  paint->pigments = g_strdup (cell_of (table, row, "pigments"));
  paint->finish = g_strdup (cell_of (table, row, "finish"));
  paint->notes = g_strdup (cell_of (table, row, "notes"));
  paint->caution = ts_pigments_dup_caution (paint->pigments);
  return TRUE;
}

static gboolean
is_clear (const TsPaint *paint)
{
  return paint->kind == TS_PAINT_MEDIUM || paint->kind == TS_PAINT_VARNISH;
}

static gboolean
read_rows (TsPaintSet *self, TsPaintReading *readings, const char *what, GError **error)
{
  for (guint r = 0; r < ts_csv_get_n_rows (self->table); r++)
    {
      g_autoptr (TsPaint) paint = ts_paint_new_empty ();

      if (!read_words (paint, self->table, r, what, error) ||
          !ts_paint_reading_read (&readings[r], self->table, r, what, error))
        return FALSE;
      if (!readings[r].has_colour && !is_clear (paint))
        {
          g_set_error (
            error, TS_ERROR, TS_ERROR_TOO_FEW,
            _ ("%s, line %u: %s has no colour; fill in L,a,b or one of the groups of spectra"),
            what, ts_csv_get_line (self->table, r), paint->name);
          return FALSE;
        }
      g_ptr_array_add (self->paints, g_steal_pointer (&paint));
    }
  return TRUE;
}

/* The words "k1=0.04 k2=0.6" after "surface:". Values not given stay as they are. */
static gboolean
parse_surface (const char *text, TsSurfaceReflection *surface)
{
  g_autofree char *lower = g_ascii_strdown (text, -1);
  g_auto (GStrv) words = g_strsplit_set (lower, " \t,;", -1);

  for (char **word = words; *word != NULL; word++)
    {
      gboolean first = g_str_has_prefix (*word, "k1=");
      char *end = NULL;
      double number;

      if (**word == '\0')
        continue;
      if (!first && !g_str_has_prefix (*word, "k2="))
        return FALSE;
      number = g_ascii_strtod (*word + 3, &end);
      if (end == *word + 3 || *end != '\0' ||
          !(number >= 0.0 && number <= (first ? MOST_K1 : MOST_K2)))
        return FALSE;
      *(first ? &surface->k1 : &surface->k2) = number;
    }
  return TRUE;
}

static gboolean
read_surface_comment (TsPaintSet *self, TsSurfaceReflection *surface, const char *what,
                      GError **error)
{
  for (guint i = 0; i < ts_csv_get_n_comments (self->table); i++)
    {
      const char *comment = ts_csv_get_comment (self->table, i);

      if (g_ascii_strncasecmp (comment, TS_PAINT_SURFACE_KEY, strlen (TS_PAINT_SURFACE_KEY)) != 0 ||
          parse_surface (comment + strlen (TS_PAINT_SURFACE_KEY), surface))
        continue;
      g_set_error (
        error, TS_ERROR, TS_ERROR_BAD_VALUE,
        _ ("%s: the comment \"%s\" cannot be read; write it like \"# surface: k1=0.04 k2=0.6\" "
           "with k1 from 0 to %g and k2 from 0 to %g"),
        what, comment, MOST_K1, MOST_K2);
      return FALSE;
    }
  return TRUE;
}

static void
add_note (TsPaintSet *self, char *note)
{
  g_ptr_array_add (self->notes, note);
}

/* What the file says, or k1 below every reading: a larger k1 would leave dark paints no light to
 * come from inside, and ruin every mix. */
static gboolean
find_surface (TsPaintSet *self, const TsPaintReading *readings, const char *what, GError **error)
{
  TsSurfaceReflection said = { (double) NAN, (double) NAN };
  double darkest = 1.0;
  guint row = 0;

  if (!read_surface_comment (self, &said, what, error))
    return FALSE;
  for (guint r = 0; r < self->paints->len; r++)
    if (ts_paint_reading_darkest (&readings[r]) < darkest)
      {
        row = r;
        darkest = ts_paint_reading_darkest (&readings[r]);
      }

  self->surface.k2 = isnan (said.k2) ? DEFAULT_K2 : said.k2;
  self->surface.k1 = isnan (said.k1) ? MIN (DEFAULT_K1, 0.5 * darkest) : said.k1;
  if (isnan (said.k1) && self->surface.k1 < DEFAULT_K1)
    add_note (
      self, g_strdup_printf (_ ("The surface reflection k1 is taken as %.3g, half the darkest "
                                "reading (%s); a \"surface:\" comment in the file can say better."),
                             self->surface.k1, ts_paint_get_name (self->paints->pdata[row])));
  if (!isnan (said.k1) && said.k1 >= darkest)
    add_note (self, g_strdup_printf (
                      _ ("The surface reflection k1 of %.3g is not below the darkest reading "
                         "(%.3g, %s); mixes with dark paints will be off."),
                      said.k1, darkest, ts_paint_get_name (self->paints->pdata[row])));
  return TRUE;
}

/* @masstone may be a film over white, where that is all there is. */
static double
expected_scattering (const TsPaintSet *self, const TsPaint *paint, const TsSpectrum *masstone)
{
  return ts_paint_expected_scattering (paint->kind, paint->opacity, masstone, self->surface);
}

/* From the film's thickness to one coat. */
static void
divide_by_coats (TsPaint *paint, double coats)
{
  for (guint b = 0; b < TS_BANDS; b++)
    {
      paint->K.band[b] /= coats;
      paint->S.band[b] /= coats;
    }
}

static void
solve_films (TsPaintSet *self, TsPaint *paint, const TsPaintReading *reading)
{
  double coats = reading->film_coats;
  TsSpectrum black = reading->black;
  TsSpectrum white = reading->white;
  guint n_told;

  for (guint b = 0; b < TS_BANDS && !reading->has_card; b++)
    {
      black.band[b] = ts_saunderson_measured (self->surface, TS_CARD_BLACK);
      white.band[b] = ts_saunderson_measured (self->surface, TS_CARD_WHITE);
    }
  n_told = ts_paint_solve_films (
    &reading->over_black, &reading->over_white, &black, &white, self->surface,
    coats * expected_scattering (self, paint, &reading->over_white), &paint->K, &paint->S);
  divide_by_coats (paint, coats);
  if (n_told >= FEW_BANDS)
    return;

  paint->error = MAX (paint->error, ts_paint_source_error (TS_SOURCE_MASSTONE, paint->kind));
  add_note (self, g_strdup_printf (
                    _ ("%s hides the card nearly everywhere, so the films tell its colour and "
                       "not its strength; a thinner film, or a tint with white, would."),
                    paint->name));
}

static void
solve_masstone (TsPaintSet *self, TsPaint *paint, const TsPaintReading *reading)
{
  double strength = ts_paint_kind_strength (paint->kind);

  ts_paint_solve_masstone (&reading->masstone, self->surface,
                           strength * expected_scattering (self, paint, &reading->masstone),
                           &paint->K, &paint->S);
}

static void
solve_tint (TsPaintSet *self, TsPaint *paint, const TsPaintReading *reading)
{
  const TsPaint *white = g_ptr_array_index (self->paints, reading->tint_white);

  ts_paint_solve_tint (&reading->masstone, &reading->tint, reading->tint_parts, &white->K,
                       &white->S, self->surface,
                       expected_scattering (self, paint, &reading->masstone), &paint->K, &paint->S);
}

static void
solve_paint (TsPaintSet *self, TsPaint *paint, const TsPaintReading *reading)
{
  paint->source = reading->has_colour ? reading->source : TS_SOURCE_DIRECT;
  paint->error = ts_paint_source_error (paint->source, paint->kind);
  if (is_clear (paint) && reading->source < TS_SOURCE_FILMS_LAB)
    {
      /* A thick layer of it has no colour of its own that could be measured. */
      if (reading->has_colour)
        add_note (self,
                  g_strdup_printf (_ ("%s is a %s and taken as clear; its masstone is not used."),
                                   paint->name, ts_paint_kind_to_word (paint->kind)));
      ts_paint_solve_clear (&paint->K, &paint->S);
      return;
    }

  switch (reading->source)
    {
    case TS_SOURCE_WORD:
    case TS_SOURCE_MASSTONE:
      solve_masstone (self, paint, reading);
      break;
    case TS_SOURCE_FILMS_LAB:
    case TS_SOURCE_FILMS_SPECTRA:
      solve_films (self, paint, reading);
      break;
    case TS_SOURCE_TINTS:
      solve_tint (self, paint, reading);
      break;
    case TS_SOURCE_DIRECT:
    case TS_SOURCE_CALIBRATED:
    default:
      paint->K = reading->K;
      paint->S = reading->S;
      break;
    }
}

/* What was measured off a photograph may be off by itself, beside what that kind of reading leaves
 * open: reading_within. */
static gboolean
read_reading_error (TsPaintSet *self, TsPaint *paint, guint row, GError **error)
{
  int column = ts_csv_find_column (self->table, "reading_within");
  double within;

  if (column < 0 || *ts_csv_get_cell (self->table, row, column) == '\0' ||
      paint->source >= TS_SOURCE_DIRECT)
    return TRUE;
  if (!ts_csv_get_number (self->table, row, column, 0.0, MOST_ERROR, &within, error))
    return FALSE;
  paint->error = hypot (paint->error, within);
  return TRUE;
}

/* A set that was refined by swatches says so beside the K and S: known_from, known_within. */
static gboolean
read_known (TsPaintSet *self, TsPaint *paint, guint row, GError **error)
{
  int within = ts_csv_find_column (self->table, "known_within");

  if (paint->source != TS_SOURCE_DIRECT)
    return TRUE;
  if (g_str_equal (cell_of (self->table, row, "known_from"), TS_PAINT_SWATCHES_WORD))
    {
      paint->source = TS_SOURCE_CALIBRATED;
      paint->error = ts_paint_source_error (paint->source, paint->kind);
    }
  return within < 0 || *ts_csv_get_cell (self->table, row, within) == '\0' ||
         ts_csv_get_number (self->table, row, within, 0.1, MOST_ERROR, &paint->error, error);
}

static void
find_masstone (const TsPaintSet *self, TsPaint *paint)
{
  TsSpectrum reflectance;

  ts_mix_get_masstone (&paint->K, &paint->S, self->surface, &reflectance);
  paint->masstone = ts_spectrum_to_lab (&reflectance, TS_LIGHT_D50);
}

/* Tints come last: they need the K and S of their white. */
static gboolean
solve_all (TsPaintSet *self, const TsPaintReading *readings, GError **error)
{
  for (int tints = 0; tints <= 1; tints++)
    for (guint r = 0; r < self->paints->len; r++)
      if ((readings[r].source == TS_SOURCE_TINTS) == tints)
        {
          TsPaint *paint = g_ptr_array_index (self->paints, r);

          solve_paint (self, paint, &readings[r]);
          if (!read_reading_error (self, paint, r, error) || !read_known (self, paint, r, error))
            return FALSE;
          find_masstone (self, paint);
          if (paint->kind == TS_PAINT_METALLIC)
            add_note (
              self, g_strdup_printf (_ ("%s is metallic: its colour changes with the angle, so its "
                                        "mixes are only rough."),
                                     paint->name));
        }
  return TRUE;
}

/* A tint's white must not be a tint itself. */
static gboolean
check_tint_whites (TsPaintSet *self, const TsPaintReading *readings, const char *what,
                   GError **error)
{
  for (guint r = 0; r < self->paints->len; r++)
    if (readings[r].has_colour && readings[r].source == TS_SOURCE_TINTS &&
        readings[readings[r].tint_white].source == TS_SOURCE_TINTS)
      {
        g_set_error (
          error, TS_ERROR, TS_ERROR_BAD_VALUE,
          _ ("%s, line %u: the paint named in tint_white is known from a tint itself; give that "
             "one films or a masstone"),
          what, ts_csv_get_line (self->table, r));
        return FALSE;
      }
  return TRUE;
}

TsPaintSet *
ts_paint_set_new_from_table (TsCsv *table, const char *what, GError **error)
{
  TsPaintSet *self = g_atomic_rc_box_new0 (TsPaintSet);
  g_autofree TsPaintReading *readings = g_new0 (TsPaintReading, MAX (1, ts_csv_get_n_rows (table)));

  self->table = table;
  self->paints = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_paint_unref);
  self->notes = g_ptr_array_new_with_free_func (g_free);
  self->rows = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  if (!read_names (self, what, error) || !read_rows (self, readings, what, error) ||
      !find_surface (self, readings, what, error) ||
      !check_tint_whites (self, readings, what, error) || !solve_all (self, readings, error))
    {
      ts_paint_set_unref (self);
      return NULL;
    }
  g_ptr_array_add (self->notes, NULL);
  return self;
}
