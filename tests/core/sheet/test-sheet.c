/* test-sheet.c: sheets of swatches painted into a picture, tilted and unevenly lit
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "correction/ts-quad.h"
#include "sheet/ts-sheet.h"
#include "ts-test.h"

#define WIDTH 900
#define HEIGHT 700
#define ROWS 3
#define COLUMNS 4
#define ROUNDING 0.7 /* CIEDE2000: half a step of 8-bit sRGB in each channel */

/* A tilted sheet: no two sides run alike. */
static const double corners[4][2] = {
  { 120.0, 90.0 }, { 780.0, 130.0 }, { 720.0, 610.0 }, { 150.0, 560.0 }
};

/* What the picture is to show. */
typedef struct
{
  gboolean halves;
  double gutter; /* bare card about each swatch, share of a cell */
  double bare;   /* bare strip at the top of each cell */
  double fall;   /* light lost from the left edge of the picture to the right one */
  gboolean black_first;
  int clipped_cell, empty_cell, streaked_cell; /* -1: none */
} Scene;

static const Scene plain = { .clipped_cell = -1, .empty_cell = -1, .streaked_cell = -1 };

static const TsLab card_white = { 94.0, -0.5, 1.5 };
static const TsLab card_black = { 14.0, 0.3, 0.1 };

/* Twelve colours well inside sRGB, unlike each other. */
static TsLab
paint_lab (guint cell, gboolean over_black)
{
  TsLab lab = ts_lab_from_lch ((TsLch){ 35.0 + 3.0 * cell, 12.0 + 2.0 * (cell % 5), 30.0 * cell });

  lab.L -= over_black ? 2.0 + cell : 0.0;
  return lab;
}

static TsLab
lab_at (const Scene *scene, double u, double v)
{
  guint column = (guint) (u * COLUMNS), row = (guint) (v * ROWS), cell = row * COLUMNS + column;
  double in_u = u * COLUMNS - column, in_v = v * ROWS - row;
  gboolean second = in_u >= 0.5;
  gboolean black = scene->halves && second != scene->black_first;
  double half_u = scene->halves ? 2.0 * in_u - second : in_u;
  TsLab lab = paint_lab (cell, black);

  if (in_v < scene->bare || half_u < scene->gutter || half_u > 1.0 - scene->gutter ||
      in_v < scene->gutter || in_v > 1.0 - scene->gutter || (int) cell == scene->empty_cell)
    return black ? card_black : card_white;
  if ((int) cell == scene->streaked_cell)
    lab.L += in_v > 0.5 ? 9.0 : -9.0;
  return lab;
}

static void
fill_pixel (const Scene *scene, const TsMat3 *back, guint x, guint y, guint8 *pixel)
{
  TsVec3 p = ts_mat3_apply (back, (TsVec3){ { x + 0.5, y + 0.5, 1.0 } });
  double u = p.v[0] / p.v[2], v = p.v[1] / p.v[2];
  gboolean inside = u >= 0.0 && u < 1.0 && v >= 0.0 && v < 1.0;
  TsXyz xyz = ts_xyz_from_lab (inside ? lab_at (scene, u, v) : (TsLab){ 60.0, 3.0, 12.0 });
  double light = 1.0 - scene->fall * x / WIDTH;
  TsRgb rgb = ts_rgb_from_xyz ((TsXyz){ light * xyz.X, light * xyz.Y, light * xyz.Z });
  guint cell = inside ? (guint) (v * ROWS) * COLUMNS + (guint) (u * COLUMNS) : 0;

  pixel[0] = (guint8) CLAMP (255.0 * ts_srgb_encode (rgb.r) + 0.5, 0.0, 255.0);
  pixel[1] = (guint8) CLAMP (255.0 * ts_srgb_encode (rgb.g) + 0.5, 0.0, 255.0);
  pixel[2] = (guint8) CLAMP (255.0 * ts_srgb_encode (rgb.b) + 0.5, 0.0, 255.0);
  if (inside && (int) cell == scene->clipped_cell)
    memset (pixel, 255, 3);
}

