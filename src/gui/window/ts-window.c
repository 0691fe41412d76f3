/* ts-window.c: one window: one document, its places, and the one bar of messages
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-window-private.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/brief/ts-brief-pane.h"
#include "gui/card/ts-card-pane.h"
#include "gui/widgets/ts-file-dialogs.h"
#include "gui/finish/ts-finish-pane.h"
#include "gui/widgets/ts-fit.h"
#include "gui/widgets/ts-flow.h"
#include "gui/paints/ts-paints-pane.h"
#include "gui/window/ts-recent.h"

enum
{
  PROP_DOCUMENT = 1,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_FINAL_TYPE (TsWindow, ts_window, GTK_TYPE_APPLICATION_WINDOW)

static void
set_answer (GtkWidget *button, const char *action, const char *label)
{
  gtk_widget_set_visible (button, action != NULL);
  if (action == NULL)
    return;
  gtk_button_set_label (GTK_BUTTON (button), label);
  g_object_set_data_full (G_OBJECT (button), "answer", g_strdup (action), g_free);
}

void
ts_window_ask (TsWindow *self, const char *text, const char *action, const char *label,
               const char *other_action, const char *other_label)
{
  gtk_label_set_label (GTK_LABEL (self->message), text);
  set_answer (self->message_action, action, label);
  set_answer (self->message_other, other_action, other_label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->message_bar), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  text, -1);
  gtk_widget_set_visible (self->message_bar, TRUE);
  self->told_of = 0;
}

void
ts_window_show_message (TsWindow *self, const char *text, const char *action, const char *label)
{
  ts_window_ask (self, text, action, label, NULL, NULL);
}

static void
on_message_closed (TsWindow *self)
{
  gtk_widget_set_visible (self->message_bar, FALSE);
}

/* The bar goes first: the answer may bring up the next question. */
static void
on_message_answered (GtkWidget *button, TsWindow *self)
{
  g_autofree char *action = g_strdup (g_object_get_data (G_OBJECT (button), "answer"));

  on_message_closed (self);
  gtk_widget_activate_action (GTK_WIDGET (self), action, NULL);
}

static void
on_message (TsDocument *document, const char *text, const char *action, const char *label,
            TsWindow *self)
{
  ts_window_show_message (self, text, action, label);
  if (g_strcmp0 (action, "win.undo") == 0 || ts_document_is_in_gesture (document))
    self->told_of = ts_document_get_n_changes (document);
}

/* After another change its "Undo" would take back that one. The picture moves when the bar goes:
 * not under a hand that drags. */
static void
on_history_changed (TsWindow *self)
{
  if (self->told_of > 0 && self->told_of != ts_document_get_n_changes (self->document) &&
      !ts_document_is_in_gesture (self->document))
    {
      self->told_of = 0;
      on_message_closed (self);
    }
}

static void
show_title (TsWindow *self)
{
  g_autofree char *title = NULL;
  gboolean has_plan = ts_document_get_has_plan (self->document);

  g_object_get (self->document, "title", &title, NULL);
  gtk_label_set_label (GTK_LABEL (self->title), has_plan && title != NULL ? title : "");
  gtk_window_set_title (GTK_WINDOW (self),
                        has_plan && title != NULL && *title != '\0' ? title : _ ("Tonestair"));
  if (!has_plan)
    gtk_label_set_label (GTK_LABEL (self->saved), "");
  else
    gtk_label_set_label (GTK_LABEL (self->saved),
                         ts_document_get_saved (self->document) ? _ ("saved") : _ ("not saved"));
}

/* Without a plan there is nothing to show but the paints. */
static void
show_places (TsWindow *self)
{
  gboolean has_plan = ts_document_get_has_plan (self->document);
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), "place");
  g_autoptr (GVariant) state = g_action_get_state (action);
  const char *place = g_variant_get_string (state, NULL);

  if (!has_plan && strcmp (place, "picture") != 0 && strcmp (place, "paints") != 0)
    {
      g_action_change_state (action, g_variant_new_string ("picture"));
      place = "picture";
    }
  /* What opens is shown where it will be worked on. */
  if (!has_plan && strcmp (place, "picture") == 0 && !ts_document_get_opening (self->document))
    place = "empty";
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), place);
  gtk_widget_set_sensitive (self->brief_button, has_plan);
  gtk_widget_set_sensitive (self->finish_button, has_plan);
  gtk_widget_set_sensitive (self->card_button, has_plan);
}

static void
on_document_changed (TsWindow *self)
{
  show_title (self);
  show_places (self);
  ts_window_update_actions (self);
}

static gboolean
ts_window_close_request (GtkWindow *window)
{
  TsWindow *self = TS_WINDOW (window);

  if (self->may_close || !ts_document_get_has_plan (self->document) ||
      ts_document_get_saved (self->document))
    return GTK_WINDOW_CLASS (ts_window_parent_class)->close_request (window);
  ts_window_leave (self, TS_LEAVE_WINDOW, NULL);
  return TRUE;
}

static void
ts_window_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_DOCUMENT)
    g_value_set_object (value, TS_WINDOW (object)->document);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
