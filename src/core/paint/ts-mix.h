/* ts-mix.h: from parts of paints to a predicted colour (Kubelka-Munk, Saunderson)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-paint-set.h"

G_BEGIN_DECLS

/* Inside reflectance of a layer that hides all: 1 + K/S - sqrt ((K/S)^2 + 2 K/S). */
double ts_km_reflectance         (double               K,
                                  double               S);
/* K/S of a layer that hides all, from its inside reflectance. */
double ts_km_ratio               (double               reflectance);
/* Inside reflectance of a film of @coats over a ground of inside reflectance @ground. */
double ts_km_film                (double               K,
                                  double               S,
                                  double               coats,
                                  double               ground);
/* K and S of a film of one coat from its inside reflectances over a black and a white ground. */
gboolean ts_km_invert_films      (double               over_black,
                                  double               over_white,
                                  double               black,
                                  double               white,
                                  double              *K,
                                  double              *S);
/* Inside reflectance to the one an instrument sees, and back (held within 0..1). */
double ts_saunderson_measured    (TsSurfaceReflection  surface,
                                  double               inside);
double ts_saunderson_inside      (TsSurfaceReflection  surface,
                                  double               measured);

/* One paint of a mix: its index in the set and how much of it, in parts. */
typedef struct
{
  guint  paint;
  double parts;
} TsAmount;

/* K and S of a mix, by parts (Duncan 1940), per coat of the mix. */
void   ts_mix_get_K_S            (const TsPaintSet    *set,
                                  const TsAmount      *amounts,
                                  guint                n_amounts,
                                  TsSpectrum          *K,
                                  TsSpectrum          *S);
/* Measured reflectance of K and S: hiding all, or @coats over @ground (a measured reflectance). */
void   ts_mix_get_masstone       (const TsSpectrum    *K,
                                  const TsSpectrum    *S,
                                  TsSurfaceReflection  surface,
                                  TsSpectrum          *reflectance);
void   ts_mix_get_film           (const TsSpectrum    *K,
                                  const TsSpectrum    *S,
                                  TsSurfaceReflection  surface,
                                  double               coats,
                                  const TsSpectrum    *ground,
                                  TsSpectrum          *reflectance);
/* Y over black / Y over white of @coats (ISO 6504-3), grounds of measured reflectance 0 and 1 less
 * the surface's. */
double ts_mix_get_contrast_ratio (const TsSpectrum    *K,
                                  const TsSpectrum    *S,
                                  TsSurfaceReflection  surface,
                                  double               coats);
/* Coats for a contrast ratio of 0.98, or infinity where more than 100 would be needed. */
double ts_mix_get_coats_to_hide  (const TsSpectrum    *K,
                                  const TsSpectrum    *S,
                                  TsSurfaceReflection  surface);

G_END_DECLS
