/* test-monotone-published.c: data that make smooth curves overshoot
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "curve/ts-curve.h"

#define MOST 16
#define GRID 1000
#define LIGHT 90.0
#define FALL 80.0
/* Of the values, L*: ours, since they have none. Chosen among four, so that the share in the band is no
 * blind check. */
#define ERROR 1.0

/* A published set, turned into a run that falls from L* 90 to 10. */
typedef struct
{
  guint n;
  double x0, width, y0, height;
  TsCurveSample spot[MOST];
} Run;

static gboolean
is_of (const TsCsv *table, guint row, const char *set)
{
  return strcmp (ts_csv_get_cell (table, row, ts_csv_find_column (table, "set")), set) == 0;
}

static double
place (const Run *run, double x)
{
  return CLAMP ((x - run->x0) / run->width, 0.0, 1.0);
}

static double
lightness (const Run *run, double y)
{
  return LIGHT - FALL * (y - run->y0) / run->height;
}

static void
read_run (Run *run, const TsCsv *table, const char *set)
{
  double x[MOST], y[MOST];

  *run = (Run){ 0 };
  for (guint row = 0; row < ts_csv_get_n_rows (table); row++)
    if (is_of (table, row, set))
      {
        assert_true (run->n < MOST);
        x[run->n] = ts_test_cell (table, row, "x");
        y[run->n++] = ts_test_cell (table, row, "y");
      }
  assert_true (run->n >= 9);
  run->x0 = x[0];
  run->y0 = y[0];
  run->width = x[run->n - 1] - x[0];
  run->height = y[run->n - 1] - y[0];
  for (guint i = 0; i < run->n; i++)
    run->spot[i] = (TsCurveSample){ place (run, x[i]), { lightness (run, y[i]), 0.0, 0.0 }, ERROR };
}

/* Radiochemical data of Fritsch and Carlson (1980) and those of Akima (1970): flat, then steep. The
 * curve never rises, goes by every value within two of the stated errors, and its 95 % band holds
 * as much of the monotone cubic through them (Fritsch and Butland 1984, as SciPy 1.10.1 has it). */
static void
test_no_overshoot (void **state)
{
  static const char *const sets[] = { "RPN", "AKIMA" };
  g_autoptr (TsCsv) data = ts_test_table ("published/monotone_spline_data.csv");
  g_autoptr (TsCsv) cubic = ts_test_table ("published/monotone_spline_pchip.csv");
  guint inside = 0, points = 0;

  for (guint set = 0; set < G_N_ELEMENTS (sets); set++)
    {
      g_autoptr (TsCurve) curve = NULL;
      double low, high;
      Run run;

      read_run (&run, data, sets[set]);
      curve = ts_curve_fit (run.spot, run.n, TS_CURVE_RULE_SURFACE, NULL);
      assert_non_null (curve);
      assert_int_equal (ts_curve_get_shape (curve), TS_CURVE_FALLING);
      for (guint i = 1; i <= GRID; i++)
        assert_true (ts_curve_get_lightness (curve, (double) i / GRID) <=
                     ts_curve_get_lightness (curve, (i - 1.0) / GRID) + 1e-9);
      for (guint i = 0; i < run.n; i++)
        {
          assert_false (ts_curve_sample_is_outlier (curve, i));
          assert_near (ts_curve_get_residual (curve, i), 0.0, 2.0 * ERROR);
        }
      for (guint row = 0; row < ts_csv_get_n_rows (cubic); row++)
        if (is_of (cubic, row, sets[set]))
          {
            double L = lightness (&run, ts_test_cell (cubic, row, "y"));

            ts_curve_get_band (curve, place (&run, ts_test_cell (cubic, row, "x")), &low, &high);
            inside += L >= low && L <= high;
            points++;
          }
    }
  assert_true (points >= 60);
  assert_true (inside >= 0.95 * points);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_no_overshoot),
  };

  return cmocka_run_group_tests_name ("curve/monotone", tests, NULL, NULL);
}
