/* ts-colour-vision.h: colours as people see them whose red, green or blue cones differ
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "base/ts-linalg.h"
#include "colour/ts-colour.h"

G_BEGIN_DECLS

typedef enum
{
  TS_VISION_USUAL,
  TS_VISION_PROTAN, /* red cones */
  TS_VISION_DEUTAN, /* green cones */
  TS_VISION_TRITAN, /* blue cones */
  TS_N_VISIONS
} TsVision;

TsMat3   ts_vision_get_machado (TsVision       vision,
                                double         severity);
gboolean ts_vision_get_vienot  (TsVision       vision,
                                TsMat3        *matrix);
TsLab    ts_vision_apply       (const TsMat3  *matrix,
                                TsLab          lab);

G_END_DECLS
