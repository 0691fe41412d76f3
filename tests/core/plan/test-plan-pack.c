/* test-plan-pack.c: a plan and its pictures in a folder of their own
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <glib/gstdio.h>

#include "base/ts-error.h"
#include "plan/ts-plan-file.h"
#include "plan/ts-plan-pack.h"

static char *
write_file (const char *folder, const char *inner, const char *name, const char *text)
{
  g_autofree char *place = g_build_filename (folder, inner, NULL);
  char *path = g_build_filename (place, name, NULL);

  assert_int_equal (g_mkdir_with_parents (place, 0755), 0);
  assert_true (g_file_set_contents (path, text, -1, NULL));
  return path;
}

static void
assert_contents (const char *path, const char *want)
{
  g_autofree char *got = NULL;

  assert_true (g_file_get_contents (path, &got, NULL, NULL));
  assert_string_equal (got, want);
}

/* Two photographs of one name, one of them also the source of the other's correction. */
static TsPlan *
new_plan (const char *one, const char *other)
{
  TsPlan *plan = ts_plan_new ();
  TsPicture *reference = ts_picture_new (one, TS_ROLE_REFERENCE);
  TsPicture *finished = ts_picture_new (other, TS_ROLE_FINISHED);

  g_free (plan->title);
  plan->title = g_strdup ("A keeper / second try");
  finished->correction.source = g_strdup (one);
  g_ptr_array_add (plan->pictures, reference);
  g_ptr_array_add (plan->pictures, finished);
  return plan;
}

static void
test_packed (void **state)
{
  char *folder = ts_test_make_folder ();
  g_autofree char *one = write_file (folder, "one", "figure.jpg", "first");
  g_autofree char *other = write_file (folder, "other", "figure.jpg", "second");
  g_autoptr (TsPlan) plan = new_plan (one, other), again = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = ts_plan_pack (plan, folder, &error);
  g_autofree char *twice = ts_plan_pack (plan, folder, NULL);
  g_autofree char *place = NULL, *moved = NULL, *moved_path = NULL, *name = NULL;

  assert_null (error);
  name = g_path_get_basename (path);
  assert_string_equal (name, "A keeper - second try.tonestair");
  assert_non_null (twice);
  assert_string_not_equal (path, twice);

  /* It goes anywhere, and the photographs it came from are no longer needed. */
  place = g_path_get_dirname (path);
  moved = g_build_filename (folder, "elsewhere", NULL);
  assert_int_equal (g_rename (place, moved), 0);
  assert_int_equal (g_unlink (one), 0);
  moved_path = g_build_filename (moved, name, NULL);
  again = ts_plan_load (moved_path, &error);
  assert_null (error);
  assert_contents (ts_plan_get_picture (again, 0)->path, "first");
  assert_contents (ts_plan_get_picture (again, 1)->path, "second");
  assert_string_equal (ts_plan_get_picture (again, 1)->correction.source,
                       ts_plan_get_picture (again, 0)->path);
  assert_true (g_str_has_prefix (ts_plan_get_picture (again, 1)->path, moved));
  /* The plan that was packed is as it was. */
  assert_string_equal (ts_plan_get_picture (plan, 0)->path, one);
  ts_test_remove_folder (folder);
}

static guint
count_entries (const char *folder)
{
  g_autoptr (GDir) files = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (files) != NULL)
    n++;
  return n;
}

/* Whole or not at all. */
static void
test_missing (void **state)
{
  char *folder = ts_test_make_folder ();
  g_autofree char *one = write_file (folder, "one", "figure.jpg", "first");
  g_autofree char *gone = g_build_filename (folder, "gone.jpg", NULL);
  g_autofree char *nowhere = g_build_filename (folder, "nowhere", NULL);
  g_autoptr (TsPlan) plan = new_plan (one, gone);
  g_autoptr (GError) error = NULL;

  assert_null (ts_plan_pack (plan, folder, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_NOT_FOUND));
  assert_non_null (strstr (error->message, "gone.jpg"));
  assert_int_equal (count_entries (folder), 1);
  g_clear_error (&error);
  assert_null (ts_plan_pack (plan, nowhere, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_IO));
  ts_test_remove_folder (folder);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_packed),
    cmocka_unit_test (test_missing),
  };

  return cmocka_run_group_tests (tests, NULL, NULL);
}
