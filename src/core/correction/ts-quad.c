/* ts-quad.c: a four-cornered piece of a picture, seen at an angle
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-quad.h"

#include <math.h>

typedef struct
{
  double x, y;
} Place;

/* Twice the area of the triangle; its sign says the way round. */
static double
cross (Place a, Place b, Place c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/**
 * ts_quad_find_perspective:
 * @corners: x, y of four corners in turn, pixels
 * @map: (out): takes u, v, 1 to x, y times a common factor
 *
 * Heckbert (1989), Fundamentals of Texture Mapping and Image Warping, 2.2.3.
 *
 * Returns: %FALSE where the corners do not go round a convex area
 */
gboolean
ts_quad_find_perspective (const double corners[4][2], TsMat3 *map)
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

/**
 * ts_quad_place:
 * @map: a perspective
 * @u: place in the unit square, along from the first corner to the second
 * @v: and from the first to the fourth
 * @x: (out): where that lies in the picture
 * @y: (out): the same
 */
void
ts_quad_place (const TsMat3 *map, double u, double v, double *x, double *y)
{
  TsVec3 p = ts_mat3_apply (map, (TsVec3){ { u, v, 1.0 } });

  *x = p.v[0] / p.v[2];
  *y = p.v[1] / p.v[2];
}

/* Where the line at @y leaves the area: pixel centres from @from to @to lie inside. */
static gboolean
find_span (const TsQuad *self, double y, double *from, double *to)
{
  *from = G_MAXDOUBLE;
  *to = -G_MAXDOUBLE;
  for (int k = 0; k < 4; k++)
    {
      int next = (k + 1) % 4;
      double y0 = self->y[k], y1 = self->y[next];

      if ((y0 <= y) == (y1 <= y))
        continue;
      double x = self->x[k] + (y - y0) / (y1 - y0) * (self->x[next] - self->x[k]);
      *from = MIN (*from, x);
      *to = MAX (*to, x);
    }
  return *from <= *to;
}

static double
quad_area (const TsQuad *self)
{
  double area = 0.0;

  for (int k = 0; k < 4; k++)
    area += self->x[k] * self->y[(k + 1) % 4] - self->x[(k + 1) % 4] * self->y[k];
  return 0.5 * fabs (area);
}

/**
 * ts_quad_lies_inside:
 * @self: a quadrilateral
 * @image: a picture
 *
 * Returns: whether all of it lies within the picture
 */
gboolean
ts_quad_lies_inside (const TsQuad *self, const TsImage *image)
{
  for (int k = 0; k < 4; k++)
    if (!(self->x[k] >= 0.0 && self->x[k] <= ts_image_get_width (image) && self->y[k] >= 0.0 &&
          self->y[k] <= ts_image_get_height (image)))
      return FALSE;
  return TRUE;
}

/**
 * ts_quad_collect:
 * @self: a quadrilateral within the picture
 * @image: the picture
 * @most_pixels: about as many are enough
 * @xyz: (element-type TsXyz): the pixels are appended here, as the picture has them
 * @clipped: whether a channel of each stands at an end of its range
 *
 * Takes each pixel whose centre lies within, or each second, third ... row and column of a large
 * one.
 */
void
ts_quad_collect (const TsQuad *self, const TsImage *image, guint most_pixels, GArray *xyz,
                 GByteArray *clipped)
{
  guint step = (guint) MAX (1.0, ceil (sqrt (quad_area (self) / most_pixels)));
  guint width = ts_image_get_width (image);
  g_autofree TsXyz *line = g_new (TsXyz, width);
  g_autofree guint8 *flags = g_new (guint8, width);
  double top = G_MAXDOUBLE, bottom = 0.0;

  for (int k = 0; k < 4; k++)
    {
      top = MIN (top, self->y[k]);
      bottom = MAX (bottom, self->y[k]);
    }
  for (double row = ceil (top - 0.5); row + 0.5 < bottom && row < ts_image_get_height (image);
       row += step)
    {
      double from, to;
      guint first, n;

      if (!find_span (self, row + 0.5, &from, &to))
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
