/* ts-plan-file.c: plans as files
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-plan-file.h"

#include <gio/gio.h>
#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "base/ts-file.h"

#define MAX_PLAN_BYTES ((gsize) 64 * 1024 * 1024)

static char *
dup_folder (const char *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GFile) folder = g_file_get_parent (file);

  return folder != NULL ? g_file_get_path (folder) : g_strdup ("/");
}

/* Where the last version but one is still there, it is the mend. */
static void
tell_of_backup (GError **error, const char *path)
{
  g_autofree char *backup = g_strconcat (path, "~", NULL);
  g_autofree char *name = g_filename_display_basename (backup);
  g_autoptr (GError) fault = NULL;

  if (error == NULL || !g_file_test (backup, G_FILE_TEST_IS_REGULAR))
    return;
  fault = g_steal_pointer (error);
  g_set_error (error, fault->domain, fault->code,
               _ ("%s. As it was before it was last saved it is kept beside as %s"), fault->message,
               name);
}

/**
 * ts_plan_load:
 * @path: a plan's file
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the plan, or %NULL with a #TsError that names the member,
 * and the backup where there is one
 */
TsPlan *
ts_plan_load (const char *path, GError **error)
{
  g_autofree char *folder = dup_folder (path);
  g_autofree char *what = g_filename_display_basename (path);
  g_autoptr (GBytes) bytes = ts_file_read (path, MAX_PLAN_BYTES, error);
  TsPlan *plan;
  gsize size;
  const char *text;

  if (bytes == NULL)
    return NULL;
  text = g_bytes_get_data (bytes, &size);
  plan = ts_plan_from_text (text != NULL ? text : "", (gssize) size, folder, what, error);
  if (plan == NULL)
    tell_of_backup (error, path);
  return plan;
}

/**
 * ts_plan_save:
 * @plan: a plan
 * @path: where to save it; a file that is there stays beside it as a backup
 * @error: see ts_file_save()
 *
 * Returns: %TRUE where the file stands whole on the disk, else %FALSE and the old one is untouched
 */
gboolean
ts_plan_save (const TsPlan *plan, const char *path, GError **error)
{
  g_autofree char *folder = dup_folder (path);
  g_autofree char *text = ts_plan_to_text (plan, folder);

  return ts_file_save (path, text, strlen (text), TS_FILE_SAVE_BACKUP, error);
}
