/* test-finish.c: surfaces laid on the finished figure's photograph
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "colour/ts-colour-convert.h"
#include "plan/ts-finish.h"

#define SIDE 200

/* One surface whose light falls from top to bottom; the finished figure is @darker by L*. */
static TsImage *
new_image (guint width, double darker)
{
  g_autofree guint8 *pixels = g_new (guint8, 3 * width * SIDE);
  g_autoptr (TsProfile) profile = ts_profile_new_assumed (TS_PIXEL_RGB8);
  g_autoptr (GBytes) bytes = NULL;

  for (guint y = 0; y < SIDE; y++)
    for (guint x = 0; x < width; x++)
      {
        double L = 85.0 - 55.0 * y / SIDE;

        ts_lab_to_srgb8 ((TsLab){ L - darker, 0.2 * L, 0.1 * L }, pixels + 3 * (y * width + x));
      }
  bytes = g_bytes_new (pixels, 3 * width * SIDE);
  return ts_image_new_from_pixels (bytes, width, SIDE, TS_PIXEL_RGB8, profile);
}

/* A reference and a finished figure, and one surface that is outlined, and no more. */
static TsPlan *
make_plan (const TsImage *reference)
{
  const TsPoint corners[] = { { 20, 10 }, { 180, 10 }, { 170, 190 }, { 30, 190 } };
  g_autoptr (TsCorrection) none = ts_correction_new_none ();
  g_autoptr (GError) error = NULL;
  TsSurface *surface = ts_surface_new ("coat");
  TsPlan *plan = ts_plan_new ();

  g_ptr_array_add (plan->pictures, ts_picture_new ("/a.png", TS_ROLE_REFERENCE));
  g_ptr_array_add (plan->pictures, ts_picture_new ("/b.png", TS_ROLE_FINISHED));
  g_ptr_array_add (plan->surfaces, surface);
  surface->outline = ts_outline_new (0, corners, 4);
  assert_true (ts_pipeline_measure_outline (surface->outline, reference, none, NULL, &error));
  assert_no_error (error);
  return plan;
}

/* The outline lies at the same place of a photograph of twice the width, and tells by how much it
 * was painted too dark. */
static void
test_outline_alone (void **state)
{
  g_autoptr (TsImage) reference = new_image (SIDE, 0.0), photo = new_image (2 * SIDE, 9.0);
  g_autoptr (TsPlan) plan = make_plan (reference);
  g_autoptr (TsSurfaceResult) planned = NULL;
  g_autoptr (TsSurface) achieved = NULL;
  g_autoptr (GError) error = NULL;
  TsSurface *surface = ts_plan_get_surface (plan, 0);
  TsOutline *placed;
  TsFinished finished;

  assert_int_equal (ts_finish_find_picture (plan, 0), -1);
  assert_null (ts_finish_get_surface (plan, 0));
  placed = surface->finish_outline =
    ts_finish_place_outline (surface->outline, 1, reference, photo);
  assert_int_equal (placed->picture, 1);
  assert_int_equal (placed->tones->len, 0);
  assert_int_equal (placed->points->len, 4);
  assert_near (g_array_index (placed->points, TsPoint, 2).x, 340.0, 1e-9);
  assert_near (g_array_index (placed->points, TsPoint, 2).y, 190.0, 1e-9);
  assert_int_equal (ts_finish_find_picture (plan, 0), 1);

  assert_true (ts_pipeline_measure_plan (plan, 1, photo, &error));
  assert_int_equal (placed->tones->len, TS_OUTLINE_TONES);
  planned = ts_surface_result_new (plan, 0, NULL, &error);
  achieved = ts_finish_get_surface (plan, 0);
  assert_true (ts_finish_check_surface (plan, 0, planned, achieved, NULL, &finished, &error));
  assert_no_error (error);
  for (guint i = 0; i < finished.n_steps; i++)
    assert_near (finished.step[i].delta_L, -9.0, 0.5);
  assert_near (finished.range_achieved, finished.range_planned, 0.5);
}

/* Before it is read there is nothing to hold the stair to. */
static void
test_not_read (void **state)
{
  g_autoptr (TsImage) reference = new_image (SIDE, 0.0);
  g_autoptr (TsPlan) plan = make_plan (reference);
  g_autoptr (TsSurfaceResult) planned = ts_surface_result_new (plan, 0, NULL, NULL);
  g_autoptr (TsSurface) achieved = NULL;
  TsSurface *surface = ts_plan_get_surface (plan, 0);
  TsFinished finished;

  surface->finish_outline = ts_finish_place_outline (surface->outline, 1, NULL, reference);
  achieved = ts_finish_get_surface (plan, 0);
  assert_false (ts_finish_check_surface (plan, 0, planned, achieved, NULL, &finished, NULL));
}

/* A surface with a run there is held to that, as on the reference. */
static void
test_runs_go_first (void **state)
{
  const TsPoint line[] = { { 100, 10 }, { 100, 190 } };
  g_autoptr (TsImage) reference = new_image (SIDE, 0.0);
  g_autoptr (TsPlan) plan = make_plan (reference);
  g_autoptr (TsSurface) achieved = NULL;
  TsSurface *surface = ts_plan_get_surface (plan, 0);

  surface->finish_outline = ts_finish_place_outline (surface->outline, 1, NULL, reference);
  g_ptr_array_add (plan->finish, ts_finish_run_new (0, ts_run_new (1, line, 2, 3.0)));
  achieved = ts_finish_get_surface (plan, 0);
  assert_int_equal (achieved->runs->len, 1);
  assert_null (achieved->outline);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_outline_alone),
    cmocka_unit_test (test_not_read),
    cmocka_unit_test (test_runs_go_first),
  };

  return cmocka_run_group_tests_name ("plan/finish", tests, NULL, NULL);
}
