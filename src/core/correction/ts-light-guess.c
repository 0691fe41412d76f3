/* ts-light-guess.c: the colour of the light, guessed from the picture alone
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-light-guess.h"

#include <math.h>

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"

/* Of Minkowski's norm; the best in Finlayson and Trezzi 2004, Shades of Gray and Colour Constancy.
 */
#define NORM 6.0
#define ROWS 200 /* that many rows and columns of a large picture say as much as all */
#define LEAST_SHARE 0.05
#define LEAST_LIGHT 1e-4
#define WIDEST 50.0 /* channels farther apart are no light */
/* Below it a cast is within what the guess is usually off by (measured: 4 to 6). */
#define PLAIN 4.0

/* Sums of the channels' powers over what was looked at. */
typedef struct
{
  double sum[3];
  guint used, seen;
} Shades;

static void
add_pixel (Shades *self, TsXyz xyz, guint8 clipped)
{
  TsRgb rgb = ts_rgb_from_xyz (xyz);

  self->seen++;
  if (clipped)
    return;
  self->sum[0] += pow (MAX (rgb.r, 0.0), NORM);
  self->sum[1] += pow (MAX (rgb.g, 0.0), NORM);
  self->sum[2] += pow (MAX (rgb.b, 0.0), NORM);
  self->used++;
}

static void
add_all (Shades *self, const TsImage *image)
{
  guint width = ts_image_get_width (image), height = ts_image_get_height (image);
  guint down = MAX (1, height / ROWS), across = MAX (1, width / ROWS);
  g_autofree TsXyz *line = g_new (TsXyz, width);
  g_autofree guint8 *clipped = g_new (guint8, width);

  for (guint y = down / 2; y < height; y += down)
    {
      ts_image_read_xyz (image, 0, y, width, 1, line, clipped);
      for (guint x = across / 2; x < width; x += across)
        add_pixel (self, line[x], clipped[x]);
    }
}

static TsCast
name_cast (TsLab grey, double strength)
{
  double hue = ts_lch_from_lab (grey).h;

  if (strength < PLAIN)
    return TS_CAST_NONE;
  if (hue < 110.0)
    return hue < 10.0 ? TS_CAST_PINKISH : TS_CAST_WARM;
  if (hue < 200.0)
    return TS_CAST_GREENISH;
  return hue < 300.0 ? TS_CAST_COOL : TS_CAST_PINKISH;
}

/**
 * ts_light_guess:
 * @image: a picture
 * @guess: (out): the light; untouched on failure
 * @error: return location for an error, or %NULL
 *
 * Shades of grey (Finlayson and Trezzi 2004): the Minkowski mean of each channel in linear light,
 * over some 40,000 pixels that are not clipped, is taken for a grey. Before neutral surroundings a
 * mid grey is then off by 4 to 6 CIEDE2000, before coloured ones by 15.
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_TOO_FEW set where next to nothing can be seen
 */
gboolean
ts_light_guess (const TsImage *image, TsLightGuess *guess, GError **error)
{
  const double grey_Y = ts_luminance_from_lightness (50.0);
  Shades shades = { { 0.0 } };
  double mean[3], most, least;
  TsXyz light, grey;

  g_return_val_if_fail (error == NULL || *error == NULL, FALSE);

  add_all (&shades, image);
  for (int c = 0; c < 3; c++)
    mean[c] = pow (shades.sum[c] / MAX (shades.used, 1), 1.0 / NORM);
  most = MAX (mean[0], MAX (mean[1], mean[2]));
  least = MIN (mean[0], MIN (mean[1], mean[2]));
  if (!(shades.used > LEAST_SHARE * shades.seen && least >= LEAST_LIGHT && most <= WIDEST * least))
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_TOO_FEW,
        _ ("The light cannot be guessed from this picture: nearly all of it is clipped, black "
           "or of one strong colour. Use a grey card."));
      return FALSE;
    }
  light = ts_xyz_from_rgb ((TsRgb){ mean[0], mean[1], mean[2] });
  light = (TsXyz){ light.X / light.Y, 1.0, light.Z / light.Y };
  grey = (TsXyz){ light.X * grey_Y, grey_Y, light.Z * grey_Y };
  guess->light = light;
  guess->strength = ts_delta_e_2000 (ts_lab_from_xyz (grey), (TsLab){ 50.0, 0.0, 0.0 });
  guess->cast = name_cast (ts_lab_from_xyz (grey), guess->strength);
  return TRUE;
}

/**
 * ts_light_guess_words:
 * @guess: a guess
 *
 * Returns: (transfer none): one sentence for the painter, translated
 */
const char *
ts_light_guess_words (const TsLightGuess *guess)
{
  switch (guess->cast)
    {
    case TS_CAST_WARM:
      return _ ("The light looks warm; this is only a guess from the picture.");
    case TS_CAST_GREENISH:
      return _ ("The light looks greenish; this is only a guess from the picture.");
    case TS_CAST_COOL:
      return _ ("The light looks cool; this is only a guess from the picture.");
    case TS_CAST_PINKISH:
      return _ ("The light looks pinkish; this is only a guess from the picture.");
    case TS_CAST_NONE:
    default:
      return _ ("The light looks neutral; this is only a guess from the picture.");
    }
}