ts_window_dispose (GObject *object)
{
  TsWindow *self = TS_WINDOW (object);

  if (self->document != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->document, self);
      ts_document_stop (self->document);
    }
  /* The painter has been asked: what is not saved is not to be kept. */
  if (self->journal != NULL)
    g_object_run_dispose (G_OBJECT (self->journal));
  gtk_widget_dispose_template (GTK_WIDGET (self), TS_TYPE_WINDOW);
  G_OBJECT_CLASS (ts_window_parent_class)->dispose (object);
}

static void
ts_window_finalize (GObject *object)
{
  TsWindow *self = TS_WINDOW (object);

  g_clear_object (&self->journal);
  g_clear_pointer (&self->kept, ts_kept_free);
  g_clear_object (&self->document);
  g_free (self->demo);
  g_free (self->leave_path);
  g_queue_clear_full (&self->waiting, g_free);
  G_OBJECT_CLASS (ts_window_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TsWindow, title);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, saved);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, place_menu);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, undo);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, redo);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, undo_icon);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, redo_icon);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, menu);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, recent_menu);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, message_bar);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, message);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, message_action);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, message_other);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, stack);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, brief_button);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, finish_button);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, card_button);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, empty);
  gtk_widget_class_bind_template_child (widget_class, TsWindow, picture);
  gtk_widget_class_bind_template_callback (widget_class, on_message_closed);
  gtk_widget_class_bind_template_callback (widget_class, on_message_answered);
}

static void
ts_window_class_init (TsWindowClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->get_property = ts_window_get_property;
  object_class->dispose = ts_window_dispose;
  object_class->finalize = ts_window_finalize;
  GTK_WINDOW_CLASS (class)->close_request = ts_window_close_request;

  properties[PROP_DOCUMENT] = g_param_spec_object ("document", NULL, NULL, TS_TYPE_DOCUMENT,
                                                   G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);

  g_type_ensure (TS_TYPE_FIT);
  g_type_ensure (TS_TYPE_FLOW);
  g_type_ensure (TS_TYPE_EMPTY_VIEW);
  g_type_ensure (TS_TYPE_PICTURE_PLACE);
  g_type_ensure (TS_TYPE_PAINTS_PANE);
  g_type_ensure (TS_TYPE_BRIEF_PANE);
  g_type_ensure (TS_TYPE_FINISH_PANE);
  g_type_ensure (TS_TYPE_CARD_PANE);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-window.ui");
  bind_children (widget_class);
}

static void
ts_window_init (TsWindow *self)
{
  g_autofree char *folder = ts_journal_dup_folder ();

  g_queue_init (&self->waiting);
  self->together[0] = self->together[1] = -1;
  self->document = ts_document_new ();
  self->journal = ts_journal_new (self->document, folder);
  ts_window_add_actions (self);
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_accessible_may_be_cut (self->title);
  ts_window_add_drop (self);
  ts_accessible_name_inner (self->place_menu, _ ("Places"));
  ts_recent_fill_menu (self->recent_menu,
                       GTK_WIDGET (gtk_menu_button_get_popover (GTK_MENU_BUTTON (self->menu))));
  g_signal_connect (self->document, "message", G_CALLBACK (on_message), self);
  g_signal_connect_swapped (self->document, "plan-changed", G_CALLBACK (on_document_changed), self);
  g_signal_connect_swapped (self->document, "notify", G_CALLBACK (on_document_changed), self);
  g_signal_connect_swapped (self->document, "notify::undo-name", G_CALLBACK (on_history_changed),
                            self);
  on_document_changed (self);
}

/**
 * ts_window_new:
 * @application: the application
 *
 * Returns: (transfer none): a window without a plan
 */
GtkWidget *
ts_window_new (GtkApplication *application)
{
  return g_object_new (TS_TYPE_WINDOW, "application", application, NULL);
}

/**
 * ts_window_get_document:
 * @self: the window
 *
 * Returns: (transfer none): its document
 */
TsDocument *
ts_window_get_document (TsWindow *self)
{
  g_return_val_if_fail (TS_IS_WINDOW (self), NULL);

  return self->document;
}

/**
 * ts_window_get_help:
 * @self: the window
 *
 * Returns: the file of the manual's chapter about what is being looked at
 */
const char *
ts_window_get_help (TsWindow *self)
{
  const char *const chapters[][2] = {
    { "picture", "first-plan.md" },  { "paints", "paints.md" }, { "brief", "brief.md" },
    { "finish", "finish-check.md" }, { "card", "palette.md" },
  };
  const char *place;

  g_return_val_if_fail (TS_IS_WINDOW (self), NULL);

  place = gtk_stack_get_visible_child_name (GTK_STACK (self->stack));
  if (g_str_equal (place, "picture") && ts_picture_place_is_correcting (self->picture))
    return "photographs.md";
  for (guint i = 0; i < G_N_ELEMENTS (chapters); i++)
    if (g_str_equal (place, chapters[i][0]))
      return chapters[i][1];
  return "README.md";
}
