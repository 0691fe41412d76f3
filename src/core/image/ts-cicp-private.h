/* ts-cicp-private.h: profiles for the numbers that name a way of coding colours
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-profile.h"

G_BEGIN_DECLS

/* What PNG's chunk cICP holds: four code points of ITU-T H.273. */
#define TS_CICP_SIZE 4

TsProfile *ts_cicp_get_profile  (const guint8   *code,
                                 gsize           n,
                                 TsPixelFormat   format,
                                 GError        **error);
/* For a file that says it is sRGB: the same colours as the assumed profile, known from the file. */
TsProfile *ts_cicp_get_srgb     (TsPixelFormat   format,
                                 GError        **error);

G_END_DECLS
