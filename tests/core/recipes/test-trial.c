/* test-trial.c: a mix put together by hand, and what it will look like over each ground
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Predictions are compared with the formulas as they were published: Kubelka (J. Opt. Soc. Am. 38,
 * 1948, 448) for films, Saunderson (J. Opt. Soc. Am. 32, 1942, 727) for the surface, Duncan (1940)
 * for mixtures; each written out here.
 */
#include "invented-paints.h"
#include "recipes/ts-prediction.h"
#include "ts-test.h"

#define N_PAINTS 12

static int
setup (void **state)
{
  *state = invented_paints_new (N_PAINTS, 31);
  return 0;
}

static int
teardown (void **state)
{
  invented_paints_free (*state);
  return 0;
}

/* R = (1 - Rg (a - b coth bSX)) / (a - Rg + b coth bSX), and its limit in thick films. */
static double
kubelka (double K, double S, double coats, double ground)
{
  double a = 1.0 + K / S, b = sqrt (a * a - 1.0), c;

  if (isinf (coats))
    return a - b;
  c = b / tanh (b * S * coats);
  return (1.0 - ground * (a - c)) / (a - ground + c);
}

static double
saunderson (TsSurfaceReflection surface, double inside)
{
  return surface.k1 +
         (1.0 - surface.k1) * (1.0 - surface.k2) * inside / (1.0 - surface.k2 * inside);
}

/* What an instrument sees of the trial; @ground: inside reflectance on each band, or NULL. */
static TsLab
look_at (TsPaintSet *set, const TsTrial *trial, double coats, const double *ground)
{
  TsSurfaceReflection surface = ts_paint_set_get_surface (set);
  TsSpectrum seen;
  double total = 0.0;

  for (guint i = 0; i < trial->recipe.n_paints; i++)
    total += trial->recipe.parts[i];
  for (guint b = 0; b < TS_BANDS; b++)
    {
      double K = 0.0, S = 0.0;

      for (guint i = 0; i < trial->recipe.n_paints; i++)
        {
          TsPaint *paint = ts_paint_set_get_paint (set, trial->recipe.paint[i]);

          K += trial->recipe.parts[i] / total * ts_paint_get_K (paint)->band[b];
          S += trial->recipe.parts[i] / total * ts_paint_get_S (paint)->band[b];
        }
      /* A clear medium: the same paint in a thicker film. */
      K /= 1.0 + trial->medium;
      S /= 1.0 + trial->medium;
      seen.band[b] = saunderson (surface, kubelka (K, S, coats, ground != NULL ? ground[b] : 0.0));
    }
  return ts_spectrum_to_lab (&seen, TS_LIGHT_D50);
}

static void
assert_same (TsLab got, TsLab want)
{
  assert_near (got.L, want.L, 1e-6);
  assert_near (got.a, want.a, 1e-6);
  assert_near (got.b, want.b, 1e-6);
}

static void
test_films_agree_with_published_formulas (void **state)
{
  TsPaintSet *set = ((const InventedPaints *) *state)->set;
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);
  double black[TS_BANDS], white[TS_BANDS], base[TS_BANDS];

  for (guint round = 0; round < 50; round++)
    {
      TsTrial trial = { .medium = (guint) g_rand_int_range (rand, 0, 4),
                        .base = g_rand_int_range (rand, 0, N_PAINTS) };
      TsPaint *under = ts_paint_set_get_paint (set, (guint) trial.base);
      TsPrediction prediction;

      for (guint i = 0; i < 3; i++)
        assert_true (ts_trial_add (&trial, i * 4 + (guint) g_rand_int_range (rand, 0, 4)));
      assert_true (
        ts_trial_change_parts (&trial, (guint) g_rand_int_range (rand, 0, 3), round % 7));
      for (guint b = 0; b < TS_BANDS; b++)
        {
          black[b] = 0.0;
          white[b] = 0.8;
          base[b] = kubelka (ts_paint_get_K (under)->band[b], ts_paint_get_S (under)->band[b],
                             (double) INFINITY, 0.0);
        }
      assert_true (ts_trial_predict (set, &trial, &prediction));
      assert_same (prediction.masstone, look_at (set, &trial, (double) INFINITY, NULL));
      for (guint coats = 1; coats <= TS_PREDICTION_MOST_COATS; coats++)
        {
          assert_same (prediction.film[TS_GROUND_BLACK][coats],
                       look_at (set, &trial, coats, black));
          assert_same (prediction.film[TS_GROUND_WHITE][coats],
                       look_at (set, &trial, coats, white));
          assert_same (prediction.film[TS_GROUND_BASE][coats], look_at (set, &trial, coats, base));
        }
    }
}

