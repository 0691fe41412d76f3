/* ts-finish-pane-actions.c: what can be done in the Finish check, and how its pictures are looked
 * at
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/finish/ts-finish-pane-private.h"

#include <glib/gi18n.h>
#include <math.h>

static const char *const looks[] = { "colour", "values", "arms-length" };

static TsDocument *
get_document (gpointer self)
{
  return ts_view_get_document (TS_VIEW (self));
}

static void
set_state (TsFinishPane *self, const char *name, const char *state)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self->actions), name);

  g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_string (state));
}

/* Both pictures with the same eyes; by lightness alone the steps turn grey with them. */
static void
show_look (TsFinishPane *self, TsLook look)
{
  self->look = look;
  ts_finish_view_set_look (self->reference, look);
  ts_finish_view_set_look (self->finished, look);
  set_state (self, "look", looks[look]);
  if (ts_view_get_document (TS_VIEW (self)) != NULL)
    ts_finish_pane_show (self);
}

static void
look_activated (GSimpleAction *action, GVariant *value, gpointer user_data)
{
  for (guint i = 0; i < G_N_ELEMENTS (looks); i++)
    if (strcmp (g_variant_get_string (value, NULL), looks[i]) == 0)
      show_look (TS_FINISH_PANE (user_data), (TsLook) i);
}

static void
next_look_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsFinishPane *self = TS_FINISH_PANE (user_data);

  show_look (self, (TsLook) ((self->look + 1) % G_N_ELEMENTS (looks)));
}

/* The zoom that is told is the photo's; the reference shows the same part of its own picture. */
static void
zoom_activated (GSimpleAction *action, GVariant *value, gpointer user_data)
{
  TsFinishPane *self = TS_FINISH_PANE (user_data);
  const char *zoom = g_variant_get_string (value, NULL);

  if (strcmp (zoom, "fit") == 0)
    ts_finish_view_fit (self->finished);
  else if (strcmp (zoom, "one") == 0)
    ts_finish_view_set_zoom (self->finished, 1.0);
  else
    ts_finish_pane_show_zoom (self);
}

static void
lay_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsDocument *document = get_document (user_data);
  int surface = ts_document_get_selected_surface (document);

  if (surface >= 0)
    ts_document_lay_finish (document, (guint) surface);
}

static void
place_card_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_finish_view_place_card (TS_FINISH_PANE (user_data)->finished);
}

static void
as_shot_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsDocument *document = get_document (user_data);
  const TsCorrectionSettings settings = { .kind = TS_CORRECTION_NONE };
  int photo = ts_finish_pane_find_photo (TS_FINISH_PANE (user_data));

  if (photo >= 0 && ts_document_get_image (document, (guint) photo) != NULL)
    ts_document_set_correction (document, (guint) photo, &settings, NULL);
}

static void
remove_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  int photo = ts_finish_pane_find_photo (TS_FINISH_PANE (user_data));

  if (photo >= 0)
    ts_document_remove_picture (get_document (user_data), (guint) photo);
}

static void
copy_report_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  g_autofree char *report = ts_document_report_finish (get_document (user_data));

  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (user_data)), report);
  /* Until something else is shown. */
  gtk_button_set_label (GTK_BUTTON (TS_FINISH_PANE (user_data)->copy), _ ("Copied"));
}

void
ts_finish_pane_enable (TsFinishPane *self, const char *name, gboolean enabled)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self->actions), name);

  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
}

void
ts_finish_pane_show_zoom (TsFinishPane *self)
{
  double zoom = ts_finish_view_get_zoom (self->finished);
  gboolean fitted = ts_finish_view_is_fitted (self->finished);
  g_autofree char *text = g_strdup_printf (_ ("%.0f %%"), zoom * 100.0);

  gtk_button_set_label (GTK_BUTTON (self->own_zoom), text);
  gtk_widget_set_visible (self->own_zoom, ts_layout_get_fold (self->layout) < TS_FOLD_SMALL);
  set_state (self, "zoom", fitted ? "fit" : fabs (zoom - 1.0) < 1e-9 ? "one" : "own");
}

void
ts_finish_pane_add_actions (TsFinishPane *self)
{
  const GActionEntry entries[] = {
    { "look", look_activated, "s", "'colour'" },
    { "next-look", next_look_activated },
    { "zoom", zoom_activated, "s", "'fit'" },
    { "lay", lay_activated },
    { "place-card", place_card_activated },
    { "as-shot", as_shot_activated },
    { "remove", remove_activated },
    { "copy-report", copy_report_activated },
  };

  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries),
                                   self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "finish", G_ACTION_GROUP (self->actions));
}
