/* jpeg-writer.h: JPEG files of every kind, made in memory
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  guint        width;
  guint        height;
  int          n_components; /* 1 grey, 3 RGB, 4 CMYK, else of no meaning */
  int          h, v;         /* samples of the first channel for one of the others; 0 = 1 */
  int          restart_rows;
  int          quality;      /* 0 = 90 */
  int          orientation;  /* 0 = none is written */
  gboolean     progressive;
  gboolean     arithmetic;
  gboolean     many_scans;   /* every coefficient in a scan of its own */
  gboolean     apart;        /* a scan for each channel */
} JpegSpec;

/* A smooth pattern, @n_components bytes a pixel. */
guint8 *jpeg_pattern (const JpegSpec *spec);
GBytes *jpeg_write   (const JpegSpec *spec);

G_END_DECLS
