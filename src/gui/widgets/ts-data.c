/* ts-data.c: where the program's own files are
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-data.h"

/**
 * ts_data_dup_path:
 * @name: a file or folder of data/, as "demo/lighthouse.jpg"
 *
 * Returns: (transfer full) (nullable): its path beside the installed program, or where
 *   TONESTAIR_DATA says; NULL where there is no such thing
 */
char *
ts_data_dup_path (const char *name)
{
  const char *folder = g_getenv ("TONESTAIR_DATA");
  g_autofree char *path = g_build_filename (folder != NULL ? folder : TS_DATA_FOLDER, name, NULL);

  return g_file_test (path, G_FILE_TEST_EXISTS) ? g_steal_pointer (&path) : NULL;
}
