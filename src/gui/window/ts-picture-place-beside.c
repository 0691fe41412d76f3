/* ts-picture-place-beside.c: the Picture place with two pictures side by side
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-picture-place-private.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/pixels/ts-look.h"

static gboolean
is_both (TsPicturePlace *self)
{
  g_autoptr (GVariant) state =
    g_action_group_get_action_state (G_ACTION_GROUP (self->actions), "both");

  return g_variant_get_boolean (state);
}

/* While the photograph is being corrected it stands alone: it has a comparison of its own. */
void
ts_picture_place_show_beside (TsPicturePlace *self)
{
  gboolean shown = is_both (self) && self->draft == NULL &&
                   ts_document_get_has_plan (ts_view_get_document (TS_VIEW (self)));

  gtk_widget_set_visible (self->beside_box, shown);
  ts_image_view_set_captioned (self->image_view, shown);
  if (!shown)
    ts_image_view_set_mark (self->image_view, NULL);
}

static void
show_row (TsPicturePlace *self, guint row)
{
  guint other = row - TS_BESIDE_N_LOOKS;

  if (row < TS_BESIDE_N_LOOKS)
    ts_beside_view_show (self->beside, (TsBeside) row, -1);
  else if (other < self->beside_pictures->len)
    ts_beside_view_show (self->beside, TS_BESIDE_AS_IT_IS,
                         (int) g_array_index (self->beside_pictures, guint, other));
}

static void
on_chosen (TsPicturePlace *self)
{
  guint row = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->beside_choice));

  if (!self->listing && row != GTK_INVALID_LIST_POSITION)
    show_row (self, row);
}

static void
add_picture (TsPicturePlace *self, GStrvBuilder *names, const TsPlan *plan, guint index)
{
  g_autofree char *name = ts_look_dup_picture (ts_plan_get_picture (plan, index));

  g_strv_builder_add (names, name);
  g_array_append_val (self->beside_pictures, index);
}

/* The same with other eyes, then the other pictures of the plan. */
static GStrv
list_names (TsPicturePlace *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const TsPlan *plan = ts_document_get_plan (document);
  g_autoptr (GStrvBuilder) names = g_strv_builder_new ();
  const struct
  {
    TsLook look;
    gboolean flat;
  } looks[TS_BESIDE_N_LOOKS] = { { TS_LOOK_COLOUR, FALSE },
                                 { TS_LOOK_VALUES, FALSE },
                                 { TS_LOOK_VALUES, TRUE },
                                 { TS_LOOK_ARMS_LENGTH, FALSE } };

  for (guint i = 0; i < G_N_ELEMENTS (looks); i++)
    {
      g_autofree char *words = ts_look_dup_words (TS_VIEW (self), looks[i].look, looks[i].flat);

      g_strv_builder_add (names, words);
    }
  g_array_set_size (self->beside_pictures, 0);
  for (guint i = 0; plan != NULL && i < plan->pictures->len; i++)
    if (i != ts_document_get_shown_picture (document))
      add_picture (self, names, plan, i);
  return g_strv_builder_end (names);
}

static gboolean
is_listed (GtkStringList *list, const char *const *names)
{
  guint n = g_strv_length ((GStrv) names);

  if (g_list_model_get_n_items (G_LIST_MODEL (list)) != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (strcmp (gtk_string_list_get_string (list, i), names[i]) != 0)
      return FALSE;
  return TRUE;
}

/* What there is to choose from: the row stays, unless it was a picture that is gone. */
void
ts_picture_place_list_beside (TsPicturePlace *self)
{
  guint row = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->beside_choice));
  g_auto (GStrv) names = list_names (self);
  guint n = g_strv_length (names);

  if (is_listed (self->beside_names, (const char *const *) names))
    return;
  self->listing = TRUE;
  gtk_string_list_splice (self->beside_names, 0,
                          g_list_model_get_n_items (G_LIST_MODEL (self->beside_names)),
                          (const char *const *) names);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->beside_choice),
                              row < n ? row : TS_BESIDE_VALUES);
  self->listing = FALSE;
  on_chosen (self);
}

/* Two pictures that look alike tell nothing: the other one has the next look. */
static void
choose_unlike (TsPicturePlace *self)
{
  static const TsBeside same[] = { TS_BESIDE_AS_IT_IS, TS_BESIDE_VALUES, TS_BESIDE_ARMS_LENGTH };
  static const TsBeside unlike[] = { TS_BESIDE_VALUES, TS_BESIDE_ARMS_LENGTH, TS_BESIDE_AS_IT_IS };
  TsLook look = ts_image_view_get_look (self->image_view);

  if (gtk_drop_down_get_selected (GTK_DROP_DOWN (self->beside_choice)) == (guint) same[look])
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->beside_choice), unlike[look]);
}

static void
both_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsPicturePlace *self = TS_PICTURE_PLACE (user_data);
  gboolean on = !is_both (self);

  g_simple_action_set_state (action, g_variant_new_boolean (on));
  if (on)
    choose_unlike (self);
  else if (gtk_widget_get_focus_child (self->pictures) == self->beside_box)
    gtk_widget_grab_focus (GTK_WIDGET (self->image_view));
  ts_picture_place_show_beside (self);
}

static void
next_beside_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsPicturePlace *self = TS_PICTURE_PLACE (user_data);
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->beside_names));
  guint row = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->beside_choice));

  if (is_both (self) && n > 0)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->beside_choice), (row + 1) % n);
}

/* Before the template: its buttons look for the actions. */
void
ts_picture_place_add_beside_actions (TsPicturePlace *self)
{
  const GActionEntry entries[] = {
    { "both", both_activated, NULL, "false" },
    { "next-beside", next_beside_activated },
  };

  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries),
                                   self);
}

/* After the template. */
void
ts_picture_place_init_beside (TsPicturePlace *self)
{
  self->beside_pictures = g_array_new (FALSE, FALSE, sizeof (guint));
  self->beside_names = gtk_string_list_new (NULL);
  self->listing = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->beside_choice), G_LIST_MODEL (self->beside_names));
  self->listing = FALSE;
  ts_accessible_name_inner (self->beside_choice, _ ("What stands beside the picture"));
  ts_beside_view_follow (self->beside, self->image_view);
  g_signal_connect_swapped (self->beside_choice, "notify::selected", G_CALLBACK (on_chosen), self);
}

/**
 * ts_picture_place_show_beside_it:
 * @self: the place
 * @picture: index of a picture that is not the one shown
 *
 * Shows both of them.
 */
void
ts_picture_place_show_beside_it (TsPicturePlace *self, guint picture)
{
  g_return_if_fail (TS_IS_PICTURE_PLACE (self));

  g_action_group_change_action_state (G_ACTION_GROUP (self->actions), "both",
                                      g_variant_new_boolean (TRUE));
  ts_picture_place_list_beside (self);
  for (guint i = 0; i < self->beside_pictures->len; i++)
    if (g_array_index (self->beside_pictures, guint, i) == picture)
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->beside_choice), TS_BESIDE_N_LOOKS + i);
  ts_picture_place_show_beside (self);
}
