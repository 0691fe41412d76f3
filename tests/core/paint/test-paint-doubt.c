/* test-paint-doubt.c: what is open of some paints, and which mixes would close it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "base/ts-error.h"
#include "paint/ts-paint-doubt.h"
#include "paint/ts-paint-teach.h"
#include "ts-test.h"

static TsPaintSet *
read_set (void)
{
  g_autoptr (GError) error = NULL;
  TsPaintSet *set = ts_paint_set_parse ("name,kind,opacity,stock,L,a,b\n"
                                        "White,paint,opaque,,95,0,2\n"
                                        "Black,paint,opaque,,14,0,0\n"
                                        "Blue,paint,semi-opaque,,35,5,-45\n"
                                        "Red,paint,semi-transparent,,42,55,30\n"
                                        "Yellow,paint,,,80,8,75\n"
                                        "Gone,paint,,out,50,0,0\n"
                                        "Medium,medium,,,,,\n"
                                        "Primer,primer,,,60,0,0\n",
                                        -1, "set", &error);

  assert_no_error (error);
  return set;
}

static TsSwatch
mix_of (guint one, double parts, guint other, double others)
{
  return (TsSwatch){ .n_amounts = 2,
                     .amounts = { { one, parts }, { other, others } },
                     .coats = (double) INFINITY };
}

static const guint five[] = { 0, 1, 2, 3, 4 };

static void
test_learning_closes (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (TsPaintDoubt) doubt = ts_paint_doubt_new (set, five, 5);
  TsSwatch mix = mix_of (0, 1.0, 2, 1.0), others = mix_of (3, 1.0, 4, 1.0);
  TsSwatch near_mix = mix_of (0, 2.0, 2, 1.0);
  double open = ts_paint_doubt_get_spread (doubt, &mix);
  double open_others = ts_paint_doubt_get_spread (doubt, &others);
  double open_near = ts_paint_doubt_get_spread (doubt, &near_mix);

  assert_true (open > 2.0 && open < 40.0);
  ts_paint_doubt_learn (doubt, &mix);
  /* One reading is as good as its noise, 1.5 in each of three directions. */
  assert_true (ts_paint_doubt_get_spread (doubt, &mix) <= 1.5 * sqrt (3.0) + 1e-9);
  assert_true (ts_paint_doubt_get_spread (doubt, &mix) < 0.6 * open);
  /* Another share of the same pair is nearly as well known; other paints are not. */
  assert_true (ts_paint_doubt_get_spread (doubt, &near_mix) < 0.6 * open_near);
  assert_near (ts_paint_doubt_get_spread (doubt, &others), open_others, 1e-9);
}

/* A masstone says what the paint looks like alone, and so does the doubt; thin films are open. */
static void
test_thick_is_known_thin_is_not (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (TsPaintDoubt) doubt = ts_paint_doubt_new (set, five, 5);
  TsSwatch alone = { .n_amounts = 1, .amounts = { { 2, 1.0 } }, .coats = (double) INFINITY };
  TsSwatch film = alone;
  double thin;

  film.coats = 0.3;
  for (guint b = 0; b < TS_BANDS; b++)
    film.ground.band[b] = 0.9;
  thin = ts_paint_doubt_get_spread (doubt, &film);
  assert_true (ts_paint_doubt_get_spread (doubt, &alone) <= 1.5 * sqrt (3.0) + 1e-9);
  assert_true (thin > 2.0 * ts_paint_doubt_get_spread (doubt, &alone));
  ts_paint_doubt_learn (doubt, &film);
  assert_true (ts_paint_doubt_get_spread (doubt, &film) < thin);
}

/* Paints that are not in doubt take part and are not open. */
static void
test_others_are_known (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (TsPaintDoubt) doubt = ts_paint_doubt_new (set, five, 2);
  g_autoptr (TsPaintDoubt) whole = ts_paint_doubt_new (set, five, 5);
  TsSwatch known = mix_of (3, 1.0, 4, 1.0), half = mix_of (0, 1.0, 3, 1.0);

  assert_near (ts_paint_doubt_get_spread (doubt, &known), 0.0, 0.0);
  assert_true (ts_paint_doubt_get_spread (doubt, &half) > 0.0);
  assert_true (ts_paint_doubt_get_spread (doubt, &half) < ts_paint_doubt_get_spread (whole, &half));
}

static double
summed_spread (const TsPaintDoubt *doubt, const TsSwatch *targets, guint n)
{
  double sum = 0.0;

  for (guint t = 0; t < n; t++)
    sum += ts_paint_doubt_get_spread (doubt, &targets[t]) *
           ts_paint_doubt_get_spread (doubt, &targets[t]);
  return sqrt (sum / n);
}

/* All pairs at 1:1 and 1:3 of five paints. */
static guint
make_pairs (TsSwatch pairs[20])
{
  guint n = 0;

  for (guint i = 0; i < 5; i++)
    for (guint j = 0; j < i; j++)
      {
        pairs[n++] = mix_of (i, 1.0, j, 1.0);
        pairs[n++] = mix_of (i, 1.0, j, 3.0);
      }
  return n;
}

