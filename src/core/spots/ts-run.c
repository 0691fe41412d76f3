/* ts-run.c: the line from lit to shadow, and where its spots lie
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "spots/ts-run.h"

#include <glib/gi18n.h>
#include <math.h>

#include "base/ts-error.h"

/* Enough spots for a curve with a band, no more than can be told apart by eye: common practice, no
 * source. A disc takes half of the way to its neighbour, so that discs do not touch. */
#define FEWEST_SPOTS 5
#define MOST_SPOTS 200
#define USUAL_SPOTS 13
#define USUAL_RADIUS 12.0
#define LEAST_RADIUS 0.5
#define SPOT_PIXELS 6.0
#define SHARE_OF_SPACE 0.45

static double
distance (TsPoint a, TsPoint b)
{
  return hypot (b.x - a.x, b.y - a.y);
}

static TsPoint
point_between (TsPoint a, TsPoint b, double share)
{
  return (TsPoint){ a.x + share * (b.x - a.x), a.y + share * (b.y - a.y) };
}

/**
 * ts_run_get_length:
 * @points: (array length=n_points): corners of the line, upright pixels
 * @n_points: how many
 *
 * Returns: its length in pixels, 0 for fewer than two points
 */
double
ts_run_get_length (const TsPoint *points, guint n_points)
{
  double length = 0.0;

  for (guint i = 1; i < n_points; i++)
    length += distance (points[i - 1], points[i]);
  return length;
}

static TsPoint
place_at (const TsPoint *points, guint n_points, double along)
{
  for (guint i = 1; i < n_points; i++)
    {
      double step = distance (points[i - 1], points[i]);

      if (step > 0.0 && along <= step)
        return point_between (points[i - 1], points[i], along / step);
      along -= step;
    }
  return points[n_points - 1];
}

/**
 * ts_run_place_spots:
 * @points: (array length=n_points): corners of the line, at least one
 * @n_points: how many
 * @places: (out) (array length=n_places): where the spots lie
 * @positions: (out) (array length=n_places) (optional): how far along each lies, 0 to 1
 * @n_places: how many; a single one lies on the lit end
 *
 * Puts a spot on each end and the rest evenly between by length.
 */
void
ts_run_place_spots (const TsPoint *points, guint n_points, TsPoint *places, double *positions,
                    guint n_places)
{
  double length = ts_run_get_length (points, n_points);

  g_return_if_fail (n_points >= 1);

  for (guint i = 0; i < n_places; i++)
    {
      double position = n_places > 1 ? (double) i / (n_places - 1) : 0.0;

      /* The ends are exactly the painter's points, whatever the sums round to. */
      places[i] = i == 0              ? points[0]
                  : i + 1 == n_places ? points[n_points - 1]
                                      : place_at (points, n_points, position * length);
      if (positions != NULL)
        positions[i] = position;
    }
}

/**
 * ts_run_get_position:
 * @points: (array length=n_points): corners of the line, at least one
 * @n_points: how many
 * @place: any place
 *
 * Returns: how far along by length, 0 to 1, lies the place on the line nearest to @place; the first
 *   where several are as near
 */
double
ts_run_get_position (const TsPoint *points, guint n_points, TsPoint place)
{
  double length = ts_run_get_length (points, n_points);
  double nearest = G_MAXDOUBLE, found = 0.0, behind = 0.0;

  g_return_val_if_fail (n_points >= 1, 0.0);

  if (!(length > 0.0))
    return 0.0;
  for (guint i = 1; i < n_points; i++)
    {
      TsPoint a = points[i - 1], b = points[i];
      double step = distance (a, b), share = 0.0, away;

      if (step > 0.0)
        share = ((place.x - a.x) * (b.x - a.x) + (place.y - a.y) * (b.y - a.y)) / (step * step);
      share = CLAMP (share, 0.0, 1.0);
      away = distance (place, point_between (a, b, share));
      if (away < nearest)
        {
          nearest = away;
          found = behind + share * step;
        }
      behind += step;
    }
  return CLAMP (found / length, 0.0, 1.0);
}

/**
 * ts_run_suggest_spots:
 * @length: of a run, in pixels
 *
 * Returns: a number of spots for it, 5 to 13
 */
guint
ts_run_suggest_spots (double length)
{
  double room = length / SPOT_PIXELS;

  return !(room > FEWEST_SPOTS) ? FEWEST_SPOTS : room < USUAL_SPOTS ? (guint) room : USUAL_SPOTS;
}

/**
 * ts_run_suggest_radius:
 * @length: of a run, in pixels
 * @most: the largest radius wanted, pixels; 0 for the usual 12
 *
 * Returns: a radius for its spots, 0.5 to @most pixels, so that ts_run_suggest_spots() discs do not
 *   touch
 */
double
ts_run_suggest_radius (double length, double most)
{
  double space = length / (ts_run_suggest_spots (length) - 1);

  return CLAMP (SHARE_OF_SPACE * space, LEAST_RADIUS,
                most > 0.0 ? MAX (most, LEAST_RADIUS) : USUAL_RADIUS);
}

/**
 * ts_run_measure:
 * @image: a picture
 * @correction: how its colours are corrected
 * @points: (array length=n_points): corners of the line, at least two, lit end first
 * @n_points: how many
 * @n_spots: how many spots, 2 to 200
 * @radius: of each, 0.5 to 1000 pixels
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsSpot): the spots in order, or %NULL with
 *   %TS_ERROR_TOO_FEW or %TS_ERROR_BAD_VALUE set; see ts_spot_measure()
 */
GArray *
ts_run_measure (const TsImage *image, const TsCorrection *correction, const TsPoint *points,
                guint n_points, guint n_spots, double radius, GError **error)
{
  g_autoptr (GArray) spots = NULL;
  g_autofree TsPoint *places = NULL;
  g_autofree double *positions = NULL;

  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (n_points < 2 || !(ts_run_get_length (points, n_points) > 0.0))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW,
                   _ ("A run needs two places or more; draw it from the lit end to the shadow"));
      return NULL;
    }
  if (n_spots < 2 || n_spots > MOST_SPOTS)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("A run cannot have %u spots; choose 2 to %d"), n_spots, MOST_SPOTS);
      return NULL;
    }
  spots = g_array_sized_new (FALSE, FALSE, sizeof (TsSpot), n_spots);
  places = g_new (TsPoint, n_spots);
  positions = g_new (double, n_spots);
  ts_run_place_spots (points, n_points, places, positions, n_spots);
  for (guint i = 0; i < n_spots; i++)
    {
      TsSpot spot;

      if (!ts_spot_measure (image, correction, places[i].x, places[i].y, radius, &spot, error))
        return NULL;
      spot.position = positions[i];
      g_array_append_val (spots, spot);
    }
  return g_steal_pointer (&spots);
}
