/* demo-illuminant.c: the spectrum of the lamps, and what the observer makes of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-illuminant.h"

#include <math.h>
#include <string.h>

#include "colour/ts-cie-tables.h"

/* Planck's law; the second radiation constant of the 2019 SI, 1.438776877e-2 m K. */
static double
planck (double nm, double kelvin)
{
  return pow (nm / 560.0, -5.0) / expm1 (1.438776877e7 / (nm * kelvin));
}

/**
 * demo_illuminant_init:
 * @self: the light to set
 * @kelvin: temperature of the black body that stands for the lamps
 *
 * The 5 nm table of the observer shares each wavelength among the two bands beside it.
 */
void
demo_illuminant_init (DemoIlluminant *self, double kelvin)
{
  double sums[DEMO_BANDS][3] = { 0 }, white = 0.0;

  for (int i = 0; i < TS_CIE_SAMPLES; i++)
    {
      const double nm = TS_CIE_FIRST + TS_CIE_STEP * i;
      const double place = CLAMP ((nm - 400.0) / 10.0, 0.0, DEMO_BANDS - 1.0);
      const int below = MIN ((int) place, DEMO_BANDS - 2);
      const double share = place - below;

      for (int c = 0; c < 3; c++)
        {
          const double power = ts_cie_observer[i][c] * planck (nm, kelvin);

          sums[below][c] += (1.0 - share) * power;
          sums[below + 1][c] += share * power;
        }
      white += ts_cie_observer[i][1] * planck (nm, kelvin);
    }
  for (int b = 0; b < DEMO_BANDS; b++)
    for (int c = 0; c < 3; c++)
      self->weight[b][c] = (float) (sums[b][c] / white);
}

void
demo_illuminant_to_xyz (const DemoIlluminant *self, const DemoBands *radiance, float factor,
                        float xyz[3])
{
  for (int c = 0; c < 3; c++)
    {
      xyz[c] = 0.0f;
      for (int b = 0; b < DEMO_BANDS; b++)
        xyz[c] += self->weight[b][c] * radiance->band[b] * factor;
    }
}
