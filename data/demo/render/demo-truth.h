/* demo-truth.h: what is really in the picture, for those who measure it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "demo-camera.h"

typedef struct
{
  const DemoCamera     *camera;
  const DemoScene      *scene;
  const DemoIlluminant *light;
  float                 exposure;
  int                   paths;     /* of light in each disc */
} DemoTruth;

/* Reads discs and runs from @places_path and writes what the scene has there to @path. */
gboolean demo_truth_write  (const DemoTruth  *self,
                            const char       *places_path,
                            const char       *path,
                            GError          **error);
