/* test-curve.c: curves fitted to spots whose truth is known
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "base/ts-error.h"
#include "curve/ts-curve.h"

#define MOST 200

typedef double (*Truth) (double x);

static double
falling (double x)
{
  return 75.0 - 50.0 / (1.0 + exp (-14.0 * (x - 0.45)));
}

static double
rising_late (double x)
{
  return falling (x) + (x > 0.75 ? 60.0 * (x - 0.75) : 0.0);
}

static double
even (double x)
{
  return 42.0;
}

static double
wrong_way (double x)
{
  return falling (1.0 - x);
}

/* Two glints on brass. */
static double
polished (double x)
{
  return 40.0 + 35.0 * exp (-120.0 * (x - 0.3) * (x - 0.3)) -
         25.0 * exp (-90.0 * (x - 0.75) * (x - 0.75));
}

static double
normal (GRand *random)
{
  double size = sqrt (-2.0 * log (1.0 - g_rand_double (random)));

  return size * cos (2.0 * G_PI * g_rand_double (random));
}

static void
make_spots (TsCurveSample *spots, gsize n, Truth truth, double noise, guint32 seed)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (seed);

  for (gsize i = 0; i < n; i++)
    {
      double x = n > 1 ? i / (n - 1.0) : 0.5;

      spots[i] = (TsCurveSample){ x,
                                  { truth (x) + noise * normal (random), 20.0 - 10.0 * x,
                                    5.0 + 8.0 * sin (3.0 * x) },
                                  noise };
    }
}

static TsCurve *
fit (const TsCurveSample *spots, gsize n, TsCurveRule rule)
{
  g_autoptr (GError) error = NULL;
  TsCurve *curve = ts_curve_fit (spots, n, rule, &error);

  assert_no_error (error);
  return curve;
}

static double
mean_error (const TsCurve *curve, Truth truth)
{
  double sum = 0.0;

  for (guint i = 0; i <= 200; i++)
    sum += pow (ts_curve_get_lightness (curve, i / 200.0) - truth (i / 200.0), 2.0);
  return sqrt (sum / 201.0);
}

/* Falls to its darkest place and rises after it, the core shadow is as dark, and the band has the
 * same shape and holds it. */
static void
assert_shape (const TsCurve *curve)
{
  double core = ts_curve_get_core_shadow (curve, NULL, NULL);
  double last = 0.0, least = 1000.0;
  gboolean rises = FALSE;

  for (guint i = 0; i <= 2000; i++)
    {
      double x = i / 2000.0, L = ts_curve_get_lightness (curve, x), low, high;

      ts_curve_get_band (curve, x, &low, &high);
      assert_true (low <= L + 0.01 && high >= L - 0.01);
      rises = rises || (i > 0 && L > last + 1e-9);
      assert_true (!rises || L >= last - 1e-9);
      least = MIN (least, L);
      last = L;
    }
  assert_true (ts_curve_get_lightness (curve, core) <= least + 0.1);
}

static void
test_falling (void **state)
{
  TsCurveSample spots[MOST];
  guint inside = 0, all = 0;

  for (guint32 seed = 1; seed <= 40; seed++)
    {
      g_autoptr (TsCurve) curve = NULL;

      make_spots (spots, 25, falling, 1.5, seed);
      curve = fit (spots, 25, TS_CURVE_RULE_SURFACE);
      assert_shape (curve);
      /* Far less than the noise, which averaging must beat. */
      assert_true (mean_error (curve, falling) < 1.5);
      assert_true (ts_curve_is_sound (curve));
      assert_false (ts_curve_is_reversed (curve));
      for (guint i = 0; i <= 50; i++, all++)
        {
          double low, high;

          ts_curve_get_band (curve, i / 50.0, &low, &high);
          inside += falling (i / 50.0) >= low && falling (i / 50.0) <= high;
        }
    }
  assert_in_range (inside, all * 92 / 100, all * 99 / 100);
}

