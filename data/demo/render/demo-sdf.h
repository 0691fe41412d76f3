/* demo-sdf.h: signed distances of simple solids and how they are joined
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "demo-vec.h"

/* Distances are negative inside. Those of ellipsoids and cones are bounds, near the surface nearly exact. */
float sdf_sphere        (Vec    p,
                         Vec    centre,
                         float  radius);
float sdf_ellipsoid     (Vec    p,
                         Vec    centre,
                         Vec    radii);
float sdf_capsule       (Vec    p,
                         Vec    a,
                         Vec    b,
                         float  radius_a,
                         float  radius_b);
float sdf_box           (Vec    p,
                         Vec    centre,
                         Vec    half,
                         float  rounding);
float sdf_cylinder_y    (Vec    p,
                         Vec    centre,
                         float  radius,
                         float  half_height,
                         float  rounding);
float sdf_ring_y        (Vec    p,
                         Vec    centre,
                         float  radius,
                         float  thickness);

float sdf_join          (float  a,
                         float  b,
                         float  softness);
float sdf_carve         (float  a,
                         float  b,
                         float  softness);
float sdf_common        (float  a,
                         float  b,
                         float  softness);

/* Smooth noise of about -1 to 1 with features about one unit wide. */
float sdf_noise         (Vec    p);
