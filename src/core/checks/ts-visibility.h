/* ts-visibility.h: how much contrast the eye can see
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

double ts_contrast_sensitivity (double luminance,
                                double field,
                                double frequency);
double ts_visibility           (double lightness,
                                double other,
                                double distance,
                                double band,
                                double luminance);
/* The narrowest band, mm, in which two L* are seen apart. */
double ts_visibility_get_least_band
                               (double lightness,
                                double other,
                                double distance,
                                double luminance);

G_END_DECLS
