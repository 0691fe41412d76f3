/* ts-source.c: the bytes of one file, in order, hashed on the way
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-source-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/ts-error.h"

#define WINDOW (128 * 1024)
#define WINDOWS 8 /* how far reading may run ahead of hashing */

static TsSource *
source_new (const char *what)
{
  TsSource *self = g_new0 (TsSource, 1);

  self->what = g_strdup (what);
  self->checksum = g_checksum_new (G_CHECKSUM_SHA256);
  self->fd = -1;
  return self;
}

static void
set_io_error (GError **error, const char *what, int code)
{
  g_set_error (error, TS_ERROR, TS_ERROR_IO,
               _ ("%s: cannot be read (%s); check the name and the "
                  "permissions"),
               what, g_strerror (code));
}

static gboolean
check_regular (TsSource *self, guint64 max_bytes, GError **error)
{
  struct stat status;

  if (fstat (self->fd, &status) != 0)
    {
      set_io_error (error, self->what, errno);
      return FALSE;
    }
  if (!S_ISREG (status.st_mode))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_IO,
                   S_ISDIR (status.st_mode)
                     ? _ ("%s: is a folder, not a regular file; choose a picture file")
                     : _ ("%s: is a pipe or a device, not a regular file; choose a picture file"),
                   self->what);
      return FALSE;
    }
  if ((guint64) status.st_size > max_bytes)
    {
      g_autofree char *size = g_format_size ((guint64) status.st_size);
      g_autofree char *limit = g_format_size (max_bytes);

      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE,
                   _ ("%s: has %s, and picture files up to %s are read; scale the picture down"),
                   self->what, size, limit);
      return FALSE;
    }
  self->size = (guint64) status.st_size;
  return TRUE;
}

/**
 * ts_source_open:
 * @path: (type filename): a regular file
 * @max_bytes: the largest size that is accepted
 * @error: return location for an error, or %NULL
 *
 * Opens a file for reading once. A pipe or a device is refused without waiting for a writer.
 *
 * Returns: (transfer full) (nullable): the source, or %NULL with %TS_ERROR_IO or
 *   %TS_ERROR_TOO_LARGE set
 */
TsSource *
ts_source_open (const char *path, guint64 max_bytes, GError **error)
{
  g_autofree char *what = g_filename_display_name (path);
  g_autoptr (TsSource) self = source_new (what);

  /* Opening a pipe would wait for its other end. */
  self->fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
  if (self->fd < 0)
    {
      set_io_error (error, what, errno);
      return NULL;
    }
  if (!check_regular (self, max_bytes, error))
    return NULL;
  return g_steal_pointer (&self);
}

/**
 * ts_source_new_from_bytes:
 * @bytes: a whole file
 * @what: names it in errors
 *
 * Returns: (transfer full): a source of those bytes
 */
TsSource *
ts_source_new_from_bytes (GBytes *bytes, const char *what)
{
  TsSource *self = source_new (what);

  self->bytes = g_bytes_ref (bytes);
  self->size = g_bytes_get_size (bytes);
  return self;
}

/**
 * ts_source_skip_hash:
 * @self: a source that was not read from yet
 *
 * Spares the work where nobody asks for the hash.
 */
void
ts_source_skip_hash (TsSource *self)
{
  g_clear_pointer (&self->checksum, g_checksum_free);
}

/* A window on its way to the thread; one without data ends it. */
typedef struct
{
  guint8 *data;
  gsize n;
} Window;

static void
push_window (GAsyncQueue *queue, guint8 *data, gsize n)
{
  Window *window = g_new (Window, 1);

  window->data = data;
  window->n = n;
  g_async_queue_push (queue, window);
}

static guint8 *
pop_data (GAsyncQueue *queue)
{
  g_autofree Window *window = g_async_queue_pop (queue);

  return window->data;
}

static gpointer
hash_windows (gpointer data)
{
  TsSource *self = data;
  Window *window;

  while ((window = g_async_queue_pop (self->full))->data != NULL)
    {
      g_checksum_update (self->checksum, window->data, (gssize) window->n);
      g_async_queue_push (self->empty, window);
    }
  g_free (window);
  return NULL;
}

