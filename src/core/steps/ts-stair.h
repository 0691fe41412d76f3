/* ts-stair.h: the tones to be painted, cut from a lightness curve
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "curve/ts-curve.h"

G_BEGIN_DECLS

#define TS_STAIR_MAX_STEPS 15

typedef enum
{
  TS_SPACING_LIGHTNESS,  /* equal steps of L* */
  TS_SPACING_DIFFERENCE, /* equal CIEDE2000 */
  TS_SPACING_AREA,       /* each step covers as much of the surface */
  TS_SPACING_BY_HAND     /* where the painter put them */
} TsSpacing;

/* The painter's wishes. Unused members are 0. */
typedef struct
{
  guint     n_steps; /* 2 to TS_STAIR_MAX_STEPS */
  TsSpacing spacing;
  double    position[TS_STAIR_MAX_STEPS]; /* by hand: place on the run, falling lightness */
  double    shift[TS_STAIR_MAX_STEPS];    /* by hand: L* added to what the lift gives */
  gboolean  has_range;
  double    range_light, range_dark; /* wanted L* of the lightest and of the darkest place of the fall */
  gboolean  has_light, has_shadow;
  TsLab     light, shadow;                 /* colours mixed in towards the ends */
  double    light_amount, shadow_amount;   /* 0..1, how much of it the end step gets */
  guint     base;                          /* number of the step that is named as the base, from 1 on; 0 = found */
} TsStairSettings;

typedef struct
{
  double position; /* on the run */
  TsLab  photo;    /* the curve's colour there */
  TsLab  wanted;   /* after lift and the colours of light and shadow: what is to be mixed */
} TsStep;

/* Lit first, deepest last. It never changes; threads may share it. */
typedef struct _TsStair TsStair;

void          ts_stair_settings_init  (TsStairSettings        *settings);
TsStair      *ts_stair_new            (const TsCurve          *curve,
                                       const TsStairSettings  *settings,
                                       GError                **error);
TsStair      *ts_stair_ref            (TsStair                *self);
void          ts_stair_unref          (TsStair                *self);
guint         ts_stair_get_n_steps    (const TsStair          *self);
const TsStep *ts_stair_get_step       (const TsStair          *self,
                                       guint                   index);
/* Every place on the run that has the step's lightness in the photo, in the order of the run; one, but
 * for reflected light and polished surfaces. At most TS_CURVE_MAX_PLACES. */
guint         ts_stair_find_places    (const TsStair          *self,
                                       guint                   index,
                                       double                 *places);
/* Every stretch of the run where the photo is nearer to this step than to its neighbours. At most
 * TS_CURVE_MAX_STRETCHES. */
guint         ts_stair_find_stretches (const TsStair          *self,
                                       guint                   index,
                                       TsCurveStretch         *stretches);
/* The wanted colour anywhere on the run, before a step's shift. */
TsLab         ts_stair_get_wanted     (const TsStair          *self,
                                       double                  position);
/* "highlight", "base", "core shadow", "deepest" ... where such a word belongs, else %NULL.
 * Untranslated; the base is the step nearest to the halftone, or the one that was named. */
const char   *ts_stair_get_role       (const TsStair          *self,
                                       guint                   index);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsStair, ts_stair_unref)

G_END_DECLS
