/* ts-source.c: the bytes of one file, in order, hashed on the way
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-source-private.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/ts-error.h"

#define WINDOW (128 * 1024)

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
               "%s: cannot be read (%s); check the name and the "
               "permissions",
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
                   "%s: is %s, not a regular file; choose a picture file", self->what,
                   S_ISDIR (status.st_mode) ? "a folder" : "a pipe or a device");
      return FALSE;
    }
  if ((guint64) status.st_size > max_bytes)
    {
      g_autofree char *size = g_format_size ((guint64) status.st_size);
      g_autofree char *limit = g_format_size (max_bytes);

      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE,
                   "%s: has %s, and picture files up to %s are read; scale the picture down",
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
  self->buffer = g_malloc (WINDOW);
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
  if (self->fd >= 0)
    close (self->fd);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_checksum_free (self->checksum);
  g_free (self->buffer);
  g_free (self->what);
  g_free (self);
}

static gboolean
read_window (TsSource *self, GError **error)
{
  gssize n;

  do
    n = read (self->fd, self->buffer, WINDOW);
  while (n < 0 && errno == EINTR);
  if (n < 0)
    {
      set_io_error (error, self->what, errno);
      return FALSE;
    }
  self->next = self->buffer;
  self->available = (gsize) n;
  return TRUE;
}

/**
 * ts_source_fill:
 * @self: a source whose window is used up
 * @error: return location for an error, or %NULL
 *
 * Loads the next window and adds it to the hash.
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
    }
  else if (!read_window (self, error))
    return FALSE;

  if (self->available > 0)
    g_checksum_update (self->checksum, self->next, (gssize) self->available);
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
 * Returns: (transfer full): SHA-256 of all its bytes, lower-case hex
 */
char *
ts_source_dup_sha256 (TsSource *self)
{
  return g_strdup (g_checksum_get_string (self->checksum));
}
