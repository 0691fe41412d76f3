/* ts-paint-cgats.h: paints from and to CGATS text (ISO 28178)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-paint-set.h"

G_BEGIN_DECLS

/* A measuring device's spectra or CIELAB values as the text of a paint set (CSV). */
char *ts_paint_cgats_to_csv   (const char        *text,
                               gssize             length,
                               const char        *what,
                               GError           **error);
/* Masstones as spectra and CIELAB, and K and S as fields of our own. */
char *ts_paint_set_to_cgats   (const TsPaintSet  *self);

G_END_DECLS
