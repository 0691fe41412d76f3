/* ts-paint-reading.h: what a row of a paint set says was measured, before K and S are known
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "base/ts-csv.h"
#include "paint/ts-paint.h"

G_BEGIN_DECLS

/* A plain value. Which fields count depends on the source. */
typedef struct
{
  gboolean      has_colour;
  TsPaintSource source;
  TsSpectrum    masstone;   /* word, masstone, tints */
  TsSpectrum    over_black; /* films */
  TsSpectrum    over_white;
  double        film_coats; /* films: their thickness */
  gboolean      has_card;   /* films: the card's own colours were given */
  TsSpectrum    black;
  TsSpectrum    white;
  TsSpectrum    tint;       /* tints */
  double        tint_parts; /* parts of white to one of paint */
  guint         tint_white; /* row of that white */
  TsSpectrum    K;          /* direct, calibrated */
  TsSpectrum    S;
} TsPaintReading;

/* Reads a row: the best known of the colour groups it fills. */
gboolean ts_paint_reading_read       (TsPaintReading        *self,
                                      const TsCsv           *table,
                                      guint                  row,
                                      const char            *what,
                                      GError               **error);
/* The least of its reflectances as measured, or 1 where it has none. */
double   ts_paint_reading_darkest    (const TsPaintReading  *self);
/* Name of the @index-th column of the group that goes with @source. */
char    *ts_paint_column_dup_name    (TsPaintSource          source,
                                      guint                  index);
/* Number of columns in that group. */
guint    ts_paint_column_count       (TsPaintSource          source);

G_END_DECLS
