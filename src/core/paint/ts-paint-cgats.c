/* ts-paint-cgats.c: paints from and to CGATS text (ISO 28178)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-cgats.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/ts-cgats.h"
#include "base/ts-csv.h"
#include "base/ts-error.h"
#include "base/ts-text.h"
#include "colour/ts-colour-convert.h"
#include "paint/ts-mix.h"
#include "paint/ts-paint-set-private.h"

#define DIGITS 6
#define LEAST_NM 200.0
#define MOST_NM 1200.0
#define MOST_PERCENT 120.0 /* some devices read a little over 100 on a white */
#define PERCENT_FROM 2.0   /* a file with a value above this is in per cent */
#define SAME_STEP 0.01     /* nm */
#define SURFACE_KEYWORD "PAINT_SURFACE"

/* A field of ours in CGATS, and its column in a paint set. */
static const struct
{
  const char *field;
  const char *column;
} words[] = {
  { "PAINT_KIND", "kind" },           { "PAINT_OPACITY", "opacity" }, { "PAINT_FINISH", "finish" },
  { "PAINT_PIGMENTS", "pigments" },   { "PAINT_STOCK", "stock" },     { "PAINT_NOTES", "notes" },
  { "PAINT_WITHIN", "known_within" },
};

/* One wavelength of the file. */
typedef struct
{
  double nm;
  int field;
} Sample;

/* A file being read. */
typedef struct
{
  const TsCgats *table;
  const char *what;
  GArray *samples; /* Sample, in order of wavelength */
  double scale;    /* to 0..1 */
  int lab[3], xyz[3];
  gboolean has_K_S;
} Reader;

/* "SPECTRAL_NM380" (ISO 28178), and how else devices write it. */
static gboolean
parse_wavelength (const char *field, double *nm)
{
  static const char *const prefixes[] = { "SPECTRAL_NM_", "SPECTRAL_NM", "SPECTRAL_", "NM_", "NM" };

  for (gsize i = 0; i < G_N_ELEMENTS (prefixes); i++)
    {
      gsize n = strlen (prefixes[i]);

      if (g_ascii_strncasecmp (field, prefixes[i], n) == 0 &&
          ts_text_parse_number (field + n, nm) && *nm >= LEAST_NM && *nm <= MOST_NM)
        return TRUE;
    }
  return FALSE;
}

static int
compare_samples (gconstpointer one, gconstpointer other)
{
  double a = ((const Sample *) one)->nm, b = ((const Sample *) other)->nm;

  return (a > b) - (a < b);
}

static gboolean
find_samples (Reader *self, GError **error)
{
  double step;

  for (guint f = 0; f < ts_cgats_get_n_fields (self->table); f++)
    {
      Sample sample = { .field = (int) f };

      if (parse_wavelength (ts_cgats_get_field (self->table, f), &sample.nm))
        g_array_append_val (self->samples, sample);
    }
  g_array_sort (self->samples, compare_samples);
  if (self->samples->len < 2)
    return TRUE;
  step = g_array_index (self->samples, Sample, 1).nm - g_array_index (self->samples, Sample, 0).nm;
  for (guint i = 1; i < self->samples->len; i++)
    if (!(fabs (g_array_index (self->samples, Sample, i).nm -
                g_array_index (self->samples, Sample, i - 1).nm - step) <= SAME_STEP))
      {
        g_set_error (error, TS_ERROR, TS_ERROR_UNSUPPORTED,
                     _ ("%s: the wavelengths do not lie evenly at %g nm; export them at one step, "
                        "such as 10 nm"),
                     self->what, g_array_index (self->samples, Sample, i).nm);
        return FALSE;
      }
  return TRUE;
}

/* Reflectance stands as 0..1 or in per cent, and no field says which. */
static gboolean
find_scale (Reader *self, GError **error)
{
  double most = 0.0;

  for (guint r = 0; r < ts_cgats_get_n_rows (self->table); r++)
    for (guint i = 0; i < self->samples->len; i++)
      {
        double number;

        if (!ts_cgats_get_number (self->table, r, g_array_index (self->samples, Sample, i).field,
                                  -0.1, MOST_PERCENT, &number, error))
          return FALSE;
        most = MAX (most, number);
      }
  self->scale = most > PERCENT_FROM ? 0.01 : 1.0;
  if (most * self->scale <= MOST_PERCENT / 100.0)
    return TRUE;
  g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
               _ ("%s: reflectances up to %g are neither 0 to 1 nor per cent"), self->what, most);
  return FALSE;
}