/* At 5 % a rise may be found by chance; 40 runs must not have more than a few. */
static void
test_choice_of_shape (void **state)
{
  TsCurveSample spots[MOST];
  guint invented = 0, found = 0;
  double off = 0.0;

  for (guint32 seed = 1; seed <= 40; seed++)
    {
      g_autoptr (TsCurve) plain = NULL, bounced = NULL;
      double core, low, high;

      make_spots (spots, 21, falling, 2.0, seed);
      plain = fit (spots, 21, TS_CURVE_RULE_SURFACE);
      invented += ts_curve_get_shape (plain) == TS_CURVE_FALLING_THEN_RISING;
      make_spots (spots, 21, rising_late, 2.0, seed);
      bounced = fit (spots, 21, TS_CURVE_RULE_SURFACE);
      assert_shape (bounced);
      core = ts_curve_get_core_shadow (bounced, &low, &high);
      assert_true (low <= core && core <= high && low >= 0.0 && high <= 1.0);
      found += ts_curve_get_shape (bounced) == TS_CURVE_FALLING_THEN_RISING;
      off += fabs (core - 0.75) / 40.0;
    }
  assert_in_range (invented, 0, 4);
  assert_in_range (found, 36, 40);
  assert_true (off < 0.06);
}

static void
test_outliers (void **state)
{
  TsCurveSample spots[MOST];
  g_autoptr (TsCurve) clean = NULL, curve = NULL;

  make_spots (spots, 25, falling, 0.8, 7);
  clean = fit (spots, 25, TS_CURVE_RULE_SURFACE);
  spots[4].lab.L += 15.0;
  spots[19].lab.L -= 12.0;
  curve = fit (spots, 25, TS_CURVE_RULE_SURFACE);
  for (gsize i = 0; i < 25; i++)
    {
      assert_int_equal (ts_curve_sample_is_outlier (curve, i), i == 4 || i == 19);
      assert_near (ts_curve_get_residual (curve, i),
                   spots[i].lab.L - ts_curve_get_lightness (curve, spots[i].position), 1e-12);
    }
  for (guint i = 0; i <= 100; i++)
    assert_near (ts_curve_get_lightness (curve, i / 100.0),
                 ts_curve_get_lightness (clean, i / 100.0), 0.8);
}

/* Spots on a steep edge are no outliers, however even the rest is. */
static void
test_edge (void **state)
{
  TsCurveSample spots[MOST];
  g_autoptr (TsCurve) curve = NULL;

  make_spots (spots, 30, falling, 0.5, 3);
  for (gsize i = 0; i < 30; i++)
    spots[i].lab.L += i < 14 ? 70.0 - falling (spots[i].position)
                             : (i < 16 ? 45.0 : 20.0) - falling (spots[i].position);
  curve = fit (spots, 30, TS_CURVE_RULE_SURFACE);
  for (gsize i = 0; i < 30; i++)
    assert_false (ts_curve_sample_is_outlier (curve, i));
}

static void
test_order_does_not_matter (void **state)
{
  TsCurveSample spots[MOST], turned[MOST];
  g_autoptr (TsCurve) one = NULL, other = NULL, again = NULL;

  make_spots (spots, 31, rising_late, 1.0, 9);
  for (gsize i = 0; i < 31; i++)
    turned[i] = spots[(i * 7) % 31];
  one = fit (spots, 31, TS_CURVE_RULE_SURFACE);
  again = fit (spots, 31, TS_CURVE_RULE_SURFACE);
  other = fit (turned, 31, TS_CURVE_RULE_SURFACE);
  assert_int_equal (ts_curve_get_n_samples (other), 31);
  assert_true (ts_curve_is_of (one, spots, 31, TS_CURVE_RULE_SURFACE));
  assert_false (ts_curve_is_of (one, spots, 30, TS_CURVE_RULE_SURFACE));
  assert_false (ts_curve_is_of (one, spots, 31, TS_CURVE_RULE_POLISHED));
  spots[30].lab.b += 1e-9;
  assert_false (ts_curve_is_of (one, spots, 31, TS_CURVE_RULE_SURFACE));
  for (guint i = 0; i <= 100; i++)
    {
      double x = i / 100.0;

      assert_true (ts_curve_get_lightness (one, x) == ts_curve_get_lightness (again, x));
      assert_near (ts_curve_get_lightness (one, x), ts_curve_get_lightness (other, x), 1e-6);
    }
}

static void
test_colour (void **state)
{
  TsCurveSample spots[MOST];
  g_autoptr (TsCurve) curve = NULL;

  make_spots (spots, 25, falling, 1.0, 5);
  spots[10].lab = (TsLab){ 98.0, -80.0, 90.0 };
  curve = fit (spots, 25, TS_CURVE_RULE_SURFACE);
  assert_true (ts_curve_sample_is_outlier (curve, 10));
  for (guint i = 0; i <= 20; i++)
    {
      double x = i / 20.0;
      TsLab lab = ts_curve_get_colour (curve, x);

      assert_near (lab.L, ts_curve_get_lightness (curve, x), 0.0);
      assert_near (lab.a, 20.0 - 10.0 * x, 0.3);
      assert_near (lab.b, 5.0 + 8.0 * sin (3.0 * x), 0.3);
    }
}

