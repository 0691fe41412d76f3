/* test-sheet-template.c: the sheet to print, and its rings found again in a picture of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <glib/gstdio.h>
#include <string.h>

#include "base/ts-error.h"
#include "card/ts-sheet-template.h"
#include "sheet/ts-sheet-marks.h"
#include "ts-test.h"

static const char *const some_names[] = { "Rust", "",
                                          "A very long name of a paint that runs on and on",
                                          "Deep Teal", NULL };

static TsSheetTemplate *
make_template (guint n_names)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < n_names; i++)
    g_ptr_array_add (names, (gpointer) some_names[i % 4]);
  g_ptr_array_add (names, NULL);
  return ts_sheet_template_new ((const char *const *) names->pdata, "Swatch sheet", TS_PAPER_A4);
}

/* The page laid on a grey table, @size pixels wide, turned by @turn about its middle; @light falls
 * from left to right by that share. */
static TsImage *
lay_on_table (const TsSheetTemplate *self, guint size, double turn, double fall)
{
  cairo_surface_t *surface =
    cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) size, (int) size);
  cairo_t *cr = cairo_create (surface);
  guint8 *pixels = g_malloc (3 * size * size);
  g_autoptr (GBytes) bytes = g_bytes_new_take (pixels, 3 * size * size);
  double width, height, scale;

  ts_sheet_template_get_size (self, &width, &height);
  scale = 0.72 * size / height;
  cairo_set_source_rgb (cr, 0.55, 0.5, 0.45);
  cairo_paint (cr);
  cairo_translate (cr, 0.5 * size, 0.5 * size);
  cairo_rotate (cr, turn);
  cairo_scale (cr, scale, scale);
  cairo_translate (cr, -0.5 * width, -0.5 * height);
  cairo_rectangle (cr, 0.0, 0.0, width, height);
  cairo_clip (cr);
  ts_sheet_template_draw (self, 0, cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  for (guint y = 0; y < size; y++)
    for (guint x = 0; x < size; x++)
      {
        const guint8 *row = cairo_image_surface_get_data (surface) +
                            (gsize) y * (gsize) cairo_image_surface_get_stride (surface);
        guint32 word;

        memcpy (&word, row + 4 * x, 4);
        for (int c = 0; c < 3; c++)
          pixels[3 * (y * size + x) + c] =
            (guint8) ((0.06 + 0.9 * (word >> (16 - 8 * c) & 0xff) / 255.0) *
                      (1.0 - fall * x / size) * 255.0);
      }
  cairo_surface_destroy (surface);
  return ts_image_new_from_pixels (bytes, size, size, TS_PIXEL_RGB8, NULL);
}

static TsSheetGrid
plain_grid (void)
{
  return (TsSheetGrid){ .n_rows = TS_TEMPLATE_ROWS,
                        .n_columns = TS_TEMPLATE_COLUMNS,
                        .halves = TRUE,
                        .bare = TS_TEMPLATE_BARE };
}

/* However it lies, the corners turn with it, the first one stays the first, and every cell is seen
 * to be bare card. */
