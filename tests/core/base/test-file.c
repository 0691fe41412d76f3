/* test-file.c: reading files up to a limit, saving them whole or not at all
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/ts-error.h"
#include "base/ts-file.h"

static int
set_up (void **state)
{
  *state = ts_test_make_folder ();
  return 0;
}

static int
tear_down (void **state)
{
  ts_test_remove_folder (*state);
  return 0;
}

static void
assert_content (const char *path, const char *want)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = ts_file_read (path, 1 << 20, &error);

  assert_no_error (error);
  assert_int_equal (g_bytes_get_size (bytes), strlen (want));
  assert_memory_equal (g_bytes_get_data (bytes, NULL), want, strlen (want));
}

static guint
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
save (const char *path, const char *text, TsFileSaveFlags flags)
{
  g_autoptr (GError) error = NULL;

  ts_file_save (path, text, strlen (text), flags, &error);
  assert_no_error (error);
}

static void
test_save_and_read (void **state)
{
  g_autofree char *path = g_build_filename (*state, "a.txt", NULL);
  g_autofree char *backup = g_strconcat (path, "~", NULL);

  save (path, "one", TS_FILE_SAVE_BACKUP);
  assert_content (path, "one");
  assert_int_equal (count_files (*state), 1);
  save (path, "two", TS_FILE_SAVE_PLAIN);
  assert_content (path, "two");
  assert_int_equal (count_files (*state), 1);
  save (path, "three", TS_FILE_SAVE_BACKUP);
  assert_content (path, "three");
  assert_content (backup, "two");
  save (path, "", TS_FILE_SAVE_BACKUP);
  assert_content (path, "");
  assert_content (backup, "three");
  assert_int_equal (count_files (*state), 2);
}

static void
test_mode_and_links (void **state)
{
  g_autofree char *path = g_build_filename (*state, "real.txt", NULL);
  g_autofree char *link_path = g_build_filename (*state, "link.txt", NULL);
  struct stat info;

  save (path, "one", TS_FILE_SAVE_PLAIN);
  assert_int_equal (g_chmod (path, 0640), 0);
  assert_int_equal (symlink ("real.txt", link_path), 0);
  save (link_path, "two", TS_FILE_SAVE_PLAIN);
  assert_content (path, "two");
  assert_int_equal (lstat (link_path, &info), 0);
  assert_true (S_ISLNK (info.st_mode));
  assert_int_equal (stat (path, &info), 0);
  assert_int_equal (info.st_mode & 07777, 0640);
}

static void
test_backup_of_same_file (void **state)
{
  g_autofree char *path = g_build_filename (*state, "a", NULL);
  g_autofree char *backup = g_strconcat (path, "~", NULL);

  save (path, "one", TS_FILE_SAVE_PLAIN);
  assert_int_equal (link (path, backup), 0);
  save (path, "two", TS_FILE_SAVE_BACKUP);
  assert_content (path, "two");
  assert_content (backup, "one");
  assert_int_equal (count_files (*state), 2);
}

static void
test_limit (void **state)
{
  g_autofree char *path = g_build_filename (*state, "a", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = NULL;

  save (path, "12345", TS_FILE_SAVE_PLAIN);
  assert_null (ts_file_read (path, 4, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_LARGE));
  g_clear_error (&error);
  bytes = ts_file_read (path, 5, &error);
  assert_no_error (error);
}

/* A regular file of size 0 that has content: what is under /proc promises too little. */
static void
test_size_is_not_believed (void **state)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = NULL;

  if (!g_file_test ("/proc/self/status", G_FILE_TEST_IS_REGULAR))
    skip ();
  bytes = ts_file_read ("/proc/self/status", 1 << 20, &error);
  assert_no_error (error);
  assert_true (g_bytes_get_size (bytes) > 100);
  assert_null (ts_file_read ("/proc/self/status", 50, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_LARGE));
}

