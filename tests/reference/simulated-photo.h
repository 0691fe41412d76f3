/* simulated-photo.h: pictures of a chart and of paints, as measured cameras would take them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-chart.h"
#include "image/ts-image.h"

#define SIM_CAMERAS 4
#define SIM_LIGHTS  4
#define SIM_PAINTS  240
#define SIM_GREYS   8
#define SIM_CARDS   3 /* black, grey, white */
#define SIM_GREY_CARD 1

/* Spectra from 400 to 700 nm at 5 nm. */
#define SIM_SAMPLES 61

typedef struct _SimWorld SimWorld;

typedef struct
{
  double x, y, radius;
  TsLab  lab; /* true, D50 */
} SimSpot;

typedef struct
{
  TsImage          *image;
  TsChartReference  reference; /* off by 0.5 in each of L*, a*, b* */
  double            corner[4][2];
  gboolean          spoilt[TS_CHART_PATCHES];
  double            spoilt_by[TS_CHART_PATCHES];
  SimSpot           paint[SIM_PAINTS];
  SimSpot           grey[SIM_GREYS];
  SimSpot           card[SIM_CARDS];
} SimPhoto;

typedef struct
{
  guint    camera, light;
  gboolean developed;
  guint    n_spoilt;
  double   unevenness; /* of the light over the chart, 0.05 usual */
  guint32  seed;
  double   exposure;   /* over that of another picture of the same seed; 0 counts as 1 */
} SimSettings;

/* Of the @n-th picture of a series: every camera with every light, plain and developed, in 32. */
SimSettings sim_settings_of (guint   n,
                             guint32 seed);

SimWorld *sim_world_new   (void);
void      sim_world_free  (SimWorld    *self);
void      sim_photo_take  (SimPhoto    *self,
                           SimWorld    *world,
                           SimSettings  settings);
void      sim_photo_clear (SimPhoto    *self);
