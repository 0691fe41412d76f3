/* ts-gamut.h: which colours the paints of a set can mix, and where they cannot
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "paint/ts-paint-set.h"

G_BEGIN_DECLS

#define TS_GAMUT_HUES   144 /* directions in a*, b*: index times 360 / TS_GAMUT_HUES degrees */
#define TS_GAMUT_LEVELS 101 /* lightness 0, 1, ... 100 */

/* Outlines of all mixes that hide. A plain value. */
typedef struct
{
  double      chroma[TS_GAMUT_HUES];  /* most towards each hue, whatever the lightness; 0 where none */
  double      least[TS_GAMUT_LEVELS]; /* of chroma at each lightness, whatever the hue; NaN where no */
  double      most[TS_GAMUT_LEVELS];  /* mix is that light or dark */
  guint       n_mixes;                /* that were tried */
  gboolean    has_hole;
  TsLab       hole;      /* the middle of what is missed most, beside measured pigments */
  double      distance;  /* CIEDE2000 from there to the nearest mix of that hue and lightness */
  const char *words;     /* "strong violet pinks"; untranslated, static; NULL without a hole */
} TsGamut;

/* Of the paints in stock that are for mixing, up to @max_paints (1 to 3) in a mix; FALSE where it
 * was stopped, or there is no paint. Tens of milliseconds. */
gboolean ts_gamut_find (const TsPaintSet  *set,
                        guint              max_paints,
                        GCancellable      *cancellable,
                        TsGamut           *gamut,
                        GError           **error);

G_END_DECLS
