/* test-recipe-choice.c: offers and their reasons
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-recipe-choice.h"
#include "ts-test.h"

static TsRecipe
make (guint first_paint, guint n_paints, double delta_e, double drop, double lamp)
{
  TsRecipe recipe = { .n_paints = n_paints,
                      .lab = { 50.0 + delta_e, 0.0, 0.0 },
                      .delta_e = delta_e,
                      .delta_e_drop_error = drop,
                      .delta_e_illuminant_a = lamp,
                      .delta_e_led_b1 = 4.0,
                      .error = 2.0 };

  for (guint i = 0; i < n_paints; i++)
    {
      recipe.paint[i] = first_paint + i;
      recipe.parts[i] = 1;
    }
  return recipe;
}

static GArray *
make_list (const TsRecipe *recipes, guint n)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (TsRecipe));

  g_array_append_vals (list, recipes, n);
  return list;
}

static void
assert_choice (const GArray *choices, guint index, TsChoiceReason reason, guint paint)
{
  const TsChoice *choice = &g_array_index (choices, TsChoice, index);

  assert_int_equal (choice->reason, reason);
  assert_int_equal (choice->recipe.paint[0], paint);
}

static void
test_each_reason (void **state)
{
  const TsRecipe recipes[] = {
    make (0, 3, 0.5, 3.0, 4.0),  make (10, 3, 0.7, 3.0, 4.0), make (20, 2, 0.9, 3.5, 4.0),
    make (30, 3, 1.0, 1.2, 4.0), make (40, 3, 4.5, 5.0, 1.0),
  };
  g_autoptr (GArray) list = make_list (recipes, G_N_ELEMENTS (recipes));
  g_autoptr (GArray) choices = ts_recipe_choose (list, 8);
  g_autofree char *words = NULL;

  assert_int_equal (choices->len, 5);
  /* The simpler one cannot be told from the nearest: it comes first. */
  assert_choice (choices, 0, TS_CHOICE_SIMPLEST, 20);
  assert_choice (choices, 1, TS_CHOICE_NEAREST, 0);
  assert_choice (choices, 2, TS_CHOICE_FORGIVING, 30);
  assert_choice (choices, 3, TS_CHOICE_WARM_LAMP, 40);
  assert_choice (choices, 4, TS_CHOICE_OTHER, 10);
  assert_true (g_array_index (choices, TsChoice, 0).equal);
  assert_false (g_array_index (choices, TsChoice, 3).equal);
  words = ts_choice_to_words (&g_array_index (choices, TsChoice, 0));
  assert_string_equal (words, "simplest, and as near as can be told: two paints");
}

/* A reason that the nearest has itself, or that cannot be seen, is not given. */
static void
test_no_idle_reasons (void **state)
{
  const TsRecipe recipes[] = { make (0, 2, 0.5, 1.0, 1.0), make (10, 2, 0.7, 0.9, 0.8) };
  g_autoptr (GArray) list = make_list (recipes, G_N_ELEMENTS (recipes));
  g_autoptr (GArray) choices = ts_recipe_choose (list, 8);

  assert_int_equal (choices->len, 2);
  assert_choice (choices, 0, TS_CHOICE_NEAREST, 0);
  assert_choice (choices, 1, TS_CHOICE_OTHER, 10);
}

/* Not where it is farther than a painter would give up for one paint less. */
static void
test_simpler_but_farther (void **state)
{
  TsRecipe recipes[] = { make (0, 3, 0.2, 1.0, 1.0), make (10, 1, 1.8, 2.0, 2.0) };
  g_autoptr (GArray) list = make_list (recipes, G_N_ELEMENTS (recipes));
  g_autoptr (GArray) choices = ts_recipe_choose (list, 8);

  assert_choice (choices, 0, TS_CHOICE_NEAREST, 0);
  assert_choice (choices, 1, TS_CHOICE_SIMPLEST, 10);
}

static void
test_white_led (void **state)
{
  TsRecipe recipes[] = { make (0, 2, 0.2, 1.0, 1.0), make (10, 2, 0.4, 1.0, 1.0) };
  g_autoptr (GArray) list = NULL, choices = NULL;

  recipes[1].delta_e_led_b1 = 1.0;
  list = make_list (recipes, G_N_ELEMENTS (recipes));
  choices = ts_recipe_choose (list, 8);
  assert_choice (choices, 1, TS_CHOICE_WHITE_LED, 10);
}

static void
test_never_too_many_nor_twice (void **state)
{
  const TsRecipe recipes[] = { make (0, 3, 0.5, 3.0, 4.0), make (10, 1, 0.7, 0.5, 0.5),
                               make (20, 2, 0.9, 3.5, 4.0) };
  g_autoptr (GArray) list = make_list (recipes, G_N_ELEMENTS (recipes));
  g_autoptr (GArray) empty = make_list (recipes, 0);

  for (guint most = 0; most < 5; most++)
    {
      g_autoptr (GArray) choices = ts_recipe_choose (list, most);
      g_autoptr (GArray) none = ts_recipe_choose (empty, most);

      assert_int_equal (choices->len, MIN (most, 3));
      assert_int_equal (none->len, 0);
    }
}

static void
test_equal_within_error (void **state)
{
  TsRecipe one = make (0, 1, 0.0, 0.0, 0.0);
  TsRecipe other = make (1, 1, 1.5, 0.0, 0.0);

  assert_true (ts_recipe_is_equal_within_error (&one, &other));
  one.error = 0.5;
  assert_false (ts_recipe_is_equal_within_error (&one, &other));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_each_reason),
    cmocka_unit_test (test_no_idle_reasons),
    cmocka_unit_test (test_never_too_many_nor_twice),
    cmocka_unit_test (test_simpler_but_farther),
    cmocka_unit_test (test_white_led),
    cmocka_unit_test (test_equal_within_error),
  };

  return cmocka_run_group_tests_name ("recipes/choice", tests, NULL, NULL);
}
