/* ts-index-kernel.c: the loops of the index of mixes, many mixes at once in single precision
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each loop stands here once for every machine and once for AVX2, chosen when the program runs. No
 * sum is reordered and nothing is contracted: both give the same bits.
 */
#include "recipes/ts-index-kernel-private.h"

#include <math.h>
#include <string.h>

#if defined(__x86_64__) && defined(__GNUC__)
#define ON_X86_64 1
#include <immintrin.h>
#else
#define ON_X86_64 0
#endif

#if defined(__GNUC__) && !defined(__clang__)
#define VECTORS __attribute__ ((optimize ("O3")))
#else
#define VECTORS
#endif
#define FIND_AT_ONCE 256
#define INLINE static inline __attribute__ ((always_inline))

/* ISO/CIE 11664-4: where the curve turns straight. */
#define STRAIGHT_TO 0.008856452f
#define STRAIGHT_SLOPE 7.787037f
#define STRAIGHT_BASE (16.0f / 116.0f)

/* Cube root of a positive number: a third of the exponent, then Halley's step twice, which leaves
 * only rounding. */
INLINE float
cube_root (float x)
{
  gint32 bits;
  float root, cube;

  memcpy (&bits, &x, sizeof bits);
  bits = (gint32) ((float) bits * (1.0f / 3.0f)) + 709921077;
  memcpy (&root, &bits, sizeof root);
  cube = root * root * root;
  root *= (cube + 2.0f * x) / (2.0f * cube + x);
  cube = root * root * root;
  return root * (cube + 2.0f * x) / (2.0f * cube + x);
}

/* Both branches are worked out and one is taken by its bits, which a vector can do. */
INLINE float
choose (gboolean first, float one, float other)
{
  guint32 mask = 0u - (guint32) first;
  guint32 one_bits, other_bits;

  memcpy (&one_bits, &one, sizeof one_bits);
  memcpy (&other_bits, &other, sizeof other_bits);
  one_bits = (one_bits & mask) | (other_bits & ~mask);
  memcpy (&one, &one_bits, sizeof one);
  return one;
}

INLINE float
lab_curve (float t)
{
  return choose (t > STRAIGHT_TO, cube_root (choose (t > 1e-6f, t, 1e-6f)),
                 STRAIGHT_SLOPE * t + STRAIGHT_BASE);
}

/* From X, Y, Z over the white's, in place. */
INLINE void
to_lab (guint n, float *restrict x, float *restrict y, float *restrict z)
{
  for (guint i = 0; i < n; i++)
    {
      float fx = lab_curve (x[i]);
      float fy = lab_curve (y[i]);
      float fz = lab_curve (z[i]);

      x[i] = 116.0f * fy - 16.0f;
      y[i] = 500.0f * (fx - fy);
      z[i] = 200.0f * (fy - fz);
    }
}

/* Every mix of its own shares of the same paints. */
INLINE void
mix (const float *const *restrict rows, const float *restrict shares, guint n_paints,
     float *restrict mixed)
{
  for (guint b = 0; b < TS_BANDS; b++)
    {
      float sum[TS_PACK] = { 0.0f };

      for (guint p = 0; p < n_paints; p++)
        for (guint i = 0; i < TS_PACK; i++)
          sum[i] += shares[p * TS_PACK + i] * rows[p][b];
      memcpy (mixed + b * TS_PACK, sum, sizeof sum);
    }
}

INLINE void
widen (const float *restrict values, float *restrict low, float *restrict high, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      low[i] = values[i] < low[i] ? values[i] : low[i];
      high[i] = values[i] > high[i] ? values[i] : high[i];
    }
}

INLINE void
pack (const float *restrict values, float shift, float scale, guint8 *restrict bytes, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      float scaled = scale * (values[i] + shift);

      scaled = scaled > 0.0f ? scaled : 0.0f;
      bytes[i] = (guint8) (gint32) (scaled < 255.0f ? scaled : 255.0f);
    }
}

/* One byte a box: whether it overlaps. */
INLINE void
overlap (const guint8 *restrict boxes, gsize stride, guint n, const guint8 low[3],
         const guint8 high[3], guint8 *restrict overlaps)
{
  for (guint i = 0; i < n; i++)
    overlaps[i] = (boxes[i] <= high[0]) & (boxes[i + 3 * stride] >= low[0]) &
                  (boxes[i + stride] <= high[1]) & (boxes[i + 4 * stride] >= low[1]) &
                  (boxes[i + 2 * stride] <= high[2]) & (boxes[i + 5 * stride] >= low[2]);
}

