/* ts-sheet-light.h: how evenly a sheet is lit, from the bare card on it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

/* Bare card, or what might be: its place in the grid (0..1 across and down) and what the picture has
 * there. */
typedef struct
{
  double u, v;
  TsXyz  xyz;
} TsSheetSample;

/* Logarithm of the light as a curved surface over the grid, carried on as a plane beyond it. */
typedef struct
{
  double  bent[6];  /* 1, u, v, u u, u v, v v */
  double  plane[3]; /* 1, u, v */
  TsXyz   white;    /* mean of the white card, as the picture has it at level 0 */
  guint   n_used;
} TsSheetLight;

/* FALSE where the samples are not white card under one light. */
gboolean ts_sheet_light_find   (TsSheetLight        *self,
                                const TsSheetSample *samples,
                                guint                n_samples);
/* Logarithm of the light at a place. */
double   ts_sheet_light_get    (const TsSheetLight  *self,
                                double               u,
                                double               v);

G_END_DECLS
