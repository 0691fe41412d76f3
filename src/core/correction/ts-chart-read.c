/* ts-chart-read.c: the patches of a chart as a picture shows them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-chart-read.h"

#include <math.h>

#include "base/ts-error.h"
#include "base/ts-linalg.h"
#include "correction/ts-sample.h"

/* The inner 60 % of a patch; patches take about seven eighths of the way to their neighbours
 * (common practice, no source). */
#define HALF_SIDE 0.26
/* Fewer pixels say too little about a patch; more than these say nothing new. */
#define FEWEST_PIXELS 12
#define MOST_PIXELS 20000
#define MOST_CLIPPED 0.1

typedef struct
{
  double x, y;
} Place;

static Place
place_through (const TsMat3 *map, double u, double v)
{
  TsVec3 p = ts_mat3_apply (map, (TsVec3){ { u, v, 1.0 } });

  return (Place){ p.v[0] / p.v[2], p.v[1] / p.v[2] };
}

/* Twice the area of the triangle; its sign says the way round. */
static double
cross (Place a, Place b, Place c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/* The perspective that takes the corners of the unit square to the four places (Heckbert 1989,
 * Fundamentals of Texture Mapping and Image Warping, 2.2.3). FALSE unless they are convex. */
static gboolean
find_perspective (const double corners[4][2], TsMat3 *map)
{
  Place p[4];
  double sx, sy, dx1, dx2, dy1, dy2, det, g, h, way;

  for (int i = 0; i < 4; i++)
    p[i] = (Place){ corners[i][0], corners[i][1] };
  way = cross (p[0], p[1], p[2]) > 0.0 ? 1.0 : -1.0;
  for (int i = 0; i < 4; i++)
    if (!(way * cross (p[i], p[(i + 1) % 4], p[(i + 2) % 4]) > 1.0))
      return FALSE;
  sx = p[0].x - p[1].x + p[2].x - p[3].x;
  sy = p[0].y - p[1].y + p[2].y - p[3].y;
  dx1 = p[1].x - p[2].x;
  dx2 = p[3].x - p[2].x;
  dy1 = p[1].y - p[2].y;
  dy2 = p[3].y - p[2].y;
  det = dx1 * dy2 - dx2 * dy1;
  g = (sx * dy2 - dx2 * sy) / det;
  h = (dx1 * sy - sx * dy1) / det;
  *map = (TsMat3){ { { p[1].x - p[0].x + g * p[1].x, p[3].x - p[0].x + h * p[3].x, p[0].x },
                     { p[1].y - p[0].y + g * p[1].y, p[3].y - p[0].y + h * p[3].y, p[0].y },
                     { g, h, 1.0 } } };
  return isfinite (g) && isfinite (h);
}

static void
set_corners (TsChartPatch *patch, const TsMat3 *map, guint index, guint n_columns)
{
  static const double side[4][2] = { { -1, -1 }, { 1, -1 }, { 1, 1 }, { -1, 1 } };
  guint n_rows = TS_CHART_PATCHES / n_columns;

  for (int k = 0; k < 4; k++)
    {
      double u = (index % n_columns + HALF_SIDE * side[k][0]) / (n_columns - 1);
      double v = (index / n_columns + HALF_SIDE * side[k][1]) / (n_rows - 1);
      Place place = place_through (map, u, v);

      patch->x[k] = place.x;
      patch->y[k] = place.y;
    }
}

/* Where the line at @y leaves the area: pixel centres from @from to @to lie inside. */
static gboolean
find_span (const TsChartPatch *patch, double y, double *from, double *to)
{
  *from = G_MAXDOUBLE;
  *to = -G_MAXDOUBLE;
  for (int k = 0; k < 4; k++)
    {
      int next = (k + 1) % 4;
      double y0 = patch->y[k], y1 = patch->y[next];

      if ((y0 <= y) == (y1 <= y))
        continue;
      double x = patch->x[k] + (y - y0) / (y1 - y0) * (patch->x[next] - patch->x[k]);
      *from = MIN (*from, x);
      *to = MAX (*to, x);
    }
  return *from <= *to;
}

static double
quad_area (const TsChartPatch *patch)
{
  double area = 0.0;

  for (int k = 0; k < 4; k++)
    area += patch->x[k] * patch->y[(k + 1) % 4] - patch->x[(k + 1) % 4] * patch->y[k];
  return 0.5 * fabs (area);
}

static gboolean
lies_inside (const TsChartPatch *patch, const TsImage *image)
{
  for (int k = 0; k < 4; k++)
    if (!(patch->x[k] >= 0.0 && patch->x[k] <= ts_image_get_width (image) && patch->y[k] >= 0.0 &&
          patch->y[k] <= ts_image_get_height (image)))
      return FALSE;
  return TRUE;
}

/* Pixel centres of each @step-th row and column within the area. */
static void
collect_pixels (GArray *xyz, GByteArray *clipped, const TsImage *image, const TsChartPatch *patch,
                guint step)
{
  guint width = ts_image_get_width (image);
  g_autofree TsXyz *line = g_new (TsXyz, width);
  g_autofree guint8 *flags = g_new (guint8, width);
  double top = G_MAXDOUBLE, bottom = 0.0;

  for (int k = 0; k < 4; k++)
    {
      top = MIN (top, patch->y[k]);
      bottom = MAX (bottom, patch->y[k]);
    }
  for (double row = ceil (top - 0.5); row + 0.5 < bottom && row < ts_image_get_height (image);
       row += step)
    {
      double from, to;
      guint first, n;

      if (!find_span (patch, row + 0.5, &from, &to))
        continue;
      from = ceil (from - 0.5);
      to = MIN (ceil (to - 0.5), width);
      if (!(from < to))
        continue;
      first = (guint) from;
      n = (guint) to - first;
      ts_image_read_xyz (image, first, (guint) row, n, 1, line, flags);
      for (guint i = 0; i < n; i += step)
        {
          g_array_append_val (xyz, line[i]);
          g_byte_array_append (clipped, &flags[i], 1);
        }
    }
}

static gboolean
read_patch (TsChartPatch *patch, const TsImage *image, GError **error)
{
  g_autoptr (GArray) xyz = g_array_new (FALSE, FALSE, sizeof (TsXyz));
  g_autoptr (GByteArray) clipped = g_byte_array_new ();
  guint step = (guint) MAX (1.0, ceil (sqrt (quad_area (patch) / MOST_PIXELS)));
  TsSample sample;

  collect_pixels (xyz, clipped, image, patch, step);
  if (xyz->len < FEWEST_PIXELS)
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_TOO_FEW,
        "The chart is too small in the picture to measure; take it from nearer, or check "
        "the corners");
      return FALSE;
    }
  sample = ts_sample_trim ((TsXyz *) (void *) xyz->data, clipped->data, xyz->len);
  patch->xyz = sample.mean;
  patch->clipped_share = sample.clipped_share;
  patch->used = sample.clipped_share <= MOST_CLIPPED;
  patch->why = patch->used ? NULL : "clipped";
  return TRUE;
}

/**
 * ts_chart_read:
 * @image: a picture
 * @corners: centres of the corner patches, in turn round the chart
 * @n_columns: patches along the way from the first corner to the second: 6, or 4 on a chart on its
 *   side
 * @patches: (out): the patches in the order of the picture, row by row from the first corner
 * @error: return location for an error, or %NULL
 *
 * Measures the inner part of each patch; of a large one some 20,000 pixels evenly spread.
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_BAD_VALUE (no four corners) or %TS_ERROR_TOO_FEW (too
 *   small) set
 */
gboolean
ts_chart_read (const TsImage *image, const double corners[4][2], guint n_columns,
               TsChartPatch patches[TS_CHART_PATCHES], GError **error)
{
  TsMat3 map;

  if (!find_perspective (corners, &map))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   "The four corners do not go round the chart; mark the centres of its corner "
                   "patches in turn");
      return FALSE;
    }
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      patches[i] = (TsChartPatch){ 0 };
      set_corners (&patches[i], &map, i, n_columns);
      if (!lies_inside (&patches[i], image))
        {
          g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                       "The chart reaches over the edge of the picture; check the corners");
          return FALSE;
        }
      if (!read_patch (&patches[i], image, error))
        return FALSE;
    }
  return TRUE;
}
