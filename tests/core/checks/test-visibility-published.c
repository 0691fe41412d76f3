/* test-visibility-published.c: what the eye can see, against published figures
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "checks/ts-check-contrast.h"
#include "checks/ts-visibility.h"

/* Barten (1999), with all parameters; the table agrees with the library colour 0.4.6 to 3e-15. */
static void
test_sensitivity (void **state)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/csf_barten1999.csv");
  guint rows = ts_csv_get_n_rows (table);

  assert_in_range (rows, 40, 100);
  for (guint row = 0; row < rows; row++)
    {
      double want = ts_test_cell (table, row, "S");
      double got =
        ts_contrast_sensitivity (ts_test_cell (table, row, "L"), ts_test_cell (table, row, "X0"),
                                 ts_test_cell (table, row, "cpd"));

      /* Nine digits are printed at most, six after the point. */
      assert_near (got, want, 1e-8 * want + 1e-6);
      assert_near (1.0 / got, ts_test_cell (table, row, "threshold_contrast"),
                   1e-7 * ts_test_cell (table, row, "threshold_contrast"));
    }
}

/* Mannos and Sakrison (1974) measured the same thing by other means: where neither is far down its
 * slope, both put the best seen frequency within an octave of each other. */
static void
test_peak (void **state)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/csf_mannos_sakrison.csv");
  double best = 0.0, most = 0.0, our_best = 0.0, our_most = 0.0;

  for (guint row = 0; row < ts_csv_get_n_rows (table); row++)
    {
      double cpd = ts_test_cell (table, row, "cpd"), A = ts_test_cell (table, row, "A");
      double S = cpd > 0.0 ? ts_contrast_sensitivity (100.0, 10.0, cpd) : 0.0;

      if (A > most)
        {
          most = A;
          best = cpd;
        }
      if (S > our_most)
        {
          our_most = S;
          our_best = cpd;
        }
    }
  assert_true (our_best >= 0.5 * best * 0.7 && our_best <= 2.0 * best);
}

/* The contrast that is held against the threshold is Michelson's, of the two luminances. */
static void
test_contrast (void **state)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/contrast_checks.csv");
  TsContrastSettings settings;

  ts_contrast_settings_init (&settings);
  for (guint row = 0; row < ts_csv_get_n_rows (table); row++)
    {
      double L1 = ts_test_cell (table, row, "L1"), L2 = ts_test_cell (table, row, "L2");
      double Y = ts_test_cell (table, row, "Y1") + ts_test_cell (table, row, "Y2");
      double period = 2.0 * atan (settings.band / settings.distance) * 180.0 / G_PI;
      double threshold =
        1.0 / ts_contrast_sensitivity (settings.luminance * Y / 2.0, period, 1.0 / period);
      TsContrast got = ts_contrast_check ((TsLab){ L2, 0, 0 }, (TsLab){ L1, 0, 0 }, 0, &settings);

      assert_near (got.delta_L, ts_test_cell (table, row, "dL"), 1e-7);
      assert_near (got.visibility * threshold, ts_test_cell (table, row, "michelson"), 1e-7);
    }
}

/* The least step must be one that all published observers see side by side on a print or a screen.
 */
static void
test_thresholds (void **state)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/lightness_thresholds.csv");
  int quantity = ts_csv_find_column (table, "quantity");
  TsContrastSettings settings;
  guint used = 0;

  ts_contrast_settings_init (&settings);
  for (guint row = 0; row < ts_csv_get_n_rows (table); row++)
    if (strcmp (ts_csv_get_cell (table, row, quantity), "dL*") == 0)
      {
        double threshold = ts_test_cell (table, row, "value");
        TsLab lit = { 50.0 + threshold, 0, 0 }, shadow = { 50.0, 0, 0 };

        assert_true (threshold < settings.least_step);
        assert_int_equal (ts_contrast_check (lit, shadow, 0, &settings).verdict,
                          TS_VERDICT_TOO_CLOSE);
        used++;
      }
  assert_int_equal (used, 2);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_sensitivity),
    cmocka_unit_test (test_peak),
    cmocka_unit_test (test_contrast),
    cmocka_unit_test (test_thresholds),
  };

  return cmocka_run_group_tests_name ("checks/visibility", tests, NULL, NULL);
}
