/* ts-profile-private.h: what the files that speak to lcms2 share; handles are lcms2's own
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-profile.h"

G_BEGIN_DECLS

#define TS_PROFILE_MAX_ICC_BYTES (32 * 1024 * 1024) /* the largest press profiles take some 10 MB */

/* A cmsContext that gives no block above 64 MB and writes its first complaint to @log. */
gpointer ts_profile_new_context (GString           *log);
/* The open profile (cmsHPROFILE); %NULL where it is assumed. */
gpointer ts_profile_get_source  (const TsProfile   *self);
/* To sRGB words (cmsHTRANSFORM); %NULL where it is assumed. */
gpointer ts_profile_get_to_screen (const TsProfile *self);
/* How lcms2 names samples of a format, and cairo's words. */
guint32  ts_profile_get_samples (TsPixelFormat      format);
guint32  ts_profile_get_word    (void);

G_END_DECLS
