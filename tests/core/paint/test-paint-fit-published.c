/* test-paint-fit-published.c: calibration on measured watercolours
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Chen, Huang, Chang, Ouhyoung (2019), arXiv:1904.00275: 13 paints on white paper at eleven amounts
 * each, and 360 mixtures of 36 pairs. The bounds are medians and 90 % shares of CIEDE2000 that a
 * fit of this kind has reached on them before; it prints what it reaches.
 */
#include <stdlib.h>
#include <string.h>

#include "colour/ts-difference.h"
#include "paint/ts-paint-doubt.h"
#include "paint/ts-paint-fit.h"
#include "ts-test.h"

#define ML_A_COAT 0.05

static void
read_spectrum (const TsCsv *table, guint row, TsSpectrum *spectrum)
{
  for (guint b = 0; b < TS_BANDS; b++)
    {
      g_autofree char *column = g_strdup_printf ("R%u", TS_BAND_FIRST + TS_BAND_STEP * b);

      spectrum->band[b] = ts_test_cell (table, row, column);
    }
}

static const char *
word_of (const TsCsv *table, guint row, const char *column)
{
  return ts_csv_get_cell (table, row, ts_csv_find_column (table, column));
}

/* Row of the most of a paint, or -1. */
static int
thickest_row (const TsCsv *primaries, const char *paint)
{
  int best = -1;

  for (guint r = 0; r < ts_csv_get_n_rows (primaries); r++)
    if (strcmp (word_of (primaries, r, "paint"), paint) == 0 &&
        (best < 0 ||
         ts_test_cell (primaries, r, "ml") > ts_test_cell (primaries, (guint) best, "ml")))
      best = (int) r;
  return best;
}

/* Each paint from its thickest swatch, as a painter would enter it; k1 half the darkest reading. */
static TsPaintSet *
make_set (const TsCsv *primaries)
{
  g_autoptr (GString) text = g_string_new ("name");
  g_autoptr (GError) error = NULL;
  TsPaintSet *set;

  for (guint b = 0; b < TS_BANDS; b++)
    g_string_append_printf (text, ",R%u", TS_BAND_FIRST + TS_BAND_STEP * b);
  for (guint i = 1; i <= 13; i++)
    {
      g_autofree char *paint = g_strdup_printf ("W%u", i);
      int row = thickest_row (primaries, paint);

      assert_true (row >= 0);
      g_string_append_printf (text, "\n%s", paint);
      for (guint b = 0; b < TS_BANDS; b++)
        {
          g_autofree char *column = g_strdup_printf ("R%u", TS_BAND_FIRST + TS_BAND_STEP * b);

          g_string_append_printf (text, ",%s", word_of (primaries, (guint) row, column));
        }
    }
  set = ts_paint_set_parse (text->str, -1, "watercolours", &error);
  assert_no_error (error);
  return set;
}

static void
add_swatch (GArray *swatches, const TsPaintSet *set, const TsCsv *table, guint row,
            const char *const paints[2], const double ml[2], const TsSpectrum *paper)
{
  TsSwatch swatch = { .ground = *paper };

  for (guint i = 0; i < 2 && paints[i] != NULL; i++)
    {
      swatch.amounts[i].paint = (guint) ts_paint_set_find (set, paints[i]);
      swatch.amounts[i].parts = ml[i];
      swatch.coats += ml[i] / ML_A_COAT;
      swatch.n_amounts++;
    }
  read_spectrum (table, row, &swatch.reflectance);
  swatch.lab = ts_spectrum_to_lab (&swatch.reflectance, TS_LIGHT_D50);
  g_array_append_val (swatches, swatch);
}

typedef struct
{
  TsPaintSet *set;
  GArray *singles;
  GArray *mixes;
} Watercolours;

static void
load (Watercolours *self)
{
  g_autoptr (TsCsv) primaries = ts_test_table ("published/watercolour_primaries.csv");
  g_autoptr (TsCsv) mixtures = ts_test_table ("published/watercolour_mixtures.csv");
  TsSpectrum paper;

  self->set = make_set (primaries);
  self->singles = g_array_new (FALSE, FALSE, sizeof (TsSwatch));
  self->mixes = g_array_new (FALSE, FALSE, sizeof (TsSwatch));
  read_spectrum (primaries, 0, &paper);
  for (guint r = 1; r < ts_csv_get_n_rows (primaries); r++)
    add_swatch (self->singles, self->set, primaries, r,
                (const char *const[2]){ word_of (primaries, r, "paint"), NULL },
                (const double[2]){ ts_test_cell (primaries, r, "ml"), 0.0 }, &paper);
  for (guint r = 0; r < ts_csv_get_n_rows (mixtures); r++)
    add_swatch (
      self->mixes, self->set, mixtures, r,
      (const char *const[2]){ word_of (mixtures, r, "paint_a"), word_of (mixtures, r, "paint_b") },
      (const double[2]){ ts_test_cell (mixtures, r, "ml_a"), ts_test_cell (mixtures, r, "ml_b") },
      &paper);
  assert_int_equal (self->singles->len, 143);
  assert_int_equal (self->mixes->len, 360);
}

