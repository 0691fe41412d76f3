/* ts-picture-place.c: the place where one picture becomes stairs
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-picture-place-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-format.h"
#include "gui/stair/ts-looks-panel.h"
#include "gui/picture/ts-picture-choice.h"
#include "gui/stair/ts-range-panel.h"

#define MIXES_WIDTH 404
#define CORRECTION_WIDTH 392
#define STAIR_BAR_HEIGHT 42
#define POINTER_RADIUS 2.0 /* of the disc whose colour is shown, pixels of the picture */

static const char *const looks[] = { "colour", "values", "arms-length" };

G_DEFINE_FINAL_TYPE (TsPicturePlace, ts_picture_place, TS_TYPE_VIEW)

static gboolean
is_small (TsPicturePlace *self)
{
  return ts_layout_get_fold (self->layout) >= TS_FOLD_SMALL;
}

void
ts_picture_place_set_state (TsPicturePlace *self, const char *name, const char *state)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self->actions), name);

  g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_string (state));
}

/* What lightness alone tells stands beside it; other mixes and the correction stay while they are
 * open. */
static void
show_side (TsPicturePlace *self, TsLook look)
{
  const char *now = gtk_stack_get_visible_child_name (GTK_STACK (self->side));

  if (g_strcmp0 (now, "surfaces") == 0 || g_strcmp0 (now, "looks") == 0)
    gtk_stack_set_visible_child_name (GTK_STACK (self->side),
                                      look == TS_LOOK_COLOUR ? "surfaces" : "looks");
}

static void
show_look (TsPicturePlace *self, TsLook look)
{
  gboolean grey = look == TS_LOOK_VALUES;

  ts_image_view_set_look (self->image_view, look);
  ts_stair_view_set_grey (self->stair, grey);
  ts_surfaces_pane_set_grey (self->surfaces, grey);
  ts_layout_set_side_over (self->layout, FALSE);
  if (look != TS_LOOK_COLOUR)
    ts_looks_panel_set_arms_length (TS_LOOKS_PANEL (self->looks_panel),
                                    look == TS_LOOK_ARMS_LENGTH);
  show_side (self, look);
  ts_picture_place_set_state (self, "look", looks[look]);
}

/* Where there is no room for both, the curve takes the picture's place. */
static void
show_curve (TsPicturePlace *self)
{
  show_side (self, TS_LOOK_COLOUR);
  ts_layout_set_side_over (self->layout, TRUE);
  ts_picture_place_set_state (self, "look", "curve");
}

static void
look_activated (GSimpleAction *action, GVariant *value, gpointer user_data)
{
  if (strcmp (g_variant_get_string (value, NULL), "curve") == 0)
    show_curve (TS_PICTURE_PLACE (user_data));
  for (guint i = 0; i < G_N_ELEMENTS (looks); i++)
    if (strcmp (g_variant_get_string (value, NULL), looks[i]) == 0)
      show_look (TS_PICTURE_PLACE (user_data), (TsLook) i);
}

static void
next_look_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsPicturePlace *self = TS_PICTURE_PLACE (user_data);

  show_look (self,
             (TsLook) ((ts_image_view_get_look (self->image_view) + 1) % G_N_ELEMENTS (looks)));
}

static void
zoom_activated (GSimpleAction *action, GVariant *value, gpointer user_data)
{
  TsPicturePlace *self = TS_PICTURE_PLACE (user_data);
  const char *zoom = g_variant_get_string (value, NULL);

  if (strcmp (zoom, "fit") == 0)
    ts_image_view_fit (self->image_view);
  else if (strcmp (zoom, "one") == 0)
    ts_image_view_set_zoom (self->image_view, 1.0);
  else /* as it is: it stays when the window changes */
    ts_image_view_set_zoom (self->image_view, ts_image_view_get_zoom (self->image_view));
}

void
ts_picture_place_show_panel (TsPicturePlace *self, const char *name)
{
  gboolean mixes = strcmp (name, "mixes") == 0, correction = strcmp (name, "correction") == 0;

  gtk_stack_set_visible_child_name (GTK_STACK (self->side), name);
  ts_layout_set_side_width (self->layout, mixes ? MIXES_WIDTH : correction ? CORRECTION_WIDTH : 0);
  show_look (self, ts_image_view_get_look (self->image_view));
  if (!mixes)
    return;
  ts_layout_set_side_over (self->layout, TRUE);
  ts_mixes_panel_open (self->mixes);
}

