/* ts-tone-path.c: which of many colours are one surface in more and less light
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "spots/ts-tone-path.h"

#include <math.h>
#include <string.h>

/* Less light shrinks XYZ evenly, and with them a* and b* as L* + 16 does (ISO/CIE 11664-4): divided
 * by it, all tones of a surface lie near one place. */
#define LAB_FOOT 16.0

/* Cells of a map of those places, about 4 of a* or b* at L* 50; reasoned, not measured. */
#define MAP_CELL 0.06
#define MAP_HALF 50
#define MAP_SIDE (2 * MAP_HALF + 1)
/* Bands of lightness along which the path is followed, L*. */
#define BAND 2.5
#define N_BANDS 41
/* How far from the path a tone may lie, times the usual distance, and in a*, b*: a grain of a
 * picture is less, another material more (reasoned, not measured). */
#define REACH 4.0
#define LEAST_REACH 5.0
#define MOST_REACH 12.0
/* Bands without a tone on the path that are stepped over. */
#define MOST_GAP 2
/* So many tones move the path, so small a share of a band is chance. */
#define LEAST_TONES 3

typedef struct
{
  const TsLab *colours;
  const guint8 *band; /* of each colour */
  gsize n;
  gboolean *kept;
  double reach;
} Path;

static int
map_index (double over_foot)
{
  return (int) CLAMP (lround (over_foot / MAP_CELL), -MAP_HALF, MAP_HALF) + MAP_HALF;
}

static guint
count_around (const guint *map, int a, int b)
{
  guint n = 0;

  for (int i = MAX (a - 1, 0); i <= MIN (a + 1, MAP_SIDE - 1); i++)
    for (int j = MAX (b - 1, 0); j <= MIN (b + 1, MAP_SIDE - 1); j++)
      n += map[i * MAP_SIDE + j];
  return n;
}

/* Where most colours lie, over L* + 16. */
static void
find_mode (const TsLab *colours, gsize n, double *mode_a, double *mode_b)
{
  g_autofree guint *map = g_new0 (guint, MAP_SIDE * MAP_SIDE);
  guint most = 0;

  for (gsize i = 0; i < n; i++)
    {
      double foot = colours[i].L + LAB_FOOT;

      map[map_index (colours[i].a / foot) * MAP_SIDE + map_index (colours[i].b / foot)]++;
    }
  for (int a = 0; a < MAP_SIDE; a++)
    for (int b = 0; b < MAP_SIDE; b++)
      {
        guint around = map[a * MAP_SIDE + b] > 0 ? count_around (map, a, b) : 0;

        if (around > most)
          {
            most = around;
            *mode_a = (a - MAP_HALF) * MAP_CELL;
            *mode_b = (b - MAP_HALF) * MAP_CELL;
          }
      }
}

static double
distance (const TsLab *colour, double a, double b)
{
  double foot = colour->L + LAB_FOOT;

  return hypot (colour->a - a * foot, colour->b - b * foot);
}

static int
compare_doubles (gconstpointer one, gconstpointer other)
{
  const double *a = one, *b = other;

  return (*a > *b) - (*a < *b);
}

static double
median (double *numbers, gsize n)
{
  qsort (numbers, n, sizeof *numbers, compare_doubles);
  return 0.5 * (numbers[(n - 1) / 2] + numbers[n / 2]);
}

/* The band with most colours near the mode, and how far they usually lie from it. */
static guint
find_start (Path *path, double a, double b)
{
  guint count[N_BANDS] = { 0 }, start = 0;
  g_autofree double *far = g_new (double, path->n);
  gsize n_far = 0;

  for (gsize i = 0; i < path->n; i++)
    if (distance (&path->colours[i], a, b) <= MOST_REACH)
      count[path->band[i]]++;
  for (guint i = 1; i < N_BANDS; i++)
    if (count[i] > count[start])
      start = i;
  for (gsize i = 0; i < path->n; i++)
    {
      double off = distance (&path->colours[i], a, b);

      if (path->band[i] == start && off <= MOST_REACH)
        far[n_far++] = off;
    }
  path->reach =
    n_far > 0 ? CLAMP (REACH * median (far, n_far), LEAST_REACH, MOST_REACH) : LEAST_REACH;
  return start;
}

/* Keeps the colours of one band near the path and moves the path to their middle; how many. */
static gsize
follow_band (Path *path, guint band, double *a, double *b)
{
  g_autofree double *as = g_new (double, path->n);
  g_autofree double *bs = g_new (double, path->n);
  gsize n = 0;

  for (gsize i = 0; i < path->n; i++)
    if (path->band[i] == band && distance (&path->colours[i], *a, *b) <= path->reach)
      {
        double foot = path->colours[i].L + LAB_FOOT;

        path->kept[i] = TRUE;
        as[n] = path->colours[i].a / foot;
        bs[n++] = path->colours[i].b / foot;
      }
  if (n >= LEAST_TONES)
    {
      *a = median (as, n);
      *b = median (bs, n);
    }
  return n;
}

static void
follow (Path *path, guint start, int step, double a, double b)
{
  guint gap = 0;

  for (int band = (int) start + step; band >= 0 && band < N_BANDS && gap <= MOST_GAP; band += step)
    gap = follow_band (path, (guint) band, &a, &b) > 0 ? 0 : gap + 1;
}

/**
 * ts_tone_path_follow:
 * @colours: (array length=n): CIELAB, D50
 * @n: at least 1
 * @kept: (out caller-allocates) (array length=n): whether each lies on the path
 *
 * Begins where most colours lie and goes on band by band to lighter and darker ones, near to where
 * the last band was, so that a surface whose lights are warm and shadows cool is followed, and a
 * neighbour's tones and glints are not.
 */
void
ts_tone_path_follow (const TsLab *colours, gsize n, gboolean *kept)
{
  g_autofree guint8 *band = g_new (guint8, n);
  Path path = { colours, band, n, kept, 0.0 };
  double a = 0.0, b = 0.0;
  guint start;

  g_return_if_fail (n > 0);

  memset (kept, 0, n * sizeof *kept);
  for (gsize i = 0; i < n; i++)
    band[i] = (guint8) CLAMP (colours[i].L / BAND, 0.0, N_BANDS - 1.0);
  find_mode (colours, n, &a, &b);
  start = find_start (&path, a, b);
  follow_band (&path, start, &a, &b);
  follow (&path, start, 1, a, b);
  follow (&path, start, -1, a, b);
}
