/* test-paint-advice.c: colours out of reach, and the kinds of paint that would help
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "colour/ts-difference.h"
#include "palette/ts-paint-advice.h"
#include "ts-test.h"

#include <string.h>

static TsPaintSet *
load_demo (void)
{
  g_autofree char *path = ts_test_source ("data/demo/lighthouse-paints.csv");
  TsPaintSet *set = ts_paint_set_load (path, NULL);

  assert_non_null (set);
  return set;
}

/* One part in four of white gives the tint that the kind is described by. */
static void
test_kinds_give_their_tints (void **state)
{
  g_autoptr (TsPaintSet) set = load_demo ();
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) all = ts_pigment_class_add_all (set, &error);
  guint first = ts_paint_set_get_n_paints (set);
  int white;

  assert_no_error (error);
  white = ts_paint_set_find (all, "white");
  assert_int_equal (ts_paint_set_get_n_paints (all), first + ts_pigment_class_get_n ());
  for (guint i = 0; i < ts_pigment_class_get_n (); i++)
    {
      const TsPigmentClass *kind = ts_pigment_class_get (i);
      TsRecipe tint = { .n_paints = 2, .paint = { first + i, (guint) white }, .parts = { 1, 4 } };

      if (first + i == (guint) white)
        continue;
      ts_recipe_predict (all, &tint);
      if (!(ts_delta_e_2000 (tint.lab, kind->tint) < 1.5))
        fail_msg ("%s: L %g a %g b %g", kind->id, tint.lab.L, tint.lab.a, tint.lab.b);
    }
}

/* Pigment index names are of the form of the Colour Index, and no kind stands there twice. */
static void
test_kinds_are_well_formed (void **state)
{
  for (guint i = 0; i < ts_pigment_class_get_n (); i++)
    {
      const TsPigmentClass *kind = ts_pigment_class_get (i);

      assert_true (g_regex_match_simple ("^P(W|Y|O|R|V|B|G|Br|Bk)[0-9]+(:[0-9])?"
                                         "(, P(W|Y|O|R|V|B|G|Br|Bk)[0-9]+(:[0-9])?)*$",
                                         kind->pigments, 0, 0));
      for (guint j = 0; j < i; j++)
        assert_string_not_equal (kind->id, ts_pigment_class_get (j)->id);
    }
}

typedef struct
{
  const char *name;
  const char *recipe;   /* of the full set: what is wanted */
  const char *left_out; /* pigments: paints with one of them are not there */
  const char *helps;    /* ids of kinds, one of which must come first */
} AdviceCase;

static const AdviceCase advice_cases[] = {
  { "no violet or rose", "1 Dark Violet + 1 Clear Rose + 1 Plain White", "PV23 PV19 PR122",
    "violet red_violet rose" },
  { "no green or turquoise", "1 Strong Green + 1 Plain White", "PG7 PG17 PB15:3",
    "phthalo_green turquoise yellow_green" },
  { "no blue", "1 Strong Blue + 2 Plain White", "PB15:3 PB29 PB28 PG7",
    "phthalo_blue cobalt_blue cerulean turquoise" },
  { "no strong red or orange", "1 Signal Red", "PR254 PR170 PR122 PO73 PV19",
    "bright_red deep_red" },
  { "no strong yellow", "2 Harbour Yellow + 1 Plain White", "PY184 PY83 PY3 PY150 PO73",
    "lemon_yellow warm_yellow golden_yellow" },
};

static gboolean
has_pigment (const TsPaint *paint, const char *pigments)
{
  g_auto (GStrv) words = g_strsplit (pigments, " ", -1);
  const char *own = ts_paint_get_pigments (paint);
  g_auto (GStrv) mine = g_strsplit (own != NULL ? own : "", " ", -1);

  for (guint i = 0; mine[i] != NULL; i++)
    if (g_strv_contains ((const char *const *) words, mine[i]))
      return TRUE;
  return FALSE;
}