static void
other_mixes_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsPicturePlace *self = TS_PICTURE_PLACE (user_data);

  if (ts_view_get_result (TS_VIEW (self)) != NULL &&
      ts_document_get_selected_step (ts_view_get_document (TS_VIEW (self))) >= 0)
    ts_picture_place_show_panel (self, "mixes");
}

static void
copy_recipe_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_stair_view_copy (TS_PICTURE_PLACE (user_data)->stair, FALSE);
}

static void
copy_colour_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_stair_view_copy (TS_PICTURE_PLACE (user_data)->stair, TRUE);
}

static void
place_card_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_image_view_place_card (TS_PICTURE_PLACE (user_data)->image_view);
}

static void
place_brief_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_image_view_place_brief (TS_PICTURE_PLACE (user_data)->image_view);
}

static void
place_light_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_image_view_place_light (TS_PICTURE_PLACE (user_data)->image_view);
}

/* The picture in as many greys as the stair has steps. */
static void
flatten_changed (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  TsPicturePlace *self = TS_PICTURE_PLACE (user_data);

  g_simple_action_set_state (action, state);
  ts_image_view_set_flat (self->image_view, g_variant_get_boolean (state));
  if (g_variant_get_boolean (state))
    show_look (self, TS_LOOK_VALUES);
}

static void
on_mixes_closed (TsPicturePlace *self)
{
  ts_picture_place_show_panel (self, "surfaces");
}

static void
on_correction_closed (TsPicturePlace *self)
{
  ts_picture_place_end_correction (self);
}

static void
on_view_changed (TsPicturePlace *self)
{
  double zoom = ts_image_view_get_zoom (self->image_view);
  gboolean fitted = ts_image_view_is_fitted (self->image_view);
  gboolean one = !fitted && fabs (zoom - 1.0) < 1e-9;
  g_autofree char *text = g_strdup_printf (_ ("%.0f %%"), zoom * 100.0);

  gtk_button_set_label (GTK_BUTTON (self->own_zoom), text);
  gtk_widget_set_visible (self->own_zoom, !is_small (self));
  ts_picture_place_set_state (self, "zoom", fitted ? "fit" : one ? "one" : "own");
}

/* On the picture, or on the one beside it. */
static gboolean
find_pointer (TsPicturePlace *self, guint *picture, TsPoint *place)
{
  *picture = ts_document_get_shown_picture (ts_view_get_document (TS_VIEW (self)));
  return ts_image_view_get_pointer (self->image_view, place) ||
         ts_beside_view_get_pointer (self->beside, picture, place);
}

static void
on_pointer_moved (TsPicturePlace *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  g_autofree char *text = NULL;
  TsPoint place;
  TsSpot spot;
  guint shown;

  if (document != NULL && find_pointer (self, &shown, &place))
    {
      if (ts_spot_measure (ts_document_get_image (document, shown),
                           ts_document_get_correction (document, shown), place.x, place.y,
                           POINTER_RADIUS, &spot, NULL))
        text = ts_format_colour (spot.lab);
    }
  gtk_label_set_label (GTK_LABEL (self->colour), text != NULL && !is_small (self) ? text : "");
}

static void
on_surface_added (TsPicturePlace *self, int surface)
{
  if (!is_small (self))
    ts_surfaces_pane_rename (self->surfaces);
}

static void
on_folded (TsPicturePlace *self)
{
  gboolean small = is_small (self);

  gtk_widget_set_visible (self->surfaces_box, !small);
  gtk_widget_set_visible (self->curve_button, ts_layout_get_fold (self->layout) == TS_FOLD_TINY);
  ts_stair_bar_set_compact (self->stair_bar, small);
  ts_stair_view_set_compact (self->stair, small);
  on_view_changed (self);
  on_pointer_moved (self);
  if (ts_view_get_document (TS_VIEW (self)) != NULL)
    TS_VIEW_GET_CLASS (self)->update (TS_VIEW (self), TS_CHANGE_ALL);
}

/* What an opening says stands where the correction will. */
static void
show_opening (TsPicturePlace *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  gboolean opening = ts_document_get_opening (document);
  g_autofree char *text = NULL;
  double progress = 0.0;

  gtk_widget_set_visible (self->opening, opening);
  gtk_widget_set_visible (self->correction_button, !opening && self->draft == NULL);
  if (!opening)
    return;
  g_object_get (document, "busy-text", &text, "progress", &progress, NULL);
  gtk_label_set_label (GTK_LABEL (self->opening_text), text != NULL ? text : _ ("Opening"));
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->opening_bar),
                                 text != NULL ? CLAMP (progress, 0.0, 1.0) : 0.0);
}

