/* test-root-polynomial.c: the terms of Finlayson, Mackiewicz and Hurlbert (2015)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <string.h>

#include "correction/ts-correction-private.h"

/* Values of the fixture, which names its source; the order of the roots there is looked up by name.
 */
static void
test_published_terms (void **state)
{
  static const char *const names[2][3] = { { "r", "g", "b" }, { "rg", "gb", "rb" } };
  g_autoptr (TsCsv) table = ts_test_table ("published/root_polynomial_terms.csv");
  int term = ts_csv_find_column (table, "term");
  guint checked = 0;

  for (guint row = 0; row < ts_csv_get_n_rows (table); row++)
    {
      double terms[TS_CORRECTION_MAX_TERMS], degree = 0.0;
      const char *name = ts_csv_get_cell (table, row, term);
      TsRgb rgb;

      if (!ts_csv_get_number (table, row, ts_csv_find_column (table, "degree"), 1, 4, &degree,
                              NULL) ||
          degree > 2.0)
        continue;
      rgb = (TsRgb){ ts_test_cell (table, row, "r"), ts_test_cell (table, row, "g"),
                     ts_test_cell (table, row, "b") };
      ts_correction_terms (rgb, degree > 1.0 ? 6 : 3, terms);
      for (guint k = 0; k < (degree > 1.0 ? 6u : 3u); k++)
        if (strcmp (name, names[0][k % 3]) == 0 ? k < 3
                                                : k >= 3 && strstr (name, names[1][k - 3]) != NULL)
          {
            assert_near (terms[k], ts_test_cell (table, row, "value"), 1e-11);
            checked++;
          }
    }
  assert_int_equal (checked, 4 * (3 + 6));
}

/* Every term scales as exposure does (same paper). */
static void
test_exposure (void **state)
{
  double one[TS_CORRECTION_MAX_TERMS], two[TS_CORRECTION_MAX_TERMS];

  ts_correction_terms ((TsRgb){ 0.3, 0.1, 0.05 }, 6, one);
  ts_correction_terms ((TsRgb){ 0.6, 0.2, 0.1 }, 6, two);
  for (int k = 0; k < 6; k++)
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