static void
unload (Watercolours *self)
{
  ts_paint_set_unref (self->set);
  g_array_unref (self->singles);
  g_array_unref (self->mixes);
}

static int
compare_doubles (const void *one, const void *other)
{
  double a = *(const double *) one;
  double b = *(const double *) other;

  return (a > b) - (a < b);
}

/* Median and 90 % share of how far the set's predictions lie from the swatches. */
static void
assess (const TsPaintSet *set, const GArray *swatches, double *median, double *most)
{
  g_autofree double *misses = g_new (double, swatches->len);

  for (guint s = 0; s < swatches->len; s++)
    {
      const TsSwatch *swatch = &g_array_index (swatches, TsSwatch, s);

      misses[s] = ts_delta_e_2000 (ts_swatch_predict (set, swatch, NULL), swatch->lab);
    }
  qsort (misses, swatches->len, sizeof *misses, compare_doubles);
  *median = misses[swatches->len / 2];
  *most = misses[swatches->len * 9 / 10];
}

/* The larger of its two paints' 95 % radii. */
static double
radius_of (const TsPaintSet *set, const TsSwatch *swatch)
{
  double radius = 0.0;

  for (guint i = 0; i < swatch->n_amounts; i++)
    radius =
      MAX (radius, ts_paint_get_error (ts_paint_set_get_paint (set, swatch->amounts[i].paint)));
  return radius;
}

/* Share of the mixes that lie as near as the set says they do in 95 of 100. */
static double
covered (const TsPaintSet *set, const GArray *mixes)
{
  guint n = 0;

  for (guint s = 0; s < mixes->len; s++)
    {
      const TsSwatch *mix = &g_array_index (mixes, TsSwatch, s);

      n += ts_delta_e_2000 (ts_swatch_predict (set, mix, NULL), mix->lab) <= radius_of (set, mix);
    }
  return (double) n / mixes->len;
}

static TsPaintFit *
fit (const TsPaintSet *set, const GArray *swatches)
{
  g_autoptr (GError) error = NULL;
  TsPaintFit *self = ts_paint_fit_new (set, (const TsSwatch *) (const void *) swatches->data,
                                       swatches->len, NULL, NULL, NULL, &error);

  assert_no_error (error);
  return self;
}

static void
test_swatches_only (void **state)
{
  Watercolours w;
  g_autoptr (TsPaintFit) result = NULL;
  double before, before_90, after, after_90;

  load (&w);
  result = fit (w.set, w.singles);
  assess (w.set, w.mixes, &before, &before_90);
  assess (ts_paint_fit_get_set (result), w.mixes, &after, &after_90);
  print_message ("thickest swatch alone: %.2f / %.2f; all single swatches: %.2f / %.2f\n", before,
                 before_90, after, after_90);
  assert_true (before <= 7.0);
  assert_true (before_90 <= 13.0);
  assert_true (after <= 4.2);
  assert_true (after_90 <= 8.5);
  assert_true (after < before && after_90 < before_90);
  /* What the sets say of their own error is neither boast nor excuse. */
  before = covered (w.set, w.mixes);
  after = covered (ts_paint_fit_get_set (result), w.mixes);
  print_message ("within the stated error: %.3f, %.3f\n", before, after);
  assert_true (before > 0.9 && before < 0.99);
  assert_true (after > 0.9 && after < 0.99);
  /* There is no mix to leave out. */
  assert_int_equal (ts_paint_fit_get_report (result)->n_left_out, 0);
  unload (&w);
}

static void
test_with_mixes (void **state)
{
  Watercolours w;
  g_autoptr (TsPaintFit) result = NULL;
  const TsFitReport *report;
  const TsFitMove *moves;
  const TsFitResidual *residuals;
  guint n_moves, n, n_covered = 0;

  load (&w);
  g_array_prepend_vals (w.singles, w.mixes->data, w.mixes->len);
  result = fit (w.set, w.singles);
  report = ts_paint_fit_get_report (result);
  print_message ("swatches and mixes: %.2f / %.2f; mixes of pairs not seen: %.2f / %.2f\n",
                 report->after_median, report->after_90, report->left_out_median,
                 report->left_out_90);
  assert_int_equal (report->n_left_out, 360);
  assert_true (report->left_out_median <= 2.0);
  assert_true (report->left_out_90 <= 4.3);

  moves = ts_paint_fit_get_moves (result, &n_moves);
  assert_int_equal (n_moves, 13);
  for (guint i = 0; i < n_moves; i++)
    assert_true (moves[i].error >= 4.0 && moves[i].error < 8.0);

  residuals = ts_paint_fit_get_residuals (result, &n);
  for (guint s = 0; s < w.mixes->len; s++)
    n_covered += residuals[s].left_out <=
                 radius_of (ts_paint_fit_get_set (result), &g_array_index (w.mixes, TsSwatch, s));
  print_message ("within the stated error: %.3f\n", n_covered / 360.0);
  assert_in_range (n_covered, 325, 355);
  unload (&w);
}

