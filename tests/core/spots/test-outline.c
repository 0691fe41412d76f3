/* test-outline.c: a whole surface read at once
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "spots/ts-outline.h"

#define SIDE 200

/* What lies at a place: a surface whose light falls from top to bottom, warm in the light. */
typedef TsLab (*Painter) (double x, double y);

static TsLab
surface_at (double y)
{
  double L = 75.0 - 50.0 * y;

  return (TsLab){ L, 0.25 * (L + 16.0) + 3.0 * y, 0.35 * (L + 16.0) - 6.0 * y };
}

static TsLab
paint_alone (double x, double y)
{
  return surface_at (y);
}

/* A belt of another colour, a bright buckle, a glint and a crack. */
static TsLab
paint_mixed (double x, double y)
{
  if (hypot (x - 0.3, y - 0.2) < 0.03)
    return (TsLab){ 99.0, 0.0, 1.0 };
  if (hypot (x - 0.8, y - 0.3) < 0.08)
    return (TsLab){ 85.0, -2.0, 40.0 };
  if (x > 0.4 && x < 0.6)
    return (TsLab){ 30.0 + 10.0 * x, -12.0, -18.0 };
  return surface_at (y);
}

static TsImage *
new_image (Painter painter, guint seed)
{
  g_autofree guint8 *pixels = g_new (guint8, 3 * SIDE * SIDE);
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (TsProfile) profile = ts_profile_new_assumed (TS_PIXEL_RGB8);

  for (guint i = 0; i < SIDE * SIDE; i++)
    {
      TsLab lab = painter ((i % SIDE + 0.5) / SIDE, (i / SIDE + 0.5) / SIDE);

      lab.L += g_rand_double_range (rand, -1.5, 1.5);
      ts_lab_to_srgb8 (lab, pixels + 3 * i);
    }
  bytes = g_bytes_new (pixels, 3 * SIDE * SIDE);
  return ts_image_new_from_pixels (bytes, SIDE, SIDE, TS_PIXEL_RGB8, profile);
}

static GArray *
measure (Painter painter, guint *pixels, double *left_out)
{
  const TsPoint corners[] = { { 10, 10 }, { 190, 10 }, { 190, 190 }, { 10, 190 } };
  g_autoptr (TsImage) image = new_image (painter, 11);
  g_autoptr (TsCorrection) correction = ts_correction_new_none ();
  g_autoptr (GError) error = NULL;
  GArray *tones =
    ts_outline_measure (image, correction, corners, 4, NULL, pixels, left_out, &error);

  assert_no_error (error);
  assert_int_equal (tones->len, TS_OUTLINE_TONES);
  return tones;
}

/* The middle of each equal share of the area, from the top of the outline to its bottom. */
static double
worst_difference (const GArray *tones)
{
  double worst = 0.0;

  for (guint i = 0; i < tones->len; i++)
    {
      double y = 0.05 + 0.9 * (i + 0.5) / tones->len;

      worst = MAX (worst, ts_delta_e_2000 (g_array_index (tones, TsTone, i).lab, surface_at (y)));
    }
  return worst;
}

static void
test_alone (void **state)
{
  guint pixels;
  double left_out;
  g_autoptr (GArray) tones = measure (paint_alone, &pixels, &left_out);

  assert_true (worst_difference (tones) < 1.0);
  assert_in_range (pixels, 30000, 34000);
  assert_true (left_out < 0.03);
}

static void
test_mixed (void **state)
{
  guint pixels;
  double left_out;
  g_autoptr (GArray) tones = measure (paint_mixed, &pixels, &left_out);

  /* The belt is 0.2 of 0.9, the buckle 0.02 of 0.81, and its edges. */
  assert_true (left_out > 0.22 && left_out < 0.30);
  assert_true (worst_difference (tones) < 2.0);
  for (guint i = 1; i < tones->len; i++)
    assert_true (g_array_index (tones, TsTone, i).lab.L <=
                 g_array_index (tones, TsTone, i - 1).lab.L);
}

static void
test_refused (void **state)
{
  const TsPoint small[] = { { 10, 10 }, { 14, 10 }, { 14, 14 } };
  const TsPoint away[] = { { 300, 300 }, { 400, 300 }, { 400, 400 } };
  const TsPoint all[] = { { 0, 0 }, { 200, 0 }, { 200, 200 }, { 0, 200 } };
  g_autoptr (TsImage) image = new_image (paint_alone, 1);
  g_autoptr (TsCorrection) correction = ts_correction_new_none ();
  g_autoptr (GCancellable) stopped = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  guint pixels;
  double left_out;

  assert_null (ts_outline_measure (image, correction, small, 3, NULL, &pixels, &left_out, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_FEW));
  g_clear_error (&error);
  assert_null (ts_outline_measure (image, correction, all, 2, NULL, &pixels, &left_out, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_FEW));
  g_clear_error (&error);
  assert_null (ts_outline_measure (image, correction, away, 3, NULL, &pixels, &left_out, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_FEW));
  g_clear_error (&error);
  g_cancellable_cancel (stopped);
  assert_null (ts_outline_measure (image, correction, all, 4, stopped, &pixels, &left_out, &error));
  assert_true (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}

static void
test_geometry (void **state)
{
  const TsPoint arrow[] = { { 0, 0 }, { 10, 0 }, { 10, 10 }, { 5, 2 }, { 0, 10 } };

  assert_near (ts_outline_get_area (arrow, 5), 60.0, 1e-9);
  assert_near (ts_outline_get_area (arrow, 2), 0.0, 0.0);
  assert_true (ts_outline_contains (arrow, 5, (TsPoint){ 1, 5 }));
  assert_true (ts_outline_contains (arrow, 5, (TsPoint){ 5, 1 }));
  assert_false (ts_outline_contains (arrow, 5, (TsPoint){ 5, 5 }));
  assert_false (ts_outline_contains (arrow, 5, (TsPoint){ 11, 5 }));
}

/* A hand's wobbly circle of 400 corners keeps its area within the share that a regular polygon of
 * as many corners lacks; what has few corners keeps them all. */
static void
test_simplify (void **state)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (TsPoint));
  g_autoptr (GArray) few = NULL;
  double before, lacking = 1.0 - 16.0 / (2.0 * G_PI) * sin (2.0 * G_PI / 16.0);

  for (guint i = 0; i < 400; i++)
    {
      double angle = 2.0 * G_PI * i / 400.0, radius = 100.0 + sin (37.0 * angle);
      TsPoint point = { radius * cos (angle), radius * sin (angle) };

      g_array_append_val (points, point);
    }
  before = ts_outline_get_area ((const TsPoint *) (const void *) points->data, points->len);
  ts_outline_simplify (points, 16);
  assert_int_equal (points->len, 16);
  assert_near (ts_outline_get_area ((const TsPoint *) (const void *) points->data, 16) / before,
               1.0, lacking + 0.01);
  few = g_array_copy (points);
  ts_outline_simplify (few, 16);
  assert_memory_equal (few->data, points->data, 16 * sizeof (TsPoint));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_alone),    cmocka_unit_test (test_mixed),
    cmocka_unit_test (test_refused),  cmocka_unit_test (test_geometry),
    cmocka_unit_test (test_simplify),
  };

  return cmocka_run_group_tests_name ("spots/outline", tests, NULL, NULL);
}
