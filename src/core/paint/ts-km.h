/* ts-km.h: the optics of one band: Kubelka-Munk layers and Saunderson's surface
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-paint.h"

G_BEGIN_DECLS

/* Inside reflectance of a layer that hides all: 1 + K/S - sqrt ((K/S)^2 + 2 K/S). */
double   ts_km_reflectance       (double               K,
                                  double               S);
/* K/S of a layer that hides all, from its inside reflectance. */
double   ts_km_ratio             (double               reflectance);
/* Inside reflectance of a film of @coats over a ground of inside reflectance @ground. */
double   ts_km_film              (double               K,
                                  double               S,
                                  double               coats,
                                  double               ground);
/* K and S of a film of one coat from its inside reflectances over a black and a white ground. */
gboolean ts_km_invert_films      (double               over_black,
                                  double               over_white,
                                  double               black,
                                  double               white,
                                  double              *K,
                                  double              *S);
/* Inside reflectance to the one an instrument sees, and back (held within 0..1). */
double   ts_saunderson_measured  (TsSurfaceReflection  surface,
                                  double               inside);
double   ts_saunderson_inside    (TsSurfaceReflection  surface,
                                  double               measured);

G_END_DECLS
