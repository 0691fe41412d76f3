/* ts-cie-tables.h: observer and illuminant tables of the CIE, 380 to 780 nm at 5 nm
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-spectrum.h"

G_BEGIN_DECLS

#define TS_CIE_SAMPLES 81
#define TS_CIE_FIRST   380 /* nm */
#define TS_CIE_STEP    5   /* nm */

/* CIE 1931 standard observer (ISO/CIE 11664-1): x, y and z of each wavelength. */
extern const double ts_cie_observer[TS_CIE_SAMPLES][3];
/* Relative spectral power, by TsLight; each light has its own scale. */
extern const double ts_cie_lights[TS_N_LIGHTS][TS_CIE_SAMPLES];

G_END_DECLS
