/* demo-sampler.c: well spread numbers, the same on every run
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-sampler.h"

uint32_t
demo_sampler_hash (uint32_t value)
{
  value ^= value >> 16;
  value *= 0x7feb352du;
  value ^= value >> 15;
  value *= 0x846ca68bu;
  return value ^ (value >> 16);
}

static uint32_t
reversed (uint32_t x)
{
  x = __builtin_bswap32 (x);
  x = ((x & 0x0f0f0f0fu) << 4) | ((x >> 4) & 0x0f0f0f0fu);
  x = ((x & 0x33333333u) << 2) | ((x >> 2) & 0x33333333u);
  return ((x & 0x55555555u) << 1) | ((x >> 1) & 0x55555555u);
}

static uint32_t
scrambled (uint32_t x, uint32_t seed)
{
  x = reversed (x) + seed;
  x ^= x * 0x6c50b47cu;
  x ^= x * 0xb82f1e52u;
  x ^= x * 0xc7afe638u;
  x ^= x * 0x8d22f6e6u;
  return reversed (x);
}

static uint32_t
second_sobol (uint32_t index)
{
  uint32_t result = 0;

  for (uint32_t v = 1u << 31; index != 0; index >>= 1, v ^= v >> 1)
    if (index & 1)
      result ^= v;
  return result;
}

static float
fraction (uint32_t x)
{
  return (float) (x >> 8) * (1.0f / 16777216.0f);
}

void
demo_sampler_next (DemoSampler *self, float *u, float *v)
{
  const uint32_t seed = demo_sampler_hash (self->seed + 0x9e3779b9u * ++self->pair);
  const uint32_t index = scrambled (self->index, seed);

  *u = fraction (scrambled (reversed (index), demo_sampler_hash (seed ^ 0x68bc21ebu)));
  *v = fraction (scrambled (second_sobol (index), demo_sampler_hash (seed ^ 0x02e5be93u)));
}