static void
find_three (const TsCgats *table, const char *const names[3], int field[3])
{
  for (int i = 0; i < 3; i++)
    field[i] = ts_cgats_find_field (table, names[i]);
  if (field[0] < 0 || field[1] < 0 || field[2] < 0)
    field[0] = -1;
}

static gboolean
find_fields (Reader *self, GError **error)
{
  static const char *const lab[3] = { "LAB_L", "LAB_A", "LAB_B" };
  static const char *const xyz[3] = { "XYZ_X", "XYZ_Y", "XYZ_Z" };

  find_three (self->table, lab, self->lab);
  find_three (self->table, xyz, self->xyz);
  self->has_K_S = ts_cgats_find_field (self->table, "PAINT_K400") >= 0;
  if (!find_samples (self, error))
    return FALSE;
  if (self->samples->len > 0 && !find_scale (self, error))
    return FALSE;
  if (self->samples->len > 0 || self->lab[0] >= 0 || self->xyz[0] >= 0 || self->has_K_S)
    return TRUE;
  g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
               _ ("%s has no spectra (SPECTRAL_NM400 ...), no LAB_L LAB_A LAB_B and no XYZ_X XYZ_Y "
                  "XYZ_Z; export one of them"),
               self->what);
  return FALSE;
}

static void
append_bands (GString *text, const TsSpectrum *spectrum)
{
  for (guint b = 0; b < TS_BANDS; b++)
    ts_csv_append_number (text, spectrum->band[b], DIGITS, FALSE);
}

static gboolean
read_spectrum (const Reader *self, guint row, GString *text, GError **error)
{
  g_autofree double *values = g_new (double, self->samples->len);
  const Sample *samples = (const Sample *) (const void *) self->samples->data;
  guint n = self->samples->len;
  TsSpectrum spectrum;

  for (guint i = 0; i < n; i++)
    {
      ts_cgats_get_number (self->table, row, samples[i].field, -0.1, MOST_PERCENT, &values[i],
                           NULL);
      values[i] = CLAMP (values[i] * self->scale, 0.0, 1.0);
    }
  if (!ts_spectrum_resample (values, n, samples[0].nm,
                             (samples[n - 1].nm - samples[0].nm) / MAX (n - 1, 1), &spectrum,
                             error))
    {
      g_prefix_error (error, _ ("%s, line %u: "), self->what, ts_cgats_get_line (self->table, row));
      return FALSE;
    }
  append_bands (text, &spectrum);
  return TRUE;
}

static gboolean
read_colour (const Reader *self, guint row, GString *text, GError **error)
{
  double n[3];
  TsLab lab;

  if (self->lab[0] >= 0)
    {
      if (!ts_cgats_get_number (self->table, row, self->lab[0], 0.0, 100.0, &lab.L, error) ||
          !ts_cgats_get_number (self->table, row, self->lab[1], -200.0, 200.0, &lab.a, error) ||
          !ts_cgats_get_number (self->table, row, self->lab[2], -200.0, 200.0, &lab.b, error))
        return FALSE;
    }
  else
    {
      /* Relative to a perfect reflector of Y = 100 (ISO 28178, 6). */
      for (int i = 0; i < 3; i++)
        if (!ts_cgats_get_number (self->table, row, self->xyz[i], 0.0, 120.0, &n[i], error))
          return FALSE;
      lab = ts_lab_from_xyz ((TsXyz){ n[0] / 100.0, n[1] / 100.0, n[2] / 100.0 });
    }
  ts_csv_append_number (text, lab.L, DIGITS, FALSE);
  ts_csv_append_number (text, lab.a, DIGITS, FALSE);
  ts_csv_append_number (text, lab.b, DIGITS, FALSE);
  return TRUE;
}

static void
append_field (GString *text, const Reader *self, guint row, const char *field)
{
  ts_csv_append_cell (
    text, ts_cgats_get_cell (self->table, row, ts_cgats_find_field (self->table, field)), FALSE);
}

