/* ts-file.h: reading files up to a limit, saving them whole or not at all
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  TS_FILE_SAVE_PLAIN = 0,
  TS_FILE_SAVE_BACKUP = 1 << 0 /* the file that was there stays beside it as NAME~ */
} TsFileSaveFlags;

GBytes   *ts_file_read       (const char       *path,
                              gsize             max_bytes,
                              GError          **error);
gboolean  ts_file_save       (const char       *path,
                              const void       *data,
                              gsize             n_bytes,
                              TsFileSaveFlags   flags,
                              GError          **error);
char     *ts_file_dup_sha256 (GBytes           *bytes);

G_END_DECLS
