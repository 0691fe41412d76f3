/* ts-spot.h: one measured disc of a picture
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-correction.h"
#include "image/ts-image.h"

G_BEGIN_DECLS

/* A spot with a larger share of clipped pixels tells little: it is marked, and counts less. */
#define TS_SPOT_MOST_CLIPPED 0.1

typedef struct
{
  double x, y, radius;   /* upright pixels; radius 0.5 to 1000 */
  double position;       /* on its run, 0 = lit, 1 = shadow; 0 for a lone spot */
  TsLab  lab;            /* mean in linear light of what was kept, corrected */
  double spread;         /* root mean square distance of the kept pixels from @lab, CIELAB */
  guint  pixels;         /* kept */
  double clipped_share;  /* 0..1 of all pixels of the disc */
  double standard_error; /* of L*, from the spread and the number of pixels; at least 0.05 */
} TsSpot;

/* Measures the disc at x, y: pixels whose centres lie in it, after leaving out clipped ones and the
 * farthest tenth (all are kept where every one is clipped). Of a disc over the edge the part inside
 * counts; fails where its centre lies outside the picture. */
gboolean ts_spot_measure (const TsImage       *image,
                          const TsCorrection  *correction,
                          double               x,
                          double               y,
                          double               radius,
                          TsSpot              *spot,
                          GError             **error);
/* The same mean before any correction, for cards: XYZ as the picture has it. */
gboolean ts_spot_measure_xyz (const TsImage  *image,
                              double          x,
                              double          y,
                              double          radius,
                              TsXyz          *xyz,
                              double         *clipped_share,
                              GError        **error);
/* 95 % radius about the spot's colour, CIEDE2000: what the correction leaves and the spot's own. */
double   ts_spot_get_error (const TsSpot     *spot,
                            const TsCorrection *correction);
/* The spot's own alone: how surely it tells what the picture shows, whatever that is of the figure. */
double   ts_spot_get_own_error (const TsSpot *spot);
/* The same for its lightness alone, in L*. */
double   ts_spot_get_lightness_error (const TsSpot *spot,
                                      const TsCorrection *correction);

G_END_DECLS
