/* test-mixing-sequence.c: the order of work at the palette, done drop by drop
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "palette/ts-mixing-sequence.h"
#include "ts-test.h"

#include <string.h>

#define ROUNDS 200
#define N_PAINTS 12

/* What lies on the palette: drops of each paint. */
typedef struct
{
  double puddle[N_PAINTS], aside[N_PAINTS];
  double put_out, painted, left;
  gboolean done[TS_MIXING_MOST_STEPS];
} Palette;

static double
total (const double *drops)
{
  double sum = 0.0;

  for (guint p = 0; p < N_PAINTS; p++)
    sum += drops[p];
  return sum;
}

static void
scale (double *drops, double factor)
{
  for (guint p = 0; p < N_PAINTS; p++)
    drops[p] *= factor;
}

/* Every paint's share is the recipe's within one per cent of it, and no other paint is there. */
static void
assert_is_recipe (const double *drops, const TsRecipe *recipe)
{
  double parts = 0.0, sum = total (drops), known = 0.0;

  for (guint i = 0; i < recipe->n_paints; i++)
    parts += recipe->parts[i];
  for (guint i = 0; i < recipe->n_paints; i++)
    {
      double share = recipe->parts[i] / parts;

      assert_near (drops[recipe->paint[i]] / sum, share, 0.01 * share);
      known += drops[recipe->paint[i]];
    }
  assert_near (known, sum, 1e-9);
}

static void
work_on (Palette *palette, const TsWork *work, const TsRecipe *recipes,
         const TsSequenceSettings *settings, guint n_steps)
{
  double there = total (palette->puddle);

  switch (work->kind)
    {
    case TS_WORK_PUT_OUT:
    case TS_WORK_ADD:
      assert_true (work->n_paints > 0);
      assert_true (work->kind == TS_WORK_ADD ? there > 0.5 : there < 1e-9);
      for (guint i = 0; i < work->n_paints; i++)
        {
          assert_true (work->drops[i] > 0);
          palette->puddle[work->paint[i]] += work->drops[i];
          palette->put_out += work->drops[i];
        }
      break;
    case TS_WORK_PAINT:
      assert_is_recipe (palette->puddle, &recipes[work->step]);
      assert_near (work->amount, ts_sequence_settings_get_need (settings, n_steps, work->step),
                   1e-9);
      assert_true (there >= work->amount - 1e-9);
      assert_false (palette->done[work->step]);
      palette->done[work->step] = TRUE;
      palette->painted += work->amount;
      scale (palette->puddle, (there - work->amount) / there);
      break;
    case TS_WORK_SET_ASIDE:
      assert_true (there >= work->amount - 1e-9);
      memcpy (palette->aside, palette->puddle, sizeof palette->aside);
      scale (palette->aside, work->amount / there);
      scale (palette->puddle, 1.0 - work->amount / there);
      break;
    case TS_WORK_KEEP:
      assert_near (there, work->amount + work->left, 1e-9);
      assert_near (work->amount, round (work->amount), 1e-9);
      palette->left += work->left;
      scale (palette->puddle, work->amount / there);
      break;
    case TS_WORK_TAKE_UP:
      assert_true (there < 1e-9);
      memcpy (palette->puddle, palette->aside, sizeof palette->puddle);
      memset (palette->aside, 0, sizeof palette->aside);
      assert_near (total (palette->puddle), work->amount, 1e-9);
      break;
    case TS_WORK_CLEAR:
    default:
      assert_near (there, work->left, 1e-9);
      palette->left += work->left;
      scale (palette->puddle, 0.0);
      break;
    }
  if (total (palette->puddle) < 1e-9)
    scale (palette->puddle, 0.0);
  assert_near (total (palette->puddle), work->puddle, 1e-9);
}

/* Neighbours share paints more often than not, as on a stair. */
static TsRecipe
random_recipe (GRand *rand, const TsRecipe *before)
{
  TsRecipe recipe = { 0 };
  gboolean used[N_PAINTS] = { FALSE };
  guint n = (guint) g_rand_int_range (rand, 1, 5);

  while (recipe.n_paints < n)
    {
      guint paint = (guint) g_rand_int_range (rand, 0, N_PAINTS);

      if (before != NULL && recipe.n_paints < before->n_paints && g_rand_int_range (rand, 0, 4) > 0)
        paint = before->paint[recipe.n_paints];
      if (used[paint])
        continue;
      used[paint] = TRUE;
      recipe.paint[recipe.n_paints] = paint;
      recipe.parts[recipe.n_paints++] = (guint) g_rand_int_range (rand, 1, 6);
    }
  return recipe;
}

