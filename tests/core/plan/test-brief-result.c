/* test-brief-result.c: what is mixed for a brief, told and saved
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "base/ts-cgats.h"
#include "base/ts-csv.h"
#include "plan/ts-brief-result.h"
#include "plan/ts-pipeline.h"

typedef struct
{
  TsPlan *plan;
  GPtrArray *choices;
} Fixture;

static int
set_up (void **state)
{
  Fixture *f = g_new0 (Fixture, 1);
  g_autofree char *path =
    g_build_filename (g_getenv ("TS_TEST_SOURCE"), "data", "demo", "lighthouse-paints.csv", NULL);
  g_autoptr (TsRecipeSearch) search = NULL;

  f->plan = ts_plan_new ();
  f->plan->paints = ts_paint_set_load (path, NULL);
  f->plan->mix.max_paints = 2;
  g_ptr_array_add (f->plan->brief, ts_brief_line_new ("Bone, warm", (TsLab){ 80, 2, 14 }, 60.0));
  g_ptr_array_add (f->plan->brief, ts_brief_line_new ("Ochre", (TsLab){ 55, 10, 36 }, 4.0));
  g_ptr_array_add (f->plan->brief, ts_brief_line_new ("Beyond", (TsLab){ 60, -90, 60 }, 3.0));
  f->choices = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  search = ts_pipeline_search (f->plan, NULL, NULL);
  for (guint i = 0; i < f->plan->brief->len; i++)
    g_ptr_array_add (f->choices,
                     ts_recipe_search_run (search, ts_plan_get_brief_line (f->plan, i)->lab, NULL,
                                           NULL, NULL, NULL));
  *state = f;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *f = *state;

  g_ptr_array_unref (f->choices);
  ts_plan_unref (f->plan);
  g_free (f);
  return 0;
}

static void
test_ranked (void **state)
{
  Fixture *f = *state;
  g_autoptr (GArray) results = ts_brief_results_new (f->plan, f->choices);
  g_autofree char *summary = ts_brief_results_to_summary (results);
  g_autofree char *why = NULL;
  const TsBriefResult *first;

  assert_int_equal (results->len, 3);
  assert_int_equal (g_array_index (results, TsBriefResult, 0).index, 0);
  assert_string_equal (summary, "1 pass, 1 may pass, 1 fail");
  ts_brief_results_rank (results);
  first = &g_array_index (results, TsBriefResult, 0);
  assert_int_equal (first->index, 2);
  assert_int_equal (first->verdict, TS_BRIEF_FAILS);
  why = ts_brief_result_why (first);
  assert_non_null (strstr (why, "duller"));
  assert_int_equal (g_array_index (results, TsBriefResult, 2).index, 0);
}

/* The painter's choice counts, not the nearest; one of paints that are gone does not. */
static void
test_locked (void **state)
{
  Fixture *f = *state;
  const GArray *choices = g_ptr_array_index (f->choices, 1);
  TsBriefLine *line = ts_plan_get_brief_line (f->plan, 1);
  TsBriefResult result;

  line->locked = ts_recipe_to_text (f->plan->paints, &g_array_index (choices, TsRecipe, 2));
  result = ts_brief_result_of (f->plan, 1, choices);
  assert_true (result.locked);
  assert_near (result.recipe.delta_e, g_array_index (choices, TsRecipe, 2).delta_e, 1e-9);
  g_free (line->locked);
  line->locked = g_strdup ("3 Paint That Is Gone");
  result = ts_brief_result_of (f->plan, 1, choices);
  assert_false (result.locked);
  assert_near (result.recipe.delta_e, g_array_index (choices, TsRecipe, 0).delta_e, 1e-9);
}

static void
test_not_mixed (void **state)
{
  Fixture *f = *state;
  TsBriefResult result = ts_brief_result_of (f->plan, 1, NULL);

  assert_false (result.has_recipe);
  assert_int_equal (result.verdict, TS_BRIEF_FAILS);
}

