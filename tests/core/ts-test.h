/* ts-test.h: what every core test shares
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/ts-csv.h"

/* Path of a file below tests/fixtures; free with g_free(). */
char   *ts_test_fixture        (const char   *name);
/* Path of a file below the top of the source tree. */
char   *ts_test_source         (const char   *name);
/* A folder of its own, empty, removed by ts_test_remove_folder(). */
char   *ts_test_make_folder    (void);
void    ts_test_remove_folder  (char         *path);
/* A published table; fails the test where it cannot be read. */
TsCsv  *ts_test_table          (const char   *name);
double  ts_test_cell           (const TsCsv  *table,
                                guint         row,
                                const char   *column);

void    ts_test_assert_near    (double        got,
                                double        want,
                                double        tolerance,
                                const char   *what,
                                const char   *file,
                                int           line);

/* |got - want| <= tolerance; NaN fails. */
#define assert_near(got, want, tolerance) \
  ts_test_assert_near ((got), (want), (tolerance), #got, __FILE__, __LINE__)
#define assert_no_error(error) \
  do { if (error) fail_msg ("unexpected error: %s", (error)->message); } while (0)
