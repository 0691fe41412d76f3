/* ts-object-solid.h: which colours a surface can have under a light
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-spectrum.h"

G_BEGIN_DECLS

/* How far inside the solid of all reflectances within 0..1 a colour lies, in XYZ units where the
 * perfect reflector has Y 1; negative outside. Black and white lie on its ends, at 0. */
double ts_object_solid_margin (TsXyz   xyz,
                               TsLight light);

G_END_DECLS
