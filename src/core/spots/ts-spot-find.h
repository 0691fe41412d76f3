/* ts-spot-find.h: how far an even area reaches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "image/ts-image.h"

G_BEGIN_DECLS

double ts_spot_find_radius (const TsImage *image,
                            double         x,
                            double         y);

G_END_DECLS
