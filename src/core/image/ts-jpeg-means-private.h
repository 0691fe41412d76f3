/* ts-jpeg-means-private.h: the mean of each block of a JPEG, without the rest of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>
#include <stdio.h>

#include <jpeglib.h>

G_BEGIN_DECLS

/* A scan on its way: the blocks' means, one sample for 8 x 8, of each component. */
typedef struct _TsJpegMeans TsJpegMeans;

/* @cinfo: after jpeg_read_header(), its source at the first byte of the only scan. %NULL where the
 * file is of another kind than this reads: Huffman-coded, one scan, grey or three components. */
TsJpegMeans *ts_jpeg_means_new (struct jpeg_decompress_struct *cinfo);
void ts_jpeg_means_free (TsJpegMeans *self);
guint ts_jpeg_means_get_steps (const TsJpegMeans *self);
/* Reads the next row of MCUs, get_steps() of them in all; %FALSE where the data are damaged. */
gboolean ts_jpeg_means_read (TsJpegMeans *self);
/* After the last: row @y of the picture at 1/8 of its size, each side rounded up, as grey or RGB.
 */
void ts_jpeg_means_get_row (const TsJpegMeans *self, guint y, guint8 *row);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsJpegMeans, ts_jpeg_means_free)

G_END_DECLS
