/* ts-test.c: what every core test shares
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <glib/gstdio.h>

char *
ts_test_fixture (const char *name)
{
  const char *top = g_getenv ("TS_TEST_FIXTURES");

  return g_build_filename (top != NULL ? top : "tests/fixtures", name, NULL);
}

char *
ts_test_source (const char *name)
{
  const char *top = g_getenv ("TS_TEST_SOURCE");

  return g_build_filename (top != NULL ? top : ".", name, NULL);
}

char *
ts_test_make_folder (void)
{
  g_autoptr (GError) error = NULL;
  char *path = g_dir_make_tmp ("tonestair-XXXXXX", &error);

  assert_no_error (error);
  return path;
}

void
ts_test_remove_folder (char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *file = g_build_filename (path, name, NULL);

      if (g_file_test (file, G_FILE_TEST_IS_DIR) && !g_file_test (file, G_FILE_TEST_IS_SYMLINK))
        ts_test_remove_folder (g_steal_pointer (&file));
      else
        g_unlink (file);
    }
  g_rmdir (path);
  g_free (path);
}

TsCsv *
ts_test_table (const char *name)
{
  g_autofree char *path = ts_test_fixture (name);
  g_autoptr (GError) error = NULL;
  TsCsv *table = ts_csv_load (path, &error);

  assert_no_error (error);
  return table;
}

double
ts_test_cell (const TsCsv *table, guint row, const char *column)
{
  int index = ts_csv_find_column (table, column);
  double number = 0.0;
  g_autoptr (GError) error = NULL;

  if (index < 0)
    fail_msg ("no column %s", column);
  ts_csv_get_number (table, row, index, -G_MAXDOUBLE, G_MAXDOUBLE, &number, &error);
  assert_no_error (error);
  return number;
}

void
ts_test_assert_near (double got, double want, double tolerance, const char *what, const char *file,
                     int line)
{
  if (!(fabs (got - want) <= tolerance))
    {
      print_error ("%s is %.12g, wanted %.12g within %g\n", what, got, want, tolerance);
      _fail (file, line);
    }
}
