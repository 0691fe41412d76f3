/* ts-profile-screen.h: from a picture's pixels to those of a screen
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-profile.h"

G_BEGIN_DECLS

/* The way from one profile to a monitor's, or to sRGB. It never changes; any thread may convert with
 * it. */
typedef struct _TsProfileScreen TsProfileScreen;

/* @monitor is an ICC profile of an RGB screen; %NULL takes the screen for sRGB. */
TsProfileScreen *ts_profile_screen_new     (TsProfile              *from,
                                            GBytes                 *monitor,
                                            GError                **error);
TsProfileScreen *ts_profile_screen_ref     (TsProfileScreen        *self);
void             ts_profile_screen_unref   (TsProfileScreen        *self);
/* A block of pixels, @pixel_stride bytes and @word_stride words a row, to words whose lower 24 bits
 * are RRGGBB (cairo's RGB24). */
void             ts_profile_screen_convert (const TsProfileScreen  *self,
                                            const void             *pixels,
                                            gsize                   pixel_stride,
                                            guint                   width,
                                            guint                   height,
                                            guint32                *words,
                                            gsize                   word_stride);
/* Words that stand for sRGB become the monitor's. */
void             ts_profile_screen_adapt   (const TsProfileScreen  *self,
                                            guint32                *words,
                                            gsize                   n);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsProfileScreen, ts_profile_screen_unref)

G_END_DECLS
