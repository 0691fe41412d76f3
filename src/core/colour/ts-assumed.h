/* ts-assumed.h: what the numbers of a picture mean where it does not say
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-profile.h"

G_BEGIN_DECLS

const char *ts_assumed_get_name  (TsPixelFormat  format);
void        ts_assumed_to_xyz    (TsPixelFormat  format,
                                  const void    *pixels,
                                  gsize          n,
                                  TsXyz         *xyz);
void        ts_assumed_to_screen (TsPixelFormat  format,
                                  const void    *pixels,
                                  gsize          n,
                                  guint32       *words);

G_END_DECLS
