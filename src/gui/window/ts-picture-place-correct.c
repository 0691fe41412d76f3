/* ts-picture-place-correct.c: the Picture place while its photograph is being corrected
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-picture-place-private.h"

#include <glib/gi18n.h>

/* The picture is shown through the draft where there is one to compare. */
static void
show_compared (TsPicturePlace *self)
{
  g_autoptr (GVariant) state =
    g_action_group_get_action_state (G_ACTION_GROUP (self->actions), "compare");
  gboolean corrected = strcmp (g_variant_get_string (state, NULL), "corrected") == 0;
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsCorrection *correction = NULL;

  if (self->draft != NULL && corrected &&
      ts_document_get_shown_picture (document) == ts_correction_draft_get_picture (self->draft))
    correction = ts_correction_draft_get_correction (self->draft);
  if (correction != NULL && ts_correction_get_kind (correction) == TS_CORRECTION_NONE)
    correction = NULL;
  ts_image_view_set_shown_correction (self->image_view, correction);
}

static void
on_draft_changed (TsPicturePlace *self)
{
  gtk_label_set_label (GTK_LABEL (self->hint),
                       ts_correction_panel_get_hint (self->correction_panel));
  show_compared (self);
}

static void
show_bar (TsPicturePlace *self, gboolean correcting)
{
  gtk_widget_set_visible (self->correction_button, !correcting);
  gtk_widget_set_visible (self->choice_box, !correcting);
  gtk_widget_set_visible (self->colour, !correcting);
  gtk_widget_set_visible (self->looks_box, !correcting);
  gtk_widget_set_visible (self->hint, correcting);
  gtk_widget_set_visible (self->compare, correcting);
  gtk_widget_set_visible (self->stair_part, !correcting);
  ts_picture_place_show_beside (self);
}

static void
correction_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsPicturePlace *self = TS_PICTURE_PLACE (user_data);
  TsCorrectionDraft *draft;

  if (self->draft != NULL || !ts_document_get_has_plan (ts_view_get_document (TS_VIEW (self))))
    return;
  ts_picture_place_show_panel (self, "correction");
  draft = ts_correction_panel_open (self->correction_panel);
  if (draft == NULL)
    {
      ts_picture_place_show_panel (self, "surfaces");
      return;
    }
  self->draft = g_object_ref (draft);
  show_bar (self, TRUE);
  self->overlay = ts_correction_overlay_new (self->image_view);
  ts_image_view_set_over (self->image_view, self->overlay);
  ts_correction_overlay_set_draft (TS_CORRECTION_OVERLAY (self->overlay), draft);
  ts_picture_place_set_state (self, "compare", "corrected");
  g_signal_connect_object (draft, "changed", G_CALLBACK (on_draft_changed), self,
                           G_CONNECT_SWAPPED);
  on_draft_changed (self);
}

static void
compare_activated (GSimpleAction *action, GVariant *value, gpointer user_data)
{
  TsPicturePlace *self = TS_PICTURE_PLACE (user_data);

  ts_picture_place_set_state (self, "compare", g_variant_get_string (value, NULL));
  show_compared (self);
}

static void
clipping_activated (GSimpleAction *action, GVariant *value, gpointer user_data)
{
  TsPicturePlace *self = TS_PICTURE_PLACE (user_data);
  g_autoptr (GVariant) state = g_action_get_state (G_ACTION (action));
  gboolean on = !g_variant_get_boolean (state);

  g_simple_action_set_state (action, g_variant_new_boolean (on));
  ts_image_view_set_clipping (self->image_view, on);
}

static gboolean
on_key_pressed (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                TsPicturePlace *self)
{
  if (keyval != GDK_KEY_Escape || self->draft == NULL)
    return FALSE;
  ts_correction_panel_close (self->correction_panel);
  return TRUE;
}

/* Adds the actions, and Esc, which leaves. */
void
ts_picture_place_add_correction (TsPicturePlace *self)
{
  const GActionEntry entries[] = {
    { "correction", correction_activated },
    { "compare", compare_activated, "s", "'corrected'" },
    { "clipping", clipping_activated, NULL, "false" },
  };
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries),
                                   self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

static const char *
get_state_words (const TsCorrection *correction)
{
  if (correction != NULL && ts_correction_get_shared (correction))
    return _ ("Corrected as another photograph");
  switch (correction != NULL ? ts_correction_get_kind (correction) : TS_CORRECTION_NONE)
    {
    case TS_CORRECTION_CARD:
      return ts_correction_get_n_cards (correction) > 1 ? _ ("Corrected with neutral cards")
                                                        : _ ("Corrected with the grey card");
    case TS_CORRECTION_CHART:
      return _ ("Corrected with the colour chart");
    case TS_CORRECTION_GUESS:
      return _ ("Light guessed, not measured");
    case TS_CORRECTION_NONE:
    default:
      return _ ("Uncorrected photograph");
    }
}

/* The state of the picture's correction, as the button in the bar tells it. */
void
ts_picture_place_show_correction (TsPicturePlace *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsCorrection *correction =
    ts_document_get_has_plan (document)
      ? ts_document_get_correction (document, ts_document_get_shown_picture (document))
      : NULL;
  const char *text = get_state_words (correction);

  gtk_label_set_label (GTK_LABEL (self->correction), text);
  /* Else the steps beside it seem to be of another picture. */
  gtk_widget_set_tooltip_text (
    self->correction_button,
    correction != NULL && ts_correction_get_kind (correction) != TS_CORRECTION_NONE
      ? _ ("What is measured is corrected; the picture is shown as it was shot.")
      : _ ("Correction of the photograph"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->correction_button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  if (self->draft != NULL)
    on_draft_changed (self);
}

/* Everything stands again as it did before. */
void
ts_picture_place_end_correction (TsPicturePlace *self)
{
  if (self->draft == NULL)
    return;
  g_signal_handlers_disconnect_by_data (self->draft, self);
  g_clear_object (&self->draft);
  if (self->overlay == NULL || self->image_view == NULL)
    return;
  ts_correction_overlay_set_draft (TS_CORRECTION_OVERLAY (self->overlay), NULL);
  self->overlay = NULL;
  ts_image_view_set_shown_correction (self->image_view, NULL);
  ts_image_view_set_over (self->image_view, NULL);
  show_bar (self, FALSE);
  ts_picture_place_show_panel (self, "surfaces");
  gtk_widget_grab_focus (GTK_WIDGET (self->image_view));
}