#if ON_X86_64

/* X, Y, Z over the white's of one pack. */
static void
add_pack (const TsIndexOptics *optics, const float *mix_K, const float *mix_S, const float *paint_K,
          const float *paint_S, gsize stride, float *x, float *y, float *z)
{
  __m128 out = _mm_set1_ps (optics->out);

  for (guint i = 0; i < TS_PACK; i += 4)
    {
      __m128 sum_x = _mm_set1_ps (optics->base[0]);
      __m128 sum_y = _mm_set1_ps (optics->base[1]);
      __m128 sum_z = _mm_set1_ps (optics->base[2]);

      for (guint b = 0; b < TS_BANDS; b++)
        {
          gsize at = b * stride + i;
          __m128 k = _mm_add_ps (_mm_set1_ps (mix_K[b]), _mm_loadu_ps (paint_K + at));
          __m128 s = _mm_add_ps (_mm_set1_ps (mix_S[b]), _mm_loadu_ps (paint_S + at));
          __m128 twice = _mm_add_ps (_mm_add_ps (k, s), s);
          __m128 root = _mm_sqrt_ps (_mm_mul_ps (k, twice));
          __m128 under = _mm_add_ps (_mm_add_ps (k, _mm_mul_ps (out, s)), root);
          __m128 share = _mm_div_ps (s, under);

          sum_x = _mm_add_ps (sum_x, _mm_mul_ps (_mm_set1_ps (optics->weight[b][0]), share));
          sum_y = _mm_add_ps (sum_y, _mm_mul_ps (_mm_set1_ps (optics->weight[b][1]), share));
          sum_z = _mm_add_ps (sum_z, _mm_mul_ps (_mm_set1_ps (optics->weight[b][2]), share));
        }
      _mm_storeu_ps (x + i, sum_x);
      _mm_storeu_ps (y + i, sum_y);
      _mm_storeu_ps (z + i, sum_z);
    }
}

#else

/* X, Y, Z over the white's of one pack. */
static void
add_pack (const TsIndexOptics *optics, const float *mix_K, const float *mix_S, const float *paint_K,
          const float *paint_S, gsize stride, float *x, float *y, float *z)
{
  for (guint i = 0; i < TS_PACK; i++)
    {
      float sum[3] = { optics->base[0], optics->base[1], optics->base[2] };

      for (guint b = 0; b < TS_BANDS; b++)
        {
          float k = mix_K[b] + paint_K[b * stride + i];
          float s = mix_S[b] + paint_S[b * stride + i];
          float root = sqrtf (k * (k + s + s));
          float share = s / (k + optics->out * s + root);

          for (guint c = 0; c < 3; c++)
            sum[c] += optics->weight[b][c] * share;
        }
      x[i] = sum[0];
      y[i] = sum[1];
      z[i] = sum[2];
    }
}

#endif

static void
add_plain (const TsIndexOptics *optics, const float *mix_K, const float *mix_S,
           const float *paint_K, const float *paint_S, gsize stride, guint n, float *const *lab)
{
  for (guint i = 0; i < n; i += TS_PACK)
    add_pack (optics, mix_K, mix_S, paint_K + i, paint_S + i, stride, lab[0] + i, lab[1] + i,
              lab[2] + i);
}

static VECTORS void
to_lab_plain (guint n, float *x, float *y, float *z)
{
  to_lab (n, x, y, z);
}

static VECTORS void
mix_plain (const float *const *rows, const float *shares, guint n_paints, float *mixed)
{
  mix (rows, shares, n_paints, mixed);
}

static VECTORS void
widen_plain (const float *values, float *low, float *high, guint n)
{
  widen (values, low, high, n);
}

static VECTORS void
pack_plain (const float *values, float shift, float scale, guint8 *bytes, guint n)
{
  pack (values, shift, scale, bytes, n);
}

static VECTORS void
overlap_plain (const guint8 *boxes, gsize stride, guint n, const guint8 low[3],
               const guint8 high[3], guint8 *overlaps)
{
  overlap (boxes, stride, n, low, high, overlaps);
}

