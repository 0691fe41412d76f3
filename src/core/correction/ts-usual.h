/* ts-usual.h: what cameras, lights and paints are usually like, drawn by lot
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-spectrum.h"

G_BEGIN_DECLS

/* Each draws one, relative, on the bands of spectra. The same seed gives the same ones. */
void       ts_usual_camera (GRand  *random,
                            double  sensitivity[3][TS_BANDS]);
void       ts_usual_light  (GRand  *random,
                            double  power[TS_BANDS]);
TsSpectrum ts_usual_paint  (GRand  *random);

G_END_DECLS
