/* ts-exif.c: which way up a camera says its picture is
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-exif-private.h"

#include <libexif/exif-data.h>
#include <string.h>

/* What stands before the TIFF header in a JPEG's APP1 segment; libexif asks for it. */
#define HEADER "Exif\0"
#define HEADER_SIZE 6
#define MAX_SIZE (1024 * 1024)

/**
 * ts_exif_get_orientation:
 * @data: (array length=n): an Exif block, from its TIFF header on
 * @n: its size in bytes
 *
 * Returns: the tag Orientation, 1 to 8; 1 where it is missing or makes no sense
 */
guint
ts_exif_get_orientation (const guint8 *data, gsize n)
{
  g_autofree guint8 *block = NULL;
  ExifData *exif;
  ExifEntry *entry;
  guint orientation = TS_EXIF_UPRIGHT;

  if (n == 0 || n > MAX_SIZE)
    return orientation;
  block = g_malloc (HEADER_SIZE + n);
  memcpy (block, HEADER, HEADER_SIZE);
  memcpy (block + HEADER_SIZE, data, n);

  exif = exif_data_new ();
  if (exif == NULL)
    return orientation;
  exif_data_unset_option (exif, EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
  exif_data_load_data (exif, block, (unsigned int) (HEADER_SIZE + n));
  entry = exif_content_get_entry (exif->ifd[EXIF_IFD_0], EXIF_TAG_ORIENTATION);
  if (entry != NULL && entry->format == EXIF_FORMAT_SHORT && entry->size >= 2)
    {
      orientation = exif_get_short (entry->data, exif_data_get_byte_order (exif));
      if (orientation < 1 || orientation > 8)
        orientation = TS_EXIF_UPRIGHT;
    }
  exif_data_unref (exif);
  return orientation;
}
