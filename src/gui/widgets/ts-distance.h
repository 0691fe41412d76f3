/* ts-distance.h: a spin button for the distance from eye to figure, in the painter's unit
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A GtkSpinButton; its name for those who do not see it says the unit. */
GtkWidget *ts_distance_new  (void);
/* Distances in mm. What is got is what was shown until the number is another. */
void       ts_distance_show (GtkWidget *spin,
                             double     mm);
double     ts_distance_get  (GtkWidget *spin);

G_END_DECLS
