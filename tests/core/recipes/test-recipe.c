/* test-recipe.c: recipes as values: prediction, order, text, and drops that vary
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-difference.h"
#include "invented-paints.h"
#include "recipes/ts-parts-table.h"
#include "recipes/ts-recipe.h"
#include "ts-test.h"

#define DROP_ROUNDS 200

static int
setup (void **state)
{
  *state = invented_paints_new (12, 11);
  return 0;
}

static int
teardown (void **state)
{
  invented_paints_free (*state);
  return 0;
}

static TsRecipe
make (const InventedPaints *paints, const char *text)
{
  g_autoptr (GError) error = NULL;
  TsRecipe recipe;

  if (!ts_recipe_parse (paints->set, text, &recipe, &error))
    fail_msg ("%s", error->message);
  return recipe;
}

static void
test_predict_is_independent_of_order (void **state)
{
  const InventedPaints *paints = *state;
  TsRecipe one = { .n_paints = 3, .paint = { 2, 5, 7 }, .parts = { 2, 4, 6 } };
  TsRecipe other = { .n_paints = 3, .paint = { 7, 2, 5 }, .parts = { 3, 1, 2 } };

  ts_recipe_predict (paints->set, &one);
  ts_recipe_predict (paints->set, &other);
  assert_memory_equal (&one.lab, &other.lab, sizeof one.lab);
  assert_int_equal (one.parts[0], 3);
  assert_int_equal (one.paint[0], 7);
  assert_int_equal (one.parts[2], 1);
  assert_int_equal (one.paint[2], 2);
}

static void
test_predict_agrees_with_plain_formulas (void **state)
{
  const InventedPaints *paints = *state;
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);

  for (guint round = 0; round < 500; round++)
    {
      PlainMix mix = { .n_paints = 3 };
      TsRecipe recipe = { .n_paints = 3 };

      for (guint i = 0; i < 3; i++)
        {
          recipe.paint[i] = mix.paint[i] = i * 4 + (guint) g_rand_int_range (rand, 0, 4);
          recipe.parts[i] = mix.parts[i] = (guint) g_rand_int_range (rand, 1, 9);
        }
      plain_lab (&paints->plain, &mix, mix.lab);
      ts_recipe_predict (paints->set, &recipe);
      assert_near (recipe.lab.L, mix.lab[0], 1e-10);
      assert_near (recipe.lab.a, mix.lab[1], 1e-10);
      assert_near (recipe.lab.b, mix.lab[2], 1e-10);
    }
}

static void
test_error_lies_between_its_paints (void **state)
{
  const InventedPaints *paints = *state;
  TsRecipe recipe = { .n_paints = 2, .paint = { 0, 1 }, .parts = { 5, 1 } };
  double first = ts_paint_get_error (ts_paint_set_get_paint (paints->set, 0));
  double second = ts_paint_get_error (ts_paint_set_get_paint (paints->set, 1));

  ts_recipe_predict (paints->set, &recipe);
  assert_true (recipe.error >= MIN (first, second) - 1e-12);
  assert_true (recipe.error <= MAX (first, second) + 1e-12);
}

static void
test_text_comes_back (void **state)
{
  const InventedPaints *paints = *state;
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);

  for (guint round = 0; round < 200; round++)
    {
      TsRecipe recipe = { .n_paints = 1 + round % 6 };
      g_autofree char *text = NULL;
      TsRecipe back;

      for (guint i = 0; i < recipe.n_paints; i++)
        {
          recipe.paint[i] = 2 * i + (guint) g_rand_int_range (rand, 0, 2);
          recipe.parts[i] = (guint) g_rand_int_range (rand, 1, 17);
        }
      ts_recipe_predict (paints->set, &recipe);
      text = ts_recipe_to_text (paints->set, &recipe);
      back = make (paints, text);
      /* Member by member: what lies between them in memory means nothing. */
      assert_int_equal (back.n_paints, recipe.n_paints);
      assert_memory_equal (back.paint, recipe.paint, recipe.n_paints * sizeof recipe.paint[0]);
      assert_memory_equal (back.parts, recipe.parts, recipe.n_paints * sizeof recipe.parts[0]);
      assert_memory_equal (&back.lab, &recipe.lab, sizeof back.lab);
      assert_near (back.error, recipe.error, 0.0);
    }
}

typedef struct
{
  const char *text;
  const char *result; /* or NULL */
  int code;
} ParseCase;

