/* ts-exif-private.h: which way up a camera says its picture is
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define TS_EXIF_UPRIGHT 1

/* @data begins with a TIFF header ("II*" or "MM"). 1 to 8 as in the tag Orientation of Exif 2.32. */
guint ts_exif_get_orientation (const guint8 *data,
                               gsize         n);

G_END_DECLS