/* The bare grounds: a grey of L* 50, and a base that looks as that paint alone does. */
static void
test_bare_grounds (void **state)
{
  TsPaintSet *set = ((const InventedPaints *) *state)->set;
  TsTrial trial = { .base = 5 }, base = { .base = -1 };
  TsPrediction prediction, of_base;

  ts_trial_add (&trial, 2);
  ts_trial_add (&base, 5);
  assert_true (ts_trial_predict (set, &trial, &prediction));
  assert_true (ts_trial_predict (set, &base, &of_base));
  assert_same (prediction.film[TS_GROUND_BASE][0], of_base.masstone);
  assert_near (prediction.film[TS_GROUND_GREY][0].L, 50.0, 0.01);
  assert_near (prediction.film[TS_GROUND_GREY][0].a, 0.0, 0.01);
  assert_near (prediction.film[TS_GROUND_GREY][0].b, 0.0, 0.01);
  /* Without a base there are no films over one. */
  assert_true (of_base.film[TS_GROUND_BASE][1].L <= 0.0);
}

static void
test_nothing_is_nothing (void **state)
{
  TsPrediction prediction;

  assert_false (ts_trial_predict (((const InventedPaints *) *state)->set, &(TsTrial){ .base = -1 },
                                  &prediction));
  assert_true (prediction.masstone.L <= 0.0);
}

static void
test_ground_words (void **state)
{
  const InventedPaints *paints = *state;
  g_autofree char *grey = ts_ground_to_text (paints->set, TS_GROUND_GREY, 3);
  g_autofree char *base = ts_ground_to_text (paints->set, TS_GROUND_BASE, 3);

  assert_string_equal (grey, "50 0 0");
  assert_string_equal (base, g_ptr_array_index (paints->names, 3));
}

static void
test_parts (void **state)
{
  TsTrial trial = { .base = -1 };

  assert_true (ts_trial_add (&trial, 7));
  assert_true (ts_trial_add (&trial, 1));
  assert_true (ts_trial_add (&trial, 7));
  assert_int_equal (trial.recipe.n_paints, 2);
  assert_int_equal (trial.recipe.paint[0], 7);
  assert_int_equal (trial.recipe.parts[0], 2);
  assert_true (ts_trial_change_parts (&trial, 0, -2));
  assert_int_equal (trial.recipe.n_paints, 1);
  assert_int_equal (trial.recipe.paint[0], 1);
  assert_int_equal (trial.recipe.parts[0], 1);
}

static void
test_room (void **state)
{
  TsTrial trial = { .base = -1 };

  for (guint i = 0; i < TS_RECIPE_MAX_PAINTS; i++)
    assert_true (ts_trial_add (&trial, i));
  assert_false (ts_trial_add (&trial, TS_RECIPE_MAX_PAINTS));
  assert_int_equal (trial.recipe.n_paints, TS_RECIPE_MAX_PAINTS);
  assert_true (ts_trial_change_parts (&trial, 2, TS_TRIAL_MOST_PARTS - 1));
  assert_false (ts_trial_add (&trial, 2));
  assert_int_equal (trial.recipe.parts[2], TS_TRIAL_MOST_PARTS);
}

static TsPaintSet *
parse (const char *rows)
{
  g_autofree char *text = g_strconcat ("name,L,a,b\n", rows, NULL);
  g_autoptr (GError) error = NULL;
  TsPaintSet *set = ts_paint_set_parse (text, -1, "set.csv", &error);

  assert_no_error (error);
  return set;
}

static void
test_another_set (void **state)
{
  g_autoptr (TsPaintSet) from = parse ("Rust,45,30,35\nMilk,95,-1,3\nNight,22,4,-30\n");
  g_autoptr (TsPaintSet) to = parse ("Night,22,4,-30\nMoss,50,-20,30\nMilk,95,-1,3\n");
  TsTrial trial = { .base = 0 };

  for (guint i = 0; i < 3; i++)
    ts_trial_add (&trial, i);
  ts_trial_add (&trial, 2);
  ts_trial_follow (&trial, from, to);
  assert_int_equal (trial.recipe.n_paints, 2);
  assert_int_equal (trial.recipe.paint[0], 2);
  assert_int_equal (trial.recipe.parts[0], 1);
  assert_int_equal (trial.recipe.paint[1], 0);
  assert_int_equal (trial.recipe.parts[1], 2);
  assert_int_equal (trial.base, -1);
  trial.base = 2;
  ts_trial_follow (&trial, to, from);
  assert_int_equal (trial.base, 1);
  ts_trial_follow (&trial, from, NULL);
  assert_int_equal (trial.recipe.n_paints, 0);
  assert_int_equal (trial.base, -1);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (test_films_agree_with_published_formulas, setup, teardown),
    cmocka_unit_test_setup_teardown (test_bare_grounds, setup, teardown),
    cmocka_unit_test_setup_teardown (test_nothing_is_nothing, setup, teardown),
    cmocka_unit_test_setup_teardown (test_ground_words, setup, teardown),
    cmocka_unit_test (test_parts),
    cmocka_unit_test (test_room),
    cmocka_unit_test (test_another_set),
  };

  return cmocka_run_group_tests_name ("recipes/trial", tests, NULL, NULL);
}
