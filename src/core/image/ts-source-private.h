/* ts-source-private.h: the bytes of one file, in order, hashed on the way
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A picture file is read once, front to back, through a small window, so that the packed bytes
 * never stand in memory beside the pixels they make. */
typedef struct
{
  /* What a reader takes from: it moves @next on and lowers @available. */
  const guint8 *next;
  gsize         available;

  /* Read-only */
  char         *what;   /* names the bytes in errors */
  guint64       size;   /* as the file system gives it */
  guint64       offset; /* of the end of the window */

  /* Owned */
  GBytes       *bytes;  /* %NULL where they come from @fd */
  guint8       *buffer; /* the window, of @filled bytes */
  gsize         filled;
  int           fd;

  /* Hashing takes as long as decoding: of a file of many windows it goes on beside it. Windows that
   * are read go through @full to the thread and come back through @empty. */
  GChecksum    *checksum; /* %NULL: no hash is wanted */
  GThread      *hasher;
  GAsyncQueue  *full;
  GAsyncQueue  *empty;
} TsSource;

TsSource *ts_source_open           (const char  *path,
                                    guint64      max_bytes,
                                    GError     **error);
TsSource *ts_source_new_from_bytes (GBytes      *bytes,
                                    const char  *what);
void      ts_source_free           (TsSource    *self);
/* Before the first fill. */
void      ts_source_skip_hash      (TsSource    *self);
/* Loads the next window once the last one is used up; @available stays 0 at the end. */
gboolean  ts_source_fill           (TsSource    *self,
                                    GError     **error);
/* Copies up to @n bytes; @copied is less only at the end. */
gboolean  ts_source_read           (TsSource    *self,
                                    guint8      *data,
                                    gsize        n,
                                    gsize       *copied,
                                    GError     **error);
/* Of all the bytes, once they are used up; %NULL where it is not wanted. */
char     *ts_source_dup_sha256     (TsSource    *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsSource, ts_source_free)

G_END_DECLS