static void
test_rings_are_found (void **state)
{
  static const double turns[] = { 0.0, 0.2, 1.4, G_PI, -1.9 };
  g_autoptr (TsSheetTemplate) self = make_template (40);
  TsSheetGrid straight = plain_grid ();

  for (gsize t = 0; t < G_N_ELEMENTS (turns); t++)
    {
      const guint size = t % 2 == 0 ? 1400 : 2000;
      g_autoptr (TsImage) image = lay_on_table (self, size, turns[t], 0.3);
      g_autoptr (TsCorrection) none = ts_correction_new_none ();
      g_autoptr (TsSheet) sheet = NULL;
      TsSheetGrid grid = plain_grid ();
      g_autoptr (GError) error = NULL;

      assert_true (ts_sheet_find_marks (image, &grid, &error));
      assert_no_error (error);
      for (int i = 0; i < 4; i++)
        {
          double x = grid.corner[i][0] / size - 0.5, y = grid.corner[i][1] / size - 0.5;
          double back_x = cos (turns[t]) * x + sin (turns[t]) * y;
          double back_y = cos (turns[t]) * y - sin (turns[t]) * x;

          if (t == 0)
            {
              straight.corner[i][0] = back_x;
              straight.corner[i][1] = back_y;
            }
          assert_near (back_x, straight.corner[i][0], 0.0015);
          assert_near (back_y, straight.corner[i][1], 0.0015);
        }
      sheet = ts_sheet_read (image, none, &grid, NULL, &error);
      assert_no_error (error);
      assert_true (ts_sheet_get_card (sheet)->evened);
      assert_true (ts_sheet_get_card (sheet)->has_black);
      assert_false (ts_sheet_get_card (sheet)->black_first);
      for (guint i = 0; i < ts_sheet_get_n_cells (sheet); i++)
        assert_string_equal (ts_sheet_get_cell (sheet, i)->why, "empty");
    }
  /* The grid lies upright on its page: rows run to the right, columns down. */
  assert_true (straight.corner[0][0] < 0.0 && straight.corner[1][0] > 0.0);
  assert_near (straight.corner[0][1], straight.corner[1][1], 1e-3);
  assert_near (straight.corner[1][0], straight.corner[2][0], 1e-3);
  assert_true (straight.corner[2][1] > straight.corner[1][1]);
}

static void
test_no_rings (void **state)
{
  g_autofree char *path = ts_test_source ("data/demo/lighthouse.jpg");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsImage) image = ts_image_open (path, NULL, NULL, NULL, &error);
  TsSheetGrid grid = plain_grid ();

  assert_no_error (error);
  assert_false (ts_sheet_find_marks (image, &grid, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_NOT_FOUND));
  assert_near (grid.corner[2][0], 0.0, 0.0);
}

static void
test_pages (void **state)
{
  static const guint counts[][2] = { { 0, 1 }, { 1, 1 }, { 40, 1 }, { 41, 2 }, { 200, 5 } };

  for (gsize i = 0; i < G_N_ELEMENTS (counts); i++)
    {
      g_autoptr (TsSheetTemplate) self = make_template (counts[i][0]);

      assert_int_equal (ts_sheet_template_get_n_pages (self), counts[i][1]);
    }
}

static void
test_saved (void **state)
{
  static const char *const starts[][2] = { { "sheet.pdf", "%PDF" },
                                           { "sheet.SVG", "<?xml" },
                                           { "sheet.png", "\x89PNG" } };
  char *folder = ts_test_make_folder ();
  g_autoptr (TsSheetTemplate) self = make_template (41);
  g_autofree char *odd = g_build_filename (folder, "sheet.doc", NULL);
  g_autofree char *second = g_build_filename (folder, "sheet-2.png", NULL);
  g_autoptr (GError) error = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (starts); i++)
    {
      g_autofree char *path = g_build_filename (folder, starts[i][0], NULL);
      g_autofree char *text = NULL;

      assert_true (ts_sheet_template_save (self, path, &error));
      assert_no_error (error);
      assert_true (g_file_get_contents (path, &text, NULL, NULL));
      assert_memory_equal (text, starts[i][1], strlen (starts[i][1]));
    }
  assert_true (g_file_test (second, G_FILE_TEST_IS_REGULAR));
  assert_false (ts_sheet_template_save (self, odd, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_UNSUPPORTED));
  ts_test_remove_folder (folder);
}

static void
test_names_of_a_set (void **state)
{
  g_autoptr (TsPaintSet) set = ts_paint_set_parse (
    "name,kind,stock,L,a,b\nRust,paint,out,45,30,35\nClear,medium,,,,\nGrey,primer,,60,0,0\n"
    "Night,ink,,22,4,-30\n",
    -1, "set", NULL);
  g_auto (GStrv) names = ts_sheet_template_dup_names (set);

  assert_int_equal (g_strv_length (names), 2);
  assert_string_equal (names[0], "Rust");
  assert_string_equal (names[1], "Night");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_rings_are_found), cmocka_unit_test (test_no_rings),
    cmocka_unit_test (test_pages),           cmocka_unit_test (test_saved),
    cmocka_unit_test (test_names_of_a_set),
  };

  return cmocka_run_group_tests_name ("card/sheet-template", tests, NULL, NULL);
}
