/* ts-length.h: distances in the unit that the painter measures in
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  TS_LENGTH_CENTIMETRES,
  TS_LENGTH_INCHES
} TsLengthUnit;

/* Of @unit, from mm; and the other way. */
double ts_length_from_mm (double        mm,
                          TsLengthUnit  unit);
double ts_length_to_mm   (double        length,
                          TsLengthUnit  unit);
/* Whole centimetres or inches, such as “60 cm”. */
char  *ts_length_to_text (double        mm,
                          TsLengthUnit  unit);

G_END_DECLS
