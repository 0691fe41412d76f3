/* test-paint-cgats.c: paints from measuring devices' files, and back
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The layout of the files follows ISO 28178; spectra are those of the published chart.
 */
#include <glib/gstdio.h>
#include <string.h>

#include "base/ts-cgats.h"
#include "base/ts-error.h"
#include "colour/ts-difference.h"
#include "paint/ts-mix.h"
#include "paint/ts-paint-cgats.h"
#include "ts-test.h"

/* The chart's patches as a device writes them: every @step nm from @first, times @scale. */
static char *
device_file (guint first, guint step, double scale, const char *prefix)
{
  g_autoptr (TsCsv) chart = ts_test_table ("published/chart24_reflectance.csv");
  g_autoptr (GString) text = g_string_new ("CGATS.17\nORIGINATOR \"a device\"\n"
                                           "BEGIN_DATA_FORMAT\nSAMPLE_ID SAMPLE_NAME");

  for (guint nm = first; nm <= 780; nm += step)
    g_string_append_printf (text, " %s%u", prefix, nm);
  g_string_append (text, "\nEND_DATA_FORMAT\nBEGIN_DATA\n");
  for (guint row = 0; row < ts_csv_get_n_rows (chart); row++)
    {
      g_string_append_printf (text, "%u \"%s\"", row + 1,
                              ts_csv_get_cell (chart, row, ts_csv_find_column (chart, "name")));
      for (guint nm = first; nm <= 780; nm += step)
        {
          g_autofree char *column = g_strdup_printf ("R%u", nm);

          g_string_append_printf (text, " %.6f", scale * ts_test_cell (chart, row, column));
        }
      g_string_append (text, "\n");
    }
  g_string_append (text, "END_DATA\n");
  return g_string_free (g_steal_pointer (&text), FALSE);
}

typedef struct
{
  const char *name;
  guint first, step;
  double scale;
  const char *prefix;
  double tolerance; /* CIEDE2000 */
} DeviceCase;

static const DeviceCase device_cases[] = {
  { "5 nm", 380, 5, 1.0, "SPECTRAL_NM", 0.05 },
  { "5 nm, per cent", 380, 5, 100.0, "SPECTRAL_NM_", 0.05 },
  { "10 nm", 380, 10, 1.0, "SPECTRAL_", 0.1 },
  { "10 nm, off the bands, per cent", 385, 10, 100.0, "nm", 0.1 },
  { "20 nm", 380, 20, 100.0, "SPECTRAL_NM", 0.15 },
};

/* published/chart24_xyz_checks.csv has the colours, summed at 5 nm. */
static void
test_device (void **state)
{
  const DeviceCase *c = *state;
  g_autofree char *file = device_file (c->first, c->step, c->scale, c->prefix);
  g_autoptr (GError) error = NULL;
  g_autofree char *csv = ts_paint_cgats_to_csv (file, -1, "device.txt", &error);
  g_autoptr (TsPaintSet) set = NULL;
  g_autoptr (TsCsv) chart = ts_test_table ("published/chart24_reflectance.csv");
  g_autoptr (TsCsv) colours = ts_test_table ("published/chart24_xyz_checks.csv");

  assert_no_error (error);
  set = ts_paint_set_parse (csv, -1, "device.txt", &error);
  assert_no_error (error);
  assert_int_equal (ts_paint_set_get_n_paints (set), 24);
  for (guint row = 0; row < 24; row++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, row);
      TsLab truth = { ts_test_cell (colours, row, "L"), ts_test_cell (colours, row, "a"),
                      ts_test_cell (colours, row, "b") };

      assert_int_equal (ts_paint_get_source (paint), TS_SOURCE_MASSTONE);
      assert_string_equal (ts_paint_get_name (paint),
                           ts_csv_get_cell (chart, row, ts_csv_find_column (chart, "name")));
      assert_true (ts_delta_e_2000 (ts_paint_get_masstone (paint), truth) <= c->tolerance);
    }
}

static TsPaintSet *
read_cgats (const char *text, GError **error)
{
  g_autofree char *csv = ts_paint_cgats_to_csv (text, -1, "file.txt", error);

  return csv == NULL ? NULL : ts_paint_set_parse (csv, -1, "file.txt", error);
}

static void
test_colours (void **state)
{
  static const char *const files[] = {
    "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n"
    "Rust 45 30 35\nEND_DATA\n",
    /* CIELAB 45, 30, 35 in XYZ, D50, by CIE 15's formula, times 100 */
    "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID XYZ_X XYZ_Y XYZ_Z\nEND_DATA_FORMAT\nBEGIN_DATA\n"
    "Rust 19.38890 14.54171 3.56296\nEND_DATA\n",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TsPaintSet) set = read_cgats (files[i], &error);

      assert_no_error (error);
      assert_string_equal (ts_paint_get_name (ts_paint_set_get_paint (set, 0)), "Rust");
      assert_int_equal (ts_paint_get_source (ts_paint_set_get_paint (set, 0)), TS_SOURCE_WORD);
      assert_true (ts_delta_e_2000 (ts_paint_get_masstone (ts_paint_set_get_paint (set, 0)),
                                    (TsLab){ 45, 30, 35 }) < 0.01);
    }
}