/* The same, where all that was measured of each swatch is its colour. */
static void
test_colours_alone (void **state)
{
  Watercolours w;
  g_autoptr (TsPaintFit) result = NULL;
  const TsFitReport *report;

  load (&w);
  g_array_append_vals (w.singles, w.mixes->data, w.mixes->len);
  for (guint s = 0; s < w.singles->len; s++)
    {
      TsSwatch *swatch = &g_array_index (w.singles, TsSwatch, s);

      assert_true (ts_spectrum_from_lab (swatch->lab, &swatch->reflectance, NULL));
      swatch->from_lab = TRUE;
    }
  result = fit (w.set, w.singles);
  report = ts_paint_fit_get_report (result);
  print_message ("from colours alone, mixes of pairs not seen: %.2f / %.2f\n",
                 report->left_out_median, report->left_out_90);
  assert_true (report->left_out_median <= 2.7);
  assert_true (report->left_out_90 <= 5.5);
  unload (&w);
}

/* Means over four draws of twenty mixes. */
static void
assess_random (const Watercolours *w, double *median, double *most)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (20);

  *median = *most = 0.0;
  for (int draw = 0; draw < 4; draw++)
    {
      g_autoptr (GArray) known = g_array_new (FALSE, FALSE, sizeof (TsSwatch));
      g_autoptr (GArray) others = g_array_new (FALSE, FALSE, sizeof (TsSwatch));
      g_autoptr (TsPaintFit) result = NULL;
      double one, other;
      guint left = 20;

      g_array_append_vals (known, w->singles->data, 143);
      for (guint s = 0; s < 360; s++)
        {
          gboolean taken = g_rand_int_range (random, 0, 360 - (gint32) s) < (gint32) left;

          left -= taken;
          g_array_append_vals (taken ? known : others, &g_array_index (w->mixes, TsSwatch, s), 1);
        }
      result = fit (w->set, known);
      assess (ts_paint_fit_get_set (result), others, &one, &other);
      *median += one / 4.0;
      *most += other / 4.0;
    }
}

/* Twenty mixes chosen without having seen any, painted, and the others predicted. */
static void
test_chosen_mixes (void **state)
{
  Watercolours w;
  g_autoptr (TsPaintFit) before = NULL;
  g_autoptr (TsPaintFit) after = NULL;
  g_autoptr (TsPaintDoubt) doubt = NULL;
  g_autoptr (GArray) others = g_array_new (FALSE, FALSE, sizeof (TsSwatch));
  guint paints[13], chosen[20], n_chosen;
  double median, most, random_median, random_most, spread[21];

  load (&w);
  before = fit (w.set, w.singles);
  for (guint p = 0; p < 13; p++)
    paints[p] = p;
  doubt = ts_paint_doubt_new (ts_paint_fit_get_set (before), paints, 13);
  for (guint s = 0; s < w.singles->len; s++)
    ts_paint_doubt_learn (doubt, &g_array_index (w.singles, TsSwatch, s));
  n_chosen = ts_paint_doubt_choose (doubt, (const TsSwatch *) (const void *) w.mixes->data, 360,
                                    (const TsSwatch *) (const void *) w.mixes->data, 360, 20, NULL,
                                    chosen, spread);
  assert_int_equal (n_chosen, 20);
  for (guint s = 0; s < 360; s++)
    {
      const TsSwatch *mix = &g_array_index (w.mixes, TsSwatch, s);
      gboolean is_chosen = FALSE;

      for (guint c = 0; c < n_chosen; c++)
        is_chosen |= chosen[c] == s;
      if (is_chosen)
        g_array_append_vals (w.singles, mix, 1);
      else
        g_array_append_vals (others, mix, 1);
    }
  after = fit (w.set, w.singles);
  assess (ts_paint_fit_get_set (after), others, &median, &most);
  g_array_set_size (w.singles, 143);
  assess_random (&w, &random_median, &random_most);
  print_message ("twenty chosen mixes: the other %u %.2f / %.2f; twenty at random %.2f / %.2f\n",
                 others->len, median, most, random_median, random_most);
  assert_true (spread[20] < spread[10] && spread[10] < spread[0]);
  assert_true (median <= 2.6);
  assert_true (most <= 5.2);
  assert_true (median < random_median && most < random_most);
  unload (&w);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_swatches_only),
    cmocka_unit_test (test_with_mixes),
    cmocka_unit_test (test_colours_alone),
    cmocka_unit_test (test_chosen_mixes),
  };

  return cmocka_run_group_tests_name ("paint/fit-published", tests, NULL, NULL);
}
