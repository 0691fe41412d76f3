/* test-journal.c: what a killed program leaves, and what a living one takes away
 *
 * A killed program is a real one: this test starts itself again and kills that.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <cairo.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "document/ts-journal.h"
#include "plan/ts-plan-file.h"

#define LIMIT_MS 30000

typedef struct
{
  char *folder;  /* of all */
  char *journal; /* folder of the journal */
  char *plan;    /* a saved plan */
  TsDocument *document;
  TsJournal *keeper;
  gboolean opened;
} Fixture;

static char *program; /* this test, as it was started */

static void
on_opened (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;

  ts_document_open_finish (TS_DOCUMENT (source), result, &error);
  assert_no_error (error);
  *(gboolean *) data = TRUE;
}

static gboolean
wake (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

static void
run_until (gboolean (*condition) (gpointer data), gpointer data)
{
  gint64 end = g_get_monotonic_time () + LIMIT_MS * G_TIME_SPAN_MILLISECOND;
  guint id = g_timeout_add (5, wake, NULL);

  while (!condition (data) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (id);
  assert_true (condition (data));
}

static gboolean
is_true (gpointer data)
{
  return *(gboolean *) data;
}

static void
open_path (TsDocument *document, const char *path)
{
  gboolean opened = FALSE;

  ts_document_open (document, path, on_opened, &opened);
  run_until (is_true, &opened);
}

static guint
count_files (const char *folder, const char *suffix)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint n = 0;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    n += g_str_has_suffix (name, suffix);
  return n;
}

static gboolean
is_kept (gpointer data)
{
  return count_files (data, ".tonestair") == 1;
}

static void
save_plan (const char *folder, const char *path)
{
  g_autofree char *picture = g_build_filename (folder, "grey.png", NULL);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 32, 32);
  g_autoptr (TsPlan) plan = ts_plan_new ();
  g_autoptr (GError) error = NULL;

  assert_int_equal (cairo_surface_write_to_png (surface, picture), CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
  g_free (plan->title);
  plan->title = g_strdup ("first");
  g_ptr_array_add (plan->pictures, ts_picture_new (picture, TS_ROLE_REFERENCE));
  ts_plan_save (plan, path, &error);
  assert_no_error (error);
}

static int
setup (void **state)
{
  Fixture *f = g_new0 (Fixture, 1);

  f->folder = g_dir_make_tmp ("tonestair-journal-XXXXXX", NULL);
  f->journal = g_build_filename (f->folder, "state", "journal", NULL);
  f->plan = g_build_filename (f->folder, "plan.tonestair", NULL);
  save_plan (f->folder, f->plan);
  f->document = ts_document_new ();
  f->keeper = ts_journal_new (f->document, f->journal);
  *state = f;
  return 0;
}

static int
teardown (void **state)
{
  Fixture *f = *state;

  ts_document_stop (f->document);
  g_object_run_dispose (G_OBJECT (f->keeper));
  g_object_unref (f->keeper);
  g_object_unref (f->document);
  ts_test_remove_folder (f->folder);
  g_free (f->journal);
  g_free (f->plan);
  g_free (f);
  return 0;
}

/* The other program: opens the plan, renames it, and says so once that is kept. */
static int
live_and_wait (const char *journal, const char *plan)
{
  g_autoptr (TsDocument) document = ts_document_new ();
  g_autoptr (TsJournal) keeper = ts_journal_new (document, journal);

  open_path (document, plan);
  ts_document_set_title (document, "second");
  run_until (is_kept, (gpointer) journal);
  g_print ("kept\n");
  fflush (stdout);
  g_usleep (LIMIT_MS * (gulong) 1000);
  return 1;
}

static GPid
start_other (Fixture *f)
{
  char *arguments[] = { program, (char *) "--live", f->journal, f->plan, NULL };
  GPid pid = 0;
  int out = -1;
  char said[8] = "";
  g_autoptr (GError) error = NULL;

  g_spawn_async_with_pipes (NULL, arguments, NULL, G_SPAWN_DO_NOT_REAP_CHILD, NULL, NULL, &pid,
                            NULL, &out, NULL, &error);
  assert_no_error (error);
  assert_int_equal (read (out, said, 4), 4);
  assert_string_equal (said, "kept");
  close (out);
  return pid;
}

static void
kill_other (GPid pid)
{
  int status;

  assert_int_equal (kill (pid, SIGKILL), 0);
  assert_int_equal (waitpid (pid, &status, 0), pid);
  g_spawn_close_pid (pid);
}

static gboolean
has_second_title (gpointer data)
{
  const TsPlan *plan = ts_document_get_plan (data);

  return plan != NULL && g_strcmp0 (plan->title, "second") == 0 && !ts_document_get_saved (data);
}

static gboolean
is_gone (gpointer path)
{
  return !g_file_test (path, G_FILE_TEST_EXISTS);
}

static void
test_killed (void **state)
{
  Fixture *f = *state;
  GPid pid = start_other (f);
  g_autoptr (GPtrArray) living = ts_journal_find_kept (f->journal);
  g_autoptr (GPtrArray) found = NULL, none = NULL;
  const TsKept *kept;

  /* It lives: it is nobody else's to open. */
  assert_int_equal (living->len, 0);
  kill_other (pid);
  found = ts_journal_find_kept (f->journal);
  assert_int_equal (found->len, 1);
  kept = g_ptr_array_index (found, 0);
  assert_string_equal (kept->origin, f->plan);

  ts_journal_open (f->keeper, kept);
  run_until (has_second_title, f->document);
  assert_string_equal (ts_document_get_path (f->document), f->plan);
  assert_non_null (ts_document_get_image (f->document, 0));
  /* What was found goes once it is kept anew: one, and it is ours. */
  ts_document_set_title (f->document, "third");
  run_until (is_gone, kept->plan_path);
  assert_int_equal (count_files (f->journal, ".tonestair"), 1);
  assert_int_equal (count_files (f->journal, ".mark"), 1);
  none = ts_journal_find_kept (f->journal);
  assert_int_equal (none->len, 0);
}

static void
test_found_stays_until_kept (void **state)
{
  Fixture *f = *state;
  g_autoptr (GPtrArray) found = NULL, again = NULL;

  kill_other (start_other (f));
  found = ts_journal_find_kept (f->journal);
  assert_int_equal (found->len, 1);
  again = ts_journal_find_kept (f->journal);
  assert_int_equal (again->len, 1);
  ts_journal_discard (g_ptr_array_index (again, 0));
  assert_int_equal (count_files (f->journal, ""), 0);
}

/* The plan is what counts: it is found with a mark that tells nothing, and a pipe is not waited
 * for. */
static void
test_spoilt_mark (void **state)
{
  Fixture *f = *state;
  g_autoptr (GPtrArray) found = NULL, piped = NULL, long_path = NULL;
  g_autofree char *mark = NULL, *many = g_strnfill (100000, 'x');
  const char *plan;

  kill_other (start_other (f));
  found = ts_journal_find_kept (f->journal);
  assert_int_equal (found->len, 1);
  plan = ((const TsKept *) g_ptr_array_index (found, 0))->plan_path;
  mark = g_strdup_printf ("%.*s.mark", (int) (strrchr (plan, '.') - plan), plan);
  assert_true (g_file_set_contents (mark, many, -1, NULL));
  long_path = ts_journal_find_kept (f->journal);
  assert_int_equal (long_path->len, 1);
  assert_null (((const TsKept *) g_ptr_array_index (long_path, 0))->origin);
  assert_int_equal (g_unlink (mark), 0);
  assert_int_equal (mkfifo (mark, 0600), 0);
  piped = ts_journal_find_kept (f->journal);
  assert_int_equal (piped->len, 1);
  assert_null (((const TsKept *) g_ptr_array_index (piped, 0))->origin);
}

static void
test_saved (void **state)
{
  Fixture *f = *state;
  g_autoptr (GError) error = NULL;

  open_path (f->document, f->plan);
  ts_document_set_title (f->document, "other");
  run_until (is_kept, f->journal);
  ts_document_save (f->document, f->plan, &error);
  assert_no_error (error);
  assert_int_equal (count_files (f->journal, ""), 0);
  /* Back to what is saved, there is nothing to keep either. */
  ts_document_set_title (f->document, "another");
  run_until (is_kept, f->journal);
  ts_document_undo (f->document);
  assert_int_equal (count_files (f->journal, ""), 0);
}

static gboolean
is_safe (gpointer journal)
{
  return ts_journal_is_safe (journal);
}

/* What the painter is told when saving fails: whether the changes would outlive the program. */
static void
test_safe (void **state)
{
  Fixture *f = *state;

  open_path (f->document, f->plan);
  assert_true (ts_journal_is_safe (f->keeper));
  ts_document_set_title (f->document, "other");
  assert_false (ts_journal_is_safe (f->keeper));
  run_until (is_safe, f->keeper);
  assert_true (is_kept (f->journal));
  ts_document_set_title (f->document, "another");
  assert_false (ts_journal_is_safe (f->keeper));
  ts_document_undo (f->document);
  ts_document_undo (f->document);
  assert_true (ts_journal_is_safe (f->keeper));
}

static void
test_closed_while_writing (void **state)
{
  Fixture *f = *state;

  open_path (f->document, f->plan);
  for (guint i = 0; i < 20; i++)
    {
      ts_document_set_title (f->document, i % 2 == 0 ? "a" : "b");
      ts_journal_flush (f->keeper);
      ts_document_undo (f->document);
      while (g_main_context_iteration (NULL, FALSE))
        ;
    }
  ts_document_set_title (f->document, "c");
  ts_journal_flush (f->keeper);
  ts_document_close (f->document);
  for (guint i = 0; i < 20; i++)
    {
      g_usleep (2000);
      while (g_main_context_iteration (NULL, FALSE))
        ;
    }
  assert_int_equal (count_files (f->journal, ""), 0);
}

static void
count_messages (TsDocument *document, const char *text, const char *action, const char *label,
                gboolean *told)
{
  *told = TRUE;
}

static void
test_no_folder (void **state)
{
  Fixture *f = *state;
  g_autofree char *state_folder = g_path_get_dirname (f->journal);
  gboolean told = FALSE;

  /* A file stands where the folder should be. */
  assert_true (g_file_set_contents (state_folder, "", 0, NULL));
  g_signal_connect (f->document, "message", G_CALLBACK (count_messages), &told);
  open_path (f->document, f->plan);
  ts_document_set_title (f->document, "other");
  ts_journal_flush (f->keeper);
  assert_true (told);
  assert_false (ts_journal_is_safe (f->keeper));
}

int
main (int argc, char **argv)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (test_killed, setup, teardown),
    cmocka_unit_test_setup_teardown (test_found_stays_until_kept, setup, teardown),
    cmocka_unit_test_setup_teardown (test_spoilt_mark, setup, teardown),
    cmocka_unit_test_setup_teardown (test_saved, setup, teardown),
    cmocka_unit_test_setup_teardown (test_safe, setup, teardown),
    cmocka_unit_test_setup_teardown (test_closed_while_writing, setup, teardown),
    cmocka_unit_test_setup_teardown (test_no_folder, setup, teardown),
  };

  if (argc == 4 && strcmp (argv[1], "--live") == 0)
    return live_and_wait (argv[2], argv[3]);
  program = argv[0];
  return cmocka_run_group_tests (tests, NULL, NULL);
}
