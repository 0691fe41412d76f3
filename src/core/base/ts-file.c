/* ts-file.c: reading files up to a limit, saving them whole or not at all
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-file.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/ts-error.h"

#define READ_CHUNK (256 * 1024)

static void
set_errno_error (GError **error, const char *format, const char *path, int code)
{
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (error, TS_ERROR, code == ENOENT ? TS_ERROR_NOT_FOUND : TS_ERROR_IO, format, name,
               g_strerror (code));
}

static gboolean
check_readable (int fd, const char *path, gsize max_bytes, gsize *size, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);
  struct stat info;

  if (fstat (fd, &info) != 0)
    {
      set_errno_error (error, _ ("%s cannot be read: %s"), path, errno);
      return FALSE;
    }
  if (!S_ISREG (info.st_mode))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_IO,
                   S_ISDIR (info.st_mode) ? _ ("%s is a folder, not a file; choose a file")
                                          : _ ("%s is a device or pipe, not a file; choose a file"),
                   name);
      return FALSE;
    }
  if ((guint64) info.st_size > max_bytes)
    {
      g_autofree char *has = g_format_size ((guint64) info.st_size);
      g_autofree char *most = g_format_size (max_bytes);

      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE, _ ("%s has %s; at most %s are read"), name,
                   has, most);
      return FALSE;
    }
  *size = (gsize) info.st_size;
  return TRUE;
}

/* Reads to the end and not to the size that was promised: the file may grow meanwhile. */
static GByteArray *
read_to_end (int fd, const char *path, gsize size, gsize max_bytes, GError **error)
{
  g_autoptr (GByteArray) data = g_byte_array_new ();
  gsize used = 0;

  for (;;)
    {
      gssize got;

      g_byte_array_set_size (data, (guint) (used + (used < size ? size - used : 0) + 1));
      got = read (fd, data->data + used, MIN (data->len - used, READ_CHUNK * 64));
      if (got < 0 && errno == EINTR)
        continue;
      if (got < 0)
        {
          set_errno_error (error, _ ("%s cannot be read: %s"), path, errno);
          return NULL;
        }
      used += (gsize) got;
      if (used > max_bytes)
        {
          g_autofree char *name = g_filename_display_name (path);
          g_autofree char *most = g_format_size (max_bytes);

          g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE,
                       _ ("%s has more than the %s that are read"), name, most);
          return NULL;
        }
      if (got == 0)
        {
          g_byte_array_set_size (data, (guint) used);
          return g_steal_pointer (&data);
        }
      if (used >= size)
        size = used + READ_CHUNK;
    }
}

/**
 * ts_file_read:
 * @path: a file; links are followed
 * @max_bytes: most bytes it may have, below 4 GB
 * @error: return location for an error, or %NULL
 *
 * Reads a whole regular file. A folder, pipe or device is refused without waiting for it.
 *
 * Returns: (transfer full) (nullable): its bytes, or %NULL with %TS_ERROR_NOT_FOUND, %TS_ERROR_IO
 * or %TS_ERROR_TOO_LARGE set
 */
GBytes *
ts_file_read (const char *path, gsize max_bytes, GError **error)
{
  g_autoptr (GByteArray) data = NULL;
  gsize size = 0;
  int fd;

  g_return_val_if_fail (path != NULL, NULL);
  g_return_val_if_fail (max_bytes < G_MAXUINT - 2 * READ_CHUNK, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  /* O_NONBLOCK, since opening a pipe would wait for its writer. */
  do
    fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
  while (fd < 0 && errno == EINTR);
  if (fd < 0)
    {
      set_errno_error (error, _ ("%s cannot be read: %s"), path, errno);
      return NULL;
    }
  if (check_readable (fd, path, max_bytes, &size, error))
    data = read_to_end (fd, path, size, max_bytes, error);
  close (fd);
  return data != NULL ? g_byte_array_free_to_bytes (g_steal_pointer (&data)) : NULL;
}

/**
 * ts_file_dup_sha256:
 * @bytes: any bytes
 *
 * Returns: (transfer full): their SHA-256 (FIPS 180-4) in lower-case hexadecimal
 */
char *
ts_file_dup_sha256 (GBytes *bytes)
{
  return g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
}
