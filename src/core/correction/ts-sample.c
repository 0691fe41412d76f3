/* ts-sample.c: the mean of a handful of pixels, without those that mislead
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-sample.h"

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"

/* Puts the @k-th smallest in its place and returns it (Hoare 1961, algorithm 65). Linear time on
 * average; flat areas, all values the same, included. */
static double
select_smallest (double *values, gsize n, gsize k)
{
  gsize low = 0, high = n - 1;

  while (low < high)
    {
      double pivot = values[low + (high - low) / 2];
      gsize i = low, j = high;

      for (;;)
        {
          while (values[i] < pivot)
            i++;
          while (values[j] > pivot)
            j--;
          if (i >= j)
            break;
          double swap = values[i];
          values[i++] = values[j];
          values[j--] = swap;
        }
      if (k <= j)
        high = j;
      else
        low = j + 1;
    }
  return values[k];
}

static double
median_of (const TsXyz *xyz, gsize n, double *room, gsize offset)
{
  for (gsize i = 0; i < n; i++)
    room[i] = *(const double *) (const void *) ((const char *) &xyz[i] + offset);
  return select_smallest (room, n, n / 2);
}

static gsize
drop_clipped (TsXyz *xyz, const guint8 *clipped, gsize n)
{
  gsize kept = 0;

  for (gsize i = 0; i < n; i++)
    if (!clipped[i])
      xyz[kept++] = xyz[i];
  return kept;
}

/* Distances in CIELAB from the median; equal ones stay or go together. */
static gsize
drop_farthest_tenth (TsXyz *xyz, gsize n)
{
  g_autofree double *room = g_new (double, n);
  g_autofree double *distance = g_new (double, n);
  TsLab centre = ts_lab_from_xyz ((TsXyz){ median_of (xyz, n, room, G_STRUCT_OFFSET (TsXyz, X)),
                                           median_of (xyz, n, room, G_STRUCT_OFFSET (TsXyz, Y)),
                                           median_of (xyz, n, room, G_STRUCT_OFFSET (TsXyz, Z)) });
  gsize kept = 0;
  double most;

  for (gsize i = 0; i < n; i++)
    room[i] = distance[i] = ts_delta_e_76 (ts_lab_from_xyz (xyz[i]), centre);
  most = select_smallest (room, n, n - n / 10 - 1);
  for (gsize i = 0; i < n; i++)
    if (distance[i] <= most)
      xyz[kept++] = xyz[i];
  return kept;
}

/**
 * ts_sample_trim:
 * @xyz: (array length=n) (inout): the pixels; those that were kept stand first afterwards
 * @clipped: (array length=n): whether a channel of each stood at an end of its range
 * @n: how many, at least 1
 *
 * Leaves out clipped pixels (all are kept where every one is clipped) and then the tenth that is
 * farthest in CIELAB from the median, and takes the mean of the rest in linear light. Of fewer than
 * ten pixels none is far enough out to tell. Linear time on average.
 *
 * Returns: the mean, how many pixels were kept and the share that was clipped
 */
TsSample
ts_sample_trim (TsXyz *xyz, const guint8 *clipped, gsize n)
{
  TsSample sample = { .n_kept = n };
  gsize n_clean;

  g_return_val_if_fail (n >= 1, sample);

  n_clean = 0;
  for (gsize i = 0; i < n; i++)
    n_clean += !clipped[i];
  sample.clipped_share = (double) (n - n_clean) / (double) n;
  if (n_clean > 0)
    sample.n_kept = drop_clipped (xyz, clipped, n);
  sample.n_kept = drop_farthest_tenth (xyz, sample.n_kept);
  for (gsize i = 0; i < sample.n_kept; i++)
    {
      sample.mean.X += xyz[i].X / (double) sample.n_kept;
      sample.mean.Y += xyz[i].Y / (double) sample.n_kept;
      sample.mean.Z += xyz[i].Z / (double) sample.n_kept;
    }
  return sample;
}