static void
test_refuses_what_is_no_file (void **state)
{
  g_autofree char *pipe_path = g_build_filename (*state, "pipe", NULL);
  g_autofree char *none = g_build_filename (*state, "none", NULL);
  const char *const paths[] = { pipe_path, *state, "/dev/null", none };
  const int codes[] = { TS_ERROR_IO, TS_ERROR_IO, TS_ERROR_IO, TS_ERROR_NOT_FOUND };

  assert_int_equal (mkfifo (pipe_path, 0600), 0);
  for (guint i = 0; i < G_N_ELEMENTS (paths); i++)
    {
      g_autoptr (GError) error = NULL;

      assert_null (ts_file_read (paths[i], 100, &error));
      assert_true (g_error_matches (error, TS_ERROR, codes[i]));
      assert_non_null (strstr (error->message, paths[i]));
    }
  for (guint i = 0; i < 3; i++)
    {
      g_autoptr (GError) error = NULL;

      assert_false (ts_file_save (paths[i], "x", 1, TS_FILE_SAVE_PLAIN, &error));
      assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_IO));
    }
}

static void
test_no_such_folder (void **state)
{
  g_autofree char *path = g_build_filename (*state, "none", "a", NULL);
  g_autoptr (GError) error = NULL;

  assert_false (ts_file_save (path, "x", 1, TS_FILE_SAVE_PLAIN, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_IO));
}

/* A file size limit fails write() half way, as a full disk does. */
static void
test_full_disk_leaves_the_old_file (void **state)
{
  g_autofree char *path = g_build_filename (*state, "a", NULL);
  g_autofree char *much = g_strnfill (100000, 'x');
  g_autoptr (GError) error = NULL;
  struct rlimit old, small;

  save (path, "old", TS_FILE_SAVE_PLAIN);
  assert_int_equal (getrlimit (RLIMIT_FSIZE, &old), 0);
  small = old;
  small.rlim_cur = 5000;
  signal (SIGXFSZ, SIG_IGN);
  assert_int_equal (setrlimit (RLIMIT_FSIZE, &small), 0);
  assert_false (ts_file_save (path, much, 100000, TS_FILE_SAVE_BACKUP, &error));
  assert_int_equal (setrlimit (RLIMIT_FSIZE, &old), 0);
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_IO));
  assert_content (path, "old");
  assert_int_equal (count_files (*state), 1);
}

/* While one thread saves, another always reads the whole old or the whole new file. */
#define BIG 200000
#define TURNS 40

static gpointer
save_turns (gpointer path)
{
  g_autofree char *text = g_malloc (BIG);

  for (int i = 0; i < TURNS; i++)
    {
      memset (text, 'a' + i % 26, BIG);
      if (!ts_file_save (path, text, BIG, TS_FILE_SAVE_BACKUP, NULL))
        return NULL;
    }
  return path;
}

static void
test_reader_never_sees_half (void **state)
{
  g_autofree char *path = g_build_filename (*state, "a", NULL);
  g_autofree char *backup = g_strconcat (path, "~", NULL);
  g_autofree char *text = g_strnfill (BIG, 'z');
  const char *const paths[] = { path, backup };
  GThread *thread;

  save (path, text, TS_FILE_SAVE_PLAIN);
  save (path, text, TS_FILE_SAVE_BACKUP);
  thread = g_thread_new ("save", save_turns, path);
  for (int i = 0; i < 100; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) bytes = ts_file_read (paths[i % 2], BIG, &error);
      const char *data;

      assert_no_error (error);
      data = g_bytes_get_data (bytes, NULL);
      assert_int_equal (g_bytes_get_size (bytes), BIG);
      assert_memory_equal (data, data + 1, BIG - 1);
    }
  assert_non_null (g_thread_join (thread));
}

/* FIPS 180-4's example "abc", and the empty message (NIST CAVP SHA256ShortMsg, length 0). */
static void
test_sha256 (void **state)
{
  g_autoptr (GBytes) abc = g_bytes_new_static ("abc", 3);
  g_autoptr (GBytes) none = g_bytes_new_static ("", 0);
  g_autofree char *of_abc = ts_file_dup_sha256 (abc);
  g_autofree char *of_none = ts_file_dup_sha256 (none);

  assert_string_equal (of_abc, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  assert_string_equal (of_none, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

#define TEST(function) cmocka_unit_test_setup_teardown (function, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    TEST (test_save_and_read),          TEST (test_mode_and_links),
    TEST (test_backup_of_same_file),    TEST (test_limit),
    TEST (test_size_is_not_believed),   TEST (test_refuses_what_is_no_file),
    TEST (test_no_such_folder),         TEST (test_full_disk_leaves_the_old_file),
    TEST (test_reader_never_sees_half), cmocka_unit_test (test_sha256),
  };

  return cmocka_run_group_tests_name ("base/file", tests, NULL, NULL);
}