#if ON_X86_64

#define AVX2 __attribute__ ((target ("avx2,fma")))

/* A ratio by the machine's estimate (12 bits) and one step of Newton's (22 bits): the unit that
 * divides takes roots too, and is the slow one. What is off, TS_INDEX_MARGIN holds. */
static inline AVX2 __m256
ratio_avx2 (__m256 over, __m256 under)
{
  __m256 guess = _mm256_rcp_ps (under);
  __m256 rest = _mm256_fnmadd_ps (under, guess, _mm256_set1_ps (2.0f));

  return _mm256_mul_ps (_mm256_mul_ps (over, guess), rest);
}

/* Up to two packs in turn, so that one does not wait for the other's roots. */
INLINE AVX2 void
add_packs_avx2 (const TsIndexOptics *optics, const float *mix_K, const float *mix_S,
                const float *paint_K, const float *paint_S, gsize stride, float *const *lab,
                gsize first, const guint n_packs)
{
  __m256 out = _mm256_set1_ps (optics->out);
  __m256 sum[2][3];

  for (guint p = 0; p < n_packs; p++)
    for (guint c = 0; c < 3; c++)
      sum[p][c] = _mm256_set1_ps (optics->base[c]);
  for (guint b = 0; b < TS_BANDS; b++)
#pragma GCC unroll 2
    for (guint p = 0; p < n_packs; p++)
      {
        gsize at = b * stride + first + p * TS_PACK;
        __m256 k = _mm256_add_ps (_mm256_set1_ps (mix_K[b]), _mm256_loadu_ps (paint_K + at));
        __m256 s = _mm256_add_ps (_mm256_set1_ps (mix_S[b]), _mm256_loadu_ps (paint_S + at));
        __m256 root = _mm256_sqrt_ps (_mm256_mul_ps (k, _mm256_add_ps (_mm256_add_ps (k, s), s)));
        __m256 under = _mm256_fmadd_ps (out, s, _mm256_add_ps (k, root));
        __m256 share = ratio_avx2 (s, under);

#pragma GCC unroll 3
        for (guint c = 0; c < 3; c++)
          sum[p][c] = _mm256_fmadd_ps (_mm256_set1_ps (optics->weight[b][c]), share, sum[p][c]);
      }
  for (guint p = 0; p < n_packs; p++)
    for (guint c = 0; c < 3; c++)
      _mm256_storeu_ps (lab[c] + first + p * TS_PACK, sum[p][c]);
}

static AVX2 void
add_avx2 (const TsIndexOptics *optics, const float *mix_K, const float *mix_S, const float *paint_K,
          const float *paint_S, gsize stride, guint n, float *const *lab)
{
  guint i = 0;

  for (; i + 2 * TS_PACK <= n; i += 2 * TS_PACK)
    add_packs_avx2 (optics, mix_K, mix_S, paint_K, paint_S, stride, lab, i, 2);
  if (i < n)
    add_packs_avx2 (optics, mix_K, mix_S, paint_K, paint_S, stride, lab, i, 1);
}

static AVX2 VECTORS void
to_lab_avx2 (guint n, float *x, float *y, float *z)
{
  to_lab (n, x, y, z);
}

static AVX2 VECTORS void
mix_avx2 (const float *const *rows, const float *shares, guint n_paints, float *mixed)
{
  mix (rows, shares, n_paints, mixed);
}

static AVX2 VECTORS void
widen_avx2 (const float *values, float *low, float *high, guint n)
{
  widen (values, low, high, n);
}

static AVX2 VECTORS void
pack_avx2 (const float *values, float shift, float scale, guint8 *bytes, guint n)
{
  pack (values, shift, scale, bytes, n);
}

static AVX2 VECTORS void
overlap_avx2 (const guint8 *boxes, gsize stride, guint n, const guint8 low[3], const guint8 high[3],
              guint8 *overlaps)
{
  overlap (boxes, stride, n, low, high, overlaps);
}

#else

#define add_avx2 add_plain
#define to_lab_avx2 to_lab_plain
#define mix_avx2 mix_plain
#define widen_avx2 widen_plain
#define pack_avx2 pack_plain
#define overlap_avx2 overlap_plain