static void
test_find_lightness (void **state)
{
  TsCurveSample spots[MOST];
  g_autoptr (TsCurve) curve = NULL;
  double top, core;

  make_spots (spots, 41, rising_late, 0.5, 2);
  curve = fit (spots, 41, TS_CURVE_RULE_SURFACE);
  core = ts_curve_get_core_shadow (curve, NULL, NULL);
  top = ts_curve_get_lightness (curve, 0.0);
  for (double L = ts_curve_get_lightness (curve, core) + 0.01; L < top; L += 0.7)
    {
      double x = ts_curve_find_lightness (curve, L);

      assert_true (x >= 0.0 && x <= core);
      assert_near (ts_curve_get_lightness (curve, x), L, 1e-9);
    }
  assert_near (ts_curve_find_lightness (curve, 100.0), 0.0, 0.0);
  assert_near (ts_curve_find_lightness (curve, -5.0), core, 0.0);
}

static void
test_terminator (void **state)
{
  TsCurveSample spots[MOST];
  g_autoptr (TsCurve) curve = NULL, none = NULL;
  double place = -1.0, low = -1.0, high = -1.0;

  make_spots (spots, 31, falling, 0.7, 4);
  curve = fit (spots, 31, TS_CURVE_RULE_SURFACE);
  assert_true (ts_curve_get_terminator (curve, &place, &low, &high));
  assert_near (place, 0.45, 0.04);
  assert_true (low <= 0.45 && high >= 0.45 && high - low < 0.3);
  make_spots (spots, 31, even, 1.0, 4);
  none = fit (spots, 31, TS_CURVE_RULE_SURFACE);
  assert_false (ts_curve_get_terminator (none, NULL, NULL, NULL));
}

static void
test_polished (void **state)
{
  TsCurveSample spots[MOST];
  g_autoptr (TsCurve) curve = NULL;

  make_spots (spots, 41, polished, 1.0, 6);
  curve = fit (spots, 41, TS_CURVE_RULE_POLISHED);
  assert_int_equal (ts_curve_get_shape (curve), TS_CURVE_FREE);
  assert_true (mean_error (curve, polished) < 1.0);
  assert_near (ts_curve_get_core_shadow (curve, NULL, NULL), 0.75, 0.03);
  assert_near (ts_curve_find_lightness (curve, 100.0), 0.3, 0.03);
  assert_near (ts_curve_get_lightness (curve, ts_curve_find_lightness (curve, 50.0)), 50.0, 1e-9);
}

/* Crossings are counted on the truth, by a fine walk along it. */
static void
test_all_places (void **state)
{
  TsCurveSample spots[MOST];
  g_autoptr (TsCurve) curve = NULL;
  double places[TS_CURVE_MAX_PLACES];

  make_spots (spots, 61, polished, 0.3, 6);
  curve = fit (spots, 61, TS_CURVE_RULE_POLISHED);
  for (double L = 20.0; L <= 70.0; L += 5.0)
    {
      guint count = ts_curve_find_places (curve, L, places), want = 0;

      if (fabs (L - 40.0) < 2.0) /* the level stretches lie there */
        continue;
      for (guint i = 0; i < 2000; i++)
        want += (polished (i / 2000.0) > L) != (polished ((i + 1) / 2000.0) > L);
      assert_int_equal (count, want);
      for (guint i = 0; i < count; i++)
        {
          assert_near (ts_curve_get_lightness (curve, places[i]), L, 1e-9);
          assert_true (i == 0 || places[i] > places[i - 1]);
        }
    }
  assert_int_equal (ts_curve_find_places (curve, 100.0, places), 1);
  assert_near (places[0], 0.3, 0.02);
  assert_int_equal (ts_curve_find_places (curve, 0.0, places), 1);
  assert_near (places[0], 0.75, 0.02);
}

