/* ts-plan-pack.c: a plan and all the files it reads, in a folder of their own
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-plan-pack.h"

#include <errno.h>
#include <gio/gio.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>

#include "base/ts-error.h"
#include "plan/ts-plan-file-private.h"
#include "plan/ts-plan-file.h"

#define LONGEST_NAME 60 /* characters of a folder called after a plan */

/* Copies of files in a folder, each once and under a name of its own. */
typedef struct
{
  char *folder;
  GHashTable *copies; /* path of the file to that of its copy */
} Pack;

static gboolean
set_errno (GError **error, const char *what, const char *path)
{
  int code = errno;
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (error, TS_ERROR, TS_ERROR_IO, what, name, g_strerror (code));
  return FALSE;
}

/* "figure.jpg", or "figure 2.jpg" where there is another of that name. */
static char *
dup_free_path (const char *folder, const char *name)
{
  const char *dot = strrchr (name, '.');
  int length = dot != NULL && dot != name ? (int) (dot - name) : (int) strlen (name);
  char *path = g_build_filename (folder, name, NULL);

  for (guint i = 2; g_file_test (path, G_FILE_TEST_EXISTS); i++)
    {
      g_autofree char *other = g_strdup_printf ("%.*s %u%s", length, name, i, name + length);

      g_free (path);
      path = g_build_filename (folder, other, NULL);
    }
  return path;
}

/* Puts the path of a copy in place of @path. */
static gboolean
take_in (Pack *self, char **path, GError **error)
{
  const char *known = g_hash_table_lookup (self->copies, *path);
  g_autofree char *name = g_path_get_basename (*path);
  g_autofree char *to = dup_free_path (self->folder, name);
  g_autoptr (GFile) from = g_file_new_for_path (*path), copy = g_file_new_for_path (to);
  g_autoptr (GError) fault = NULL;

  if (known == NULL)
    {
      if (!g_file_copy (from, copy, G_FILE_COPY_TARGET_DEFAULT_PERMS, NULL, NULL, NULL, &fault))
        {
          g_set_error (error, TS_ERROR,
                       g_error_matches (fault, G_IO_ERROR, G_IO_ERROR_NOT_FOUND)
                         ? TS_ERROR_NOT_FOUND
                         : TS_ERROR_IO,
                       _ ("%s cannot be copied: %s"), name, fault->message);
          return FALSE;
        }
      g_hash_table_insert (self->copies, g_strdup (*path), g_strdup (to));
      known = to;
    }
  g_free (*path);
  *path = g_strdup (known);
  return TRUE;
}

static gboolean
take_in_all (Pack *self, TsPlan *plan, GError **error)
{
  for (guint i = 0; i < plan->pictures->len; i++)
    {
      TsPicture *picture = ts_plan_get_picture (plan, i);
      TsCorrectionSettings *correction = &picture->correction;

      if (!take_in (self, &picture->path, error) ||
          (correction->source != NULL && !take_in (self, &correction->source, error)) ||
          (correction->chart != NULL && ts_plan_chart_is_file (correction->chart) &&
           !take_in (self, &correction->chart, error)))
        return FALSE;
    }
  return TRUE;
}

/* Of the plan's title, as it can stand in a file's name. */
static char *
dup_name (const TsPlan *plan)
{
  const char *title = *plan->title != '\0' ? plan->title : _ ("Plan");
  char *name = g_utf8_substring (title, 0, MIN (g_utf8_strlen (title, -1), LONGEST_NAME));

  for (char *c = name; *c != '\0'; c++)
    if (g_ascii_iscntrl (*c) || strchr ("/\\:*?\"<>|", *c) != NULL)
      *c = '-';
  if (*name == '.')
    *name = '-';
  return name;
}

static void
remove_folder (const char *folder)
{
  GDir *files = g_dir_open (folder, 0, NULL);
  const char *name;

  while (files != NULL && (name = g_dir_read_name (files)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      g_unlink (path);
    }
  g_clear_pointer (&files, g_dir_close);
  g_rmdir (folder);
}

static gboolean
fill (Pack *self, const TsPlan *plan, const char *file_name, GError **error)
{
  g_autoptr (TsPlan) copy = ts_plan_copy (plan);
  g_autofree char *path = g_build_filename (self->folder, file_name, NULL);

  return take_in_all (self, copy, error) && ts_plan_save (copy, path, error);
}

/**
 * ts_plan_pack:
 * @plan: a plan
 * @folder: a folder that is there
 * @error: %TS_ERROR_NOT_FOUND where a picture is not there, %TS_ERROR_IO where something cannot be
 *   copied or written
 *
 * The new folder gets its name when all is in it.
 *
 * Returns: (transfer full) (nullable): the path of the plan in the new folder, or %NULL
 */
char *
ts_plan_pack (const TsPlan *plan, const char *folder, GError **error)
{
  g_autofree char *name = dup_name (plan);
  g_autofree char *file_name = g_strconcat (name, ".tonestair", NULL);
  g_autofree char *place = dup_free_path (folder, name);
  Pack pack = { g_build_filename (folder, ".tonestair-XXXXXX", NULL),
                g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free) };
  gboolean done = g_mkdtemp_full (pack.folder, 0777) != NULL;

  if (!done)
    set_errno (error, _ ("%s takes no new folder: %s; choose another place"), folder);
  else
    {
      done = fill (&pack, plan, file_name, error);
      if (done && g_rename (pack.folder, place) != 0)
        done = set_errno (error, _ ("%s cannot be made: %s; choose another place"), place);
      if (!done)
        remove_folder (pack.folder);
    }
  g_hash_table_unref (pack.copies);
  g_free (pack.folder);
  return done ? g_build_filename (place, file_name, NULL) : NULL;
}
