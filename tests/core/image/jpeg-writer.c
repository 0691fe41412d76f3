/* jpeg-writer.c: JPEG files of every kind, made in memory
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "jpeg-writer.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include <jpeglib.h>

#define MAX_SCANS 256

guint8 *
jpeg_pattern (const JpegSpec *spec)
{
  guint n = (guint) spec->n_components;
  guint8 *pixels = g_malloc ((gsize) spec->width * spec->height * n);
  g_autofree double *across = g_new (double, (gsize) spec->width *n);
  guint8 *out = pixels;

  for (guint i = 0; i < spec->width * n; i++)
    across[i] = 60.0 * sin (0.031 * (i / n) + 0.7 * (i % n));
  for (guint y = 0; y < spec->height; y++)
    {
      double down = 128.0 + 55.0 * cos (0.023 * y);

      for (guint i = 0; i < spec->width * n; i++)
        *out++ = (guint8) (down + across[i]);
    }
  return pixels;
}

static void
choose_scans (struct jpeg_compress_struct *cinfo, const JpegSpec *spec, jpeg_scan_info *scans)
{
  int n = 0;

  if (spec->apart)
    for (int c = 0; c < spec->n_components; c++)
      scans[n++] = (jpeg_scan_info){ 1, { c }, 0, 63, 0, 0 };
  if (spec->many_scans)
    {
      scans[n] = (jpeg_scan_info){ spec->n_components, { 0, 1, 2, 3 }, 0, 0, 0, 0 };
      n++;
      for (int c = 0; c < spec->n_components; c++)
        for (int k = 1; k < 64; k++)
          scans[n++] = (jpeg_scan_info){ 1, { c }, k, k, 0, 0 };
    }
  if (n > 0)
    {
      cinfo->scan_info = scans;
      cinfo->num_scans = n;
    }
}

static void
set_up (struct jpeg_compress_struct *cinfo, const JpegSpec *spec)
{
  static const J_COLOR_SPACE spaces[] = { JCS_UNKNOWN, JCS_GRAYSCALE, JCS_UNKNOWN, JCS_RGB,
                                          JCS_CMYK };

  cinfo->image_width = spec->width;
  cinfo->image_height = spec->height;
  cinfo->input_components = spec->n_components;
  cinfo->in_color_space = spec->n_components <= 4 ? spaces[spec->n_components] : JCS_UNKNOWN;
  jpeg_set_defaults (cinfo);
  jpeg_set_quality (cinfo, spec->quality > 0 ? spec->quality : 90, TRUE);
  for (int c = 0; c < spec->n_components; c++)
    {
      cinfo->comp_info[c].h_samp_factor = c == 0 ? MAX (spec->h, 1) : 1;
      cinfo->comp_info[c].v_samp_factor = c == 0 ? MAX (spec->v, 1) : 1;
    }
  cinfo->restart_in_rows = spec->restart_rows;
  cinfo->arith_code = spec->arithmetic;
}

static void
write_orientation (struct jpeg_compress_struct *cinfo, int orientation)
{
  JOCTET exif[] = "Exif\0\0II*\0\10\0\0\0\1\0\22\1\3\0\1\0\0\0\0\0\0\0\0\0\0\0";

  exif[24] = (JOCTET) orientation;
  jpeg_write_marker (cinfo, JPEG_APP0 + 1, exif, sizeof exif - 1);
}

GBytes *
jpeg_write (const JpegSpec *spec)
{
  struct jpeg_compress_struct cinfo;
  struct jpeg_error_mgr errors;
  jpeg_scan_info scans[MAX_SCANS];
  g_autofree guint8 *pixels = jpeg_pattern (spec);
  unsigned char *out = NULL;
  unsigned long n = 0;

  cinfo.err = jpeg_std_error (&errors); /* a mistake in a test ends it */
  jpeg_create_compress (&cinfo);
  jpeg_mem_dest (&cinfo, &out, &n);
  set_up (&cinfo, spec);
  choose_scans (&cinfo, spec, scans);
  if (spec->progressive && !spec->many_scans)
    jpeg_simple_progression (&cinfo);
  jpeg_start_compress (&cinfo, TRUE);
  if (spec->orientation > 0)
    write_orientation (&cinfo, spec->orientation);
  while (cinfo.next_scanline < cinfo.image_height)
    {
      JSAMPROW row =
        pixels + (gsize) cinfo.next_scanline * spec->width * (guint) spec->n_components;

      jpeg_write_scanlines (&cinfo, &row, 1);
    }
  jpeg_finish_compress (&cinfo);
  jpeg_destroy_compress (&cinfo);
  return g_bytes_new_with_free_func (out, n, free, out);
}
