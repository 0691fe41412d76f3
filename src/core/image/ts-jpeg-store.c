/* ts-jpeg-store.c: coefficients of a JPEG in several scans, in half their memory
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * All coefficients of a picture in several scans are needed until the last of them, 2 bytes each,
 * which is twice the picture. Nearly all but the first of a block fit into one byte; the few blocks
 * where they do not are kept whole beside the row they belong to.
 */
#include "image/ts-jpeg-store-private.h"

#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#if defined(__GNUC__) && !defined(__clang__)
#define VECTORS __attribute__ ((optimize ("O3")))
#else
#define VECTORS
#endif

typedef struct
{
  gint16 first;
  guint16 is_wide; /* all of it is in the row's @wide, in turn */
  gint8 others[DCTSIZE2];
} Packed;

typedef struct
{
  guint width, height; /* blocks */
  Packed *packed;      /* owned, row by row */
  GArray **wide;       /* owned, JBLOCK, one a row or NULL */
  gsize released;      /* bytes of @packed */

  /* The window, owned */
  JBLOCK *blocks;
  JBLOCKROW *rows;
  guint most_rows;
  guint first, n; /* of its rows */
  gboolean changed;
} Array;

struct _TsJpegStore
{
  GPtrArray *arrays;
};

static void
array_free (gpointer data)
{
  Array *array = data;

  for (guint i = 0; array->wide != NULL && i < array->height; i++)
    g_clear_pointer (&array->wide[i], g_array_unref);
  g_free (array->wide);
  g_free (array->packed);
  g_free (array->blocks);
  g_free (array->rows);
  g_free (array);
}

TsJpegStore *
ts_jpeg_store_new (void)
{
  TsJpegStore *self = g_new (TsJpegStore, 1);

  self->arrays = g_ptr_array_new_with_free_func (array_free);
  return self;
}

void
ts_jpeg_store_free (TsJpegStore *self)
{
  g_ptr_array_unref (self->arrays);
  g_free (self);
}

jvirt_barray_ptr
ts_jpeg_store_request (TsJpegStore *self, guint width, guint height, guint most_rows)
{
  Array *array = g_new0 (Array, 1);

  g_ptr_array_add (self->arrays, array);
  array->width = width;
  array->height = height;
  array->most_rows = most_rows;
  array->packed = g_try_malloc0_n ((gsize) width * height, sizeof *array->packed);
  array->wide = g_new0 (GArray *, height);
  array->blocks = g_new0 (JBLOCK, (gsize) width * most_rows);
  array->rows = g_new (JBLOCKROW, most_rows);
  for (guint i = 0; i < most_rows; i++)
    array->rows[i] = array->blocks + (gsize) i * width;
  return array->packed != NULL ? (jvirt_barray_ptr) (void *) array : NULL;
}

/* FALSE where they do not fit. */
VECTORS static gboolean
pack (const JCOEF *restrict in, Packed *restrict out)
{
  guint16 beyond = 0;

  out->first = in[0];
  out->others[0] = 0;
  for (guint i = 1; i < DCTSIZE2; i++)
    {
      out->others[i] = (gint8) in[i];
      beyond |= (guint16) ((guint16) (in[i] + 128) & 0xff00);
    }
  out->is_wide = beyond != 0;
  return beyond == 0;
}

VECTORS static void
unpack (const Packed *restrict in, JCOEF *restrict out)
{
  for (guint i = 0; i < DCTSIZE2; i++)
    out[i] = in->others[i];
  out[0] = in->first;
}

static void
write_row (Array *array, guint row, JBLOCK *blocks)
{
  Packed *packed = array->packed + (gsize) row * array->width;

  if (array->wide[row] != NULL)
    g_array_set_size (array->wide[row], 0);
  for (guint x = 0; x < array->width; x++)
    if (!pack (blocks[x], &packed[x]))
      {
        if (array->wide[row] == NULL)
          array->wide[row] = g_array_new (FALSE, FALSE, sizeof (JBLOCK));
        g_array_append_vals (array->wide[row], blocks + x, 1);
      }
}

static void
read_row (const Array *array, guint row, JBLOCK *blocks)
{
  const Packed *packed = array->packed + (gsize) row * array->width;
  guint n_wide = 0;

  for (guint x = 0; x < array->width; x++)
    if (packed[x].is_wide)
      memcpy (blocks + x, &g_array_index (array->wide[row], JBLOCK, n_wide++), sizeof (JBLOCK));
    else
      unpack (&packed[x], blocks[x]);
}

JBLOCKARRAY
ts_jpeg_store_access (jvirt_barray_ptr virtual, guint first, guint n, gboolean writable)
{
  Array *array = (Array *) (void *) virtual;

  if (n > array->most_rows || first > array->height || n > array->height - first)
    return NULL;
  if (first < array->first || first + n > array->first + array->n)
    {
      for (guint i = 0; array->changed && i < array->n; i++)
        write_row (array, array->first + i, array->rows[i]);
      array->changed = FALSE;
      array->first = first;
      array->n = n;
      for (guint i = 0; i < n; i++)
        read_row (array, first + i, array->rows[i]);
    }
  array->changed |= writable;
  return array->rows + (first - array->first);
}

void
ts_jpeg_store_release (TsJpegStore *self, guint index, guint row)
{
  Array *array = g_ptr_array_index (self->arrays, index);
  gsize page = (gsize) sysconf (_SC_PAGESIZE);
  guintptr start = (guintptr) array->packed;
  guintptr from = (start + array->released + page - 1) / page * page;
  guintptr to =
    (start + (gsize) MIN (row, array->height) * array->width * sizeof (Packed)) / page * page;

  if (to <= from)
    return;
  madvise ((void *) from, to - from, MADV_DONTNEED);
  array->released = to - start;
}
