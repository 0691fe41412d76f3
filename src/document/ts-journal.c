/* ts-journal.c: keeps what a document has not saved, so that a crash or a power cut loses nothing
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-journal.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include "base/ts-file.h"
#include "document/ts-document-private.h"
#include "plan/ts-plan-file.h"

/* A drag is one change and then another: what it comes to is worth keeping. */
#define WAIT_MS 1000

#define MOST_ORIGIN_BYTES 4096 /* PATH_MAX */

#define MARK_SUFFIX ".mark"
#define PLAN_SUFFIX ".tonestair"

/* In @folder stand two files: ID.mark, locked as long as its program lives, whose text is the path
 * of the plan's own file, and ID.tonestair, the plan. */
struct _TsJournal
{
  GObject parent_instance;

  TsDocument *document; /* owned */
  char *folder;         /* owned */
  GMutex mutex;         /* holds id, and the files against the thread that writes */
  char *id;             /* owned, NULL: nothing is kept */
  int lock;             /* of ID.mark, or -1 */
  TsPlan *kept;         /* owned: as it was written last, or NULL */
  TsKept *from;         /* owned, NULL: what was opened, and is not kept anew yet */
  guint source;
  gboolean opening; /* what was kept is being opened, and counts as saved until it is there */
  gboolean writing;
  gboolean told; /* that it cannot be kept */
};

typedef struct
{
  TsPlan *plan; /* owned */
  char *id;     /* owned */
} KeepJob;

G_DEFINE_FINAL_TYPE (TsJournal, ts_journal, G_TYPE_OBJECT)

static void queue (TsJournal *self);

static void
keep_job_free (gpointer data)
{
  KeepJob *job = data;

  ts_plan_unref (job->plan);
  g_free (job->id);
  g_free (job);
}

static char *
build_path (const char *folder, const char *id, const char *suffix)
{
  g_autofree char *name = g_strconcat (id, suffix, NULL);

  return g_build_filename (folder, name, NULL);
}

/* Opens and locks; -1 where another program holds it, or where it cannot be opened. */
static int
lock_mark (const char *path, int flags)
{
  int fd = open (path, flags | O_CLOEXEC, 0600);

  if (fd >= 0 && flock (fd, LOCK_EX | LOCK_NB) != 0)
    {
      close (fd);
      fd = -1;
    }
  return fd;
}

static gboolean
write_origin (int fd, const char *origin)
{
  gsize n = origin != NULL ? strlen (origin) : 0;

  return ftruncate (fd, 0) == 0 && lseek (fd, 0, SEEK_SET) == 0 &&
         (n == 0 || write (fd, origin, n) == (gssize) n);
}

static gboolean
begin (TsJournal *self)
{
  g_autofree char *path = NULL;

  if (self->id != NULL)
    return TRUE;
  if (g_mkdir_with_parents (self->folder, 0700) != 0)
    return FALSE;
  self->id = g_uuid_string_random ();
  path = build_path (self->folder, self->id, MARK_SUFFIX);
  self->lock = lock_mark (path, O_RDWR | O_CREAT | O_EXCL);
  if (self->lock < 0)
    g_clear_pointer (&self->id, g_free);
  return self->id != NULL;
}

/* Takes away what is kept. */
static void
end (TsJournal *self)
{
  g_autofree char *mark = NULL, *plan = NULL;

  g_clear_pointer (&self->kept, ts_plan_unref);
  if (self->id == NULL)
    return;
  mark = build_path (self->folder, self->id, MARK_SUFFIX);
  plan = build_path (self->folder, self->id, PLAN_SUFFIX);
  g_mutex_lock (&self->mutex);
  g_unlink (plan);
  g_unlink (mark);
  close (self->lock);
  self->lock = -1;
  g_clear_pointer (&self->id, g_free);
  g_mutex_unlock (&self->mutex);
}

static void
tell_once (TsJournal *self, const char *why)
{
  g_autofree char *text = g_strdup_printf (
    _ ("What is not saved cannot be kept for the worst case: %s Save often."), why);

  if (!self->told && self->document != NULL)
    ts_document_tell (self->document, text, NULL, NULL);
  self->told = TRUE;
}

static gboolean
needs_keeping (TsJournal *self)
{
  return self->document->plan != NULL && !ts_document_get_saved (self->document);
}

static void
on_kept (GObject *source, GAsyncResult *result, gpointer data)
{
  TsJournal *self = TS_JOURNAL (source);
  KeepJob *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;

  self->writing = FALSE;
  if (!g_task_propagate_boolean (G_TASK (result), &error))
    tell_once (self, error->message);
  else if (g_strcmp0 (self->id, job->id) == 0)
    {
      g_clear_pointer (&self->kept, ts_plan_unref);
      self->kept = ts_plan_ref (job->plan);
      self->told = FALSE;
      if (self->from != NULL)
        ts_journal_discard (self->from);
      g_clear_pointer (&self->from, ts_kept_free);
    }
  /* It may have changed while it was written. */
  if (error == NULL && self->document != NULL && needs_keeping (self) &&
      self->kept != self->document->plan)
    queue (self);
}

