/* ts-spot.c: one measured disc of a picture
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "spots/ts-spot.h"

#include <glib/gi18n.h>
#include <math.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "correction/ts-sample.h"

#define LEAST_RADIUS 0.5
#define MOST_RADIUS 1000.0

/* Neighbouring pixels are not independent: of a Bayer mosaic (US patent 3,971,065, 1976) half the
 * sites are green and a quarter red or blue, and the rest is interpolated. So a quarter counts. */
#define INDEPENDENT_SHARE 0.25
/* The farthest tenth took its part of the spread: a normal distribution cut at 1.645 to both sides
 * keeps this share of its standard deviation, sqrt (1 - 2 1.645 phi (1.645) / 0.9). */
#define SPREAD_LEFT 0.789
/* What a few pixels cannot tell about their spread: common practice, no source. */
#define USUAL_SPREAD_L 1.0
#define LEAST_ERROR_L 0.05
#define NORMAL_95 1.96

typedef struct
{
  TsXyz *xyz;
  guint8 *clipped;
  gsize n;
} Disc;

static void
disc_clear (Disc *self)
{
  g_free (self->xyz);
  g_free (self->clipped);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Disc, disc_clear)

static gboolean
check_disc (const TsImage *image, double x, double y, double radius, GError **error)
{
  guint width = ts_image_get_width (image), height = ts_image_get_height (image);

  if (!(radius >= LEAST_RADIUS && radius <= MOST_RADIUS))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("A spot of radius %g cannot be measured; choose %g to %g pixels"), radius,
                   LEAST_RADIUS, MOST_RADIUS);
      return FALSE;
    }
  if (!(x >= 0.0 && x < width && y >= 0.0 && y < height))
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_BAD_VALUE,
        _ ("The spot at %g, %g lies outside the picture of %u × %u pixels; move it inside"), x, y,
        width, height);
      return FALSE;
    }
  return TRUE;
}

/* The pixels of one row whose centres lie in the disc: from @first, as many as are returned. */
static guint
find_row (double x, double y, double radius, guint row, guint width, guint *first)
{
  double dy = row + 0.5 - y;
  double half = radius * radius - dy * dy;
  double from, to;

  if (half < 0.0)
    return 0;
  half = sqrt (half);
  from = MAX (ceil (x - half - 0.5), 0.0);
  to = MIN (floor (x + half - 0.5), width - 1.0);
  if (to < from)
    return 0;
  *first = (guint) from;
  return (guint) (to - from) + 1;
}

/* A disc as small as a pixel may hold no centre; then it is the pixel it lies on. */
static void
read_one (Disc *self, const TsImage *image, double x, double y)
{
  self->xyz = g_new (TsXyz, 1);
  self->clipped = g_new (guint8, 1);
  self->n = 1;
  ts_image_read_xyz (image, (guint) x, (guint) y, 1, 1, self->xyz, self->clipped);
}

static gboolean
read_disc (Disc *self, const TsImage *image, double x, double y, double radius, GError **error)
{
  guint width, top, bottom, first = 0;

  if (!check_disc (image, x, y, radius, error))
    return FALSE;
  width = ts_image_get_width (image);
  top = (guint) MAX (floor (y - radius), 0.0);
  bottom = (guint) MIN (floor (y + radius), ts_image_get_height (image) - 1.0);
  for (guint row = top; row <= bottom; row++)
    self->n += find_row (x, y, radius, row, width, &first);
  if (self->n == 0)
    {
      read_one (self, image, x, y);
      return TRUE;
    }
  self->xyz = g_new (TsXyz, self->n);
  self->clipped = g_new (guint8, self->n);
  self->n = 0;
  for (guint row = top; row <= bottom; row++)
    {
      guint n = find_row (x, y, radius, row, width, &first);

      if (n > 0)
        ts_image_read_xyz (image, first, row, n, 1, self->xyz + self->n, self->clipped + self->n);
      self->n += n;
    }
  return TRUE;
}

/* Standard error of the mean of L* from @n pixels with the standard deviation @sd. One pixel's
 * worth of the usual spread is added, so that a few pixels that happen to agree do not count as
 * sure. */
static double
error_of_mean (double sd, gsize n)
{
  double independent = MAX (1.0, INDEPENDENT_SHARE * (double) n);
  double whole = sd / SPREAD_LEFT;
  double variance =
    ((independent - 1.0) * whole * whole + USUAL_SPREAD_L * USUAL_SPREAD_L) / independent;

  return MAX (sqrt (variance / independent), LEAST_ERROR_L);
}