typedef struct
{
  const char *name;
  const char *text;
  TsError code;
  const char *says;
} RefusedCase;

#define WITH(fields, data)                                                                         \
  "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_NAME " fields "\nEND_DATA_FORMAT\nBEGIN_DATA\n" data        \
  "\nEND_DATA\n"

static const RefusedCase refused_cases[] = {
  { "no colours", WITH ("DENSITY", "Rust 1"), TS_ERROR_FORMAT, "SPECTRAL_NM400" },
  { "half of a colour", WITH ("LAB_L LAB_A", "Rust 40 1"), TS_ERROR_FORMAT, "LAB_L" },
  { "uneven steps", WITH ("NM400 NM410 NM430 NM440", "Rust 1 1 1 1"), TS_ERROR_UNSUPPORTED,
    "430 nm" },
  { "too short", WITH ("NM500 NM510 NM520 NM530", "Rust 1 1 1 1"), TS_ERROR_TOO_FEW, "line 6" },
  { "one wavelength", WITH ("NM500", "Rust 1"), TS_ERROR_TOO_FEW, "line 6" },
  { "no number", WITH ("NM400 NM410", "Rust 1 x"), TS_ERROR_BAD_VALUE, "line 6" },
  { "no reflectance", WITH ("NM400 NM410", "Rust 1 3000"), TS_ERROR_BAD_VALUE, "line 6" },
  { "no such colour", WITH ("LAB_L LAB_A LAB_B", "Rust 90 150 -150"), TS_ERROR_BAD_VALUE, "line" },
  { "no name", WITH ("LAB_L LAB_A LAB_B", "\"\" 90 0 0"), TS_ERROR_BAD_VALUE, "name" },
  { "a name twice", WITH ("LAB_L LAB_A LAB_B", "Rust 50 0 0\nrust 90 0 0"), TS_ERROR_BAD_VALUE,
    "rust" },
};

static void
test_refused (void **state)
{
  const RefusedCase *c = *state;
  g_autoptr (GError) error = NULL;

  assert_null (read_cgats (c->text, &error));
  assert_true (g_error_matches (error, TS_ERROR, (int) c->code));
  assert_non_null (strstr (error->message, c->says));
}

static TsPaintSet *
read_set (const char *text)
{
  g_autoptr (GError) error = NULL;
  TsPaintSet *set = ts_paint_set_parse (text, -1, "set.csv", &error);

  assert_no_error (error);
  return set;
}

static const char some_paints[] =
  "# surface: k1=0.03 k2=0.5\n"
  "name,kind,opacity,pigments,stock,finish,notes,L,a,b,L_white,a_white,b_white,L_black,a_black,"
  "b_black\n"
  "\"Moss \"\"old\"\", dark\",paint,opaque,PG17 PBk11,low,matt,a note,30,-8,12,,,,,,\n"
  "Glaze,ink,transparent,PR254,,gloss,,,,,50,60,40,15,10,5\n"
  "Clear,medium,,,,,,,,,,,,,,\n";

/* What goes out comes back: K, S, surface, words and errors. */
static void
test_round_trip (void **state)
{
  g_autoptr (TsPaintSet) set = read_set (some_paints);
  g_autofree char *text = ts_paint_set_to_cgats (set);
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) back = read_cgats (text, &error);
  g_autoptr (TsCgats) plain = ts_cgats_parse (text, -1, "out", NULL);

  assert_no_error (error);
  assert_int_equal (ts_paint_set_get_n_paints (back), 3);
  assert_near (ts_paint_set_get_surface (back).k1, 0.03, 0.0);
  assert_near (ts_paint_set_get_surface (back).k2, 0.5, 0.0);
  for (guint i = 0; i < 3; i++)
    {
      const TsPaint *one = ts_paint_set_get_paint (set, i);
      const TsPaint *other = ts_paint_set_get_paint (back, i);

      assert_string_equal (ts_paint_get_name (one), ts_paint_get_name (other));
      assert_int_equal (ts_paint_get_kind (one), ts_paint_get_kind (other));
      assert_int_equal (ts_paint_get_opacity (one), ts_paint_get_opacity (other));
      assert_int_equal (ts_paint_get_stock (one), ts_paint_get_stock (other));
      assert_string_equal (ts_paint_get_pigments (one), ts_paint_get_pigments (other));
      assert_string_equal (ts_paint_get_notes (one), ts_paint_get_notes (other));
      assert_near (ts_paint_get_error (one), ts_paint_get_error (other), 0.05);
      for (guint b = 0; b < TS_BANDS; b++)
        {
          double K = ts_paint_get_K (one)->band[b], S = ts_paint_get_S (one)->band[b];

          assert_near (ts_paint_get_K (other)->band[b], K, 1e-5 * K);
          assert_near (ts_paint_get_S (other)->band[b], S, 1e-5 * S);
        }
    }
  /* For other programs: plain spectra and colours of the masstones. */
  assert_near (g_ascii_strtod (ts_cgats_get_keyword (plain, "NUMBER_OF_FIELDS"), NULL),
               ts_cgats_get_n_fields (plain), 0.0);
  for (int i = 0; i < 2; i++)
    {
      double L;

      assert_true (ts_cgats_get_number (plain, (guint) i, ts_cgats_find_field (plain, "LAB_L"), 0.0,
                                        100.0, &L, NULL));
      assert_near (L, ts_paint_get_masstone (ts_paint_set_get_paint (set, (guint) i)).L, 1e-3);
    }
  assert_true (ts_cgats_find_field (plain, "SPECTRAL_NM400") >= 0);
  assert_true (ts_cgats_find_field (plain, "SPECTRAL_NM700") >= 0);
}