/* Neighbouring bands of lightness share out the whole run, and each stretch lies within its own. */
static void
test_stretches (void **state)
{
  static const double edge[] = { -INFINITY, 25.0, 34.0, 43.0, 56.0, INFINITY };
  TsCurveSample spots[MOST];
  g_autoptr (TsCurve) curve = NULL;
  TsCurveStretch part[TS_CURVE_MAX_STRETCHES];
  double covered = 0.0;

  make_spots (spots, 61, polished, 0.3, 6);
  curve = fit (spots, 61, TS_CURVE_RULE_POLISHED);
  for (guint band = 0; band + 1 < G_N_ELEMENTS (edge); band++)
    {
      guint count = ts_curve_find_stretches (curve, edge[band], edge[band + 1], part);

      for (guint i = 0; i < count; i++)
        {
          assert_true (part[i].to > part[i].from && (i == 0 || part[i].from > part[i - 1].to));
          covered += part[i].to - part[i].from;
          for (guint j = 1; j < 20; j++)
            {
              double L = ts_curve_get_lightness (curve, part[i].from +
                                                          (part[i].to - part[i].from) * j / 20.0);

              assert_true (L >= edge[band] && L <= edge[band + 1]);
            }
        }
    }
  assert_near (covered, 1.0, 1e-9);
  assert_int_equal (ts_curve_find_stretches (curve, 90.0, 95.0, part), 0);
}

static double
two_lights (double x)
{
  return 80.0 - 60.0 * sin (G_PI * x);
}

/* It is proposed for what no shadow does, and for nothing else. */
static void
test_seems_polished (void **state)
{
  static const Truth dull[] = { falling, rising_late, even, wrong_way };
  static const Truth gloss[] = { polished, two_lights };
  TsCurveSample spots[MOST];
  guint proposed[2] = { 0, 0 };

  for (guint32 seed = 1; seed <= 20; seed++)
    {
      for (guint i = 0; i < G_N_ELEMENTS (dull); i++)
        {
          g_autoptr (TsCurve) curve = NULL;

          make_spots (spots, 21, dull[i], 2.0, seed);
          curve = fit (spots, 21, TS_CURVE_RULE_SURFACE);
          proposed[0] += ts_curve_seems_polished (curve);
        }
      for (guint i = 0; i < G_N_ELEMENTS (gloss); i++)
        {
          g_autoptr (TsCurve) curve = NULL, free = NULL;

          make_spots (spots, 21, gloss[i], 2.0, seed);
          curve = fit (spots, 21, TS_CURVE_RULE_SURFACE);
          free = fit (spots, 21, TS_CURVE_RULE_POLISHED);
          proposed[1] += ts_curve_seems_polished (curve);
          assert_false (ts_curve_seems_polished (free));
        }
    }
  assert_in_range (proposed[0], 0, 1);
  assert_in_range (proposed[1], 39, 40);
}

/* Across the face of the demo's figure: a brow, a cheek and a nose, and no metal. */
static void
test_texture_is_not_polished (void **state)
{
  static const double L[] = {
    63.8, 65.2, 58.9, 61.9, 70.0, 67.9, 62.4, 58.0, 54.4, 48.7, 40.0, 40.6
  };
  static const double se[] = {
    1.3, 0.95, 1.23, 1.43, 0.97, 1.33, 1.35, 0.84, 0.98, 1.91, 1.27, 1.72
  };
  TsCurveSample spots[G_N_ELEMENTS (L)];
  g_autoptr (TsCurve) curve = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (L); i++)
    spots[i] = (TsCurveSample){ i / (G_N_ELEMENTS (L) - 1.0), { L[i], 10.0, 20.0 }, se[i] };
  curve = fit (spots, G_N_ELEMENTS (L), TS_CURVE_RULE_SURFACE);
  assert_false (ts_curve_seems_polished (curve));
}

static void
test_highlight (void **state)
{
  TsCurveSample spots[MOST];
  guint inside = 0;

  for (guint32 seed = 1; seed <= 40; seed++)
    {
      g_autoptr (TsCurve) curve = NULL, gloss = NULL;
      double low, high, place;

      make_spots (spots, 41, polished, 1.0, seed);
      gloss = fit (spots, 41, TS_CURVE_RULE_POLISHED);
      place = ts_curve_get_highlight (gloss, &low, &high);
      assert_true (low <= place && place <= high && high - low < 0.15);
      assert_near (place, 0.3, 0.04);
      inside += low <= 0.3 && high >= 0.3;
      make_spots (spots, 41, falling, 1.0, seed);
      curve = fit (spots, 41, TS_CURVE_RULE_SURFACE);
      assert_near (ts_curve_get_highlight (curve, &low, &high), 0.0, 0.0);
      assert_near (low, 0.0, 0.0);
      assert_true (high < 0.35);
    }
  assert_in_range (inside, 35, 40);
}

