/* ts-accessible.c: names for assistive technology where GTK 4.8 finds none, and whole texts
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-accessible.h"

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

/* All rows but the one that has the keyboard. */
static void
set_others_can_focus (GtkWidget *list, gboolean can_focus)
{
  GtkWidget *at = gtk_widget_get_focus_child (list);

  for (GtkWidget *row = gtk_widget_get_first_child (list); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    if (row != at)
      gtk_widget_set_can_focus (row, can_focus);
}

static gboolean
on_list_key (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
             GtkWidget *list)
{
  gboolean back = keyval == GDK_KEY_ISO_Left_Tab || (state & GDK_SHIFT_MASK);
  GtkRoot *root = gtk_widget_get_root (list);

  if ((keyval != GDK_KEY_Tab && keyval != GDK_KEY_ISO_Left_Tab) ||
      state & (GDK_CONTROL_MASK | GDK_ALT_MASK) || root == NULL)
    return FALSE;
  set_others_can_focus (list, FALSE);
  g_signal_emit_by_name (root, "move-focus", back ? GTK_DIR_TAB_BACKWARD : GTK_DIR_TAB_FORWARD);
  set_others_can_focus (list, TRUE);
  return TRUE;
}

/**
 * ts_accessible_tab_leaves:
 * @list: a list whose rows the arrows go through
 *
 * Makes Tab go on to what comes after the list.
 */
void
ts_accessible_tab_leaves (GtkListBox *list)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_list_key), list);
  gtk_widget_add_controller (GTK_WIDGET (list), keys);
}

static gboolean
on_query_tooltip (GtkWidget *label, int x, int y, gboolean by_keyboard, GtkTooltip *tooltip,
                  gpointer user_data)
{
  if (!pango_layout_is_ellipsized (gtk_label_get_layout (GTK_LABEL (label))))
    return FALSE;
  gtk_tooltip_set_text (tooltip, gtk_label_get_text (GTK_LABEL (label)));
  return TRUE;
}

/**
 * ts_accessible_may_be_cut:
 * @label: a label
 *
 * Lets it end in an ellipsis where there is no room, and then tell its whole text as a tooltip.
 */
void
ts_accessible_may_be_cut (GtkWidget *label)
{
  if (gtk_label_get_ellipsize (GTK_LABEL (label)) == PANGO_ELLIPSIZE_NONE)
    gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_has_tooltip (label, TRUE);
  g_signal_connect (label, "query-tooltip", G_CALLBACK (on_query_tooltip), NULL);
}
