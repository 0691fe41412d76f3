/* rows.h: a published table as tests, one a row
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "ts-test.h"

/* The state of each test: its row. */
typedef struct
{
  TsCsv *table;
  guint  row;
} Row;

#define row_number(row, column) ts_test_cell ((row)->table, (row)->row, (column))

static inline const char *
row_word (const Row *row, const char *column)
{
  return ts_csv_get_cell (row->table, row->row, ts_csv_find_column (row->table, column));
}

/* Runs @function on each row of a table below tests/fixtures; returns the number that failed. */
static inline int
run_rows (const char *fixture, CMUnitTestFunction function)
{
  g_autoptr (TsCsv) table = ts_test_table (fixture);
  guint n = ts_csv_get_n_rows (table);
  g_autofree struct CMUnitTest *tests = g_new0 (struct CMUnitTest, n);
  g_autofree Row *rows = g_new0 (Row, n);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  int failed;

  for (guint i = 0; i < n; i++)
    {
      char *name = g_strdup_printf ("%s line %u", fixture, ts_csv_get_line (table, i));

      g_ptr_array_add (names, name);
      rows[i] = (Row){ table, i };
      tests[i] = (struct CMUnitTest){ name, function, NULL, NULL, &rows[i] };
    }
  failed = _cmocka_run_group_tests (fixture, tests, n, NULL, NULL);
  return n > 0 ? failed : 1;
}
