/* demo-illuminant.h: the spectrum of the lamps, and what the observer makes of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "demo-bands.h"

/* XYZ of a reflected spectrum is the sum over the bands of weight times reflectance; white has Y = 1. */
typedef struct
{
  float weight[DEMO_BANDS][3];
} DemoIlluminant;

void demo_illuminant_init    (DemoIlluminant        *self,
                              double                 kelvin);
void demo_illuminant_to_xyz  (const DemoIlluminant  *self,
                              const DemoBands       *radiance,
                              float                  factor,
                              float                  xyz[3]);