typedef struct
{
  gsize index, beside; /* spots that are spoilt; the same where there is one */
  TsLab off;
  double clipped_share;
  TsOutlierReason reason;
} Spoilt;

static const Spoilt spoilt[] = {
  { 6, 6, { 18.0, 0.0, 0.0 }, 0.0, TS_OUTLIER_GLINT },
  { 6, 6, { 25.0, -16.0, -8.0 }, 0.0, TS_OUTLIER_GLINT }, /* washed out by the lamp */
  { 6, 7, { 18.0, 0.0, 0.0 }, 0.0, TS_OUTLIER_GLINT },
  { 6, 6, { 18.0, 0.0, 0.0 }, 0.4, TS_OUTLIER_CLIPPED },
  { 6, 6, { -15.0, 0.0, 0.0 }, 0.4, TS_OUTLIER_CLIPPED },
  { 6, 6, { -15.0, 1.0, -2.0 }, 0.0, TS_OUTLIER_DIRT },
  { 6, 6, { -15.0, -30.0, 10.0 }, 0.0, TS_OUTLIER_SURFACE },
  { 6, 6, { 15.0, -10.0, 40.0 }, 0.0, TS_OUTLIER_SURFACE },
  { 6, 7, { -15.0, 0.0, 0.0 }, 0.05, TS_OUTLIER_SURFACE }, /* two side by side */
};

static void
test_reasons (void **state)
{
  TsCurveSample spots[MOST];

  for (guint i = 0; i < G_N_ELEMENTS (spoilt); i++)
    {
      const Spoilt *s = &spoilt[i];
      g_autoptr (TsCurve) curve = NULL;

      make_spots (spots, 31, falling, 0.6, 11);
      for (gsize j = s->index; j <= s->beside; j++)
        {
          spots[j].lab.L += s->off.L;
          spots[j].lab.a += s->off.a;
          spots[j].lab.b += s->off.b;
        }
      curve = fit (spots, 31, TS_CURVE_RULE_SURFACE);
      for (gsize j = s->index; j <= s->beside; j++)
        if (ts_curve_get_outlier_reason (curve, j, s->clipped_share) != s->reason)
          fail_msg ("case %u: reason %d instead of %d", i,
                    ts_curve_get_outlier_reason (curve, j, s->clipped_share), s->reason);
      assert_int_equal (ts_curve_get_outlier_reason (curve, 20, 1.0), TS_OUTLIER_NONE);
    }
}

/* Three runs across one surface, each with noise of its own, make one curve that is surer than that
 * of any of them; nothing hangs on their order. */
static void
test_pooled_runs (void **state)
{
  TsCurveSample spots[45];
  g_autoptr (TsCurve) pooled = NULL, alone = NULL;

  for (guint run = 0; run < 3; run++)
    make_spots (spots + 15 * run, 15, falling, 1.0 + run, 21 + run);
  pooled = fit (spots, 45, TS_CURVE_RULE_SURFACE);
  alone = fit (spots, 15, TS_CURVE_RULE_SURFACE);
  assert_int_equal (ts_curve_get_n_samples (pooled), 45);
  assert_shape (pooled);
  assert_true (mean_error (pooled, falling) < 1.0);
  assert_true (ts_curve_get_error (pooled) < ts_curve_get_error (alone));
}

/* Errors that no reading has, as a file may state them. */
static void
test_errors_too_small (void **state)
{
  static const double least[] = { 1e-320, 1e-300, 1e-160, 1e-80, 1e-9 };
  TsCurveSample spots[15];

  make_spots (spots, G_N_ELEMENTS (spots), falling, 0.5, 3);
  for (guint i = 0; i < G_N_ELEMENTS (least); i++)
    for (guint most = 0; most < 2; most++)
      {
        g_autoptr (TsCurve) curve = NULL;

        for (guint j = 0; j < G_N_ELEMENTS (spots); j++)
          spots[j].standard_error = most > 0 && j % 2 == 0 ? 100.0 : least[i];
        curve = fit (spots, G_N_ELEMENTS (spots), TS_CURVE_RULE_SURFACE);
        assert_shape (curve);
        for (guint j = 1; j < G_N_ELEMENTS (spots); j += 2)
          assert_near (ts_curve_get_lightness (curve, spots[j].position), spots[j].lab.L, 3.0);
      }
}

