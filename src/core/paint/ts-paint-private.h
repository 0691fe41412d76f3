/* ts-paint-private.h: the fields of a paint, for the files that make one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-paint.h"

G_BEGIN_DECLS

struct _TsPaint
{
  /* Owned */
  char         *name;
  char         *pigments;
  char         *finish;
  char         *notes;
  char         *caution; /* or NULL */

  TsPaintKind   kind;
  TsOpacity     opacity;
  TsStock       stock;
  TsPaintSource source;
  TsSpectrum    K;
  TsSpectrum    S;
  TsLab         masstone;
  double        error;
};

/* An empty paint, to be filled before anybody else sees it. */
TsPaint *ts_paint_new_empty      (void);
/* 95 % radius that goes with a source when nothing more is known of the paint. */
double   ts_paint_source_error   (TsPaintSource  source,
                                  TsPaintKind    kind);
/* The caution for a list of pigment index names, or %NULL. */
char    *ts_pigments_dup_caution (const char    *pigments);

G_END_DECLS
