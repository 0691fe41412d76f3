/* demo-trace.h: the light that comes back along one line of sight, band by band
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "demo-sampler.h"
#include "demo-scene.h"

/* Adds to @sum the radiance that leaves @hit towards where @direction came from; a perfect white that
 * faces the lamp at the target has 1. Every lamp has the same spectrum, which is left out here. */
void demo_trace  (const DemoScene  *scene,
                  const DemoHit    *hit,
                  Vec               direction,
                  DemoSampler      *sampler,
                  DemoBands        *sum);
