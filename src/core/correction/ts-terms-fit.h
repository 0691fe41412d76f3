/* ts-terms-fit.h: the matrix from terms to XYZ that leaves the least CIEDE2000
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-correction-private.h"

G_BEGIN_DECLS

/* A colour to be met: what the camera makes of it, and what it is. */
typedef struct
{
  double terms[TS_CORRECTION_MAX_TERMS];
  TsLab  lab;
  double weight;     /* 0 leaves it out */
  double root[3][3]; /* see ts_terms_fit_set_lab() */
} TsTermsColour;

void     ts_terms_fit_set_lab  (TsTermsColour       *colour,
                                TsLab                lab);
void     ts_lab_jacobian       (TsXyz                xyz,
                                double               j[3][3]);
gboolean ts_terms_fit_xyz      (const TsTermsColour *colours,
                                gsize                n,
                                guint                n_terms,
                                double               matrix[3][TS_CORRECTION_MAX_TERMS]);
gboolean ts_terms_fit_improve  (const TsTermsColour *colours,
                                gsize                n,
                                guint                n_terms,
                                guint                rounds,
                                double               matrix[3][TS_CORRECTION_MAX_TERMS]);

G_END_DECLS
