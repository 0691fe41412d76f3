/* ts-accessible.c: names for assistive technology where GTK 4.8 finds none
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-accessible.h"

/**
 * ts_accessible_name_inner:
 * @widget: a drop-down, a menu button or a colour button
 * @name: what it is called
 *
 * Names the widget and the button inside it.
 */
void
ts_accessible_name_inner (GtkWidget *widget, const char *name)
{
  GtkWidget *inner = gtk_widget_get_first_child (widget);

  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  if (inner != NULL && !GTK_IS_MENU_BUTTON (widget)) /* it hands its own name on */
    gtk_accessible_update_property (GTK_ACCESSIBLE (inner), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                    -1);
}
