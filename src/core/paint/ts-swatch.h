/* ts-swatch.h: test swatches that a painter has painted and measured
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-mix.h"

G_BEGIN_DECLS

#define TS_SWATCH_MAX_PAINTS 8

/* One swatch: a plain value. */
typedef struct
{
  guint      n_amounts;
  TsAmount   amounts[TS_SWATCH_MAX_PAINTS]; /* parts of one mix; only their shares count */
  double     coats;       /* of the mix, above 0; infinity where nothing under it shows */
  TsSpectrum ground;      /* measured reflectance of what lies under it, where that shows */
  TsSpectrum reflectance; /* measured; where only a colour was, a smooth one that has it */
  TsLab      lab;         /* its colour, D50 */
  gboolean   from_lab;    /* only the colour was measured */
  double     se;          /* standard error of the reading, CIEDE2000, at least 0 */
  guint      line;        /* where it stands in its file, or 0 */
} TsSwatch;

/* Reads recipe[,coats][,over][,se] and L,a,b or R400..R700: an array of TsSwatch. */
GArray *ts_swatches_load  (const TsPaintSet  *set,
                           const char        *path,
                           GError           **error);
GArray *ts_swatches_parse (const TsPaintSet  *set,
                           const char        *text,
                           gssize             length,
                           const char        *what,
                           GError           **error);
/* The colour that the set predicts for it, and that colour's whole spectrum. */
TsLab   ts_swatch_predict (const TsPaintSet  *set,
                           const TsSwatch    *swatch,
                           TsSpectrum        *reflectance);

G_END_DECLS
