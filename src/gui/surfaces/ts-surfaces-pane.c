/* ts-surfaces-pane.c: the list of surfaces
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/surfaces/ts-surfaces-pane.h"

#include <glib/gi18n.h>

#include "gui/surfaces/ts-surface-row.h"

struct _TsSurfacesPane
{
  TsView parent_instance;

  gboolean grey, updating;
  guint n_rows;
  GtkWidget *list, *menu; /* children */
};

G_DEFINE_FINAL_TYPE (TsSurfacesPane, ts_surfaces_pane, TS_TYPE_VIEW)

static void
on_row_selected (GtkListBox *list, GtkListBoxRow *row, TsSurfacesPane *self)
{
  if (!self->updating && row != NULL)
    ts_document_select_surface (ts_view_get_document (TS_VIEW (self)),
                                gtk_list_box_row_get_index (row));
}

static void
rename_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_surfaces_pane_rename (TS_SURFACES_PANE (widget));
}

static void
remove_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (widget));
  int selected = ts_document_get_selected_surface (document);

  if (selected >= 0)
    ts_document_remove_surface (document, (guint) selected);
}

static void
move_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (widget));
  int selected = ts_document_get_selected_surface (document);
  int to = selected + g_variant_get_int32 (parameter);

  if (selected >= 0 && to >= 0 && to < (int) TS_SURFACES_PANE (widget)->n_rows)
    {
      ts_document_move_surface (document, (guint) selected, (guint) to);
      ts_document_select_surface (document, to);
    }
}

static void
remove_outline_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (widget));
  int selected = ts_document_get_selected_surface (document);

  if (selected >= 0)
    ts_document_remove_outline (document, (guint) selected);
}

static void
copy_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (widget));
  int selected = ts_document_get_selected_surface (document);

  if (selected >= 0)
    ts_document_copy_surface (document, (guint) selected);
}

static void
hide_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (widget));
  int selected = ts_document_get_selected_surface (document);

  if (selected >= 0)
    ts_document_set_hidden (
      document, (guint) selected,
      !ts_plan_get_surface (ts_document_get_plan (document), (guint) selected)->hidden);
}

static GMenuModel *
new_menu (TsSurfacesPane *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  int selected = ts_document_get_selected_surface (document);
  gboolean hidden = selected >= 0 &&
                    ts_plan_get_surface (ts_document_get_plan (document), (guint) selected)->hidden;
  GMenu *menu = g_menu_new ();

  g_menu_append (menu, _ ("Rename"), "surface.rename");
  g_menu_append (menu, _ ("Copy the surface"), "surface.copy");
  g_menu_append (menu, hidden ? _ ("Show on the picture") : _ ("Hide on the picture"),
                 "surface.hide");
  g_menu_append (menu, _ ("Move up"), "surface.move(-1)");
  g_menu_append (menu, _ ("Move down"), "surface.move(1)");
  g_menu_append (menu, _ ("Remove the outline"), "surface.remove-outline");
  g_menu_append (menu, _ ("Remove"), "surface.remove");
  return G_MENU_MODEL (menu);
}

static void
show_menu (TsSurfacesPane *self, double x, double y)
{
  g_autoptr (GMenuModel) menu = new_menu (self);

  gtk_popover_menu_set_menu_model (GTK_POPOVER_MENU (self->menu), menu);
  gtk_popover_set_pointing_to (GTK_POPOVER (self->menu), &(GdkRectangle){ (int) x, (int) y, 1, 1 });
  gtk_popover_popup (GTK_POPOVER (self->menu));
}

static void
on_secondary_click (GtkGestureClick *click, int n_press, double x, double y, TsSurfacesPane *self)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_y (GTK_LIST_BOX (self->list), (int) y);

  if (row == NULL)
    return;
  gtk_list_box_select_row (GTK_LIST_BOX (self->list), row);
  show_menu (self, x, y);
}

static gboolean
on_key_pressed (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                TsSurfacesPane *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));
  GtkAllocation place;

  if (row == NULL)
    return FALSE;
  gtk_widget_get_allocation (GTK_WIDGET (row), &place);
  if (keyval == GDK_KEY_F2)
    ts_surface_row_rename (TS_SURFACE_ROW (row));
  else if ((keyval == GDK_KEY_Up || keyval == GDK_KEY_Down) && state & GDK_ALT_MASK)
    gtk_widget_activate_action (GTK_WIDGET (self), "surface.move", "i",
                                keyval == GDK_KEY_Up ? -1 : 1);
  else if (keyval == GDK_KEY_d && state & GDK_CONTROL_MASK)
    gtk_widget_activate_action (GTK_WIDGET (self), "surface.copy", NULL);
  else if (keyval == GDK_KEY_h)
    gtk_widget_activate_action (GTK_WIDGET (self), "surface.hide", NULL);
  else if (keyval == GDK_KEY_Delete)
    gtk_widget_activate_action (GTK_WIDGET (self), "surface.remove", NULL);
  else if (keyval == GDK_KEY_Menu || (keyval == GDK_KEY_F10 && state & GDK_SHIFT_MASK))
    show_menu (self, place.x + 40.0, place.y + 20.0);
  else
    return FALSE;
  return TRUE;
}