static void
keep_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  TsJournal *self = TS_JOURNAL (source);
  KeepJob *job = task_data;
  g_autofree char *path = build_path (self->folder, job->id, PLAN_SUFFIX);
  g_autofree char *text = ts_plan_to_text (job->plan, self->folder);
  GError *error = NULL;

  g_mutex_lock (&self->mutex);
  /* It may have been saved or closed meanwhile: then nothing must be left behind. */
  if (g_strcmp0 (self->id, job->id) == 0)
    ts_file_save (path, text, strlen (text), TS_FILE_SAVE_PLAIN, &error);
  g_mutex_unlock (&self->mutex);
  if (error == NULL)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
keep (TsJournal *self)
{
  g_autoptr (GTask) task = NULL;
  KeepJob *job;

  if (!begin (self) || !write_origin (self->lock, self->document->path))
    {
      g_autofree char *why = g_strdup_printf ("%s: %s.", self->folder, g_strerror (errno));

      tell_once (self, why);
      return;
    }
  job = g_new0 (KeepJob, 1);
  job->plan = ts_plan_ref (self->document->plan);
  job->id = g_strdup (self->id);
  task = g_task_new (self, NULL, on_kept, NULL);
  g_task_set_task_data (task, job, keep_job_free);
  self->writing = TRUE;
  g_task_run_in_thread (task, keep_thread);
}

static gboolean
on_time (gpointer data)
{
  TsJournal *self = data;

  self->source = 0;
  if (needs_keeping (self) && !self->writing)
    keep (self);
  return G_SOURCE_REMOVE;
}

static void
queue (TsJournal *self)
{
  if (self->source == 0)
    self->source = g_timeout_add (WAIT_MS, on_time, self);
}

static void
on_changed (TsJournal *self)
{
  if (self->opening)
    return;
  if (!needs_keeping (self))
    {
      g_clear_handle_id (&self->source, g_source_remove);
      end (self);
      if (self->from != NULL && self->document->plan != NULL)
        ts_journal_discard (self->from);
      if (self->document->plan != NULL)
        g_clear_pointer (&self->from, ts_kept_free);
    }
  else if (self->kept != self->document->plan)
    queue (self);
}

static void
ts_journal_dispose (GObject *object)
{
  TsJournal *self = TS_JOURNAL (object);

  g_clear_handle_id (&self->source, g_source_remove);
  if (self->document != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->document, self);
      end (self);
    }
  g_clear_object (&self->document);
  G_OBJECT_CLASS (ts_journal_parent_class)->dispose (object);
}

static void
ts_journal_finalize (GObject *object)
{
  TsJournal *self = TS_JOURNAL (object);

  g_free (self->folder);
  g_mutex_clear (&self->mutex);
  g_clear_pointer (&self->from, ts_kept_free);
  G_OBJECT_CLASS (ts_journal_parent_class)->finalize (object);
}

static void
ts_journal_class_init (TsJournalClass *class)
{
  G_OBJECT_CLASS (class)->dispose = ts_journal_dispose;
  G_OBJECT_CLASS (class)->finalize = ts_journal_finalize;
}

static void
ts_journal_init (TsJournal *self)
{
  g_mutex_init (&self->mutex);
  self->lock = -1;
}

/**
 * ts_journal_new:
 * @document: whose plan to keep
 * @folder: where to; made where it is not there
 *
 * Letting go of the journal takes away what it kept: a window that closes has asked before. It must
 * be disposed of (g_object_run_dispose()) where a write may be under way.
 *
 * Returns: (transfer full): a journal
 */
TsJournal *
ts_journal_new (TsDocument *document, const char *folder)
{
  TsJournal *self = g_object_new (TS_TYPE_JOURNAL, NULL);

  self->document = g_object_ref (document);
  self->folder = g_strdup (folder);
  g_signal_connect_swapped (document, "plan-changed", G_CALLBACK (on_changed), self);
  g_signal_connect_swapped (document, "notify::saved", G_CALLBACK (on_changed), self);
  g_signal_connect_swapped (document, "notify::has-plan", G_CALLBACK (on_changed), self);
  return self;
}

/**
 * ts_journal_dup_folder:
 *
 * Returns: (transfer full): the user's folder for it, in the XDG state folder
 */
char *
ts_journal_dup_folder (void)
{
  return g_build_filename (g_get_user_state_dir (), "tonestair", "journal", NULL);
}