static void
test_few_spots (void **state)
{
  TsCurveSample spots[MOST];
  double low, high, wide, narrow;

  for (gsize n = 1; n <= 5; n++)
    {
      g_autoptr (TsCurve) curve = NULL;

      make_spots (spots, n, falling, 0.5, 1);
      curve = fit (spots, n, TS_CURVE_RULE_SURFACE);
      assert_shape (curve);
      assert_int_equal (ts_curve_get_shape (curve), TS_CURVE_FALLING);
      assert_true (ts_curve_is_sound (curve));
      for (gsize i = 0; i < n; i++)
        assert_near (ts_curve_get_lightness (curve, spots[i].position), spots[i].lab.L, 2.0);
    }
  /* Far from the only spot, little is known. */
  {
    g_autoptr (TsCurve) curve = fit (spots, 1, TS_CURVE_RULE_SURFACE);

    ts_curve_get_band (curve, spots[0].position, &low, &high);
    narrow = high - low;
    ts_curve_get_band (curve, 1.0, &low, &high);
    wide = high - low;
    assert_true (wide > 10.0 && narrow < wide / 2.0);
  }
}

static void
test_even_spots (void **state)
{
  TsCurveSample spots[MOST];
  g_autoptr (TsCurve) curve = NULL, one_place = NULL, two_places = NULL;

  make_spots (spots, 12, even, 0.0, 1);
  curve = fit (spots, 12, TS_CURVE_RULE_SURFACE);
  for (guint i = 0; i <= 10; i++)
    assert_near (ts_curve_get_lightness (curve, i / 10.0), 42.0, 0.1);
  assert_true (ts_curve_get_error (curve) < 3.0);
  assert_true (ts_curve_is_sound (curve));

  make_spots (spots, 12, even, 1.0, 1);
  for (gsize i = 0; i < 12; i++)
    spots[i].position = 0.25;
  one_place = fit (spots, 12, TS_CURVE_RULE_SURFACE);
  assert_near (ts_curve_get_lightness (one_place, 0.25), 42.0, 1.5);
  assert_shape (one_place);
  for (gsize i = 0; i < 12; i++)
    spots[i] = (TsCurveSample){ i % 2, { i % 2 ? 20.0 : 70.0, 0.0, 0.0 }, 1.0 };
  two_places = fit (spots, 12, TS_CURVE_RULE_SURFACE);
  for (guint i = 0; i <= 10; i++)
    assert_near (ts_curve_get_lightness (two_places, i / 10.0), 70.0 - 5.0 * i, 6.0);
}

/* What is no curve says so. */
static void
test_unsound (void **state)
{
  TsCurveSample spots[MOST];
  g_autoptr (TsCurve) reversed = NULL;
  guint sound = 0;

  make_spots (spots, 21, wrong_way, 1.0, 1);
  reversed = fit (spots, 21, TS_CURVE_RULE_SURFACE);
  assert_true (ts_curve_is_reversed (reversed));
  assert_false (ts_curve_is_sound (reversed));
  for (guint32 seed = 1; seed <= 20; seed++)
    {
      g_autoptr (GRand) random = g_rand_new_with_seed (seed);
      g_autoptr (TsCurve) chaos = NULL;

      for (gsize i = 0; i < 21; i++)
        spots[i] = (TsCurveSample){ i / 20.0, { g_rand_double_range (random, 0, 100), 0, 0 }, 1.0 };
      chaos = fit (spots, 21, TS_CURVE_RULE_SURFACE);
      assert_shape (chaos);
      sound += ts_curve_is_sound (chaos);
    }
  assert_int_equal (sound, 0);
}

/* A spoon's shadow across an even red saucer, as it was measured off a photograph: it is neither
 * noise nor a fall, and the curve must not pretend to follow it. */
