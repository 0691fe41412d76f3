/* ts-run.h: the line from lit to shadow, and where its spots lie
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "spots/ts-spot.h"

G_BEGIN_DECLS

typedef struct
{
  double x, y; /* upright pixels */
} TsPoint;

/* Length of the line through @points, in pixels. */
double   ts_run_get_length     (const TsPoint *points,
                                guint          n_points);
/* @n_places places along it: one on each end, the rest evenly between by length. */
void     ts_run_place_spots    (const TsPoint *points,
                                guint          n_points,
                                TsPoint       *places,
                                double        *positions,
                                guint          n_places);
/* How far along, 0..1, the place on the line lies that is nearest to @place. */
double   ts_run_get_position   (const TsPoint *points,
                                guint          n_points,
                                TsPoint        place);
/* A radius and a number of spots that suit a line of this length: discs that do not touch. */
double   ts_run_suggest_radius (double         length,
                                double         most);
guint    ts_run_suggest_spots  (double         length);
/* Measures @n_spots discs along the line into a new array of TsSpot. */
GArray  *ts_run_measure        (const TsImage       *image,
                                const TsCorrection  *correction,
                                const TsPoint       *points,
                                guint                n_points,
                                guint                n_spots,
                                double               radius,
                                GError             **error);

G_END_DECLS