/**
 * ts_spot_measure:
 * @image: a picture
 * @correction: how its colours are corrected
 * @x: centre of the disc, upright pixels
 * @y: the same
 * @radius: of the disc, 0.5 to 1000 pixels
 * @spot: (out): the spot, its position 0; untouched on failure
 * @error: return location for an error, or %NULL
 *
 * Measures the pixels whose centres lie in the disc, or the one it lies on where there are none. Of
 * a disc that reaches over the edge the part inside is measured. Time grows with the area.
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_BAD_VALUE set where the centre lies outside the picture
 *   or the radius outside its range
 */
gboolean
ts_spot_measure (const TsImage *image, const TsCorrection *correction, double x, double y,
                 double radius, TsSpot *spot, GError **error)
{
  g_auto (Disc) disc = { 0 };
  double squares = 0.0, lightness_squares = 0.0;
  TsSample sample;
  TsLab lab;

  g_return_val_if_fail (error == NULL || *error == NULL, FALSE);

  if (!read_disc (&disc, image, x, y, radius, error))
    return FALSE;
  sample = ts_sample_trim (disc.xyz, disc.clipped, disc.n);
  lab = ts_lab_from_xyz (ts_correction_apply (correction, sample.mean));
  for (gsize i = 0; i < sample.n_kept; i++)
    {
      TsLab pixel = ts_lab_from_xyz (ts_correction_apply (correction, disc.xyz[i]));
      double distance = ts_delta_e_76 (pixel, lab);

      squares += distance * distance;
      lightness_squares += (pixel.L - lab.L) * (pixel.L - lab.L);
    }
  *spot = (TsSpot){
    .x = x,
    .y = y,
    .radius = radius,
    .lab = lab,
    .spread = sqrt (squares / (double) sample.n_kept),
    .pixels = (guint) sample.n_kept,
    .clipped_share = sample.clipped_share,
    .standard_error =
      error_of_mean (sqrt (lightness_squares / (double) sample.n_kept), sample.n_kept),
  };
  return TRUE;
}

/**
 * ts_spot_measure_xyz:
 * @image: a picture
 * @x: centre of the disc, upright pixels
 * @y: the same
 * @radius: of the disc, 0.5 to 1000 pixels
 * @xyz: (out): the mean in linear light, as the picture has it; untouched on failure
 * @clipped_share: (out) (optional): share of the pixels that are clipped, 0 to 1
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_BAD_VALUE set; see ts_spot_measure()
 */
gboolean
ts_spot_measure_xyz (const TsImage *image, double x, double y, double radius, TsXyz *xyz,
                     double *clipped_share, GError **error)
{
  g_auto (Disc) disc = { 0 };
  TsSample sample;

  g_return_val_if_fail (error == NULL || *error == NULL, FALSE);

  if (!read_disc (&disc, image, x, y, radius, error))
    return FALSE;
  sample = ts_sample_trim (disc.xyz, disc.clipped, disc.n);
  *xyz = sample.mean;
  if (clipped_share != NULL)
    *clipped_share = sample.clipped_share;
  return TRUE;
}

/**
 * ts_spot_get_error:
 * @spot: a measured spot
 * @correction: it was measured with
 *
 * The spot's own error is known of its lightness; in colour it counts as much.
 *
 * Returns: 95 % radius about the spot's colour, CIEDE2000
 */
double
ts_spot_get_error (const TsSpot *spot, const TsCorrection *correction)
{
  return hypot (ts_correction_get_error (correction, spot->lab), ts_spot_get_own_error (spot));
}

/**
 * ts_spot_get_own_error:
 * @spot: a measured spot
 *
 * What a correction leaves is not in it: the same lies on all that is compared within one picture.
 *
 * Returns: 95 % radius about the spot's colour, CIEDE2000, as the picture shows it
 */
double
ts_spot_get_own_error (const TsSpot *spot)
{
  return NORMAL_95 * spot->standard_error;
}

/**
 * ts_spot_get_lightness_error:
 * @spot: a measured spot
 * @correction: it was measured with
 *
 * Returns: half of the range of L* about the spot's that holds the true one 95 times in 100
 */
double
ts_spot_get_lightness_error (const TsSpot *spot, const TsCorrection *correction)
{
  return hypot (ts_correction_get_lightness_error (correction, spot->lab),
                ts_spot_get_own_error (spot));
}
