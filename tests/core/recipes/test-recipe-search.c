/* test-recipe-search.c: the search against trying every mix in plain sight
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "base/ts-error.h"
#include "invented-paints.h"
#include "recipes/ts-recipe-search.h"
#include "ts-test.h"

#define MOST_BEST 8

typedef struct
{
  const char *name;
  guint n, max_paints, max_parts, n_best, n_targets;
} Case;

static const Case cases[] = {
  { "1 paint", 1, 3, 6, 3, 4 },
  { "2 paints", 2, 3, 16, 3, 12 },
  { "single mixes", 30, 1, 4, 4, 12 },
  { "pairs", 24, 2, 16, 8, 24 },
  { "triples, few parts", 16, 3, 4, 6, 40 },
  { "triples", 14, 3, 8, 8, 60 },
  { "triples, many parts", 8, 3, 16, 1, 40 },
  { "fours", 7, 4, 8, 5, 40 },
};

static TsRecipeSearch *
make_search (const InventedPaints *paints, const TsSearchLimits *limits)
{
  g_autoptr (GError) error = NULL;
  TsRecipeSearch *search = ts_recipe_search_new (paints->set, limits, NULL, &error);

  assert_no_error (error);
  return search;
}

static GArray *
run (const TsRecipeSearch *search, TsLab target)
{
  g_autoptr (GError) error = NULL;
  GArray *found = ts_recipe_search_run (search, target, NULL, NULL, NULL, &error);

  assert_no_error (error);
  return found;
}

static void
assert_same (const InventedPaints *paints, const GArray *found, const PlainMix *best, guint n)
{
  assert_int_equal (found->len, n);
  for (guint i = 0; i < n; i++)
    {
      const TsRecipe *recipe = &g_array_index (found, TsRecipe, i);
      TsRecipe plain = { .n_paints = best[i].n_paints };

      memcpy (plain.paint, best[i].paint, sizeof best[i].paint);
      memcpy (plain.parts, best[i].parts, sizeof best[i].parts);
      ts_recipe_predict (paints->set, &plain);
      assert_near (recipe->delta_e, best[i].delta_e, 1e-9);
      assert_int_equal (recipe->n_paints, plain.n_paints);
      assert_memory_equal (recipe->paint, plain.paint, plain.n_paints * sizeof (guint));
      assert_memory_equal (recipe->parts, plain.parts, plain.n_paints * sizeof (guint));
    }
}

static void
test_equals_plain_search (void **state)
{
  const Case *c = *state;
  InventedPaints *paints = invented_paints_new (c->n, 100 + c->n);
  TsSearchLimits limits = {
    .max_paints = c->max_paints, .max_parts = c->max_parts, .n_best = c->n_best, .reach = 2.0
  };
  g_autoptr (TsRecipeSearch) search = make_search (paints, &limits);
  g_autoptr (GRand) rand = g_rand_new_with_seed (c->n);
  guint reached = 0;

  for (guint i = 0; i < c->n_targets; i++)
    {
      TsLab target = invented_target (paints, rand, i % 2 == 0 ? 0.5 : 40.0);
      const double lab[3] = { target.L, target.a, target.b };
      g_autoptr (GArray) found = run (search, target);
      PlainMix best[MOST_BEST];
      guint n = plain_search (&paints->plain, c->max_paints, c->max_parts, lab, best, c->n_best);

      assert_same (paints, found, best, n);
      reached += best[0].delta_e <= limits.reach ? 1 : 0;
    }
  if (c->max_paints > 1 && c->n > 2)
    assert_in_range (reached, 1, c->n_targets - 1);
  invented_paints_free (paints);
}

static TsPaintSet *
parse_set (const char *text)
{
  g_autoptr (GError) error = NULL;
  TsPaintSet *set = ts_paint_set_parse (text, -1, "paints", &error);

  assert_no_error (error);
  return set;
}

static const char small_set[] =
  "name,kind,stock,L,a,b\n"
  "Zinc,paint,full,96,0,2\nBlack,paint,low,18,0,0\nBlue,paint,full,30,5,-40\n"
  "Red,paint,out,45,55,35\nUnder,primer,full,50,0,0\nGloss,medium,full,90,0,0\n"
  "Coat,varnish,full,90,0,0\nAlso Zinc,ink,full,96,0,2\n";

static gboolean
uses (const GArray *found, guint paint)
{
  for (guint i = 0; i < found->len; i++)
    {
      const TsRecipe *recipe = &g_array_index (found, TsRecipe, i);

      for (guint j = 0; j < recipe->n_paints; j++)
        if (recipe->paint[j] == paint)
          return TRUE;
    }
  return FALSE;
}

static void
test_leaves_out_what_is_not_for_mixing (void **state)
{
  g_autoptr (TsPaintSet) set = parse_set (small_set);
  TsSearchLimits limits;
  g_autoptr (TsRecipeSearch) search = NULL;
  g_autoptr (GArray) found = NULL;

  ts_search_limits_init (&limits);
  limits.n_best = 64;
  search = ts_recipe_search_new (set, &limits, NULL, NULL);
  found = run (search, (TsLab){ 50.0, 0.0, 0.0 });
  assert_int_equal (found->len, 4 + 6 + 4);
  for (guint paint = 0; paint < 8; paint++)
    assert_int_equal (uses (found, paint), paint < 3 || paint == 7);
}

static void
test_allowed_and_needed (void **state)
{
  static const guint allowed[] = { 3, 2, 4 };
  static const guint needed[] = { 1 };
  g_autoptr (TsPaintSet) set = parse_set (small_set);
  TsSearchLimits limits;
  g_autoptr (TsRecipeSearch) search = NULL;
  g_autoptr (GArray) found = NULL;

  ts_search_limits_init (&limits);
  limits.n_best = 64;
  limits.allowed = allowed;
  limits.n_allowed = G_N_ELEMENTS (allowed);
  limits.needed = needed;
  limits.n_needed = G_N_ELEMENTS (needed);
  search = ts_recipe_search_new (set, &limits, NULL, NULL);
  found = run (search, (TsLab){ 50.0, 0.0, 0.0 });
  /* Black alone, with one, and with two of the three others. */
  assert_int_equal (found->len, 1 + 3 + 3);
  for (guint i = 0; i < found->len; i++)
    {
      g_autoptr (GArray) one = g_array_new (FALSE, FALSE, sizeof (TsRecipe));

      g_array_append_val (one, g_array_index (found, TsRecipe, i));
      assert_true (uses (one, 1));
    }
}

