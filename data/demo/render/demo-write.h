/* demo-write.h: the picture as a JPEG file with its own wide profile
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

/* @xyz has three values a pixel; @exposure brings those of a white to just under 1. */
gboolean demo_write_jpeg  (const char   *path,
                           const float  *xyz,
                           int           width,
                           int           height,
                           float         exposure,
                           int           quality,
                           GError      **error);
