/* bench-picture.c: a picture decoded and converted by the libraries alone, and converted by us
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * bench-picture decode FILE: milliseconds of libjpeg-turbo (or libpng) alone into one block of
 * memory. bench-picture convert FILE: milliseconds of one plain lcms2 call on all pixels, and of
 * ours tile by tile as the window does it, on one thread. Each the least of several rounds, in
 * turn.
 */
#include "image/ts-image.h"

#include <stdio.h>
#include <string.h>

#include <jpeglib.h>
#include <lcms2.h>

#define ROUNDS 9
#define TILE 258 /* of ts-tiler.h, with its apron */

static double
now (void)
{
  return (double) g_get_monotonic_time () / 1000.0;
}

static double
decode (const char *path)
{
  struct jpeg_decompress_struct cinfo;
  struct jpeg_error_mgr errors;
  double begun = now ();
  FILE *file = fopen (path, "rb");
  g_autofree guint8 *pixels = NULL;
  gsize row;

  cinfo.err = jpeg_std_error (&errors);
  jpeg_create_decompress (&cinfo);
  jpeg_stdio_src (&cinfo, file);
  jpeg_read_header (&cinfo, TRUE);
  jpeg_start_decompress (&cinfo);
  row = (gsize) cinfo.output_width * (gsize) cinfo.output_components;
  pixels = g_malloc (row * cinfo.output_height);
  while (cinfo.output_scanline < cinfo.output_height)
    {
      JSAMPROW at = pixels + row * cinfo.output_scanline;

      jpeg_read_scanlines (&cinfo, &at, 1);
    }
  jpeg_finish_decompress (&cinfo);
  jpeg_destroy_decompress (&cinfo);
  fclose (file);
  return now () - begun;
}

/* The embedded profile to sRGB, as any program would set it up. */
static cmsHTRANSFORM
make_transform (const char *path)
{
  struct jpeg_decompress_struct cinfo;
  struct jpeg_error_mgr errors;
  FILE *file = fopen (path, "rb");
  JOCTET *icc = NULL;
  unsigned int n = 0;
  cmsHPROFILE from, to = cmsCreate_sRGBProfile ();
  cmsHTRANSFORM transform;

  cinfo.err = jpeg_std_error (&errors);
  jpeg_create_decompress (&cinfo);
  jpeg_stdio_src (&cinfo, file);
  jpeg_save_markers (&cinfo, JPEG_APP0 + 2, 0xffff);
  jpeg_read_header (&cinfo, TRUE);
  if (!jpeg_read_icc_profile (&cinfo, &icc, &n))
    g_error ("%s has no profile", path);
  from = cmsOpenProfileFromMem (icc, n);
  transform =
    cmsCreateTransform (from, TYPE_RGB_8, to, TYPE_BGRA_8, INTENT_RELATIVE_COLORIMETRIC, 0);
  cmsCloseProfile (from);
  cmsCloseProfile (to);
  free (icc);
  jpeg_destroy_decompress (&cinfo);
  fclose (file);
  return transform;
}

static double
convert_plainly (cmsHTRANSFORM transform, const TsImage *image, guint32 *words)
{
  gsize n = (gsize) ts_image_get_width (image) * ts_image_get_height (image);
  double begun = now ();

  cmsDoTransform (transform, ts_image_peek_pixels (image), words, (cmsUInt32Number) n);
  return now () - begun;
}

static double
convert_tiles (const TsImage *image, const TsProfileScreen *screen, guint32 *words)
{
  double begun = now ();

  for (guint y = 0; y < ts_image_get_height (image); y += TILE)
    for (guint x = 0; x < ts_image_get_width (image); x += TILE)
      {
        guint width = MIN (TILE, ts_image_get_width (image) - x);

        /* Into the same few words, as into a tile. */
        ts_image_read_through (image, screen, x, y, width,
                               MIN (TILE, ts_image_get_height (image) - y), words, TILE);
      }
  return now () - begun;
}

static int
compare_conversions (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TsImage) image = ts_image_open (path, NULL, NULL, NULL, &error);
  cmsHTRANSFORM transform = make_transform (path);
  g_autoptr (TsProfileScreen) screen = NULL;
  double plain = G_MAXDOUBLE, ours = G_MAXDOUBLE;
  gsize n;
  g_autofree guint32 *words = NULL;

  if (image == NULL)
    {
      fprintf (stderr, "%s\n", error->message);
      return 1;
    }
  screen = ts_profile_screen_new (ts_image_get_profile (image), NULL, NULL);
  n = (gsize) ts_image_get_width (image) * ts_image_get_height (image);
  words = g_new0 (guint32, n);
  for (guint i = 0; i < ROUNDS; i++)
    {
      plain = MIN (plain, convert_plainly (transform, image, words));
      ours = MIN (ours, convert_tiles (image, screen, words));
    }
  cmsDeleteTransform (transform);
  printf ("%.2f %.2f\n", plain, ours);
  return 0;
}

int
main (int argc, char **argv)
{
  double least = G_MAXDOUBLE;

  if (argc == 3 && strcmp (argv[1], "convert") == 0)
    return compare_conversions (argv[2]);
  if (argc != 3 || strcmp (argv[1], "decode") != 0)
    {
      fprintf (stderr, "usage: bench-picture decode|convert FILE\n");
      return 2;
    }
  for (guint i = 0; i < ROUNDS; i++)
    least = MIN (least, decode (argv[2]));
  printf ("%.2f\n", least);
  return 0;
}