static void
append_K_S (GString *text, const Reader *self, guint row)
{
  for (guint i = 0; i < 2 * TS_BANDS; i++)
    {
      g_autofree char *field = g_strdup_printf ("PAINT_%c%u", i < TS_BANDS ? 'K' : 'S',
                                                TS_BAND_FIRST + TS_BAND_STEP * (i % TS_BANDS));

      append_field (text, self, row, field);
    }
}

static void
append_header (GString *text, const Reader *self)
{
  const char *surface = ts_cgats_get_keyword (self->table, SURFACE_KEYWORD);

  if (self->has_K_S && surface != NULL)
    g_string_append_printf (text, "# " TS_PAINT_SURFACE_KEY " %s\n", surface);
  g_string_append (text, "name");
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    ts_csv_append_cell (text, words[i].column, FALSE);
  for (guint i = 0; i < (self->has_K_S ? 2 * TS_BANDS : self->samples->len > 0 ? TS_BANDS : 0); i++)
    g_string_append_printf (text, ",%c%u",
                            !self->has_K_S ? 'R'
                            : i < TS_BANDS ? 'K'
                                           : 'S',
                            TS_BAND_FIRST + TS_BAND_STEP * (i % TS_BANDS));
  if (!self->has_K_S && self->samples->len == 0)
    g_string_append (text, ",L,a,b");
  g_string_append_c (text, '\n');
}

static gboolean
append_row (GString *text, const Reader *self, guint row, GError **error)
{
  int names = ts_cgats_find_field (self->table, "SAMPLE_NAME");

  if (names < 0)
    names = ts_cgats_find_field (self->table, "SAMPLE_ID");
  ts_csv_append_cell (text, ts_cgats_get_cell (self->table, row, names), TRUE);
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    append_field (text, self, row, words[i].field);
  if (self->has_K_S)
    append_K_S (text, self, row);
  else if (!(self->samples->len > 0 ? read_spectrum (self, row, text, error)
                                    : read_colour (self, row, text, error)))
    return FALSE;
  g_string_append_c (text, '\n');
  return TRUE;
}