static TsImage *
paint_scene (const Scene *scene)
{
  guint8 *pixels = g_malloc (3 * WIDTH * HEIGHT);
  g_autoptr (GBytes) bytes = g_bytes_new_take (pixels, 3 * WIDTH * HEIGHT);
  TsMat3 map, back;

  assert_true (ts_quad_find_perspective (corners, &map));
  assert_true (ts_mat3_invert (&map, &back));
  for (guint y = 0; y < HEIGHT; y++)
    for (guint x = 0; x < WIDTH; x++)
      fill_pixel (scene, &back, x, y, pixels + 3 * (y * WIDTH + x));
  return ts_image_new_from_pixels (bytes, WIDTH, HEIGHT, TS_PIXEL_RGB8, NULL);
}

static TsSheetGrid
grid_of (const Scene *scene)
{
  TsSheetGrid grid = {
    .n_rows = ROWS, .n_columns = COLUMNS, .halves = scene->halves, .bare = scene->bare
  };

  memcpy (grid.corner, corners, sizeof corners);
  return grid;
}

static TsSheet *
read_scene (const Scene *scene, const double *light_at)
{
  g_autoptr (TsImage) image = paint_scene (scene);
  g_autoptr (TsCorrection) correction = ts_correction_new_none ();
  g_autoptr (GError) error = NULL;
  TsSheetGrid grid = grid_of (scene);
  TsSheet *sheet = ts_sheet_read (image, correction, &grid, light_at, &error);

  assert_no_error (error);
  assert_non_null (sheet);
  assert_int_equal (ts_sheet_get_n_cells (sheet), ROWS * COLUMNS);
  return sheet;
}

/* Farthest cell from what was painted, where it is usable. */
static double
worst_of (const TsSheet *sheet, gboolean halves)
{
  double worst = 0.0;

  for (guint i = 0; i < ts_sheet_get_n_cells (sheet); i++)
    {
      const TsSheetCell *cell = ts_sheet_get_cell (sheet, i);

      if (!cell->usable)
        continue;
      worst = MAX (worst, ts_delta_e_2000 (cell->white.lab, paint_lab (i, FALSE)));
      if (halves)
        worst = MAX (worst, ts_delta_e_2000 (cell->black.lab, paint_lab (i, TRUE)));
    }
  return worst;
}

static void
test_whole_cells (void **state)
{
  g_autoptr (TsSheet) sheet = read_scene (&plain, NULL);

  assert_true (worst_of (sheet, FALSE) < ROUNDING);
  for (guint i = 0; i < ts_sheet_get_n_cells (sheet); i++)
    {
      const TsSheetCell *cell = ts_sheet_get_cell (sheet, i);

      assert_int_equal (cell->row, i / COLUMNS);
      assert_int_equal (cell->column, i % COLUMNS);
      assert_true (cell->usable);
      assert_null (cell->why);
      assert_true (isnan (cell->contrast));
      assert_true (cell->white.uneven < 0.3);
      /* No correction: the reading cannot be good. */
      assert_true (cell->white.within >= 15.0);
    }
  /* Paint up to the lines: no card to be seen. */
  assert_false (ts_sheet_get_card (sheet)->evened);
}

static void
test_halves_either_way (void **state)
{
  for (int first = 0; first < 2; first++)
    {
      Scene scene = plain;
      g_autoptr (TsSheet) sheet = NULL;

      scene.halves = TRUE;
      scene.bare = 0.25;
      scene.black_first = first;
      sheet = read_scene (&scene, NULL);
      assert_int_equal (ts_sheet_get_card (sheet)->black_first, first);
      assert_true (worst_of (sheet, TRUE) < ROUNDING);
      assert_true (ts_sheet_get_card (sheet)->has_white);
      assert_true (ts_sheet_get_card (sheet)->has_black);
      assert_true (ts_delta_e_2000 (ts_sheet_get_card (sheet)->white, card_white) < ROUNDING);
      assert_true (ts_delta_e_2000 (ts_sheet_get_card (sheet)->black, card_black) < ROUNDING);
      for (guint i = 0; i < ts_sheet_get_n_cells (sheet); i++)
        {
          double over_black = ts_luminance_from_lightness (paint_lab (i, TRUE).L);
          double over_white = ts_luminance_from_lightness (paint_lab (i, FALSE).L);

          assert_near (ts_sheet_get_cell (sheet, i)->contrast, over_black / over_white, 0.01);
        }
    }
}

