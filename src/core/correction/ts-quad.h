/* ts-quad.h: a four-cornered piece of a picture, seen at an angle
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "base/ts-linalg.h"
#include "image/ts-image.h"

G_BEGIN_DECLS

/* Its corners in turn, upright pixels. */
typedef struct
{
  double x[4], y[4];
} TsQuad;

/* The perspective that takes the corners of the unit square, 0,0 1,0 1,1 0,1, to @corners; FALSE
 * unless they go round a convex area. */
gboolean ts_quad_find_perspective (const double   corners[4][2],
                                   TsMat3        *map);
/* Where u, v of the unit square lies in the picture. */
void     ts_quad_place            (const TsMat3  *map,
                                   double         u,
                                   double         v,
                                   double        *x,
                                   double        *y);
gboolean ts_quad_lies_inside      (const TsQuad  *self,
                                   const TsImage *image);
/* Appends the pixels whose centres lie in it: TsXyz as the picture has them, and for each whether a
 * channel stands at an end of its range. Of a large one some @most_pixels evenly spread. */
void     ts_quad_collect          (const TsQuad  *self,
                                   const TsImage *image,
                                   guint          most_pixels,
                                   GArray        *xyz,
                                   GByteArray    *clipped);

G_END_DECLS