/* Both forms are read back by the readers of this project. */
static void
test_saved (void **state)
{
  Fixture *f = *state;
  g_autoptr (GArray) results = ts_brief_results_new (f->plan, f->choices);
  g_autofree char *csv = ts_brief_results_to_csv (results, f->plan->paints);
  g_autofree char *text = ts_brief_results_to_cgats (results, f->plan->paints);
  g_autoptr (TsCsv) table = ts_csv_parse (csv, -1, "results", NULL);
  g_autoptr (GPtrArray) again = ts_brief_parse (text, -1, "results", NULL);
  const TsBriefResult *first = &g_array_index (results, TsBriefResult, 0);
  const TsBriefEntry *entry;

  assert_int_equal (ts_csv_get_n_rows (table), 3);
  assert_string_equal (ts_csv_get_cell (table, 0, ts_csv_find_column (table, "name")),
                       "Bone, warm");
  assert_string_equal (ts_csv_get_cell (table, 2, ts_csv_find_column (table, "verdict")), "fails");
  assert_non_null (again);
  assert_int_equal (again->len, 3);
  entry = g_ptr_array_index (again, 0);
  assert_string_equal (entry->name, "Bone, warm");
  assert_near (entry->lab.L, first->recipe.lab.L, 0.006);
}

/* With a third paint more comes near; what fails is not offered where it is farther. */
static void
test_offers (void **state)
{
  Fixture *f = *state;
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 3; i++)
    {
      const GArray *choices = g_ptr_array_index (f->choices, i);
      TsBriefResult result = ts_brief_result_of (f->plan, i, choices);
      g_autoptr (GArray) offers = ts_brief_result_offers (&result, f->plan, choices, NULL, &error);

      assert_null (error);
      for (guint k = 0; k < offers->len; k++)
        {
          const TsBriefOffer *offer = &g_array_index (offers, TsBriefOffer, k);

          assert_true (offer->verdict >= result.verdict);
          assert_int_equal (offer->one_more, offer->recipe.n_paints > 2);
          if (result.verdict == TS_BRIEF_FAILS || offer->one_more)
            assert_true (offer->verdict > result.verdict ||
                         offer->recipe.delta_e < result.recipe.delta_e);
        }
    }
}

static void
test_one_more (void **state)
{
  Fixture *f = *state;
  const TsLab wanted = { 45, 22, 10 };
  g_autoptr (TsRecipeSearch) search = ts_pipeline_search (f->plan, NULL, NULL);
  g_autoptr (GArray) choices = ts_recipe_search_run (search, wanted, NULL, NULL, NULL, NULL);
  g_autoptr (GArray) offers = NULL;
  TsBriefResult result;

  g_ptr_array_add (f->plan->brief, ts_brief_line_new ("Three", wanted, 2.0));
  result = ts_brief_result_of (f->plan, 3, choices);
  offers = ts_brief_result_offers (&result, f->plan, choices, NULL, NULL);
  assert_true (offers->len > 0);
  assert_true (g_array_index (offers, TsBriefOffer, 0).one_more);
  assert_int_equal (g_array_index (offers, TsBriefOffer, 0).recipe.n_paints, 3);
  assert_true (g_array_index (offers, TsBriefOffer, 0).recipe.delta_e <
               result.recipe.delta_e - 0.5);
}

/* A search goes on where it would find the same: each thing that it looks at makes it another. */
static void
test_same_search (void **state)
{
  const Fixture *f = *state;
  g_autoptr (TsPlan) same = ts_plan_copy (f->plan), ruled = ts_plan_copy (f->plan);
  g_autoptr (TsPlan) again = ts_plan_copy (f->plan);

  g_free (same->title);
  same->title = g_strdup ("Another");
  g_ptr_array_set_size (same->brief, 0);
  assert_true (ts_pipeline_is_same_search (f->plan, same));
  same->mix.max_paints++;
  assert_false (ts_pipeline_is_same_search (f->plan, same));
  same->mix = f->plan->mix;
  same->mix.max_parts++;
  assert_false (ts_pipeline_is_same_search (f->plan, same));
  same->mix = f->plan->mix;
  same->mix.opaque_only = !same->mix.opaque_only;
  assert_false (ts_pipeline_is_same_search (f->plan, same));
  same->mix = f->plan->mix;
  same->mix.reach += 0.5;
  assert_false (ts_pipeline_is_same_search (f->plan, same));
  ruled->rules = ts_paint_rules_with (NULL, "Lamp Black", TS_RULE_LEFT_OUT);
  assert_false (ts_pipeline_is_same_search (f->plan, ruled));
  again->rules = ts_paint_rules_with (NULL, "lamp black", TS_RULE_LEFT_OUT);
  assert_true (ts_pipeline_is_same_search (ruled, again));
  ts_paint_set_unref (again->paints);
  again->paints = ts_paint_set_without (f->plan->paints, 0, NULL);
  assert_false (ts_pipeline_is_same_search (ruled, again));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (test_ranked, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_locked, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_not_mixed, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_saved, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_offers, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_one_more, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_same_search, set_up, tear_down),
  };

  return cmocka_run_group_tests (tests, NULL, NULL);
}
