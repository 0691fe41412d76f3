/* ts-length.c: distances in the unit that the painter measures in
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-length.h"

#include <glib/gi18n.h>

#define MM_PER_CM 10.0
#define MM_PER_INCH 25.4 /* by definition */

static double
get_mm_per (TsLengthUnit unit)
{
  return unit == TS_LENGTH_INCHES ? MM_PER_INCH : MM_PER_CM;
}

/**
 * ts_length_from_mm:
 * @mm: a length in mm
 * @unit: the painter's
 *
 * Returns: it in @unit
 */
double
ts_length_from_mm (double mm, TsLengthUnit unit)
{
  return mm / get_mm_per (unit);
}

/**
 * ts_length_to_mm:
 * @length: in @unit
 * @unit: the painter's
 *
 * Returns: it in mm
 */
double
ts_length_to_mm (double length, TsLengthUnit unit)
{
  return length * get_mm_per (unit);
}

/**
 * ts_length_to_text:
 * @mm: a distance in mm
 * @unit: the painter's
 *
 * Returns: (transfer full): it in words, rounded to a whole unit
 */
char *
ts_length_to_text (double mm, TsLengthUnit unit)
{
  double length = ts_length_from_mm (mm, unit);

  return unit == TS_LENGTH_INCHES ? g_strdup_printf (_ ("%.0f in"), length)
                                  : g_strdup_printf (_ ("%.0f cm"), length);
}