static void
test_shadow_across (void **state)
{
  static const double L[] = { 39.7, 40.2, 40.7, 39.7, 40.2, 40.4, 38.8,
                              35.2, 21.0, 26.2, 34.3, 38.0, 41.8 };
  static const double se[] = { 0.278, 0.163, 0.094, 0.089, 0.145, 0.180, 0.226,
                               1.041, 3.081, 2.153, 1.834, 0.230, 0.382 };
  TsCurveSample spots[G_N_ELEMENTS (L)];
  g_autoptr (TsCurve) curve = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (L); i++)
    spots[i] = (TsCurveSample){ i / 12.0, { L[i], 0.0, 0.0 }, se[i] };
  curve = fit (spots, G_N_ELEMENTS (L), TS_CURVE_RULE_SURFACE);
  assert_true (!ts_curve_is_sound (curve) ||
               fabs (ts_curve_get_lightness (curve, 8.0 / 12.0) - 21.0) < 6.0);
}

typedef struct
{
  const char *name;
  TsCurveSample spot;
} Refusal;

static const Refusal refusals[] = {
  { "no number as place", { NAN, { 50, 0, 0 }, 1 } },
  { "before the run", { -0.01, { 50, 0, 0 }, 1 } },
  { "after the run", { 1.01, { 50, 0, 0 }, 1 } },
  { "no number as L*", { 0.5, { NAN, 0, 0 }, 1 } },
  { "endless L*", { 0.5, { INFINITY, 0, 0 }, 1 } },
  { "no number as a*", { 0.5, { 50, NAN, 0 }, 1 } },
  { "endless b*", { 0.5, { 50, 0, -INFINITY }, 1 } },
  { "no number as error", { 0.5, { 50, 0, 0 }, NAN } },
  { "negative error", { 0.5, { 50, 0, 0 }, -1 } },
};

static void
test_refusals (void **state)
{
  g_autoptr (GError) few = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      TsCurveSample spots[3] = { { 0.0, { 80, 0, 0 }, 1 },
                                 refusals[i].spot,
                                 { 1, { 20, 0, 0 }, 1 } };
      g_autoptr (GError) error = NULL;
      g_autoptr (TsCurve) curve = ts_curve_fit (spots, 3, TS_CURVE_RULE_SURFACE, &error);

      if (curve != NULL || !g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE) ||
          strstr (error->message, "spot 2") == NULL)
        fail_msg ("%s was not refused", refusals[i].name);
    }
  assert_null (ts_curve_fit (NULL, 0, TS_CURVE_RULE_SURFACE, &few));
  assert_true (g_error_matches (few, TS_ERROR, TS_ERROR_TOO_FEW));
}

/* Places off the run, and no place at all, are held at its ends. */
static void
test_places (void **state)
{
  TsCurveSample spots[MOST];
  g_autoptr (TsCurve) curve = NULL;
  double low, high, same_low, same_high;

  make_spots (spots, 15, falling, 1.0, 8);
  curve = fit (spots, 15, TS_CURVE_RULE_SURFACE);
  assert_near (ts_curve_get_lightness (curve, -3.0), ts_curve_get_lightness (curve, 0.0), 0.0);
  assert_near (ts_curve_get_lightness (curve, 7.0), ts_curve_get_lightness (curve, 1.0), 0.0);
  assert_near (ts_curve_get_lightness (curve, NAN), ts_curve_get_lightness (curve, 0.0), 0.0);
  ts_curve_get_band (curve, 9.0, &low, &high);
  ts_curve_get_band (curve, 1.0, &same_low, &same_high);
  assert_near (low, same_low, 0.0);
  assert_near (high, same_high, 0.0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_falling),
    cmocka_unit_test (test_choice_of_shape),
    cmocka_unit_test (test_outliers),
    cmocka_unit_test (test_edge),
    cmocka_unit_test (test_order_does_not_matter),
    cmocka_unit_test (test_colour),
    cmocka_unit_test (test_find_lightness),
    cmocka_unit_test (test_terminator),
    cmocka_unit_test (test_polished),
    cmocka_unit_test (test_all_places),
    cmocka_unit_test (test_stretches),
    cmocka_unit_test (test_seems_polished),
    cmocka_unit_test (test_texture_is_not_polished),
    cmocka_unit_test (test_highlight),
    cmocka_unit_test (test_reasons),
    cmocka_unit_test (test_pooled_runs),
    cmocka_unit_test (test_errors_too_small),
    cmocka_unit_test (test_few_spots),
    cmocka_unit_test (test_even_spots),
    cmocka_unit_test (test_unsound),
    cmocka_unit_test (test_shadow_across),
    cmocka_unit_test (test_refusals),
    cmocka_unit_test (test_places),
  };

  return cmocka_run_group_tests_name ("curve/curve", tests, NULL, NULL);
}