static char *
convert (Reader *self, GError **error)
{
  g_autoptr (GString) text = g_string_new (NULL);

  if (!find_fields (self, error))
    return NULL;
  append_header (text, self);
  for (guint row = 0; row < ts_cgats_get_n_rows (self->table); row++)
    if (!append_row (text, self, row, error))
      return NULL;
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/**
 * ts_paint_cgats_to_csv:
 * @text: CGATS text
 * @length: its bytes, or -1 where a zero byte ends it
 * @what: its name, for messages
 * @error: return location for an error, or %NULL
 *
 * Names from SAMPLE_NAME, else SAMPLE_ID. Spectra (SPECTRAL_NM380 ..., any even step of 0.5 to 20
 * nm, 0 to 1 or per cent) are resampled to the bands and come as masstones; without them LAB_L
 * LAB_A LAB_B, or XYZ_X XYZ_Y XYZ_Z, D50. K and S as ts_paint_set_to_cgats() writes them come back.
 *
 * Returns: (transfer full) (nullable): the text of a paint set, or %NULL with a #TsError
 */
char *
ts_paint_cgats_to_csv (const char *text, gssize length, const char *what, GError **error)
{
  g_autoptr (TsCgats) table = ts_cgats_parse (text, length, what, error);
  g_autoptr (GArray) samples = g_array_new (FALSE, FALSE, sizeof (Sample));
  Reader reader = { .table = table, .what = what, .samples = samples };

  return table == NULL ? NULL : convert (&reader, error);
}

static void
append_number (GString *text, double number)
{
  g_string_append_c (text, '\t');
  ts_text_append_number (text, number, DIGITS);
}

static void
append_format (GString *text)
{
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    g_string_append_printf (text, "KEYWORD\t\"%s\"\n", words[i].field);
  for (guint i = 0; i < 2 * TS_BANDS; i++)
    g_string_append_printf (text, "KEYWORD\t\"PAINT_%c%u\"\n", i < TS_BANDS ? 'K' : 'S',
                            TS_BAND_FIRST + TS_BAND_STEP * (i % TS_BANDS));
  g_string_append (text, "BEGIN_DATA_FORMAT\nSAMPLE_ID\tSAMPLE_NAME");
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    g_string_append_printf (text, "\t%s", words[i].field);
  g_string_append (text, "\tLAB_L\tLAB_A\tLAB_B");
  for (guint i = 0; i < 3 * TS_BANDS; i++)
    g_string_append_printf (text, "\t%s%u",
                            i < TS_BANDS       ? "SPECTRAL_NM"
                            : i < 2 * TS_BANDS ? "PAINT_K"
                                               : "PAINT_S",
                            TS_BAND_FIRST + TS_BAND_STEP * (i % TS_BANDS));
  g_string_append (text, "\nEND_DATA_FORMAT\n");
}

static void
append_paint (GString *text, const TsPaint *paint, TsSurfaceReflection surface, guint index)
{
  TsLab lab = ts_paint_get_masstone (paint);
  TsSpectrum masstone;

  g_string_append_printf (text, "%u", index + 1);
  ts_cgats_append_cell (text, ts_paint_get_name (paint), FALSE);
  ts_cgats_append_cell (text, ts_paint_kind_to_word (ts_paint_get_kind (paint)), FALSE);
  ts_cgats_append_cell (text, ts_opacity_to_word (ts_paint_get_opacity (paint)), FALSE);
  ts_cgats_append_cell (text, ts_paint_get_finish (paint), FALSE);
  ts_cgats_append_cell (text, ts_paint_get_pigments (paint), FALSE);
  ts_cgats_append_cell (text, ts_stock_to_word (ts_paint_get_stock (paint)), FALSE);
  ts_cgats_append_cell (text, ts_paint_get_notes (paint), FALSE);
  g_string_append_c (text, '\t');
  ts_text_append_number (text, ts_paint_get_error (paint), 3);
  append_number (text, lab.L);
  append_number (text, lab.a);
  append_number (text, lab.b);
  ts_mix_get_masstone (ts_paint_get_K (paint), ts_paint_get_S (paint), surface, &masstone);
  for (guint b = 0; b < TS_BANDS; b++)
    append_number (text, masstone.band[b]);
  for (guint b = 0; b < TS_BANDS; b++)
    append_number (text, ts_paint_get_K (paint)->band[b]);
  for (guint b = 0; b < TS_BANDS; b++)
    append_number (text, ts_paint_get_S (paint)->band[b]);
  g_string_append_c (text, '\n');
}

/**
 * ts_paint_set_to_cgats:
 * @self: a set
 *
 * Spectra 0 to 1 and CIELAB (D50, 2 degrees) of layers that hide all, for any program; with K and S
 * per coat, the surface and the words of each paint as fields of our own, so that the file read
 * back mixes the same. What each paint was measured from, and columns that are not ours, stay
 * behind: CSV keeps them.
 *
 * Returns: (transfer full): CGATS text
 */
char *
ts_paint_set_to_cgats (const TsPaintSet *self)
{
  g_autoptr (GString) text = g_string_new ("CGATS.17\n");
  TsSurfaceReflection surface = ts_paint_set_get_surface (self);
  guint n = ts_paint_set_get_n_paints (self);

  g_string_append (text, "ORIGINATOR\t\"Tonestair\"\nDESCRIPTOR\t\"Paint set\"\n"
                         "KEYWORD\t\"" SURFACE_KEYWORD "\"\n" SURFACE_KEYWORD "\t\"k1=");
  ts_text_append_number (text, surface.k1, DIGITS);
  g_string_append (text, " k2=");
  ts_text_append_number (text, surface.k2, DIGITS);
  g_string_append_printf (text, "\"\nNUMBER_OF_FIELDS\t%u\n",
                          (guint) (5 + G_N_ELEMENTS (words) + 3 * TS_BANDS));
  append_format (text);
  g_string_append_printf (text, "NUMBER_OF_SETS\t%u\nBEGIN_DATA\n", n);
  for (guint i = 0; i < n; i++)
    append_paint (text, ts_paint_set_get_paint (self, i), surface, i);
  g_string_append (text, "END_DATA\n");
  return g_string_free (g_steal_pointer (&text), FALSE);
}