static void
test_advice (void **state)
{
  const AdviceCase *c = *state;
  g_autoptr (TsPaintSet) set = load_demo ();
  g_autoptr (GArray) allowed = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (TsRecipeSearch) search = NULL;
  g_autoptr (GArray) best = NULL, advice = NULL;
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) helps = g_strsplit (c->helps, " ", -1);
  const TsPaintAdvice *first;
  g_autofree char *text = NULL;
  TsSearchLimits limits;
  TsRecipe wanted;
  double nearest;

  assert_true (ts_recipe_parse (set, c->recipe, &wanted, &error));
  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    if (ts_paint_is_for_mixing (ts_paint_set_get_paint (set, i)) &&
        !has_pigment (ts_paint_set_get_paint (set, i), c->left_out))
      g_array_append_val (allowed, i);
  ts_search_limits_init (&limits);
  limits.allowed = (const guint *) (gpointer) allowed->data;
  limits.n_allowed = allowed->len;
  search = ts_recipe_search_new (set, &limits, NULL, &error);
  best = ts_recipe_search_run (search, wanted.lab, NULL, NULL, NULL, &error);
  nearest = g_array_index (best, TsRecipe, 0).delta_e;
  assert_true (nearest > limits.reach);

  advice = ts_paint_advice_find (set, &limits, &wanted.lab, &nearest, 1, NULL, &error);
  assert_no_error (error);
  assert_true (advice->len >= 1);
  first = &g_array_index (advice, TsPaintAdvice, 0);
  if (!g_strv_contains ((const char *const *) helps, first->pigment->id))
    fail_msg ("%s: advised %s, %g nearer than %g", c->name, first->pigment->id, first->gain,
              nearest);
  assert_true (first->gain > 0.3 * nearest);
  assert_int_equal (first->n_helped, 1);
  text = ts_paint_advice_to_text (first, 1);
  assert_non_null (strstr (text, first->pigment->pigments));
}

/* Two colours in want of different paints: one kind for each. */
static void
test_two_kinds_for_a_stair (void **state)
{
  g_autoptr (TsPaintSet) set = load_demo ();
  const guint allowed[] = { (guint) ts_paint_set_find (set, "Plain White"),
                            (guint) ts_paint_set_find (set, "Lamp Black"),
                            (guint) ts_paint_set_find (set, "Red Earth") };
  g_autoptr (TsRecipeSearch) search = NULL;
  g_autoptr (GArray) advice = NULL;
  const TsLab targets[] = { { 50.0, -20.0, -40.0 }, { 85.0, 0.0, 70.0 } };
  double nearest[2];
  TsSearchLimits limits;

  ts_search_limits_init (&limits);
  limits.allowed = allowed;
  limits.n_allowed = G_N_ELEMENTS (allowed);
  search = ts_recipe_search_new (set, &limits, NULL, NULL);
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (GArray) best = ts_recipe_search_run (search, targets[i], NULL, NULL, NULL, NULL);

      nearest[i] = g_array_index (best, TsRecipe, 0).delta_e;
    }
  advice = ts_paint_advice_find (set, &limits, targets, nearest, 2, NULL, NULL);
  assert_int_equal (advice->len, 2);
  assert_true (g_array_index (advice, TsPaintAdvice, 0).pigment !=
               g_array_index (advice, TsPaintAdvice, 1).pigment);
  assert_true (g_array_index (advice, TsPaintAdvice, 0).gain >=
               g_array_index (advice, TsPaintAdvice, 1).gain);
}

static void
test_shortfall (void **state)
{
  const TsRecipe nearest = { .n_paints = 1, .lab = { 40.0, 10.0, 0.0 }, .delta_e = 9.0 };
  TsShortfall light = ts_shortfall_of ((TsLab){ 60.0, 10.0, 0.0 }, &nearest, 2.0);
  TsShortfall strong = ts_shortfall_of ((TsLab){ 40.0, 40.0, 0.0 }, &nearest, 2.0);
  TsShortfall turned = ts_shortfall_of ((TsLab){ 40.0, 0.0, 10.0 }, &nearest, 2.0);
  g_autofree char *text = ts_shortfall_to_text (&strong);

  assert_int_equal (light.reach, TS_REACH_TOO_LIGHT);
  assert_near (light.L, -20.0, 1e-9);
  assert_int_equal (strong.reach, TS_REACH_TOO_CHROMATIC);
  assert_near (strong.C, -30.0, 1e-9);
  assert_near (turned.h, -90.0, 1e-9);
  assert_string_equal (text,
                       "Out of reach by about dE 9: too chromatic. The nearest mix is duller.");
}

int
main (void)
{
  struct CMUnitTest tests[4 + G_N_ELEMENTS (advice_cases)] = {
    cmocka_unit_test (test_kinds_give_their_tints),
    cmocka_unit_test (test_kinds_are_well_formed),
    cmocka_unit_test (test_two_kinds_for_a_stair),
    cmocka_unit_test (test_shortfall),
  };

  for (guint i = 0; i < G_N_ELEMENTS (advice_cases); i++)
    {
      tests[4 + i].name = advice_cases[i].name;
      tests[4 + i].test_func = test_advice;
      tests[4 + i].initial_state = (void *) &advice_cases[i];
    }
  return cmocka_run_group_tests_name ("palette/paint advice", tests, NULL, NULL);
}
