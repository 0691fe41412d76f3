/* ts-spot-find.c: how far an even area reaches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "spots/ts-spot-find.h"

#include <math.h>

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"

/* A card is lit a little unevenly and its paper has a grain; its edge is a step far above both
 * (reasoned, and tried on the demo's picture). */
#define SAME 6.0        /* CIELAB distance from the middle that is still the card */
#define EVEN_SHARE 0.92 /* of a ring */
#define DIRECTIONS 48
#define LEAST_RADIUS 3.0
#define LARGEST_SHARE 0.09 /* of the picture's shorter side: thousands of pixels, and no wall behind */
#define STEP 1.12
#define KEPT 0.8 /* of the radius: clear of the soft edge */

/* A mean of 3 x 3 pixels, so that noise does not count. */
static TsLab
read_place (const TsImage *image, double x, double y)
{
  guint left = (guint) CLAMP (x - 1.0, 0.0, ts_image_get_width (image) - 1.0);
  guint top = (guint) CLAMP (y - 1.0, 0.0, ts_image_get_height (image) - 1.0);
  guint width = MIN (3, ts_image_get_width (image) - left);
  guint height = MIN (3, ts_image_get_height (image) - top);
  TsXyz pixels[9], mean = { 0.0, 0.0, 0.0 };
  guint n = width * height;

  ts_image_read_xyz (image, left, top, width, height, pixels, NULL);
  for (guint i = 0; i < n; i++)
    {
      mean.X += pixels[i].X / n;
      mean.Y += pixels[i].Y / n;
      mean.Z += pixels[i].Z / n;
    }
  return ts_lab_from_xyz (mean);
}

static gboolean
ring_is_even (const TsImage *image, double x, double y, double radius, TsLab middle)
{
  guint even = 0;

  for (int i = 0; i < DIRECTIONS; i++)
    {
      double angle = 2.0 * G_PI * i / DIRECTIONS;
      TsLab there = read_place (image, x + radius * cos (angle), y + radius * sin (angle));

      even += ts_delta_e_76 (there, middle) <= SAME;
    }
  return even >= EVEN_SHARE * DIRECTIONS;
}

/**
 * ts_spot_find_radius:
 * @image: a picture
 * @x: a place on a card, upright pixels within the picture
 * @y: the same
 *
 * Grows a disc about the place for as long as what it meets looks as its middle does and lies
 * within the picture, to a tenth of the picture's shorter side. Takes some milliseconds.
 *
 * Returns: the radius of a disc well within the even area, pixels, at least 3
 */
double
ts_spot_find_radius (const TsImage *image, double x, double y)
{
  double width, height, most, radius = LEAST_RADIUS, found = LEAST_RADIUS;
  TsLab middle;

  g_return_val_if_fail (image != NULL, LEAST_RADIUS);

  width = ts_image_get_width (image);
  height = ts_image_get_height (image);
  most = MIN (LARGEST_SHARE * MIN (width, height), MIN (MIN (x, width - x), MIN (y, height - y)));
  middle = read_place (image, x, y);
  while (radius <= most && ring_is_even (image, x, y, radius, middle))
    {
      found = radius;
      radius *= STEP;
    }
  return MAX (LEAST_RADIUS, found * KEPT);
}