/* The next choice by trying each candidate on a doubt of its own. */
static guint
choose_plainly (const TsPaintSet *set, const TsSwatch *pairs, guint n, const guint *before,
                guint n_before, double *spread)
{
  guint best = 0;

  *spread = G_MAXDOUBLE;
  for (guint c = 0; c < n; c++)
    {
      g_autoptr (TsPaintDoubt) doubt = ts_paint_doubt_new (set, five, 5);
      gboolean taken = FALSE;
      double left;

      for (guint i = 0; i < n_before; i++)
        {
          ts_paint_doubt_learn (doubt, &pairs[before[i]]);
          taken |= before[i] == c;
        }
      ts_paint_doubt_learn (doubt, &pairs[c]);
      left = summed_spread (doubt, pairs, n);
      if (!taken && left < *spread)
        {
          best = c;
          *spread = left;
        }
    }
  return best;
}

static void
test_choice_is_the_plain_one (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (TsPaintDoubt) doubt = ts_paint_doubt_new (set, five, 5);
  TsSwatch pairs[20];
  guint n = make_pairs (pairs), chosen[6];
  double spread[7];

  assert_int_equal (ts_paint_doubt_choose (doubt, pairs, n, pairs, n, 6, NULL, chosen, spread), 6);
  for (guint i = 0; i < 6; i++)
    {
      double left;

      assert_int_equal (chosen[i], choose_plainly (set, pairs, n, chosen, i, &left));
      assert_near (spread[i + 1], left, 1e-9);
      assert_true (spread[i + 1] < spread[i]);
    }
  assert_near (summed_spread (doubt, pairs, n), spread[6], 1e-12);
}

static void
test_choice_ends (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (TsPaintDoubt) doubt = ts_paint_doubt_new (set, five, 5);
  g_autoptr (GCancellable) stopped = g_cancellable_new ();
  TsSwatch pairs[20];
  guint n = make_pairs (pairs), chosen[50];
  gboolean seen[20] = { FALSE };

  g_cancellable_cancel (stopped);
  assert_int_equal (ts_paint_doubt_choose (doubt, pairs, n, pairs, n, 50, stopped, chosen, NULL),
                    0);
  assert_int_equal (ts_paint_doubt_choose (doubt, pairs, 0, pairs, n, 50, NULL, chosen, NULL), 0);
  assert_int_equal (ts_paint_doubt_choose (doubt, pairs, n, pairs, n, 50, NULL, chosen, NULL), n);
  for (guint i = 0; i < n; i++)
    {
      assert_false (seen[chosen[i]]);
      seen[chosen[i]] = TRUE;
    }
}

static void
test_teach (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) mixes = ts_paint_teach (set, NULL, 0, NULL, 0, 5, NULL, &error);
  TsSwatch wanted = mix_of (0, 3.0, 3, 2.0);
  g_autoptr (GArray) for_plan = NULL;

  assert_no_error (error);
  assert_int_equal (mixes->len, 5);
  for (guint i = 0; i < mixes->len; i++)
    {
      const TsTeachMix *mix = &g_array_index (mixes, TsTeachMix, i);

      assert_int_equal (mix->n_amounts, 2);
      /* Neither what is out, nor medium, nor primer. */
      assert_true (mix->amounts[0].paint < 5 && mix->amounts[1].paint < 5);
      assert_true (mix->after < mix->before);
    }
  /* For one mix of two paints, the test mix is one of them. */
  for_plan = ts_paint_teach (set, NULL, 0, &wanted, 1, 1, NULL, &error);
  assert_no_error (error);
  assert_int_equal (g_array_index (for_plan, TsTeachMix, 0).amounts[0].paint, 0);
  assert_int_equal (g_array_index (for_plan, TsTeachMix, 0).amounts[1].paint, 3);
}

static void
test_teach_refusals (void **state)
{
  g_autoptr (TsPaintSet) set = ts_paint_set_parse ("name,L,a,b\nOne,50,0,0\n", -1, "set", NULL);
  g_autoptr (TsPaintSet) more = read_set ();
  g_autoptr (GCancellable) stopped = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  assert_null (ts_paint_teach (set, NULL, 0, NULL, 0, 5, NULL, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_FEW));
  g_clear_error (&error);
  g_cancellable_cancel (stopped);
  assert_null (ts_paint_teach (more, NULL, 0, NULL, 0, 5, stopped, &error));
  assert_true (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_learning_closes),  cmocka_unit_test (test_thick_is_known_thin_is_not),
    cmocka_unit_test (test_others_are_known), cmocka_unit_test (test_choice_is_the_plain_one),
    cmocka_unit_test (test_choice_ends),      cmocka_unit_test (test_teach),
    cmocka_unit_test (test_teach_refusals),
  };

  return cmocka_run_group_tests_name ("paint/doubt", tests, NULL, NULL);
}
