/* ts-paint-solve.h: K and S of one paint from what was measured of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-paint.h"

G_BEGIN_DECLS

/* Scattering per coat that is usual for a paint, whatever its colour but white. */
double   ts_paint_usual_scattering    (TsPaintKind          kind,
                                       TsOpacity            opacity,
                                       const TsSpectrum    *masstone);
/* Scattering per coat that a paint is expected to have, from its kind, its opacity word and its
 * masstone (measured reflectance). */
double   ts_paint_expected_scattering (TsPaintKind          kind,
                                       TsOpacity            opacity,
                                       const TsSpectrum    *masstone,
                                       TsSurfaceReflection  surface);
/* How much of a brushed coat is paint: less than 1 for what is sold thinned. */
double   ts_paint_kind_strength       (TsPaintKind          kind);

/* From a masstone and a scattering that is only expected. */
void     ts_paint_solve_masstone      (const TsSpectrum    *masstone,
                                       TsSurfaceReflection  surface,
                                       double               scattering,
                                       TsSpectrum          *K,
                                       TsSpectrum          *S);
/* From one coat over a black and over a white ground, all as measured. Bands where the film hides
 * take their scattering from their neighbours, or all of them from @scattering; returns how many
 * bands told it by themselves. */
guint    ts_paint_solve_films         (const TsSpectrum    *over_black,
                                       const TsSpectrum    *over_white,
                                       const TsSpectrum    *black,
                                       const TsSpectrum    *white,
                                       TsSurfaceReflection  surface,
                                       double               scattering,
                                       TsSpectrum          *K,
                                       TsSpectrum          *S);
/* From a masstone and a tint of one part of it in @parts of a white whose K and S are known; bands
 * as above. */
guint    ts_paint_solve_tint          (const TsSpectrum    *masstone,
                                       const TsSpectrum    *tint,
                                       double               parts,
                                       const TsSpectrum    *white_K,
                                       const TsSpectrum    *white_S,
                                       TsSurfaceReflection  surface,
                                       double               scattering,
                                       TsSpectrum          *K,
                                       TsSpectrum          *S);
/* Medium and varnish: next to nothing. */
void     ts_paint_solve_clear         (TsSpectrum          *K,
                                       TsSpectrum          *S);

G_END_DECLS
