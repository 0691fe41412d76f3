/* demo-sampler.h: well spread numbers, the same on every run
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <stdint.h>

/* Sobol' points with Owen's scrambling, a pair at a time, by hashing (Burley 2020, Practical
 * hash-based Owen scrambling, Journal of Computer Graphics Techniques 9(4)). */
typedef struct
{
  uint32_t seed;
  uint32_t index;
  uint32_t pair;
} DemoSampler;

uint32_t demo_sampler_hash  (uint32_t      value);
/* The next two numbers of 0..1 of this sample. */
void     demo_sampler_next  (DemoSampler  *self,
                             float        *u,
                             float        *v);
