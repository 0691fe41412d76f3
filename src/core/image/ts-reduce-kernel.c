/* ts-reduce-kernel.c: the loops of area-average scaling
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-reduce-private.h"

/* Rows are summed downwards first, so that the long loop is a plain addition of two arrays, which
 * the compiler vectorises; the short sums across run once a reduced row. The
 * window waits for this where a big picture opens, so the compiler is asked for its best. */
#if defined(__GNUC__) && !defined(__clang__)
#define VECTORS __attribute__ ((optimize ("O3")))
#else
#define VECTORS
#endif
#define INLINE static inline __attribute__ ((always_inline))

#define SHORT_FACTOR 256 /* up to here, 32 bits hold the sum of a group of 8-bit samples */

VECTORS void
ts_reduce_add_row8 (const guint8 *restrict row, gsize n, guint32 *restrict sums)
{
  for (gsize i = 0; i < n; i++)
    sums[i] += row[i];
}

VECTORS void
ts_reduce_add_row16 (const guint16 *restrict row, gsize n, guint32 *restrict sums)
{
  for (gsize i = 0; i < n; i++)
    sums[i] += row[i];
}

/* To the nearest. A count that is a power of two, as nearly all are, needs no division. */
static inline guint64
divide (guint64 sum, guint64 count)
{
  if ((count & (count - 1)) == 0)
    return (sum + count / 2) >> __builtin_ctzll (count);
  return (sum + count / 2) / count;
}

static inline guint64
average (const guint32 *sums, guint channels, guint n_columns, guint n_rows)
{
  guint64 sum = 0;

  for (guint i = 0; i < n_columns; i++)
    sum += sums[i * channels];
  return divide (sum, (guint64) n_columns * n_rows);
}

/* Whole groups of a power of two of 8-bit samples, with numbers that the compiler knows. */
INLINE void
average_groups (const guint32 *restrict sums, guint n_groups, guint channels, guint factor,
                guint shift, guint8 *restrict out)
{
  guint32 half = 1u << shift >> 1;

  for (guint i = 0; i < n_groups; i++, sums += factor * channels, out += channels)
    for (guint c = 0; c < channels; c++)
      {
        guint32 sum = half;

        for (guint k = 0; k < factor; k++)
          sum += sums[k * channels + c];
        out[c] = (guint8) (sum >> shift);
      }
}

VECTORS static void
average_fast (const guint32 *sums, guint n_groups, guint channels, guint factor, guint shift,
              guint8 *out)
{
  if (channels == 3 && factor == 4)
    average_groups (sums, n_groups, 3, 4, shift, out);
  else if (channels == 3 && factor == 2)
    average_groups (sums, n_groups, 3, 2, shift, out);
  else
    average_groups (sums, n_groups, channels, factor, shift, out);
}

static gboolean
is_power_of_two (guint n)
{
  return (n & (n - 1)) == 0;
}

void
ts_reduce_average8 (const guint32 *sums, guint width, guint channels, guint factor, guint n_rows,
                    guint8 *out)
{
  guint x = 0;

  if (factor <= SHORT_FACTOR && n_rows <= SHORT_FACTOR && is_power_of_two (factor * n_rows))
    {
      x = width / factor * factor;
      average_fast (sums, width / factor, channels, factor, (guint) __builtin_ctz (factor * n_rows),
                    out);
      out += (gsize) (width / factor) * channels;
    }
  for (; x < width; x += factor)
    for (guint c = 0; c < channels; c++)
      *out++ = (guint8) average (sums + (gsize) x * channels + c, channels, MIN (factor, width - x),
                                 n_rows);
}

void
ts_reduce_average16 (const guint32 *sums, guint width, guint channels, guint factor, guint n_rows,
                     guint16 *out)
{
  for (guint x = 0; x < width; x += factor)
    for (guint c = 0; c < channels; c++)
      *out++ = (guint16) average (sums + (gsize) x * channels + c, channels,
                                  MIN (factor, width - x), n_rows);
}
