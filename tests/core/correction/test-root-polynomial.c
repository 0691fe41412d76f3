/* test-root-polynomial.c: the terms of Finlayson, Mackiewicz and Hurlbert (2015)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <string.h>

#include "correction/ts-correction-private.h"

static const char *const names[TS_CORRECTION_MAX_TERMS] = {
  "r",           "g",           "b",           "sqrt(rg)",    "sqrt(gb)",
  "sqrt(rb)",    "cbrt(r g^2)", "cbrt(g b^2)", "cbrt(r b^2)", "cbrt(g r^2)",
  "cbrt(b g^2)", "cbrt(b r^2)", "cbrt(rgb)",
};

/* Values of the fixture, which names its source. */
static void
test_published_terms (void **state)
{
  static const guint counts[] = { 0, 3, 6, 13 };
  g_autoptr (TsCsv) table = ts_test_table ("published/root_polynomial_terms.csv");
  int term = ts_csv_find_column (table, "term");
  guint checked = 0;

  for (guint row = 0; row < ts_csv_get_n_rows (table); row++)
    {
      double terms[TS_CORRECTION_MAX_TERMS], degree = ts_test_cell (table, row, "degree");
      TsRgb rgb = { ts_test_cell (table, row, "r"), ts_test_cell (table, row, "g"),
                    ts_test_cell (table, row, "b") };

      if (degree > 3.0)
        continue;
      ts_correction_terms (rgb, counts[(guint) degree], terms);
      for (guint k = 0; k < counts[(guint) degree]; k++)
        if (g_str_equal (ts_csv_get_cell (table, row, (guint) term), names[k]))
          {
            assert_near (terms[k], ts_test_cell (table, row, "value"), 1e-11);
            checked++;
          }
    }
  assert_int_equal (checked, 4 * (3 + 6 + 13));
}

/* Every term scales as exposure does (same paper). */
static void
test_exposure (void **state)
{
  double one[TS_CORRECTION_MAX_TERMS], two[TS_CORRECTION_MAX_TERMS];

  ts_correction_terms ((TsRgb){ 0.3, 0.1, 0.05 }, 13, one);
  ts_correction_terms ((TsRgb){ 0.6, 0.2, 0.1 }, 13, two);
  for (int k = 0; k < 13; k++)
    assert_near (two[k], 2.0 * one[k], 1e-15);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_published_terms),
    cmocka_unit_test (test_exposure),
  };

  return cmocka_run_group_tests_name ("correction/root-polynomial", tests, NULL, NULL);
}
