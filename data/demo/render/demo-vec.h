/* demo-vec.h: small vectors of the demo renderer
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <math.h>

typedef struct
{
  float x, y, z;
} Vec;

static inline Vec
vec (float x, float y, float z)
{
  return (Vec) { x, y, z };
}

static inline Vec
vec_add (Vec a, Vec b)
{
  return vec (a.x + b.x, a.y + b.y, a.z + b.z);
}

static inline Vec
vec_sub (Vec a, Vec b)
{
  return vec (a.x - b.x, a.y - b.y, a.z - b.z);
}

static inline Vec
vec_scale (Vec a, float k)
{
  return vec (a.x * k, a.y * k, a.z * k);
}

/* a + k b */
static inline Vec
vec_along (Vec a, Vec b, float k)
{
  return vec (a.x + k * b.x, a.y + k * b.y, a.z + k * b.z);
}

static inline float
vec_dot (Vec a, Vec b)
{
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

static inline Vec
vec_cross (Vec a, Vec b)
{
  return vec (a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x);
}

static inline float
vec_length (Vec a)
{
  return sqrtf (vec_dot (a, a));
}

static inline Vec
vec_unit (Vec a)
{
  return vec_scale (a, 1.0f / vec_length (a));
}

/* The point turned about the x, y or z axis. */
static inline Vec
vec_turn_x (Vec p, float angle)
{
  const float c = cosf (angle), s = sinf (angle);
  return vec (p.x, c * p.y - s * p.z, s * p.y + c * p.z);
}

static inline Vec
vec_turn_y (Vec p, float angle)
{
  const float c = cosf (angle), s = sinf (angle);
  return vec (c * p.x + s * p.z, p.y, c * p.z - s * p.x);
}

static inline Vec
vec_turn_z (Vec p, float angle)
{
  const float c = cosf (angle), s = sinf (angle);
  return vec (c * p.x - s * p.y, s * p.x + c * p.y, p.z);
}

static inline float
mixf (float a, float b, float t)
{
  return a + (b - a) * t;
}

static inline float
clampf (float x, float low, float high)
{
  return x < low ? low : x > high ? high : x;
}

/* 0 below @low, 1 above @high, smooth between */
static inline float
smoothf (float low, float high, float x)
{
  const float t = clampf ((x - low) / (high - low), 0.0f, 1.0f);
  return t * t * (3.0f - 2.0f * t);
}