static void
match_rows (TsSurfacesPane *self, guint n)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));

  while (self->n_rows > n)
    {
      self->n_rows--;
      gtk_list_box_remove (
        GTK_LIST_BOX (self->list),
        GTK_WIDGET (gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) self->n_rows)));
    }
  while (self->n_rows < n)
    gtk_list_box_append (GTK_LIST_BOX (self->list), ts_surface_row_new (document, self->n_rows++));
}

static void
ts_surfaces_pane_update (TsView *view, TsChange change)
{
  TsSurfacesPane *self = TS_SURFACES_PANE (view);
  TsDocument *document = ts_view_get_document (view);
  const TsPlan *plan = ts_document_get_plan (document);
  int selected = ts_document_get_selected_surface (document);
  GtkListBox *list = GTK_LIST_BOX (self->list);

  self->updating = TRUE;
  match_rows (self, plan != NULL ? plan->surfaces->len : 0);
  for (guint i = 0; i < self->n_rows && change & (TS_CHANGE_PLAN | TS_CHANGE_RESULTS); i++)
    ts_surface_row_update (TS_SURFACE_ROW (gtk_list_box_get_row_at_index (list, (int) i)),
                           self->grey);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "surface.remove-outline",
                                 selected >= 0 &&
                                   ts_plan_get_surface (plan, (guint) selected)->outline != NULL);
  gtk_list_box_select_row (list,
                           selected >= 0 ? gtk_list_box_get_row_at_index (list, selected) : NULL);
  self->updating = FALSE;
}

static void
ts_surfaces_pane_class_init (TsSurfacesPaneClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  TS_VIEW_CLASS (class)->update = ts_surfaces_pane_update;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_install_action (widget_class, "surface.rename", NULL, rename_action);
  gtk_widget_class_install_action (widget_class, "surface.remove", NULL, remove_action);
  gtk_widget_class_install_action (widget_class, "surface.remove-outline", NULL,
                                   remove_outline_action);
  gtk_widget_class_install_action (widget_class, "surface.move", "i", move_action);
  gtk_widget_class_install_action (widget_class, "surface.copy", NULL, copy_action);
  gtk_widget_class_install_action (widget_class, "surface.hide", NULL, hide_action);
}

static void
ts_surfaces_pane_init (TsSurfacesPane *self)
{
  GtkGesture *click = gtk_gesture_click_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_BROWSE);
  gtk_widget_add_css_class (self->list, "surfaces");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Surfaces"), -1);
  g_signal_connect (self->list, "row-selected", G_CALLBACK (on_row_selected), self);
  gtk_widget_set_parent (self->list, GTK_WIDGET (self));

  self->menu = gtk_popover_menu_new_from_model (NULL);
  gtk_popover_set_has_arrow (GTK_POPOVER (self->menu), FALSE);
  gtk_widget_set_halign (self->menu, GTK_ALIGN_START);
  gtk_widget_set_parent (self->menu, GTK_WIDGET (self));

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (click), GDK_BUTTON_SECONDARY);
  g_signal_connect (click, "pressed", G_CALLBACK (on_secondary_click), self);
  gtk_widget_add_controller (self->list, GTK_EVENT_CONTROLLER (click));
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed), self);
  gtk_widget_add_controller (self->list, keys);
}

/**
 * ts_surfaces_pane_set_grey:
 * @self: the pane
 * @grey: whether to show lightness alone
 *
 * Turns the strips grey with the picture.
 */
void
ts_surfaces_pane_set_grey (TsSurfacesPane *self, gboolean grey)
{
  g_return_if_fail (TS_IS_SURFACES_PANE (self));

  self->grey = grey;
  if (ts_view_get_document (TS_VIEW (self)) != NULL)
    ts_surfaces_pane_update (TS_VIEW (self), TS_CHANGE_ALL);
}

/**
 * ts_surfaces_pane_rename:
 * @self: the pane
 *
 * Lets the name of the selected surface be typed.
 */
void
ts_surfaces_pane_rename (TsSurfacesPane *self)
{
  GtkListBoxRow *row;

  g_return_if_fail (TS_IS_SURFACES_PANE (self));

  row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));
  if (row != NULL)
    ts_surface_row_rename (TS_SURFACE_ROW (row));
}
