/* demo-bands.h: one value a band, 400 to 700 nm in steps of 10 nm
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

#define DEMO_BANDS 31

/* One value more than there are bands, so that the loops over them go by fours. */
typedef struct
{
  float band[DEMO_BANDS + 1];
} DemoBands;

static inline float
demo_wavelength (int band)
{
  return 400.0f + 10.0f * (float) band;
}

static inline void
demo_bands_fill (DemoBands  *self,
                 float       value)
{
  for (int b = 0; b <= DEMO_BANDS; b++)
    self->band[b] = value;
}

static inline void
demo_bands_multiply (DemoBands        *self,
                     const DemoBands  *by,
                     float             factor)
{
  for (int b = 0; b <= DEMO_BANDS; b++)
    self->band[b] *= by->band[b] * factor;
}

static inline void
demo_bands_add (DemoBands        *self,
                const DemoBands  *more,
                float             factor)
{
  for (int b = 0; b <= DEMO_BANDS; b++)
    self->band[b] += more->band[b] * factor;
}