/* The path of the plan's own file; %NULL where it had none or the mark does not tell. */
static char *
read_origin (const char *mark)
{
  g_autoptr (GBytes) bytes = ts_file_read (mark, MOST_ORIGIN_BYTES, NULL);
  gsize n = 0;
  const char *text = bytes != NULL ? g_bytes_get_data (bytes, &n) : NULL;

  return n > 0 ? g_strndup (text, n) : NULL;
}

/* %NULL where its program lives, or where no plan was kept. */
static TsKept *
read_kept (const char *folder, const char *id)
{
  g_autofree char *mark = build_path (folder, id, MARK_SUFFIX);
  g_autofree char *plan = build_path (folder, id, PLAN_SUFFIX);
  int lock = lock_mark (mark, O_RDWR);
  GStatBuf info;
  TsKept *kept;

  if (lock < 0)
    return NULL;
  if (g_stat (plan, &info) != 0)
    {
      /* It ended before anything was kept. */
      g_unlink (mark);
      close (lock);
      return NULL;
    }
  close (lock);
  kept = g_new0 (TsKept, 1);
  kept->plan_path = g_steal_pointer (&plan);
  kept->origin = read_origin (mark);
  kept->time = info.st_mtime;
  return kept;
}

static int
compare_times (gconstpointer a, gconstpointer b)
{
  const TsKept *one = *(const TsKept *const *) a, *other = *(const TsKept *const *) b;

  return (one->time < other->time) - (one->time > other->time);
}

/**
 * ts_journal_find_kept:
 * @folder: where journals are
 *
 * Returns: (transfer container) (element-type TsKept): what programs that are gone have left there,
 *   latest first
 */
GPtrArray *
ts_journal_find_kept (const char *folder)
{
  GPtrArray *found = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_kept_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, MARK_SUFFIX))
      {
        g_autofree char *id = g_strndup (name, strlen (name) - strlen (MARK_SUFFIX));
        TsKept *kept = read_kept (folder, id);

        if (kept != NULL)
          g_ptr_array_add (found, kept);
      }
  g_ptr_array_sort (found, compare_times);
  return found;
}

/**
 * ts_journal_discard:
 * @kept: what was found
 *
 * Takes it away for good.
 */
void
ts_journal_discard (const TsKept *kept)
{
  g_autofree char *stem = NULL, *mark = NULL;

  g_return_if_fail (g_str_has_suffix (kept->plan_path, PLAN_SUFFIX));

  stem = g_strndup (kept->plan_path, strlen (kept->plan_path) - strlen (PLAN_SUFFIX));
  mark = g_strconcat (stem, MARK_SUFFIX, NULL);
  g_unlink (kept->plan_path);
  g_unlink (mark);
}

static void
on_opened (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TsJournal) self = data;
  TsDocument *document = TS_DOCUMENT (source);
  g_autoptr (GError) error = NULL;

  self->opening = FALSE;
  if (!ts_document_open_finish (document, result, &error))
    {
      g_clear_pointer (&self->from, ts_kept_free);
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        ts_document_tell (document, error->message, NULL, NULL);
      return;
    }
  if (self->from != NULL)
    ts_document_set_origin (document, self->from->origin);
}

/**
 * ts_journal_open:
 * @self: a journal
 * @kept: what was found
 *
 * Opens it in the journal's document, as a plan that is not saved, of the file it came from. What
 * was found stays until the plan has been kept again or saved.
 */
void
ts_journal_open (TsJournal *self, const TsKept *kept)
{
  g_clear_pointer (&self->from, ts_kept_free);
  self->from = ts_kept_copy (kept);
  self->opening = TRUE;
  ts_document_open (self->document, kept->plan_path, on_opened, g_object_ref (self));
}

/**
 * ts_journal_is_safe:
 * @self: a journal
 *
 * Returns: whether the plan, as it is, would outlive the program
 */
gboolean
ts_journal_is_safe (TsJournal *self)
{
  return !needs_keeping (self) || self->kept == self->document->plan;
}

/**
 * ts_journal_flush:
 * @self: a journal
 *
 * Does not wait for what has changed within the last second. Returns once it is on its way.
 */
void
ts_journal_flush (TsJournal *self)
{
  if (self->source == 0)
    return;
  g_clear_handle_id (&self->source, g_source_remove);
  on_time (self);
}

TsKept *
ts_kept_copy (const TsKept *kept)
{
  TsKept *copy = g_new0 (TsKept, 1);

  copy->plan_path = g_strdup (kept->plan_path);
  copy->origin = g_strdup (kept->origin);
  copy->time = kept->time;
  return copy;
}

void
ts_kept_free (TsKept *kept)
{
  g_free (kept->plan_path);
  g_free (kept->origin);
  g_free (kept);
}