/* A third of the light is lost across the picture; strips or lines of bare card tell. */
static void
test_uneven_light (void **state)
{
  for (int strips = 0; strips < 2; strips++)
    {
      Scene scene = plain;
      const double at[2] = { 0.0, 350.0 };
      g_autoptr (TsSheet) sheet = NULL;

      scene.fall = 0.35;
      scene.gutter = strips ? 0.0 : 0.12;
      scene.bare = strips ? 0.25 : 0.0;
      sheet = read_scene (&scene, at);
      assert_true (ts_sheet_get_card (sheet)->evened);
      assert_near (ts_sheet_get_card (sheet)->light_ratio, 1.24, 0.08);
      assert_true (worst_of (sheet, FALSE) < 1.0);
    }
}

/* The same light where no card shows: it stays, and the sheet says that it was not evened. */
static void
test_uneven_light_unseen (void **state)
{
  Scene scene = plain;
  g_autoptr (TsSheet) sheet = NULL;

  scene.fall = 0.35;
  sheet = read_scene (&scene, NULL);
  assert_false (ts_sheet_get_card (sheet)->evened);
  assert_near (ts_sheet_get_card (sheet)->light_ratio, 1.0, 0.0);
  assert_true (worst_of (sheet, FALSE) > 5.0);
}

static void
test_bad_cells_are_named (void **state)
{
  Scene scene = plain;
  g_autoptr (TsSheet) sheet = NULL;

  scene.halves = TRUE;
  scene.bare = 0.25;
  scene.clipped_cell = 2;
  scene.empty_cell = 5;
  scene.streaked_cell = 7;
  sheet = read_scene (&scene, NULL);
  assert_string_equal (ts_sheet_get_cell (sheet, 2)->why, "clipped");
  assert_false (ts_sheet_get_cell (sheet, 2)->usable);
  assert_string_equal (ts_sheet_get_cell (sheet, 5)->why, "empty");
  assert_false (ts_sheet_get_cell (sheet, 5)->usable);
  assert_string_equal (ts_sheet_get_cell (sheet, 7)->why, "uneven");
  assert_true (ts_sheet_get_cell (sheet, 7)->usable);
  assert_true (ts_sheet_get_cell (sheet, 7)->white.within >
               ts_sheet_get_cell (sheet, 6)->white.within);
  for (guint i = 0; i < ts_sheet_get_n_cells (sheet); i++)
    if (i != 2 && i != 5 && i != 7)
      assert_null (ts_sheet_get_cell (sheet, i)->why);
}

static void
test_grid_is_refused (void **state)
{
  g_autoptr (TsImage) image = paint_scene (&plain);
  g_autoptr (TsCorrection) correction = ts_correction_new_none ();

  for (int fault = 0; fault < 6; fault++)
    {
      TsSheetGrid grid = grid_of (&plain);
      g_autoptr (GError) error = NULL;

      if (fault == 0)
        grid.n_rows = 0;
      if (fault == 1)
        grid.n_columns = TS_SHEET_MAX_SIDE + 1;
      if (fault == 2)
        grid.bare = (double) NAN;
      if (fault == 3)
        grid.corner[1][0] = WIDTH + 1.0;
      if (fault == 4)
        grid.corner[2][1] = (double) NAN;
      if (fault == 5)
        memcpy (grid.corner[2], grid.corner[0], sizeof grid.corner[0]);
      assert_null (ts_sheet_read (image, correction, &grid, NULL, &error));
      assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
    }
}

static void
test_too_small (void **state)
{
  g_autoptr (TsImage) image = paint_scene (&plain);
  g_autoptr (TsCorrection) correction = ts_correction_new_none ();
  g_autoptr (TsSheet) sheet = NULL;
  TsSheetGrid grid = grid_of (&plain);

  grid.n_rows = grid.n_columns = TS_SHEET_MAX_SIDE;
  sheet = ts_sheet_read (image, correction, &grid, NULL, NULL);
  assert_non_null (sheet);
  assert_string_equal (ts_sheet_get_cell (sheet, 0)->why, "too small");
  assert_false (ts_sheet_get_cell (sheet, 0)->usable);
}

