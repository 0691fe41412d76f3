/* ts-distance.c: a spin button for the distance from eye to figure, in the painter's unit
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-distance.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-format.h"

#define SHOWN "tonestair-distance" /* double, mm, behind the rounded number */

typedef struct
{
  double least, most, step;
} Range;

static const Range ranges[] = {
  [TS_LENGTH_CENTIMETRES] = { 5.0, 1000.0, 5.0 },
  [TS_LENGTH_INCHES] = { 2.0, 400.0, 2.0 },
};

static void
name (GtkWidget *spin, TsLengthUnit unit)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (spin), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  unit == TS_LENGTH_INCHES ? _ ("Distance from the eye, inches")
                                                           : _ ("Distance from the eye, cm"),
                                  -1);
}

/**
 * ts_distance_new:
 *
 * Returns: (transfer floating): a spin button without a distance yet
 */
GtkWidget *
ts_distance_new (void)
{
  GtkWidget *spin = gtk_spin_button_new_with_range (1.0, 1000.0, 1.0);

  name (spin, ts_format_get_length_unit ());
  return spin;
}

/**
 * ts_distance_show:
 * @spin: from ts_distance_new(), or a spin button like it
 * @mm: a distance, above 0
 *
 * Shows it in the unit of ts_format_get_length_unit().
 */
void
ts_distance_show (GtkWidget *spin, double mm)
{
  TsLengthUnit unit = ts_format_get_length_unit ();
  const Range *range = &ranges[unit];
  double *shown = g_new (double, 1);

  *shown = mm;
  g_object_set_data_full (G_OBJECT (spin), SHOWN, shown, g_free);
  gtk_spin_button_set_range (GTK_SPIN_BUTTON (spin), range->least, range->most);
  gtk_spin_button_set_increments (GTK_SPIN_BUTTON (spin), range->step, 5.0 * range->step);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), ts_length_from_mm (mm, unit));
  name (spin, unit);
}

/**
 * ts_distance_get:
 * @spin: a spin button that shows a distance
 *
 * A number that is only looked at must not round the distance behind it.
 *
 * Returns: mm
 */
double
ts_distance_get (GtkWidget *spin)
{
  const double *shown = g_object_get_data (G_OBJECT (spin), SHOWN);
  double value = gtk_spin_button_get_value (GTK_SPIN_BUTTON (spin));
  TsLengthUnit unit = ts_format_get_length_unit ();

  if (shown != NULL && lround (ts_length_from_mm (*shown, unit)) == lround (value))
    return *shown;
  return ts_length_to_mm (value, unit);
}
