/* ts-window-actions.c: what the window can do, beside opening and saving
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-window-private.h"

static void
undo_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_document_undo (TS_WINDOW (user_data)->document);
}

static void
replace_out_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_document_replace_out (TS_WINDOW (user_data)->document);
}

static void
redo_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_document_redo (TS_WINDOW (user_data)->document);
}

static void
stop_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  g_queue_clear_full (&TS_WINDOW (user_data)->waiting, g_free);
  ts_document_stop (TS_WINDOW (user_data)->document);
}

static void
measure_again_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsDocument *document = TS_WINDOW (user_data)->document;

  if (ts_document_get_has_plan (document))
    ts_document_measure_again (document, ts_document_get_shown_picture (document));
}

static void
close_plan_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_window_leave (TS_WINDOW (user_data), TS_LEAVE_PLAN, NULL);
}

static void
place_activated (GSimpleAction *action, GVariant *value, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);
  const char *place = g_variant_get_string (value, NULL);
  gboolean has_plan = ts_document_get_has_plan (self->document);

  if (!has_plan && strcmp (place, "picture") != 0 && strcmp (place, "paints") != 0)
    return;
  g_simple_action_set_state (action, value);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack),
                                    !has_plan && strcmp (place, "picture") == 0 &&
                                        !ts_document_get_opening (self->document)
                                      ? "empty"
                                      : place);
}

/* The colour is pointed at in the picture that is shown; the line then stands in the brief. */
static void
measure_brief_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);

  gtk_widget_activate_action (GTK_WIDGET (self), "win.place", "s", "picture");
  gtk_widget_activate_action (GTK_WIDGET (self->picture), "picture.place-brief", NULL);
}

static void
find_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);

  g_action_group_activate_action (G_ACTION_GROUP (self), "place", g_variant_new_string ("paints"));
  gtk_widget_activate_action (gtk_stack_get_visible_child (GTK_STACK (self->stack)), "paints.find",
                              NULL);
}

static void
next_area_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);
  gboolean back = g_variant_get_boolean (parameter);
  const char *place = gtk_stack_get_visible_child_name (GTK_STACK (self->stack));

  if (strcmp (place, "picture") == 0 && ts_picture_place_next_area (self->picture, back))
    return;
  gtk_widget_child_focus (gtk_window_get_titlebar (GTK_WINDOW (self)), GTK_DIR_TAB_FORWARD);
}

static void
enable (TsWindow *self, const char *name, gboolean enabled)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), name);

  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
}

/**
 * ts_window_update_actions:
 * @self: the window
 *
 * Enables what can be done now.
 */
void
ts_window_update_actions (TsWindow *self)
{
  g_autofree char *undo = NULL, *redo = NULL;
  gboolean has_plan = ts_document_get_has_plan (self->document);

  g_object_get (self->document, "undo-name", &undo, "redo-name", &redo, NULL);
  enable (self, "undo", undo != NULL);
  enable (self, "redo", redo != NULL);
  enable (self, "save", has_plan && !ts_document_get_saved (self->document));
  enable (self, "pack", has_plan);
  enable (self, "save-as", has_plan);
  enable (self, "open-finished", has_plan);
  enable (self, "close-plan", has_plan);
  enable (self, "print", has_plan);
  enable (self, "save-card", has_plan);
  gtk_widget_set_tooltip_text (self->undo, undo);
  gtk_widget_set_tooltip_text (self->redo, redo);
  gtk_widget_set_tooltip_text (self->undo_icon, undo);
  gtk_widget_set_tooltip_text (self->redo_icon, redo);
}

/**
 * ts_window_add_actions:
 * @self: a new window
 *
 * Adds the window's actions.
 */
void
ts_window_add_actions (TsWindow *self)
{
  const GActionEntry entries[] = {
    { "close-plan", close_plan_activated },
    { "undo", undo_activated },
    { "redo", redo_activated },
    { "replace-out", replace_out_activated },
    { "stop", stop_activated },
    { "measure-again", measure_again_activated },
    { "open-kept", ts_window_open_kept },
    { "discard-kept", ts_window_discard_kept },
    { "measure-brief", measure_brief_activated },
    { "find", find_activated },
    { "next-area", next_area_activated, "b" },
    { "place", place_activated, "s", "'picture'" },
  };

  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
  ts_window_add_open_actions (self);
  ts_window_add_save_actions (self);
}
