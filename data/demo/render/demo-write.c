/* demo-write.c: the picture as a JPEG file with its own wide profile
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-write.h"

#include <stdio.h>

#include <jpeglib.h>
#include <lcms2.h>
#include <string.h>

#include "base/ts-error.h"

#define NAME "Tonestair demo wide gamut"

/* Primaries wider than sRGB's, white of D65, exponent 2.2. */
static cmsHPROFILE
make_profile (void)
{
  const cmsCIExyY white = { 0.3127, 0.3290, 1.0 };
  const cmsCIExyYTRIPLE primaries = { { 0.680, 0.320, 1.0 },
                                      { 0.265, 0.690, 1.0 },
                                      { 0.150, 0.060, 1.0 } };
  cmsToneCurve *curve = cmsBuildGamma (NULL, 2.2);
  cmsToneCurve *curves[3] = { curve, curve, curve };
  cmsHPROFILE profile = cmsCreateRGBProfile (&white, &primaries, curves);
  cmsMLU *name = cmsMLUalloc (NULL, 1);

  cmsMLUsetASCII (name, "en", "US", NAME);
  cmsWriteTag (profile, cmsSigProfileDescriptionTag, name);
  cmsMLUfree (name);
  cmsFreeToneCurve (curve);
  return profile;
}

/* The bytes of the profile; its date is fixed, so that the file is the same each time. */
static GBytes *
save_profile (cmsHPROFILE profile)
{
  static const guint8 date[12] = {
    0x07, 0xe8, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0
  }; /* ICC.1 header, bytes 24 to 35 */
  cmsUInt32Number size = 0;
  guint8 *bytes;

  cmsSaveProfileToMem (profile, NULL, &size);
  bytes = g_malloc (size);
  cmsSaveProfileToMem (profile, bytes, &size);
  memcpy (bytes + 24, date, sizeof date);
  return g_bytes_new_take (bytes, size);
}

static guint8 *
encode (cmsHPROFILE profile, const float *xyz, gsize n, float exposure)
{
  cmsHPROFILE pcs = cmsCreateXYZProfile ();
  cmsHTRANSFORM transform =
    cmsCreateTransform (pcs, TYPE_XYZ_DBL, profile, TYPE_RGB_DBL, INTENT_RELATIVE_COLORIMETRIC,
                        cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE);
  guint8 *out = g_malloc (3 * n);

  for (gsize i = 0; i < n; i++)
    {
      const cmsCIEXYZ in = { xyz[3 * i] * exposure, xyz[3 * i + 1] * exposure,
                             xyz[3 * i + 2] * exposure };
      double rgb[3];

      cmsDoTransform (transform, &in, rgb, 1);
      for (int c = 0; c < 3; c++)
        out[3 * i + c] = (guint8) (CLAMP (rgb[c], 0.0, 1.0) * 255.0 + 0.5);
    }
  cmsDeleteTransform (transform);
  cmsCloseProfile (pcs);
  return out;
}

static void
compress (FILE *file, const guint8 *rgb, int width, int height, int quality, GBytes *icc)
{
  struct jpeg_compress_struct jpeg;
  struct jpeg_error_mgr errors;
  gsize icc_size;
  const guint8 *icc_bytes = g_bytes_get_data (icc, &icc_size);

  jpeg.err = jpeg_std_error (&errors);
  jpeg_create_compress (&jpeg);
  jpeg_stdio_dest (&jpeg, file);
  jpeg.image_width = (JDIMENSION) width;
  jpeg.image_height = (JDIMENSION) height;
  jpeg.input_components = 3;
  jpeg.in_color_space = JCS_RGB;
  jpeg_set_defaults (&jpeg);
  jpeg_set_quality (&jpeg, quality, TRUE);
  jpeg.comp_info[0].h_samp_factor = jpeg.comp_info[0].v_samp_factor = 1;
  jpeg.optimize_coding = TRUE;
  jpeg_start_compress (&jpeg, TRUE);
  jpeg_write_icc_profile (&jpeg, icc_bytes, (unsigned) icc_size);
  while (jpeg.next_scanline < jpeg.image_height)
    {
      JSAMPROW row = (JSAMPROW) (rgb + 3 * (gsize) jpeg.next_scanline * width);

      jpeg_write_scanlines (&jpeg, &row, 1);
    }
  jpeg_finish_compress (&jpeg);
  jpeg_destroy_compress (&jpeg);
}

gboolean
demo_write_jpeg (const char *path, const float *xyz, int width, int height, float exposure,
                 int quality, GError **error)
{
  cmsHPROFILE profile = make_profile ();
  g_autoptr (GBytes) icc = save_profile (profile);
  g_autofree guint8 *rgb = encode (profile, xyz, (gsize) width * height, exposure);
  FILE *file = fopen (path, "wb");

  cmsCloseProfile (profile);
  if (file == NULL)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_IO, "%s cannot be written: %s; choose another folder",
                   path, g_strerror (errno));
      return FALSE;
    }
  compress (file, rgb, width, height, quality, icc);
  if (fclose (file) == 0)
    return TRUE;
  g_set_error (error, TS_ERROR, TS_ERROR_IO,
               "%s was not written whole: %s; make room and try again", path, g_strerror (errno));
  return FALSE;
}
