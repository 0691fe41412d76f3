/* test-gamut.c: outlines of what a set can mix
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "paint/ts-gamut.h"
#include "paint/ts-mix.h"
#include "ts-test.h"

#define HUE_STEP (360.0 / TS_GAMUT_HUES)

static const char paints[] = "name,kind,stock,L,a,b\n"
                             "White,,,96,0,2\n"
                             "Black,,,14,0,0\n"
                             "Yellow,,,85,5,85\n"
                             "Red,,,42,62,42\n"
                             "Blue,,,30,8,-50\n"
                             "Green,,,48,-45,12\n";

static TsPaintSet *
read_set (const char *more)
{
  g_autofree char *text = g_strconcat (paints, more, NULL);
  g_autoptr (GError) error = NULL;
  TsPaintSet *set = ts_paint_set_parse (text, -1, "set", &error);

  assert_no_error (error);
  return set;
}

static TsGamut
find (const TsPaintSet *set, guint max_paints)
{
  g_autoptr (GError) error = NULL;
  TsGamut gamut;

  assert_true (ts_gamut_find (set, max_paints, NULL, &gamut, &error));
  assert_no_error (error);
  return gamut;
}

static TsLab
random_mix (const TsPaintSet *set, guint n, GRand *random)
{
  TsAmount amounts[3];
  TsSpectrum K, S, R;

  for (guint i = 0; i < n; i++)
    amounts[i] = (TsAmount){ (guint) g_rand_int_range (random, 0, 6),
                             pow (10.0, g_rand_double_range (random, -1.5, 1.5)) };
  ts_mix_get_K_S (set, amounts, n, &K, &S);
  ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (set), &R);
  return ts_spectrum_to_lab (&R, TS_LIGHT_D50);
}

/* The outline between its two nearest directions. */
static double
outline_at (const TsGamut *gamut, double hue)
{
  guint below = (guint) (hue / HUE_STEP) % TS_GAMUT_HUES;

  return MAX (gamut->chroma[below], gamut->chroma[(below + 1) % TS_GAMUT_HUES]);
}

/* No mix lies outside, nor the outlines far outside of all mixes. */
static void
test_mixes_lie_inside (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ("");
  g_autoptr (GRand) random = g_rand_new_with_seed (7);
  TsGamut gamut = find (set, 3);
  double most[TS_GAMUT_HUES] = { 0.0 }, farthest = 0.0, above = 0.0, below = 0.0;

  for (int i = 0; i < 20000; i++)
    {
      TsLab lab = random_mix (set, 1 + (guint) (i % 3), random);
      TsLch lch = ts_lch_from_lab (lab);
      int level = (int) lab.L;
      guint hue = (guint) (lch.h / HUE_STEP + 0.5) % TS_GAMUT_HUES;

      farthest = MAX (farthest, lch.C - outline_at (&gamut, lch.h));
      most[hue] = MAX (most[hue], lch.C);
      above = fmax (above, lch.C - fmax (gamut.most[level], gamut.most[level + 1]));
      below = fmax (below, fmin (gamut.least[level], gamut.least[level + 1]) - lch.C);
    }
  print_message ("farthest mix outside the outlines: %.2f, %.2f, %.2f CIELAB\n", farthest, above,
                 below);
  assert_true (farthest < 1.0 && above < 1.0 && below < 1.0);
  for (int h = 0; h < TS_GAMUT_HUES; h++)
    {
      double near_by = 0.0;

      for (int d = -3; d <= 3; d++)
        near_by = MAX (near_by, most[(h + d + TS_GAMUT_HUES) % TS_GAMUT_HUES]);
      assert_true (gamut.chroma[h] <= near_by + 5.0);
    }
}

static void
test_more_paints_reach_farther (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ("");
  TsGamut one = find (set, 1), two = find (set, 2), three = find (set, 3);
  guint n_one = 0;

  assert_true (one.n_mixes == 6 && two.n_mixes > 100 && three.n_mixes > two.n_mixes);
  for (int h = 0; h < TS_GAMUT_HUES; h++)
    {
      assert_true (one.chroma[h] <= two.chroma[h] + 1e-9);
      assert_true (two.chroma[h] <= three.chroma[h] + 1e-9);
      assert_true (two.chroma[h] > 5.0);
      n_one += one.chroma[h] > 0.0;
    }
  /* Six paints alone lie in few directions. */
  assert_true (n_one <= 6);
  /* From black to white, and no farther. */
  assert_true (isnan (three.most[5]) && isnan (three.most[99]));
  assert_true (three.most[15] >= 0.0 && three.most[95] >= 0.0);
}

static void
test_hole (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ("");
  g_autoptr (TsPaintSet) with_violet = read_set ("Violet,,,40,45,-38\nRose,,,50,65,-5\n");
  TsGamut gamut = find (set, 3), other = find (with_violet, 3);
  TsLch hole = ts_lch_from_lab (gamut.hole);

  print_message (
    "widest hole: %s, L* %.0f C* %.0f h %.0f, CIEDE2000 %.0f; with violet and rose: %s "
    "%.0f\n",
    gamut.words, hole.L, hole.C, hole.h, gamut.distance, other.words != NULL ? other.words : "none",
    other.distance);
  /* Red and blue mix to dull violets: common practice, no source. */
  assert_true (gamut.has_hole);
  assert_true (hole.h > 290.0 || hole.h < 20.0);
  assert_true (strstr (gamut.words, "violet") != NULL || strstr (gamut.words, "purple") != NULL ||
               strstr (gamut.words, "lilac") != NULL || strstr (gamut.words, "pink") != NULL);
  assert_true (other.distance < gamut.distance);
}

static void
test_what_takes_no_part (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ("");
  g_autoptr (TsPaintSet) more = read_set ("Gone,paint,out,60,30,-20\nPrimer,primer,,60,-20,20\n");
  g_autoptr (TsPaintSet) none = ts_paint_set_parse ("name,kind\nMedium,medium\n", -1, "set", NULL);
  g_autoptr (GCancellable) stopped = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  TsGamut one = find (set, 2), other = find (more, 2), unused;

  assert_memory_equal (one.chroma, other.chroma, sizeof one.chroma);
  assert_false (ts_gamut_find (none, 2, NULL, &unused, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_FEW));
  g_clear_error (&error);
  g_cancellable_cancel (stopped);
  assert_false (ts_gamut_find (set, 3, stopped, &unused, &error));
  assert_true (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_mixes_lie_inside),
    cmocka_unit_test (test_more_paints_reach_farther),
    cmocka_unit_test (test_hole),
    cmocka_unit_test (test_what_takes_no_part),
  };

  return cmocka_run_group_tests_name ("paint/gamut", tests, NULL, NULL);
}
