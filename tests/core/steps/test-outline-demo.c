/* test-outline-demo.c: two ways to read a surface of the demo picture must agree
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "colour/ts-difference.h"
#include "image/ts-image.h"
#include "spots/ts-outline.h"
#include "spots/ts-spot.h"
#include "steps/ts-stair.h"

/* The bar that both readings of a surface are held to, CIEDE2000. */
#define AGREE 2.0
#define N_STEPS 7

/* A run with a known truth, and its surface as a painter would draw round it, loose enough to hold
 * pieces of its neighbours: scarf, strap and buckle, stripes, the wall. */
typedef struct
{
  const char *name;
  TsPoint run[2];
  TsPoint outline[8];
  guint n_points;
} Surface;

/* clang-format off */
static const Surface surfaces[] = {
  { "coat, right side", { { 705, 930 }, { 803, 930 } },
    { { 550, 590 }, { 650, 560 }, { 760, 600 }, { 830, 720 }, { 830, 1045 }, { 640, 1045 }, { 560, 930 },
      { 530, 760 } }, 8 },
  { "coat, left sleeve", { { 155, 983 }, { 240, 998 } },
    { { 80, 730 }, { 270, 760 }, { 270, 1050 }, { 80, 1050 } }, 4 },
  { "cap", { { 330, 225 }, { 604, 245 } },
    { { 300, 290 }, { 310, 180 }, { 380, 100 }, { 540, 95 }, { 605, 190 }, { 615, 310 }, { 460, 250 } }, 7 },
  { "scarf", { { 385, 640 }, { 475, 640 } },
    { { 370, 560 }, { 495, 560 }, { 490, 760 }, { 370, 760 } }, 4 },
  { "leather", { { 505, 930 }, { 585, 1030 } },
    { { 210, 560 }, { 295, 550 }, { 400, 750 }, { 490, 870 }, { 630, 1045 }, { 530, 1050 }, { 420, 900 },
      { 350, 810 } }, 8 },
};
/* clang-format on */

static TsImage *
open_demo (TsCorrection **correction)
{
  g_autofree char *path = ts_test_source ("data/demo/lighthouse.jpg");
  g_autoptr (GError) error = NULL;
  TsImage *image = ts_image_open (path, NULL, NULL, NULL, &error);
  TsXyz card;

  assert_no_error (error);
  assert_true (ts_spot_measure_xyz (image, 1347.7, 340.9, 60.0, &card, NULL, &error));
  *correction = ts_correction_new_card (card, 49.5, &error);
  assert_no_error (error);
  return image;
}

static TsCurve *
fit_run (const Surface *of, const TsImage *image, const TsCorrection *correction)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) spots = ts_run_measure (image, correction, of->run, 2, 13, 8.0, &error);
  TsCurveSample samples[13];
  TsCurve *curve;

  assert_no_error (error);
  for (guint i = 0; i < spots->len; i++)
    {
      const TsSpot *spot = &g_array_index (spots, TsSpot, i);

      samples[i] = (TsCurveSample){ spot->position, spot->lab, spot->standard_error };
    }
  curve = ts_curve_fit (samples, spots->len, TS_CURVE_RULE_SURFACE, &error);
  assert_no_error (error);
  return curve;
}

static TsCurve *
fit_outline (const Surface *of, const TsImage *image, const TsCorrection *correction)
{
  g_autoptr (GError) error = NULL;
  guint pixels;
  double left_out;
  g_autoptr (GArray) tones = ts_outline_measure (image, correction, of->outline, of->n_points, NULL,
                                                 &pixels, &left_out, &error);
  TsCurveSample samples[TS_OUTLINE_TONES];
  TsCurve *curve;

  assert_no_error (error);
  for (guint i = 0; i < tones->len; i++)
    {
      const TsTone *tone = &g_array_index (tones, TsTone, i);

      samples[i] = (TsCurveSample){ (i + 0.5) / tones->len, tone->lab, tone->standard_error };
    }
  print_message ("%s: %u pixels, %.0f %% left out, L* %.1f to %.1f\n", of->name, pixels,
                 100.0 * left_out, samples[0].lab.L, samples[tones->len - 1].lab.L);
  curve = ts_curve_fit (samples, tones->len, TS_CURVE_RULE_SURFACE, &error);
  assert_no_error (error);
  return curve;
}

/* Each step of the run's stair against the outline's colour of the same lightness, and, where the
 * outline does not reach so far, its end. */
static void
test_agree (void **state)
{
  g_autoptr (TsCorrection) correction = NULL;
  g_autoptr (TsImage) image = open_demo (&correction);
  double worst = 0.0, sum = 0.0;
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (surfaces); i++)
    {
      g_autoptr (TsCurve) run = fit_run (&surfaces[i], image, correction);
      g_autoptr (TsCurve) outline = fit_outline (&surfaces[i], image, correction);
      TsStairSettings settings;
      g_autoptr (TsStair) stair = NULL;

      ts_stair_settings_init (&settings);
      settings.n_steps = N_STEPS;
      stair = ts_stair_new (run, &settings, NULL);
      for (guint j = 0; j < N_STEPS; j++)
        {
          TsLab step = ts_stair_get_step (stair, j)->wanted;
          TsLab other = ts_curve_get_colour (outline, ts_curve_find_lightness (outline, step.L));
          double apart = ts_delta_e_2000 (step, other);

          print_message ("  L* %.1f %.1f %.1f, %.1f %.1f %.1f: dE %.2f\n", step.L, step.a, step.b,
                         other.L, other.a, other.b, apart);
          worst = MAX (worst, apart);
          sum += apart;
          n++;
        }
    }
  print_message ("run and outline of %u surfaces, %u steps: dE %.2f on average, %.2f at most\n",
                 (guint) G_N_ELEMENTS (surfaces), n, sum / n, worst);
  assert_true (worst <= AGREE);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_agree),
  };

  return cmocka_run_group_tests_name ("steps/outline-demo", tests, NULL, NULL);
}