static void
show_curve_summary (TsPicturePlace *self)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  g_autofree char *text =
    result != NULL ? ts_format_curve (ts_surface_result_get_curve (result)) : NULL;

  gtk_label_set_label (GTK_LABEL (self->curve_summary), text != NULL ? text : "");
}

/* In a small window the recipe of the selected step alone, as a line. */
static void
show_step_line (TsPicturePlace *self)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  int step = ts_document_get_selected_step (ts_view_get_document (TS_VIEW (self)));
  g_autofree char *number = NULL, *recipe = NULL, *error = NULL;
  gboolean shown =
    is_small (self) && result != NULL && step < (int) ts_surface_result_get_n_steps (result);

  gtk_widget_set_visible (self->step_line, shown);
  if (!shown)
    return;
  step = MAX (step, 0);
  number = g_strdup_printf ("%d", step + 1);
  recipe = ts_format_recipe (result, (guint) step);
  error = ts_format_error (ts_surface_result_get_error (result, (guint) step));
  gtk_label_set_label (GTK_LABEL (self->step_number), number);
  gtk_label_set_label (GTK_LABEL (self->step_role),
                       ts_format_role (ts_surface_result_get_stair (result), (guint) step));
  gtk_label_set_label (GTK_LABEL (self->step_recipe), recipe != NULL ? recipe : "");
  gtk_label_set_label (GTK_LABEL (self->step_error), recipe != NULL ? error : "");
}

/* The stair's place is kept from the start: the picture does not jump when the first one appears.
 */
static void
keep_room (TsPicturePlace *self)
{
  int height;

  gtk_widget_measure (GTK_WIDGET (self->stair), GTK_ORIENTATION_VERTICAL, -1, NULL, &height, NULL,
                      NULL);
  gtk_widget_set_size_request (self->no_surface, -1, height + STAIR_BAR_HEIGHT);
}

/* Something is always chosen: the base, until the painter chooses. */
static void
choose_base (TsPicturePlace *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  TsStair *stair;

  if (result == NULL || ts_document_get_selected_step (document) >= 0)
    return;
  stair = ts_surface_result_get_stair (result);
  for (guint i = 0; i < ts_stair_get_n_steps (stair); i++)
    if (g_strcmp0 (ts_stair_get_role (stair, i), "base") == 0)
      {
        ts_document_select_step (document, (int) i);
        return;
      }
}

static void
ts_picture_place_update (TsView *view, TsChange change)
{
  TsPicturePlace *self = TS_PICTURE_PLACE (view);
  gboolean has_surface = ts_view_get_surface (view) != NULL;

  show_opening (self);
  if (change == TS_CHANGE_BUSY) /* twenty times a second */
    return;

  gtk_widget_set_visible (self->no_surface, !has_surface);
  gtk_widget_set_visible (GTK_WIDGET (self->stair_bar), has_surface);
  gtk_widget_set_visible (self->stair_scroller, ts_view_get_result (view) != NULL);
  if (change & (TS_CHANGE_PLAN | TS_CHANGE_PICTURE))
    ts_picture_place_list_beside (self);
  ts_picture_place_show_beside (self);
  keep_room (self);
  ts_picture_place_show_correction (self);
  show_curve_summary (self);
  show_step_line (self);
  choose_base (self);
}

static void
ts_picture_place_dispose (GObject *object)
{
  TsPicturePlace *self = TS_PICTURE_PLACE (object);

  ts_picture_place_end_correction (self);
  g_clear_object (&self->hover);
  g_clear_object (&self->actions);
  g_clear_object (&self->beside_names);
  g_clear_pointer (&self->beside_pictures, g_array_unref);
  G_OBJECT_CLASS (ts_picture_place_parent_class)->dispose (object);
}