/* Two paints of the very same colour: the tie goes to fewer paints, then to the name in front. */
static void
test_ties (void **state)
{
  g_autoptr (TsPaintSet) set = parse_set (small_set);
  TsSearchLimits limits;
  g_autoptr (TsRecipeSearch) search = NULL;
  g_autoptr (GArray) found = NULL;

  ts_search_limits_init (&limits);
  limits.n_best = 3;
  search = ts_recipe_search_new (set, &limits, NULL, NULL);
  found = run (search, ts_paint_get_masstone (ts_paint_set_get_paint (set, 0)));
  assert_int_equal (found->len, 3);
  assert_int_equal (g_array_index (found, TsRecipe, 0).n_paints, 1);
  assert_int_equal (g_array_index (found, TsRecipe, 0).paint[0], 7);
  assert_int_equal (g_array_index (found, TsRecipe, 1).n_paints, 1);
  assert_int_equal (g_array_index (found, TsRecipe, 1).paint[0], 0);
}

static void
assert_refused (TsPaintSet *set, const TsSearchLimits *limits, int code)
{
  g_autoptr (GError) error = NULL;

  assert_null (ts_recipe_search_new (set, limits, NULL, &error));
  assert_true (g_error_matches (error, TS_ERROR, code));
}

static void
test_refuses_bad_limits (void **state)
{
  static const guint only_nothing[] = { 0 };
  static const guint beyond[] = { 8 };
  static const guint three[] = { 0, 1, 2 };
  g_autoptr (TsPaintSet) set = parse_set (small_set);
  TsSearchLimits good, limits;

  ts_search_limits_init (&good);
  for (guint i = 0; i < 9; i++)
    {
      limits = good;
      if (i < 2)
        limits.max_paints = i == 0 ? 0 : TS_SEARCH_MAX_PAINTS + 1;
      else if (i < 4)
        limits.max_parts = i == 2 ? 0 : TS_SEARCH_MAX_PARTS + 1;
      else if (i < 6)
        limits.n_best = i == 4 ? 0 : 65;
      else if (i == 6)
        limits.reach = (double) NAN;
      else if (i == 7)
        {
          limits.allowed = beyond;
          limits.n_allowed = 1;
        }
      else
        {
          limits.max_paints = 2;
          limits.needed = three;
          limits.n_needed = 3;
        }
      assert_refused (set, &limits, TS_ERROR_BAD_VALUE);
    }
  limits = good;
  limits.allowed = only_nothing;
  limits.n_allowed = 0;
  assert_refused (set, &limits, TS_ERROR_TOO_FEW);
}

