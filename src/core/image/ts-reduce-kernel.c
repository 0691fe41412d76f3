/* ts-reduce-kernel.c: the loops of area-average scaling
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-reduce-private.h"

/* Rows are summed downwards first, so that the long loop is a plain addition of two arrays, which
 * the compiler vectorises; the short sums across run once a reduced row. */

void
ts_reduce_add_row8 (const guint8 *row, gsize n, guint32 *sums)
{
  for (gsize i = 0; i < n; i++)
    sums[i] += row[i];
}

void
ts_reduce_add_row16 (const guint16 *row, gsize n, guint32 *sums)
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

void
ts_reduce_average8 (const guint32 *sums, guint width, guint channels, guint factor, guint n_rows,
                    guint8 *out)
{
  for (guint x = 0; x < width; x += factor)
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
