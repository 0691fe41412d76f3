/* ts-image-private.h: the fields of a picture, for the files that make one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "image/ts-image.h"

G_BEGIN_DECLS

struct _TsImage
{
  guint          width;
  guint          height;
  guint          full_width;
  guint          full_height;
  TsPixelFormat  format;
  guint64        file_size;

  /* Owned */
  GBytes        *pixels;
  TsProfile     *profile;
  char          *note;
  char          *sha256;
};

G_END_DECLS
