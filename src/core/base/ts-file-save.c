/* ts-file-save.c: saving a file whole or not at all
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-file.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/ts-error.h"

#define TRIES 100

/* One saving: @target is written by way of @beside, which lies in the same folder. */
typedef struct
{
  char *target;
  char *beside;
  gboolean replaces;
  mode_t mode;
} Saving;

static void
saving_clear (Saving *self)
{
  g_free (self->target);
  g_free (self->beside);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Saving, saving_clear)

static gboolean
fail (GError **error, const char *target, const char *reason)
{
  g_autofree char *name = g_filename_display_name (target);

  g_set_error (error, TS_ERROR, TS_ERROR_IO, _ ("%s cannot be saved: %s. %s"), name, reason,
               _ ("What was there is unchanged; save to another place or free some space."));
  return FALSE;
}

/* Where @path leads: a link stays a link, and the file it points to is replaced. */
static gboolean
find_target (Saving *self, const char *path, GError **error)
{
  struct stat info;
  char *real;

  if (lstat (path, &info) != 0)
    {
      self->target = g_strdup (path);
      return errno == ENOENT ? TRUE : fail (error, path, g_strerror (errno));
    }
  real = realpath (path, NULL);
  if (real == NULL)
    return fail (error, path, g_strerror (errno));
  self->target = g_strdup (real);
  free (real);

  if (stat (self->target, &info) != 0)
    return fail (error, path, g_strerror (errno));
  if (!S_ISREG (info.st_mode))
    return fail (error, path, _ ("it is not a file"));
  if (access (self->target, W_OK) != 0)
    return fail (error, path, g_strerror (errno));
  self->replaces = TRUE;
  self->mode = info.st_mode & 07777;
  return TRUE;
}

static char *
name_beside (const char *target)
{
  g_autofree char *folder = g_path_get_dirname (target);
  g_autofree char *name = g_strdup_printf (".tonestair-%08x.part", g_random_int ());

  return g_build_filename (folder, name, NULL);
}

static int
open_beside (Saving *self, GError **error)
{
  for (int i = 0; i < TRIES; i++)
    {
      int fd;

      g_free (self->beside);
      self->beside = name_beside (self->target);
      fd = open (self->beside, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
      if (fd >= 0)
        return fd;
      if (errno != EEXIST && errno != EINTR)
        break;
    }
  fail (error, self->target, g_strerror (errno));
  return -1;
}

static gboolean
write_all (int fd, const char *data, gsize n)
{
  while (n > 0)
    {
      gssize written = write (fd, data, MIN (n, (gsize) 1 << 30));

      if (written < 0 && errno == EINTR)
        continue;
      if (written < 0)
        return FALSE;
      data += written;
      n -= (gsize) written;
    }
  return TRUE;
}

static gboolean
sync_fd (int fd)
{
  int result;

  do
    result = fsync (fd);
  while (result != 0 && errno == EINTR);
  return result == 0;
}

static gboolean
write_beside (Saving *self, const void *data, gsize n, GError **error)
{
  int fd = open_beside (self, error);
  int code = 0;

  if (fd < 0)
    return FALSE;
  if (!write_all (fd, data, n) || (self->replaces && fchmod (fd, self->mode) != 0) || !sync_fd (fd))
    code = errno;
  /* Some file systems report a full disk only here. */
  if (close (fd) != 0 && code == 0 && errno != EINTR)
    code = errno;
  if (code == 0)
    return TRUE;
  unlink (self->beside);
  return fail (error, self->target, g_strerror (code));
}

/* The old file gets a second name, so that at no moment there is neither file nor backup. */
static gboolean
keep_backup (const Saving *self, GError **error)
{
  g_autofree char *backup = g_strconcat (self->target, "~", NULL);
  g_autofree char *link_name = name_beside (self->target);

  if (link (self->target, link_name) == 0)
    {
      if (rename (link_name, backup) == 0)
        {
          /* rename() leaves both names where they are one file already. */
          unlink (link_name);
          return TRUE;
        }
      unlink (link_name);
    }
  else
    {
      /* A file system without links: the copy is written with the same care. */
      g_autoptr (GBytes) old = ts_file_read (self->target, G_MAXINT, error);

      if (old == NULL)
        return FALSE;
      return ts_file_save (backup, g_bytes_get_data (old, NULL), g_bytes_get_size (old),
                           TS_FILE_SAVE_PLAIN, error);
    }
  return fail (error, backup, g_strerror (errno));
}

/* Without this the new name may be lost in a power cut; not every file system can do it. */
static void
sync_folder (const char *target)
{
  g_autofree char *folder = g_path_get_dirname (target);
  int fd = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);

  if (fd < 0)
    return;
  sync_fd (fd);
  close (fd);
}

/**
 * ts_file_save:
 * @path: where to save; a link there stays, and the file it points to is replaced
 * @data: (array length=n_bytes): the bytes
 * @n_bytes: how many
 * @flags: whether the old file stays as NAME~
 * @error: return location for an error, or %NULL
 *
 * Writes beside @path, flushes to disk and renames, so that at every moment @path is the whole old
 * file or the whole new one. The old file's permissions are kept.
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_IO set and the old file unchanged
 */
gboolean
ts_file_save (const char *path, const void *data, gsize n_bytes, TsFileSaveFlags flags,
              GError **error)
{
  g_auto (Saving) self = { 0 };

  g_return_val_if_fail (path != NULL, FALSE);
  g_return_val_if_fail (data != NULL || n_bytes == 0, FALSE);
  g_return_val_if_fail (error == NULL || *error == NULL, FALSE);

  if (!find_target (&self, path, error) || !write_beside (&self, data, n_bytes, error))
    return FALSE;
  if (self.replaces && (flags & TS_FILE_SAVE_BACKUP) != 0 && !keep_backup (&self, error))
    {
      unlink (self.beside);
      return FALSE;
    }
  if (rename (self.beside, self.target) != 0)
    {
      int code = errno;

      unlink (self.beside);
      return fail (error, self.target, g_strerror (code));
    }
  sync_folder (self.target);
  return TRUE;
}
