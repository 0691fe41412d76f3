/* test-isotonic-published.c: the fit of a shape against isotonic regression
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "curve/ts-curve-shape.h"

/* Where no value leans on its neighbours, the fit of a rising shape is weighted isotonic regression
 * (Ayer, Brunk, Ewing, Reid and Silverman 1955). The table's values were checked with
 * scikit-learn's and with R's isotonic regression. */
static void
check_case (const TsCsv *table, guint first, guint n)
{
  TsBand precision;
  TsCurveTies ties = { .turn = 0 };
  double right[TS_BAND_MAX], coefficients[TS_BAND_MAX];

  assert_in_range (n, 1, TS_BAND_MAX);
  ts_band_init (&precision, n);
  for (guint i = 0; i < n; i++)
    {
      precision.row[i][0] = ts_test_cell (table, first + i, "w");
      right[i] = precision.row[i][0] * ts_test_cell (table, first + i, "y");
    }
  ts_curve_shape_solve (&precision, right, &ties, coefficients);
  for (guint i = 0; i < n; i++)
    assert_near (coefficients[i], ts_test_cell (table, first + i, "fit"), 1e-10);
}

static void
test_isotonic (void **state)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/isotonic_checks.csv");
  int column = ts_csv_find_column (table, "case");
  guint rows = ts_csv_get_n_rows (table), first = 0, cases = 0;

  for (guint row = 1; row <= rows; row++)
    if (row == rows ||
        strcmp (ts_csv_get_cell (table, row, column), ts_csv_get_cell (table, first, column)) != 0)
      {
        check_case (table, first, row - first);
        first = row;
        cases++;
      }
  assert_true (cases >= 5);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_isotonic),
  };

  return cmocka_run_group_tests_name ("curve/isotonic", tests, NULL, NULL);
}
