/* ts-image.h: a picture's pixels, upright, in the file's own encoding
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "base/ts-progress.h"
#include "colour/ts-profile-screen.h"

G_BEGIN_DECLS

/* A decoded picture. It never changes and is counted atomically, so threads may share it. All
 * coordinates are pixels of the upright picture (after EXIF orientation), 0,0 the top left corner of
 * the top left pixel. */
typedef struct _TsImage TsImage;

/* Reads PNG or JPEG from @path, a regular file, or from @bytes (@what names them in errors). */
TsImage       *ts_image_open             (const char       *path,
                                          GCancellable     *cancellable,
                                          TsProgressFunc    progress,
                                          gpointer          progress_data,
                                          GError          **error);
TsImage       *ts_image_new_from_bytes   (GBytes           *bytes,
                                          const char       *what,
                                          GCancellable     *cancellable,
                                          TsProgressFunc    progress,
                                          gpointer          progress_data,
                                          GError          **error);
/* The same for a first view: a JPEG is decoded at 1/2, 1/4 or 1/8 of its size, the largest with at
 * most @max_pixels, or 1/8, in a fraction of the time. A PNG has no shortcut and comes whole: where
 * the width is ts_image_get_full_width(), nothing is left to open. */
TsImage       *ts_image_open_reduced     (const char       *path,
                                          guint64           max_pixels,
                                          GCancellable     *cancellable,
                                          TsProgressFunc    progress,
                                          gpointer          progress_data,
                                          GError          **error);
/* The same beside ts_image_open(): refused where it is not much cheaper. */
TsImage       *ts_image_open_preview     (const char       *path,
                                          guint64           max_pixels,
                                          GCancellable     *cancellable,
                                          GError          **error);
/* Takes @pixels: packed rows of @format. */
TsImage       *ts_image_new_from_pixels  (GBytes           *pixels,
                                          guint             width,
                                          guint             height,
                                          TsPixelFormat     format,
                                          TsProfile        *profile);
TsImage       *ts_image_ref              (TsImage          *self);
void           ts_image_unref            (TsImage          *self);

guint          ts_image_get_width        (const TsImage    *self);
guint          ts_image_get_height       (const TsImage    *self);
/* Of the picture in the file, upright; more than the width and height after a reduction. */
guint          ts_image_get_full_width   (const TsImage    *self);
guint          ts_image_get_full_height  (const TsImage    *self);
TsPixelFormat  ts_image_get_format       (const TsImage    *self);
TsProfile     *ts_image_get_profile      (const TsImage    *self);
/* Packed rows of the format, as they were decoded. */
const void    *ts_image_peek_pixels      (const TsImage    *self);
/* What the painter should be told about how the file was read ("No colour profile in the picture;
 * sRGB is assumed."), or %NULL. */
const char    *ts_image_get_note         (const TsImage    *self);
/* Of the file's bytes, lower-case hex; %NULL for a picture made from pixels. */
const char    *ts_image_get_sha256       (const TsImage    *self);
guint64        ts_image_get_file_size    (const TsImage    *self);

/* A rectangle within the picture, row by row. @clipped (nullable) tells for each pixel whether a
 * channel stands at an end of its range. */
void           ts_image_read_xyz         (const TsImage    *self,
                                          guint             x,
                                          guint             y,
                                          guint             width,
                                          guint             height,
                                          TsXyz            *xyz,
                                          guint8           *clipped);
/* Which ends of the range a pixel stands at, row by row, without converting it. */
typedef enum
{
  TS_CLIPPED_LIGHT = 1 << 0,  /* a channel at its top; of inks: bare paper */
  TS_CLIPPED_SHADOW = 1 << 1  /* a channel at its bottom; of inks: full black */
} TsClipping;

void           ts_image_read_clipping    (const TsImage    *self,
                                          guint             x,
                                          guint             y,
                                          guint             width,
                                          guint             height,
                                          guint8           *clipping);
/* The same for the screen: 0x00RRGGBB words, sRGB, @stride words a row. */
void           ts_image_read_screen      (const TsImage    *self,
                                          guint             x,
                                          guint             y,
                                          guint             width,
                                          guint             height,
                                          guint32          *words,
                                          gsize             stride);
/* The same through @screen, made for the picture's profile; the words' upper 8 bits may be anything. */
void           ts_image_read_through     (const TsImage          *self,
                                          const TsProfileScreen  *screen,
                                          guint                   x,
                                          guint                   y,
                                          guint                   width,
                                          guint                   height,
                                          guint32                *words,
                                          gsize                   stride);
/* Area average, @factor pixels to one each way (2, 3, ...), in the same encoding; the last row and
 * column average what is there. */
TsImage       *ts_image_reduce           (const TsImage    *self,
                                          guint             factor);
TsImage       *ts_image_reduce_part      (const TsImage    *self,
                                          guint             x,
                                          guint             y,
                                          guint             width,
                                          guint             height,
                                          guint             factor);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsImage, ts_image_unref)

G_END_DECLS