static void
test_rows_are_added (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ("name,L,a,b,shelf\nRust,45,30,35,top\n");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) more = ts_paint_set_with_rows (
    set, "kind,b,a,L,name,drawer\nink,-30,4,22,Night,3\n,3,-1,95,Milk,\n", -1, "more", &error);
  g_autofree char *text = NULL;

  assert_no_error (error);
  assert_int_equal (ts_paint_set_get_n_paints (more), 3);
  assert_true (ts_delta_e_2000 (ts_paint_get_masstone (ts_paint_set_get_paint (more, 1)),
                                (TsLab){ 22, 4, -30 }) < 0.01);
  assert_int_equal (ts_paint_get_kind (ts_paint_set_get_paint (more, 1)), TS_PAINT_INK);
  text = ts_paint_set_to_csv (more);
  assert_string_equal (text, "name,L,a,b,shelf,kind,drawer\nRust,45,30,35,top,,\n"
                             "Night,22,4,-30,,ink,3\nMilk,95,-1,3,,,\n");

  assert_null (ts_paint_set_with_rows (more, "name,L,a,b\nMILK,90,0,0\n", -1, "again", &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
  assert_non_null (strstr (error->message, "MILK"));
  assert_int_equal (ts_paint_set_get_n_paints (more), 3);
}

/* K and S found with another surface would mix wrongly. */
static void
test_another_surface_is_refused (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ("# surface: k1=0 k2=0\nname,L,a,b\nRust,45,30,35\n");
  g_autoptr (TsPaintSet) other = read_set (some_paints);
  g_autofree char *cgats = ts_paint_set_to_cgats (other);
  g_autofree char *csv = ts_paint_cgats_to_csv (cgats, -1, "other.txt", NULL);
  g_autoptr (GError) error = NULL;

  assert_null (ts_paint_set_with_rows (set, csv, -1, "other.txt", &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
  assert_non_null (strstr (error->message, "k1=0.03"));
}

static void
test_files (void **state)
{
  static const char *const names[] = { "set.csv", "set.txt", "set.CGATS" };
  char *folder = ts_test_make_folder ();
  g_autoptr (TsPaintSet) set = read_set (some_paints);

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (folder, names[i], NULL);
      g_autofree char *text = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (TsPaintSet) back = NULL;
      g_autoptr (TsPaintSet) twice = NULL;

      assert_true (ts_paint_set_save (set, path, &error));
      assert_true (g_file_get_contents (path, &text, NULL, NULL));
      assert_int_equal (ts_cgats_looks_like (text, -1), i > 0);
      back = ts_paint_set_load (path, &error);
      assert_no_error (error);
      assert_int_equal (ts_paint_set_get_n_paints (back), 3);
      assert_null (ts_paint_set_with_file (back, path, &error));
      assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
      g_clear_error (&error);
      twice = ts_paint_set_with_file (NULL, path, &error);
      assert_int_equal (ts_paint_set_get_n_paints (twice), 3);
    }
  ts_test_remove_folder (folder);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_colours),        cmocka_unit_test (test_round_trip),
    cmocka_unit_test (test_rows_are_added), cmocka_unit_test (test_another_surface_is_refused),
    cmocka_unit_test (test_files),
  };
  struct CMUnitTest devices[G_N_ELEMENTS (device_cases)] = { 0 };
  struct CMUnitTest refused[G_N_ELEMENTS (refused_cases)] = { 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (device_cases); i++)
    {
      devices[i].name = device_cases[i].name;
      devices[i].test_func = test_device;
      devices[i].initial_state = (void *) &device_cases[i];
    }
  for (gsize i = 0; i < G_N_ELEMENTS (refused_cases); i++)
    {
      refused[i].name = refused_cases[i].name;
      refused[i].test_func = test_refused;
      refused[i].initial_state = (void *) &refused_cases[i];
    }
  return cmocka_run_group_tests_name ("paint/cgats", tests, NULL, NULL) +
         cmocka_run_group_tests_name ("paint/cgats-devices", devices, NULL, NULL) +
         cmocka_run_group_tests_name ("paint/cgats-refused", refused, NULL, NULL);
}