static void
ts_picture_place_class_init (TsPicturePlaceClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_picture_place_dispose;
  TS_VIEW_CLASS (class)->update = ts_picture_place_update;
  g_type_ensure (TS_TYPE_BESIDE_VIEW);
  g_type_ensure (TS_TYPE_CORRECTION_PANEL);
  g_type_ensure (TS_TYPE_LAYOUT);
  g_type_ensure (TS_TYPE_IMAGE_VIEW);
  g_type_ensure (TS_TYPE_CURVE_VIEW);
  g_type_ensure (TS_TYPE_SURFACES_PANE);
  g_type_ensure (TS_TYPE_LOOKS_PANEL);
  g_type_ensure (TS_TYPE_MIXES_PANEL);
  g_type_ensure (TS_TYPE_PICTURE_CHOICE);
  g_type_ensure (TS_TYPE_RANGE_PANEL);
  g_type_ensure (TS_TYPE_STAIR_BAR);
  g_type_ensure (TS_TYPE_STAIR_VIEW);
  gtk_widget_class_set_template_from_resource (
    widget_class, "/io/github/tonestair/Tonestair/ts-picture-place.ui");
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, layout);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, image_view);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, pictures);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, beside);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, beside_box);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, beside_choice);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, surfaces);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, curve);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, mixes);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, stair_bar);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, stair);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, bar);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, correction);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, correction_button);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, correction_panel);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, hint);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, compare);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, choice_box);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, clipping);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, looks_box);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, looks_panel);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, stair_part);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, colour);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, own_zoom);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, curve_button);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, side);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, surfaces_box);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, curve_summary);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, opening);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, opening_text);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, opening_bar);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, no_surface);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, stair_scroller);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, step_line);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, step_number);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, step_role);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, step_recipe);
  gtk_widget_class_bind_template_child (widget_class, TsPicturePlace, step_error);
  gtk_widget_class_bind_template_callback (widget_class, on_folded);
  gtk_widget_class_bind_template_callback (widget_class, on_view_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_pointer_moved);
  gtk_widget_class_bind_template_callback (widget_class, on_surface_added);
  gtk_widget_class_bind_template_callback (widget_class, on_mixes_closed);
  gtk_widget_class_bind_template_callback (widget_class, on_correction_closed);
}

static void
ts_picture_place_init (TsPicturePlace *self)
{
  const GActionEntry entries[] = {
    { "look", look_activated, "s", "'colour'" },
    { "next-look", next_look_activated },
    { "zoom", zoom_activated, "s", "'fit'" },
    { "other-mixes", other_mixes_activated },
    { "copy-recipe", copy_recipe_activated },
    { "copy-colour", copy_colour_activated },
    { "place-light", place_light_activated },
    { "flatten", NULL, NULL, "false", flatten_changed },
    { "place-card", place_card_activated },
    { "place-brief", place_brief_activated },
  };

  self->hover = ts_hover_new ();
  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries),
                                   self);
  ts_picture_place_add_correction (self);
  ts_picture_place_add_beside_actions (self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "picture", G_ACTION_GROUP (self->actions));
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_picture_place_init_beside (self);
  ts_accessible_may_be_cut (self->correction);
  ts_accessible_may_be_cut (self->colour);
  ts_accessible_may_be_cut (self->step_recipe);
  ts_image_view_set_hover (self->image_view, self->hover);
  ts_curve_view_set_hover (self->curve, self->hover);
  ts_stair_view_set_hover (self->stair, self->hover);
}

/**
 * ts_picture_place_is_correcting:
 * @self: the place
 *
 * Returns: whether the correction of the photograph is open
 */
gboolean
ts_picture_place_is_correcting (TsPicturePlace *self)
{
  g_return_val_if_fail (TS_IS_PICTURE_PLACE (self), FALSE);

  return self->draft != NULL;
}

static gboolean
holds_focus (GtkWidget *area)
{
  GtkRoot *root = gtk_widget_get_root (area);
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL && (focus == area || gtk_widget_is_ancestor (focus, area));
}

/**
 * ts_picture_place_next_area:
 * @self: the place
 * @back: whether to go back
 *
 * Moves the keyboard's focus to the next part.
 *
 * Returns: %FALSE where there is none
 */
gboolean
ts_picture_place_next_area (TsPicturePlace *self, gboolean back)
{
  GtkWidget *areas[] = { GTK_WIDGET (self->image_view),
                         self->beside_box,
                         self->bar,
                         self->surfaces_box,
                         GTK_WIDGET (self->correction_panel),
                         GTK_WIDGET (self->curve),
                         GTK_WIDGET (self->stair_bar),
                         GTK_WIDGET (self->stair) };
  int n = G_N_ELEMENTS (areas), at = back ? n : -1;

  for (int i = 0; i < n; i++)
    if (holds_focus (areas[i]))
      at = i;
  for (int i = at + (back ? -1 : 1); i >= 0 && i < n; i += back ? -1 : 1)
    if (gtk_widget_get_mapped (areas[i]) &&
        (gtk_widget_grab_focus (areas[i]) ||
         gtk_widget_child_focus (areas[i], GTK_DIR_TAB_FORWARD)))
      return TRUE;
  return FALSE;
}