static const ParseCase parse_cases[] = {
  { "2 Lamp Black + 1 Deep Blue", "2 Lamp Black + 1 Deep Blue", 0 },
  { "  1 deep BLUE+2   lamp black ", "2 Lamp Black + 1 Deep Blue", 0 },
  { "Deep Blue", "1 Deep Blue", 0 },
  { "2 Deep Blue + 2 Deep Blue", "1 Deep Blue", 0 },
  { "6 Lamp Black + 3 Deep Blue", "2 Lamp Black + 1 Deep Blue", 0 },
  { "3 5 Grey", "1 5 Grey", 0 },
  { "5 Grey", "1 5 Grey", 0 },
  { "1 Deep Blue + 2 Red+Gold", "2 Red+Gold + 1 Deep Blue", 0 },
  { "0 Deep Blue", NULL, TS_ERROR_NOT_FOUND },
  { "1000 Deep Blue", NULL, TS_ERROR_NOT_FOUND },
  { "99999999999999999999 Deep Blue", NULL, TS_ERROR_NOT_FOUND },
  { "-1 Deep Blue", NULL, TS_ERROR_NOT_FOUND },
  { "1.5 Deep Blue", NULL, TS_ERROR_NOT_FOUND },
  { "1 Deep Blue + 1 Nothing", NULL, TS_ERROR_NOT_FOUND },
  { "1 Deep Blue +", NULL, TS_ERROR_FORMAT },
  { "+", NULL, TS_ERROR_FORMAT },
  { "", NULL, TS_ERROR_FORMAT },
  { "\xff", NULL, TS_ERROR_FORMAT },
};

static void
test_parse (void **state)
{
  const char *table = "name,L,a,b\nLamp Black,20,0,0\nDeep Blue,25,5,-40\n5 Grey,50,0,0\n"
                      "Red+Gold,50,50,40\n";
  g_autoptr (GError) set_error = NULL;
  g_autoptr (TsPaintSet) set = ts_paint_set_parse (table, -1, "paints", &set_error);

  assert_no_error (set_error);
  for (guint i = 0; i < G_N_ELEMENTS (parse_cases); i++)
    {
      const ParseCase *c = &parse_cases[i];
      g_autoptr (GError) error = NULL;
      TsRecipe recipe;

      if (ts_recipe_parse (set, c->text, &recipe, &error))
        {
          g_autofree char *text = ts_recipe_to_text (set, &recipe);

          if (c->result == NULL)
            fail_msg ("\"%s\" was read as \"%s\"", c->text, text);
          assert_string_equal (text, c->result);
        }
      else if (c->result != NULL)
        fail_msg ("\"%s\": %s", c->text, error->message);
      else
        assert_true (g_error_matches (error, TS_ERROR, c->code));
    }
}

static void
test_parse_counts_paints (void **state)
{
  const InventedPaints *paints = *state;
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  TsRecipe recipe;

  for (guint i = 0; i <= TS_RECIPE_MAX_PAINTS; i++)
    g_string_append_printf (text, "%s1 %s", i > 0 ? " + " : "", paints->plain.names[i]);
  assert_false (ts_recipe_parse (paints->set, text->str, &recipe, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_LARGE));
}

/* Every drop drawn one by one. */
static double
monte_carlo (const InventedPaints *paints, const TsRecipe *recipe, TsLab target, GRand *rand)
{
  double sum = 0.0;

  for (guint draw = 0; draw < 20000; draw++)
    {
      TsAmount amounts[TS_RECIPE_MAX_PAINTS];
      TsSpectrum K, S, R;

      for (guint i = 0; i < recipe->n_paints; i++)
        {
          amounts[i] = (TsAmount){ recipe->paint[i], 0.0 };
          for (guint drop = 0; drop < recipe->parts[i]; drop++)
            {
              double radius = sqrt (-2.0 * log (1.0 - g_rand_double (rand)));

              amounts[i].parts += 1.0 + 0.1 * radius * cos (2.0 * G_PI * g_rand_double (rand));
            }
        }
      ts_mix_get_K_S (paints->set, amounts, recipe->n_paints, &K, &S);
      ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (paints->set), &R);
      sum += ts_delta_e_2000 (ts_spectrum_to_lab (&R, TS_LIGHT_D50), target);
    }
  return sum / 20000.0;
}

static void
test_drop_error (void **state)
{
  const InventedPaints *paints = *state;
  g_autoptr (GRand) rand = g_rand_new_with_seed (17);
  double most = 0.0;
  guint varied = 0;

  for (guint round = 0; round < DROP_ROUNDS; round++)
    {
      TsRecipe recipe = { .n_paints = 1 + round % 4 };
      double stray = round % 3 == 0 ? 0.0 : round % 3 == 1 ? 1.0 : 8.0;
      TsLab target;
      double expected;

      for (guint i = 0; i < recipe.n_paints; i++)
        {
          recipe.paint[i] = 3 * i + (guint) g_rand_int_range (rand, 0, 3);
          recipe.parts[i] = (guint) g_rand_int_range (rand, 1, 6);
        }
      ts_recipe_predict (paints->set, &recipe);
      target = (TsLab){ recipe.lab.L, recipe.lab.a + stray, recipe.lab.b - 0.5 * stray };
      ts_recipe_compare (paints->set, &recipe, target);
      expected = monte_carlo (paints, &recipe, target, rand);
      assert_near (recipe.delta_e_drop_error, expected, 0.05 * expected + 1e-9);
      most = MAX (most, fabs (recipe.delta_e_drop_error - expected) / (expected + 1e-9));
      varied += expected > 1.01 * recipe.delta_e ? 1 : 0;
    }
  assert_true (varied > DROP_ROUNDS / 3);
  print_message ("expected differences off by %.1f %% at most, %d recipes of 20000 draws each\n",
                 100.0 * most, DROP_ROUNDS);
}

