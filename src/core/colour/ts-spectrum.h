/* ts-spectrum.h: reflectance on fixed bands, and its colour under a light
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

#define TS_BANDS      31
#define TS_BAND_FIRST 400 /* nm */
#define TS_BAND_STEP  10  /* nm */

/* One value a band, 400 to 700 nm: a reflectance 0..1, or an absorption or scattering per coat. */
typedef struct
{
  double band[TS_BANDS];
} TsSpectrum;

typedef enum
{
  TS_LIGHT_D50,
  TS_LIGHT_D65,
  TS_LIGHT_A,
  TS_LIGHT_C,
  TS_LIGHT_FL11,
  TS_LIGHT_LED_B1,
  TS_LIGHT_LED_V1,
  TS_N_LIGHTS
} TsLight;

/* Weights w with XYZ = sum over bands of w[band][0..2] R[band]; the perfect reflector gives the D50
 * white under every light, so that CIELAB under each is relative to its own white. */
const double (*ts_light_get_weights (TsLight light))[3];
const char    *ts_light_get_name    (TsLight light);

TsXyz    ts_spectrum_to_xyz   (const TsSpectrum *self,
                               TsLight           light);
TsLab    ts_spectrum_to_lab   (const TsSpectrum *self,
                               TsLight           light);

/* Resamples @n values at @first, @first + @step ... nm to the bands: four-point Lagrange between
 * samples, held beyond the ends; from finer samples a least-squares cubic about each band. */
gboolean ts_spectrum_resample (const double     *values,
                               guint             n,
                               double            first,
                               double            step,
                               TsSpectrum       *spectrum,
                               GError          **error);

/* A smooth reflectance within 0..1 that gives exactly @lab under D50 (Burns 2020, LHTSS); fails
 * with TS_ERROR_BAD_VALUE for a colour that no surface can have. */
gboolean ts_spectrum_from_lab (TsLab             lab,
                               TsSpectrum       *spectrum,
                               GError          **error);
/* The same for a colour under @light, on the scale of ts_spectrum_to_xyz(). */
gboolean ts_spectrum_from_xyz (TsXyz             xyz,
                               TsLight           light,
                               TsSpectrum       *spectrum,
                               GError          **error);

G_END_DECLS