#endif

/**
 * ts_index_kernel_has_avx2:
 *
 * Returns: whether this machine has the instructions that the wide loops need, and the environment
 *   does not have TONESTAIR_NO_AVX2 set, by which both ways are compared
 */
gboolean
ts_index_kernel_has_avx2 (void)
{
#if ON_X86_64
  return __builtin_cpu_supports ("avx2") != 0 && __builtin_cpu_supports ("fma") != 0 &&
         g_getenv ("TONESTAIR_NO_AVX2") == NULL;
#else
  return FALSE;
#endif
}

/**
 * ts_index_kernel_add:
 * @optics: constants of the set
 * @mix_K: (array fixed-size=31): absorption of what is there already, the same in all mixes
 * @mix_S: (array fixed-size=31): its scattering
 * @paint_K: absorption of the paints that are added, band after band
 * @paint_S: their scattering
 * @stride: from one band to the next
 * @n: how many paints, a multiple of %TS_PACK
 * @lab: (out): L, a, b of the mixes, within 0.005 of ts_recipe_predict()'s
 * @wide: whether to use AVX2, which the machine must have
 */
void
ts_index_kernel_add (const TsIndexOptics *optics, const float *mix_K, const float *mix_S,
                     const float *paint_K, const float *paint_S, gsize stride, guint n,
                     float *const *lab, gboolean wide)
{
  (wide ? add_avx2 : add_plain) (optics, mix_K, mix_S, paint_K, paint_S, stride, n, lab);
  (wide ? to_lab_avx2 : to_lab_plain) (n, lab[0], lab[1], lab[2]);
}

/**
 * ts_index_kernel_mix:
 * @K: (array length=n_paints): 31 bands of absorption of each paint
 * @S: (array length=n_paints): 31 bands of scattering
 * @shares: parts of each paint in each of %TS_PACK mixes, paint after paint
 * @n_paints: how many
 * @optics: constants of the set
 * @lab: (out): L, a, b of the mixes, as good as ts_index_kernel_add()'s
 * @wide: whether to use AVX2
 */
void
ts_index_kernel_mix (const float *const *K, const float *const *S, const float *shares,
                     guint n_paints, const TsIndexOptics *optics, float *const *lab, gboolean wide)
{
  static const float nothing[TS_BANDS] = { 0.0f };
  float mixed_K[TS_BANDS * TS_PACK], mixed_S[TS_BANDS * TS_PACK];

  (wide ? mix_avx2 : mix_plain) (K, shares, n_paints, mixed_K);
  (wide ? mix_avx2 : mix_plain) (S, shares, n_paints, mixed_S);
  ts_index_kernel_add (optics, nothing, nothing, mixed_K, mixed_S, TS_PACK, TS_PACK, lab, wide);
}

VECTORS void
ts_index_kernel_add_share (float share, const float *restrict paint, float *restrict sum)
{
  for (guint b = 0; b < TS_BANDS; b++)
    sum[b] += share * paint[b];
}

void
ts_index_kernel_widen (const float *values, float *low, float *high, guint n, gboolean wide)
{
  (wide ? widen_avx2 : widen_plain) (values, low, high, n);
}

void
ts_index_kernel_pack (const float *values, float shift, float scale, guint8 *bytes, guint n,
                      gboolean wide)
{
  (wide ? pack_avx2 : pack_plain) (values, shift, scale, bytes, n);
}

guint
ts_index_kernel_find (const guint8 *boxes, gsize stride, guint n, const guint8 low[3],
                      const guint8 high[3], guint *hits, gboolean wide)
{
  guint n_hits = 0;

  for (guint start = 0; start < n; start += FIND_AT_ONCE)
    {
      guint8 overlaps[FIND_AT_ONCE] = { 0 };
      guint count = MIN (FIND_AT_ONCE, n - start);

      (wide ? overlap_avx2 : overlap_plain) (boxes + start, stride, count, low, high, overlaps);
      for (guint word = 0; word < count; word += 8)
        {
          guint64 any;

          memcpy (&any, overlaps + word, sizeof any);
          for (guint i = word; any != 0 && i < word + 8; i++)
            if (overlaps[i])
              hits[n_hits++] = start + i;
        }
    }
  return n_hits;
}