/* A mix that matches under D50 has no more metamerism than it differs under the other light, and
 * one that is the same but for its lightness has none to speak of. */
static void
test_metamerism (void **state)
{
  const InventedPaints *paints = *state;
  TsRecipe recipe = { .n_paints = 2, .paint = { 0, 3 }, .parts = { 1, 1 } };

  ts_recipe_predict (paints->set, &recipe);
  ts_recipe_compare (paints->set, &recipe, recipe.lab);
  assert_true (recipe.delta_e_illuminant_a > 0.1 && recipe.delta_e_led_b1 > 0.01);
  assert_near (recipe.metamerism_a, recipe.delta_e_illuminant_a, 1e-4);
  assert_near (recipe.metamerism_led_b1, recipe.delta_e_led_b1, 1e-4);
  ts_recipe_compare (paints->set, &recipe,
                     (TsLab){ recipe.lab.L + 6.0, recipe.lab.a, recipe.lab.b });
  assert_true (recipe.metamerism_a < 0.7 * recipe.delta_e_illuminant_a);
}

static void
test_illuminant_a (void **state)
{
  const InventedPaints *paints = *state;
  TsRecipe recipe = { .n_paints = 2, .paint = { 0, 3 }, .parts = { 1, 1 } };
  TsLab target;
  TsSpectrum wanted, mixed;

  ts_recipe_predict (paints->set, &recipe);
  target = recipe.lab;
  ts_recipe_compare (paints->set, &recipe, target);
  assert_near (recipe.delta_e, 0.0, 0.0);
  assert_true (ts_spectrum_from_lab (target, &wanted, NULL));
  ts_recipe_get_spectrum (paints->set, &recipe, &mixed);
  assert_near (recipe.delta_e_illuminant_a,
               ts_delta_e_2000 (ts_spectrum_to_lab (&wanted, TS_LIGHT_A),
                                ts_spectrum_to_lab (&mixed, TS_LIGHT_A)),
               1e-12);
  assert_true (recipe.delta_e_illuminant_a > 0.01);

  /* No surface is this chromatic. */
  target = (TsLab){ 20.0, 0.0, 120.0 };
  ts_recipe_compare (paints->set, &recipe, target);
  assert_near (recipe.delta_e_illuminant_a, recipe.delta_e, 0.0);
}

static void
test_rank (void **state)
{
  const InventedPaints *paints = *state;
  TsRecipe near = { .n_paints = 2, .paint = { 0, 1 }, .parts = { 2, 1 }, .delta_e = 1.0 };
  TsRecipe far = near;

  far.delta_e = 1.0 + 1e-8;
  assert_true (ts_recipe_rank (paints->set, &near, &far) < 0);
  assert_true (ts_recipe_rank (paints->set, &far, &near) > 0);
  far.delta_e = 1.0 + 1e-13;
  assert_int_equal (ts_recipe_rank (paints->set, &near, &far), 0);
  far.parts[0] = 3;
  assert_true (ts_recipe_rank (paints->set, &near, &far) < 0);
  far = near;
  far.n_paints = 1;
  assert_true (ts_recipe_rank (paints->set, &far, &near) < 0);
}

/* Counted by hand: shares of 1..n parts without a common divisor; for two paints the sum of
 * Euler's totient, 1+2+2+4+2+6+4+6+4 up to 10 parts. */
static void
test_parts_table (void **state)
{
  static const guint counts[][3] = {
    { 1, 10, 1 }, { 2, 2, 1 }, { 2, 10, 31 }, { 3, 3, 1 }, { 3, 10, 109 }, { 4, 4, 1 }, { 3, 2, 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (counts); i++)
    {
      g_autoptr (GArray) table = ts_parts_table_new (counts[i][0], counts[i][1]);

      assert_int_equal (table->len, counts[i][2]);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_predict_is_independent_of_order),
    cmocka_unit_test (test_predict_agrees_with_plain_formulas),
    cmocka_unit_test (test_error_lies_between_its_paints),
    cmocka_unit_test (test_text_comes_back),
    cmocka_unit_test (test_parse),
    cmocka_unit_test (test_parse_counts_paints),
    cmocka_unit_test (test_drop_error),
    cmocka_unit_test (test_illuminant_a),
    cmocka_unit_test (test_metamerism),
    cmocka_unit_test (test_rank),
    cmocka_unit_test (test_parts_table),
  };

  return cmocka_run_group_tests_name ("recipes/recipe", tests, setup, teardown);
}
