/* demo-camera.h: where the picture is taken from, and taking it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "demo-illuminant.h"
#include "demo-trace.h"

typedef struct
{
  int              width, height;
  float            across;         /* units of the scene across the picture at z = 0 */
  Vec              eye;            /* looks along -z; the scene's z = 0 is eye.z away */
  int              looks;          /* lines of sight through a pixel */
  int              paths;          /* paths of light for each of them, a power of two */
  guint32          seed;
} DemoCamera;

/* XYZ of every pixel, row by row, as the observer sees it under the light; white at the target has Y = 1. */
float *demo_camera_take   (const DemoCamera      *self,
                           const DemoScene       *scene,
                           const DemoIlluminant  *light);
/* The mean radiance of a disc of the picture, by @paths paths. */
void   demo_camera_probe  (const DemoCamera      *self,
                           const DemoScene       *scene,
                           float                  x,
                           float                  y,
                           float                  radius,
                           int                    paths,
                           DemoBands             *mean);
/* The pixel place where a point of the scene appears. */
void   demo_camera_place  (const DemoCamera      *self,
                           Vec                    p,
                           float                 *x,
                           float                 *y);
