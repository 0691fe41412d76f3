/* demo-figure.h: the sculpted figure as a distance and a material at every point
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "demo-sdf.h"

typedef enum
{
  DEMO_SKIN,
  DEMO_LIP,
  DEMO_EYE,
  DEMO_BEARD,
  DEMO_BROW,
  DEMO_CAP,
  DEMO_SCARF,
  DEMO_COAT,
  DEMO_LEATHER,
  DEMO_BRASS,
  DEMO_GLASS,
  DEMO_WOOD,
  DEMO_WALL,
  DEMO_TABLE,
  DEMO_BOARD,
  DEMO_CARD,
  DEMO_PATCH, /* the first of 24 */
  DEMO_N_MATERIALS = DEMO_PATCH + 24
} DemoMaterial;

/* One solid's answer at a point. */
typedef struct
{
  float        distance;
  DemoMaterial material;
} DemoSurface;

/* Keeps in @best whichever of the two surfaces is nearer. */
static inline void
demo_surface_add (DemoSurface  *best,
                  float         distance,
                  DemoMaterial  material)
{
  if (distance < best->distance)
    *best = (DemoSurface) { distance, material };
}

/* The box of the world that holds the whole figure, its plinth and the lantern. */
extern const Vec demo_figure_low;
extern const Vec demo_figure_high;
/* Adding this to a point of the figure gives a point of the world. */
extern const Vec demo_figure_place;

DemoSurface demo_figure_at      (Vec           p);
Vec         demo_figure_normal  (Vec           p,
                                 float         step);

/* Parts, in the figure's own space: the middle of the head is the origin, y is up, z is forward. */
void        demo_head_add       (DemoSurface  *best,
                                 Vec           p);
Vec         demo_head_turned    (Vec           p);
void        demo_clothes_add    (DemoSurface  *best,
                                 Vec           p);
void        demo_lantern_add    (DemoSurface  *best,
                                 Vec           p);
/* Where an eye looks: 1 at the middle of the pupil, falling with the angle from it. */
float       demo_head_gaze      (Vec           p);
