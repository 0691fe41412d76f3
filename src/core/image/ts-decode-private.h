/* ts-decode-private.h: one picture on its way from a file into memory
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "image/ts-image.h"
#include "image/ts-source-private.h"

G_BEGIN_DECLS

/* Limits. Sides and megapixels beyond them come from broken or hostile headers far more often than
 * from a camera; a picture at the limit takes 1.8 GB as 16-bit RGB. */
#define TS_DECODE_MAX_BYTES  (G_GUINT64_CONSTANT (2) << 30)
#define TS_DECODE_MAX_SIDE   100000
#define TS_DECODE_MAX_PIXELS 300000000

typedef struct
{
  /* Borrowed: the task */
  TsSource       *source;
  guint64         max_pixels; /* fewer pixels are enough where that is faster; 0 wants them all */
  gboolean        preview;    /* and where it is not, none are wanted */
  GCancellable   *cancellable;
  TsProgressFunc  progress;
  gpointer        progress_data;

  /* Owned: what has been made so far */
  guint8         *pixels;     /* upright */
  TsProfile      *profile;
  GString        *note;

  /* Rows and columns in the order of the file; the first two before any reduction. */
  guint           full_width;
  guint           full_height;
  guint           width;
  guint           height;
  TsPixelFormat   format;
  guint           orientation;

  /* Where in @pixels the file's first pixel stands, and how far apart its neighbours are (bytes) */
  gssize          origin;
  gssize          step_x;
  gssize          step_y;

  double          done;
  gint64          reported;
} TsDecode;

typedef gboolean (*TsDecodeFunc) (TsDecode  *self,
                                  GError   **error);

/* Reads @source to its end. */
TsImage  *ts_decode                (TsSource        *source,
                                    guint64          max_pixels,
                                    gboolean         preview,
                                    GCancellable    *cancellable,
                                    TsProgressFunc   progress,
                                    gpointer         progress_data,
                                    GError         **error);

/* The reader for bytes that begin with @data, or an error that names what they are. */
TsDecodeFunc ts_decode_recognise   (const guint8    *data,
                                    gsize            n,
                                    const char      *what,
                                    GError         **error);
gboolean  ts_decode_png            (TsDecode        *self,
                                    GError         **error);
gboolean  ts_decode_jpeg           (TsDecode        *self,
                                    GError         **error);

/* For the readers, in this order. A file cannot hold more pixels than @pixels_a_byte for each of
 * its bytes. */
gboolean  ts_decode_check_size     (TsDecode        *self,
                                    guint            width,
                                    guint            height,
                                    double           pixels_a_byte,
                                    GError         **error);
gboolean  ts_decode_begin          (TsDecode        *self,
                                    guint            width,
                                    guint            height,
                                    TsPixelFormat    format,
                                    guint            orientation,
                                    GError         **error);
/* @n packed pixels to columns @x, @x + @step ... of row @y of the file. */
void      ts_decode_put_row        (TsDecode        *self,
                                    const guint8    *row,
                                    guint            y,
                                    guint            x,
                                    guint            step,
                                    guint            n);
/* Row @y in its place, to be written to, or NULL where the picture is turned; then @n packed rows. */
guint8   *ts_decode_find_row       (TsDecode        *self,
                                    guint            y);
void      ts_decode_put_rows       (TsDecode        *self,
                                    const guint8    *rows,
                                    guint            y,
                                    guint            n);
/* Says that the run would cost as much as reading the whole picture; FALSE for the reader. */
gboolean  ts_decode_refuse_preview (TsDecode        *self,
                                    GError         **error);
/* FALSE where the run was stopped. */
gboolean  ts_decode_advance        (TsDecode        *self,
                                    double           done,
                                    GError         **error);
/* Turns finished pixels whose orientation came after them. */
gboolean  ts_decode_turn           (TsDecode        *self,
                                    guint            orientation,
                                    GError         **error);

/* Takes @profile, or on %NULL says why the file's own cannot be used. */
void      ts_decode_take_profile   (TsDecode        *self,
                                    TsProfile       *profile,
                                    const GError    *error);
void      ts_decode_take_icc       (TsDecode        *self,
                                    const void      *icc,
                                    gsize            n);
void      ts_decode_add_note       (TsDecode        *self,
                                    const char      *format,
                                    ...) G_GNUC_PRINTF (2, 3);

G_END_DECLS