static void
test_paints (void **state)
{
  Scene scene = plain;
  g_autoptr (TsSheet) sheet = NULL;
  g_autoptr (TsPaintSet) set = NULL;
  g_autoptr (TsPaintSet) more = NULL;
  g_autoptr (GError) error = NULL;
  const char *names[] = { "Rust", "", "Moss, dark", "Teal", NULL };
  const char *others[] = { "Sand", "sand", NULL };
  const TsPaint *paint;

  scene.halves = TRUE;
  scene.bare = 0.25;
  scene.clipped_cell = 3;
  sheet = read_scene (&scene, NULL);
  set = ts_sheet_add_to_set (sheet, NULL, names, &error);
  assert_no_error (error);
  /* One has no name, one is clipped. */
  assert_int_equal (ts_paint_set_get_n_paints (set), 2);
  paint = ts_paint_set_get_paint (set, (guint) ts_paint_set_find (set, "Moss, dark"));
  assert_int_equal (ts_paint_get_source (paint), TS_SOURCE_FILMS_LAB);
  /* Films as colours leave 12.5 open, and the reading 15 more. */
  assert_near (ts_paint_get_error (paint), hypot (12.5, 15.0), 0.5);

  assert_null (ts_sheet_add_to_set (sheet, set, others, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
  assert_non_null (strstr (error->message, "sand"));
  g_clear_error (&error);

  others[1] = "Moss, light";
  more = ts_sheet_add_to_set (sheet, set, others, &error);
  assert_no_error (error);
  assert_int_equal (ts_paint_set_get_n_paints (more), 4);
  assert_int_equal (ts_paint_set_find (more, "Sand"), 2);
}

/* A paint that is there already gets the new colours, and keeps its place and its words. */
static void
test_measured_again (void **state)
{
  g_autoptr (TsSheet) sheet = read_scene (&plain, NULL);
  g_autoptr (TsPaintSet) set = ts_paint_set_parse (
    "name,kind,opacity,finish,notes,L_white,a_white,b_white,L_black,a_black,b_black,film_coats\n"
    "Sand,paint,opaque,,,70,5,20,69,5,19,1\n"
    "Rust,ink,transparent,gloss,an old bottle,50,30,20,12,3,2,2\n",
    -1, "set", NULL);
  g_autoptr (TsPaintSet) again = NULL;
  g_autoptr (GError) error = NULL;
  const char *names[] = { "rust", "Teal", NULL };
  const TsPaint *paint;

  again = ts_sheet_add_to_set (sheet, set, names, &error);
  assert_no_error (error);
  assert_int_equal (ts_sheet_count_taken (sheet, names), 2);
  assert_int_equal (ts_paint_set_get_n_paints (again), 3);
  assert_int_equal (ts_paint_set_find (again, "Rust"), 1);
  paint = ts_paint_set_get_paint (again, 1);
  assert_string_equal (ts_paint_get_name (paint), "Rust");
  assert_int_equal (ts_paint_get_kind (paint), TS_PAINT_INK);
  assert_string_equal (ts_paint_get_notes (paint), "an old bottle");
  assert_int_equal (ts_paint_get_source (paint), TS_SOURCE_WORD);
  assert_true (ts_delta_e_2000 (ts_paint_get_masstone (paint), paint_lab (0, FALSE)) < ROUNDING);
  /* The others are as they were. */
  assert_int_equal (ts_paint_get_source (ts_paint_set_get_paint (again, 0)), TS_SOURCE_FILMS_LAB);
}

static void
test_masstones (void **state)
{
  g_autoptr (TsSheet) sheet = read_scene (&plain, NULL);
  g_autoptr (TsPaintSet) set = NULL;
  g_autoptr (GError) error = NULL;
  const char *names[] = { "One", "Two", "Three", NULL };
  const char *many[ROWS * COLUMNS + 2] = { 0 };

  set = ts_sheet_add_to_set (sheet, NULL, names, &error);
  assert_no_error (error);
  for (guint i = 0; i < 3; i++)
    assert_true (ts_delta_e_2000 (ts_paint_get_masstone (ts_paint_set_get_paint (set, i)),
                                  paint_lab (i, FALSE)) < ROUNDING);

  for (guint i = 0; i <= ROWS * COLUMNS; i++)
    many[i] = "Name";
  assert_null (ts_sheet_add_to_set (sheet, set, many, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
  g_clear_error (&error);
  names[0] = names[1] = names[2] = "";
  assert_null (ts_sheet_add_to_set (sheet, set, names, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_FEW));
}

static void
test_names (void **state)
{
  g_auto (GStrv) lines = ts_sheet_parse_names ("\xef\xbb\xbfRust\r\n\n  Deep, Teal  \n\n\n", -1);
  g_auto (GStrv) table =
    ts_sheet_parse_names ("kind,name\npaint,Rust\nink,\nink,\"Deep, Teal\"\n", -1);
  g_auto (GStrv) none = ts_sheet_parse_names ("", -1);

  for (int i = 0; i < 2; i++)
    {
      char **names = i == 0 ? lines : table;

      assert_int_equal (g_strv_length (names), 3);
      assert_string_equal (names[0], "Rust");
      assert_string_equal (names[1], "");
      assert_string_equal (names[2], "Deep, Teal");
    }
  assert_int_equal (g_strv_length (none), 0);
}

static void
test_drawn_cells_tile_the_grid (void **state)
{
  TsSheetGrid grid = grid_of (&plain);
  double x[4], y[4], next_x[4], next_y[4];

  assert_true (ts_sheet_grid_get_cell (&grid, 0, 0, x, y));
  assert_near (x[0], corners[0][0], 1e-9);
  assert_near (y[0], corners[0][1], 1e-9);
  assert_true (ts_sheet_grid_get_cell (&grid, 0, 1, next_x, next_y));
  assert_near (x[1], next_x[0], 1e-9);
  assert_near (y[2], next_y[3], 1e-9);
  assert_true (ts_sheet_grid_get_cell (&grid, ROWS - 1, COLUMNS - 1, x, y));
  assert_near (x[2], corners[2][0], 1e-9);
  assert_near (y[2], corners[2][1], 1e-9);
}

/* The middle of each drawn cell lies in it, and what is outside the grid in none. */
static void
test_cells_are_found (void **state)
{
  TsSheetGrid grid = grid_of (&plain);
  double x[4], y[4];

  for (guint i = 0; i < ROWS * COLUMNS; i++)
    {
      assert_true (ts_sheet_grid_get_cell (&grid, i / COLUMNS, i % COLUMNS, x, y));
      assert_int_equal (ts_sheet_grid_find_cell (&grid, (x[0] + x[1] + x[2] + x[3]) / 4.0,
                                                 (y[0] + y[1] + y[2] + y[3]) / 4.0),
                        i);
      /* Just inside of its corners too. */
      for (guint k = 0; k < 4; k++)
        assert_int_equal (ts_sheet_grid_find_cell (&grid, x[k] + 0.01 * (x[(k + 2) % 4] - x[k]),
                                                   y[k] + 0.01 * (y[(k + 2) % 4] - y[k])),
                          i);
    }
  /* Beyond the middle of each edge. */
  for (guint k = 0; k < 4; k++)
    {
      double across = (corners[k][0] + corners[(k + 1) % 4][0]) / 2.0;
      double down = (corners[k][1] + corners[(k + 1) % 4][1]) / 2.0;

      assert_int_equal (ts_sheet_grid_find_cell (&grid, across + 0.01 * (across - WIDTH / 2.0),
                                                 down + 0.01 * (down - HEIGHT / 2.0)),
                        -1);
    }
  assert_int_equal (ts_sheet_grid_find_cell (&grid, -1e6, 1e6), -1);
  assert_int_equal (ts_sheet_grid_find_cell (&grid, (double) NAN, 1.0), -1);
  grid.corner[2][0] = grid.corner[0][0];
  grid.corner[2][1] = grid.corner[0][1];
  assert_int_equal (ts_sheet_grid_find_cell (&grid, grid.corner[1][0], grid.corner[1][1]), -1);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_whole_cells),
    cmocka_unit_test (test_halves_either_way),
    cmocka_unit_test (test_uneven_light),
    cmocka_unit_test (test_uneven_light_unseen),
    cmocka_unit_test (test_bad_cells_are_named),
    cmocka_unit_test (test_grid_is_refused),
    cmocka_unit_test (test_too_small),
    cmocka_unit_test (test_paints),
    cmocka_unit_test (test_measured_again),
    cmocka_unit_test (test_masstones),
    cmocka_unit_test (test_names),
    cmocka_unit_test (test_drawn_cells_tile_the_grid),
    cmocka_unit_test (test_cells_are_found),
  };

  return cmocka_run_group_tests_name ("sheet", tests, NULL, NULL);
}
