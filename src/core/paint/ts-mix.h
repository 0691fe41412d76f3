/* ts-mix.h: from parts of paints to a predicted colour (Kubelka-Munk, Saunderson)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-km.h"
#include "paint/ts-paint-set.h"

G_BEGIN_DECLS

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
/* One place of a primer sprayed dark to light, and the film over it; measured. */
typedef struct
{
  TsSpectrum ground;
  TsSpectrum film;
} TsSprayed;

/* The same film over such a primer at @n places, from @dark to @light in even steps of lightness. */
void   ts_mix_get_sprayed        (const TsSpectrum    *K,
                                  const TsSpectrum    *S,
                                  TsSurfaceReflection  surface,
                                  double               coats,
                                  const TsSpectrum    *dark,
                                  const TsSpectrum    *light,
                                  TsSprayed           *places,
                                  guint                n);
/* Y over black / Y over white of @coats (ISO 6504-3), over grounds of measured reflectance. */
double ts_mix_get_contrast_ratio_over
                                 (const TsSpectrum    *K,
                                  const TsSpectrum    *S,
                                  TsSurfaceReflection  surface,
                                  double               coats,
                                  const TsSpectrum    *black,
                                  const TsSpectrum    *white);
/* The same over the plain card: inside reflectance TS_CARD_BLACK and TS_CARD_WHITE. */
double ts_mix_get_contrast_ratio (const TsSpectrum    *K,
                                  const TsSpectrum    *S,
                                  TsSurfaceReflection  surface,
                                  double               coats);
/* Coats for a contrast ratio of 0.98 there, or infinity where more than 100 would be needed. */
double ts_mix_get_coats_to_hide  (const TsSpectrum    *K,
                                  const TsSpectrum    *S,
                                  TsSurfaceReflection  surface);

G_END_DECLS
