/* ts-jpeg-store-private.h: coefficients of a JPEG in several scans, in half their memory
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>
#include <stdio.h>

#include <jpeglib.h>

G_BEGIN_DECLS

/* libjpeg reaches the coefficients through a window of a few rows of blocks and lets its memory
 * manager put the others away. These stand in for that manager's functions of the same names. */
typedef struct _TsJpegStore TsJpegStore;

TsJpegStore *ts_jpeg_store_new     (void);
void         ts_jpeg_store_free    (TsJpegStore      *self);
/* An array of zeros; the arrays are numbered as they come. %NULL where there is no memory. */
jvirt_barray_ptr ts_jpeg_store_request (TsJpegStore  *self,
                                    guint             width,
                                    guint             height,
                                    guint             most_rows);
/* Rows @first to @first + @n, to be changed where @writable; good until the next call for the same
 * array. %NULL where they are not within it. */
JBLOCKARRAY  ts_jpeg_store_access  (jvirt_barray_ptr  array,
                                    guint             first,
                                    guint             n,
                                    gboolean          writable);
/* Gives the memory of the rows before @row of array @index back; they are not looked at again. */
void         ts_jpeg_store_release (TsJpegStore      *self,
                                    guint             index,
                                    guint             row);

G_END_DECLS