static void
test_refuses_bad_targets (void **state)
{
  static const TsLab targets[] = {
    { -1.0, 0.0, 0.0 },
    { 101.0, 0.0, 0.0 },
    { 50.0, 300.0, 0.0 },
    { 50.0, 0.0, (double) NAN },
  };
  g_autoptr (TsPaintSet) set = parse_set (small_set);
  TsSearchLimits limits;
  g_autoptr (TsRecipeSearch) search = NULL;

  ts_search_limits_init (&limits);
  search = ts_recipe_search_new (set, &limits, NULL, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (targets); i++)
    {
      g_autoptr (GError) error = NULL;

      assert_null (ts_recipe_search_run (search, targets[i], NULL, NULL, NULL, &error));
      assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
    }
}

static void
test_can_be_stopped (void **state)
{
  g_autoptr (TsPaintSet) set = parse_set (small_set);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  TsSearchLimits limits;
  g_autoptr (TsRecipeSearch) search = NULL;
  g_autoptr (GError) first = NULL;
  g_autoptr (GError) second = NULL;

  ts_search_limits_init (&limits);
  search = ts_recipe_search_new (set, &limits, cancellable, NULL);
  g_cancellable_cancel (cancellable);
  assert_null (
    ts_recipe_search_run (search, (TsLab){ 50.0, 0.0, 0.0 }, cancellable, NULL, NULL, &first));
  assert_true (g_error_matches (first, G_IO_ERROR, G_IO_ERROR_CANCELLED));
  assert_null (ts_recipe_search_new (set, &limits, cancellable, &second));
  assert_true (g_error_matches (second, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}

typedef struct
{
  double last;
  guint calls;
} Seen;

static void
see (double done, gpointer user_data)
{
  Seen *seen = user_data;

  assert_true (done >= seen->last && done <= 1.0);
  seen->last = done;
  seen->calls++;
}

static void
test_progress_never_falls (void **state)
{
  g_autoptr (TsPaintSet) set = parse_set (small_set);
  TsSearchLimits limits;
  g_autoptr (TsRecipeSearch) search = NULL;
  g_autoptr (GArray) found = NULL;
  Seen seen = { 0.0, 0 };

  ts_search_limits_init (&limits);
  search = ts_recipe_search_new (set, &limits, NULL, NULL);
  found = ts_recipe_search_run (search, (TsLab){ 50.0, 0.0, 0.0 }, NULL, see, &seen, NULL);
  assert_non_null (found);
  assert_near (seen.last, 1.0, 0.0);
  assert_true (seen.calls >= 1);
}

typedef struct
{
  TsLab wanted, nearest;
  double delta_e;
  TsReach reach;
} ReachCase;

static const ReachCase reach_cases[] = {
  { { 50, 0, 0 }, { 51, 0, 0 }, 1.0, TS_REACH_WITHIN },
  { { 98, 0, 0 }, { 90, 0, 1 }, 5.0, TS_REACH_TOO_LIGHT },
  { { 5, 0, 0 }, { 18, 0, 0 }, 8.0, TS_REACH_TOO_DARK },
  { { 60, 60, 60 }, { 58, 45, 45 }, 6.0, TS_REACH_TOO_CHROMATIC },
  { { 60, 60, 60 }, { 55, 45, 45 }, 7.0, TS_REACH_TOO_CHROMATIC },
  { { 60, 40, 0 }, { 60, 0, 40 }, 30.0, TS_REACH_OTHER_HUE },
};

static void
test_reach (void **state)
{
  for (guint i = 0; i < G_N_ELEMENTS (reach_cases); i++)
    {
      const ReachCase *c = &reach_cases[i];
      TsRecipe recipe = { .lab = c->nearest, .delta_e = c->delta_e };

      assert_int_equal (ts_reach_of (c->wanted, &recipe, 2.0), c->reach);
      assert_non_null (ts_reach_to_word (c->reach));
    }
}

int
main (void)
{
  static const struct CMUnitTest rest[] = {
    cmocka_unit_test (test_leaves_out_what_is_not_for_mixing),
    cmocka_unit_test (test_allowed_and_needed),
    cmocka_unit_test (test_ties),
    cmocka_unit_test (test_refuses_bad_limits),
    cmocka_unit_test (test_refuses_bad_targets),
    cmocka_unit_test (test_can_be_stopped),
    cmocka_unit_test (test_progress_never_falls),
    cmocka_unit_test (test_reach),
  };
  struct CMUnitTest tests[G_N_ELEMENTS (cases) + G_N_ELEMENTS (rest)] = { 0 };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      tests[i].name = cases[i].name;
      tests[i].test_func = test_equals_plain_search;
      tests[i].initial_state = (void *) &cases[i];
    }
  memcpy (tests + G_N_ELEMENTS (cases), rest, sizeof rest);
  return cmocka_run_group_tests_name ("recipes/search", tests, NULL, NULL);
}