static void
start_hasher (TsSource *self)
{
  self->full = g_async_queue_new ();
  self->empty = g_async_queue_new ();
  for (guint i = 1; i < WINDOWS; i++)
    push_window (self->empty, g_malloc (WINDOW), 0);
  self->hasher = g_thread_new ("hash", hash_windows, self);
}

/* What was read so far is hashed when this returns. */
static void
stop_hasher (TsSource *self)
{
  if (self->hasher == NULL)
    return;
  push_window (self->full, NULL, 0);
  g_thread_join (g_steal_pointer (&self->hasher));
  while (g_async_queue_length (self->empty) > 0)
    g_free (pop_data (self->empty));
  g_clear_pointer (&self->full, g_async_queue_unref);
  g_clear_pointer (&self->empty, g_async_queue_unref);
}

/* Hands the window over to be hashed; another takes its place. */
static void
hash_window (TsSource *self)
{
  if (self->checksum != NULL && self->filled > 0)
    {
      if (self->hasher == NULL && self->offset < self->size)
        start_hasher (self);
      if (self->hasher != NULL)
        {
          push_window (self->full, self->buffer, self->filled);
          self->buffer = pop_data (self->empty);
        }
      else
        g_checksum_update (self->checksum, self->buffer, (gssize) self->filled);
    }
  self->filled = 0;
}

/**
 * ts_source_free:
 * @self: (nullable): a source
 *
 * Closes the file.
 */
void
ts_source_free (TsSource *self)
{
  if (self == NULL)
    return;
  stop_hasher (self);
  if (self->fd >= 0)
    close (self->fd);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_clear_pointer (&self->checksum, g_checksum_free);
  g_free (self->buffer);
  g_free (self->what);
  g_free (self);
}

static gboolean
read_window (TsSource *self, GError **error)
{
  gssize n;

  if (self->buffer == NULL)
    self->buffer = g_malloc (WINDOW);
  hash_window (self);
  do
    n = read (self->fd, self->buffer, WINDOW);
  while (n < 0 && errno == EINTR);
  if (n < 0)
    {
      set_io_error (error, self->what, errno);
      return FALSE;
    }
  self->next = self->buffer;
  self->available = self->filled = (gsize) n;
  return TRUE;
}

/**
 * ts_source_fill:
 * @self: a source whose window is used up
 * @error: return location for an error, or %NULL
 *
 * Loads the next window; every window goes into the hash.
 *
 * Returns: %TRUE, with nothing available at the end; %FALSE with %TS_ERROR_IO set
 */
gboolean
ts_source_fill (TsSource *self, GError **error)
{
  g_return_val_if_fail (self->available == 0, FALSE);

  if (self->bytes != NULL)
    {
      self->available = MIN (WINDOW, (gsize) (self->size - self->offset));
      if (self->available > 0)
        self->next = (const guint8 *) g_bytes_get_data (self->bytes, NULL) + self->offset;
      if (self->available > 0 && self->checksum != NULL)
        g_checksum_update (self->checksum, self->next, (gssize) self->available);
    }
  else if (!read_window (self, error))
    return FALSE;
  self->offset += self->available;
  return TRUE;
}

/**
 * ts_source_read:
 * @self: a source
 * @data: (array length=n) (out caller-allocates): where the bytes go
 * @n: how many are wanted
 * @copied: (out): how many there were; fewer only at the end
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_IO set
 */
gboolean
ts_source_read (TsSource *self, guint8 *data, gsize n, gsize *copied, GError **error)
{
  *copied = 0;
  while (*copied < n)
    {
      gsize part;

      if (self->available == 0 && !ts_source_fill (self, error))
        return FALSE;
      if (self->available == 0)
        break;
      part = MIN (n - *copied, self->available);
      memcpy (data + *copied, self->next, part);
      self->next += part;
      self->available -= part;
      *copied += part;
    }
  return TRUE;
}

/**
 * ts_source_dup_sha256:
 * @self: a source that is used up
 *
 * Returns: (transfer full) (nullable): SHA-256 of all its bytes, lower-case hex
 */
char *
ts_source_dup_sha256 (TsSource *self)
{
  stop_hasher (self);
  if (self->checksum == NULL)
    return NULL;
  return g_strdup (g_checksum_get_string (self->checksum));
}