static void
test_volumes_and_ratios (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  guint n_added = 0, n_new = 0, n_aside = 0;

  for (guint round = 0; round < ROUNDS; round++)
    {
      guint n = (guint) g_rand_int_range (rand, 2, 16);
      TsRecipe recipes[TS_MIXING_MOST_STEPS];
      g_autoptr (TsMixingSequence) sequence = NULL;
      TsSequenceSettings settings;
      Palette palette = { .put_out = 0.0 };
      double left;

      for (guint i = 0; i < n; i++)
        recipes[i] = random_recipe (rand, i > 0 ? &recipes[i - 1] : NULL);
      if (n > 3)
        recipes[2] = recipes[1]; /* the same mix twice */
      ts_sequence_settings_init (&settings);
      settings.base = (guint) g_rand_int_range (rand, 0, (int) n);
      settings.area = g_rand_double_range (rand, 20.0, 4000.0);
      settings.coats = g_rand_int_range (rand, 1, 4);
      sequence = ts_mixing_sequence_new (recipes, n, &settings);
      for (guint i = 0; i < ts_mixing_sequence_get_n (sequence); i++)
        {
          const TsWork *work = ts_mixing_sequence_get_work (sequence, i);

          work_on (&palette, work, recipes, &settings, n);
          n_added += work->kind == TS_WORK_ADD ? 1 : 0;
          n_new += work->kind == TS_WORK_PUT_OUT ? 1 : 0;
          n_aside += work->kind == TS_WORK_SET_ASIDE ? 1 : 0;
        }
      for (guint i = 0; i < n; i++)
        assert_true (palette.done[i]);
      assert_near (total (palette.puddle) + total (palette.aside), 0.0, 1e-9);
      assert_near (palette.put_out, palette.painted + palette.left, 1e-6);
      assert_near (palette.put_out, ts_mixing_sequence_get_drops (sequence, &left), 1e-9);
      assert_near (left, palette.left, 1e-6);
    }
  /* All kinds of work came up. */
  assert_true (n_added > ROUNDS / 2 && n_new > ROUNDS && n_aside > ROUNDS / 10);
}

/* A walk that a painter would do by hand: 3 + 1, then a little more of the second. */
static void
test_walks_on_the_palette (void **state)
{
  const TsRecipe recipes[2] = {
    { .n_paints = 2, .paint = { 0, 1 }, .parts = { 3, 1 } },
    { .n_paints = 2, .paint = { 0, 1 }, .parts = { 3, 2 } },
  };
  g_autoptr (TsMixingSequence) sequence = NULL;
  TsSequenceSettings settings;

  ts_sequence_settings_init (&settings);
  settings.base = 0;
  settings.area = 1.0;
  sequence = ts_mixing_sequence_new (recipes, 2, &settings);
  assert_int_equal (ts_mixing_sequence_get_work (sequence, 0)->kind, TS_WORK_PUT_OUT);
  assert_int_equal (ts_mixing_sequence_get_work (sequence, 1)->kind, TS_WORK_PAINT);
  for (guint i = 2; i < ts_mixing_sequence_get_n (sequence); i++)
    assert_int_not_equal (ts_mixing_sequence_get_work (sequence, i)->kind, TS_WORK_PUT_OUT);
}

static void
test_need_grows_with_area (void **state)
{
  TsSequenceSettings settings;

  ts_sequence_settings_init (&settings);
  settings.area = 8000.0;
  settings.base = 1;
  /* 8000 mm2 of two coats of 0.05 mm are 800 mm3, 20 drops of 40 mm3, and half as much to spare. */
  assert_near (ts_sequence_settings_get_need (&settings, 5, 1), 30.0, 1e-9);
  assert_near (ts_sequence_settings_get_need (&settings, 5, 0), 6.0, 1e-9);
  settings.area = 1.0;
  assert_near (ts_sequence_settings_get_need (&settings, 5, 1), 1.0, 1e-9);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_volumes_and_ratios),
    cmocka_unit_test (test_walks_on_the_palette),
    cmocka_unit_test (test_need_grows_with_area),
  };

  return cmocka_run_group_tests_name ("palette/mixing sequence", tests, NULL, NULL);
}
