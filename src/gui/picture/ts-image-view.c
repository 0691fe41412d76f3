/* ts-image-view.c: the picture, with the runs drawn on it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-image-view-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-format.h"
#include "gui/pixels/ts-look.h"
#include "gui/widgets/ts-palette.h"
#include "gui/picture/ts-swatch.h"

#define MARK_RADIUS 6.5
#define CAPTION_EDGE 12.0

enum
{
  VIEW_CHANGED,
  POINTER_MOVED,
  SURFACE_ADDED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsImageView, ts_image_view, TS_TYPE_VIEW)

gboolean
ts_image_view_is_dragging (TsImageView *self)
{
  return self->drag == TS_DRAG_NEW || self->drag == TS_DRAG_MOVE || self->cross_started;
}

void
ts_image_view_changed (TsImageView *self)
{
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (self->swatch != NULL)
    {
      ts_swatch_refresh (TS_SWATCH (self->swatch));
      gtk_widget_queue_allocate (GTK_WIDGET (self));
    }
  g_signal_emit (self, signals[VIEW_CHANGED], 0);
}

void
ts_image_view_added (TsImageView *self, int surface)
{
  g_signal_emit (self, signals[SURFACE_ADDED], 0, surface);
}

void
ts_image_view_pointer_moved (TsImageView *self)
{
  g_signal_emit (self, signals[POINTER_MOVED], 0);
}

static void
draw_picture (TsImageView *self, cairo_t *cr, int width, int height)
{
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  TsPoint from = ts_image_view_to_picture (self, 0, 0);
  TsPoint to = ts_image_view_to_picture (self, width, height);

  if (ts_image_view_draw_recoloured (self, cr, width, height))
    return;
  cairo_save (cr);
  /* On whole pixels of the screen: 1:1 stays sharp. */
  cairo_translate (cr, round (self->x * scale) / scale, round (self->y * scale) / scale);
  cairo_scale (cr, self->zoom, self->zoom);
  ts_texture_draw (
    self->texture, cr, from.x, from.y, to.x - from.x, to.y - from.y, self->zoom * scale,
    self->look == TS_LOOK_ARMS_LENGTH ? ts_look_get_blur (TS_VIEW (self), self->image) : 1);
  cairo_restore (cr);
}

/* With a picture beside it: what this one shows, and where the pointer is in the other. */
static void
draw_beside (TsImageView *self, cairo_t *cr)
{
  g_autofree char *words = NULL;
  double width, height;

  if (self->has_mark)
    ts_draw_ring (cr, ts_image_view_to_widget (self, self->mark), MARK_RADIUS, 1.4);
  if (!self->captioned)
    return;
  words = ts_look_dup_words (TS_VIEW (self), self->look, self->flat);
  ts_draw_pill_size (GTK_WIDGET (self), words, &width, &height);
  ts_draw_pill (cr, GTK_WIDGET (self), words, CAPTION_EDGE + width / 2.0,
                CAPTION_EDGE + height / 2.0);
  cairo_new_path (cr);
}

static void
ts_image_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsImageView *self = TS_IMAGE_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  TsPalette palette;
  cairo_t *cr = ts_draw_field (widget, snapshot, &palette);

  if (self->image != NULL)
    {
      draw_picture (self, cr, width, height);
      if (!self->preview)
        ts_image_view_draw_clipping (self, cr, width, height);
      if (!self->preview && self->over == NULL)
        ts_image_view_draw_overlay (self, cr);
      if (!self->preview)
        draw_beside (self, cr);
      ts_image_view_draw_magnifier (self, cr);
    }
  if (gtk_widget_has_visible_focus (widget))
    ts_draw_focus (cr, &palette.text, 0, 0, width, height);
  cairo_destroy (cr);
  if (self->over != NULL && !self->preview)
    gtk_widget_snapshot_child (widget, self->over, snapshot);
  if (self->swatch != NULL)
    gtk_widget_snapshot_child (widget, self->swatch, snapshot);
}

static void
ts_image_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 200 : 120;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 600 : 400;
}

static gboolean
tell_fitted (gpointer user_data)
{
  TsImageView *self = user_data;

  self->fitted_idle = 0;
  ts_image_view_changed (self);
  return G_SOURCE_REMOVE;
}

static void
ts_image_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TsImageView *self = TS_IMAGE_VIEW (widget);
  double before = self->zoom;

  if (self->fit && self->drag == TS_DRAG_NONE) /* nothing moves under a hand that drags */
    ts_image_view_place_fitted (self, width, height);
  /* Told later: what shows the figure may need another width. */
  if (self->zoom != before && self->fitted_idle == 0)
    self->fitted_idle = g_idle_add_full (G_PRIORITY_HIGH_IDLE, tell_fitted, self, NULL);
  if (self->over != NULL)
    gtk_widget_size_allocate (self->over, &(GtkAllocation){ 0, 0, width, height }, -1);
  ts_image_view_place_swatch (self);
}

static char *
dup_picture_name (TsImageView *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const TsPlan *plan = ts_document_get_plan (document);
  guint shown = ts_document_get_shown_picture (document);
  const TsPicture *picture;
  g_autofree char *name = NULL;

  if (self->preview)
    return g_strdup (_ ("Picture that opens"));
  if (plan == NULL || shown >= plan->pictures->len)
    return g_strdup (_ ("Picture"));
  picture = ts_plan_get_picture (plan, shown);
  name = g_filename_display_basename (picture->path);
  return g_strdup_printf (
    picture->role == TS_ROLE_FINISHED ? _ ("Finished figure, %s") : _ ("Reference, %s"), name);
}

static void
append_focus (TsImageView *self, GString *words, const TsSurface *surface)
{
  g_autofree char *clipped = NULL;
  const TsRun *run;
  const TsSpot *spot;

  if (self->focus.kind == TS_GRIP_NONE || self->focus.run >= surface->runs->len)
    return;
  run = ts_surface_get_run (surface, self->focus.run);
  if (self->focus.index >= run->spots->len)
    return;
  spot = &g_array_index (run->spots, TsSpot, self->focus.index);
  g_string_append_printf (words, _ (" Spot %u of %u, L* %.0f."), self->focus.index + 1,
                          run->spots->len, spot->lab.L);
  clipped = ts_format_clipped (spot);
  if (clipped != NULL)
    g_string_append_printf (words, " %s.", clipped);
}

static void
append_selected (TsImageView *self, GString *words, const TsSurface *surface)
{
  const TsRun *run;
  const TsPoint *lit, *shadow;

  if (surface->runs->len == 0)
    return;
  run = ts_surface_get_run (surface, 0);
  lit = &g_array_index (run->points, TsPoint, 0);
  shadow = &g_array_index (run->points, TsPoint, run->points->len - 1);
  g_string_append_printf (
    words, _ (" %s selected: run from lit %.0f, %.0f to shadow %.0f, %.0f, %u spots."),
    surface->name, lit->x, lit->y, shadow->x, shadow->y, run->spots->len);
  append_focus (self, words, surface);
  ts_image_view_append_chosen (self, words);
}

void
ts_image_view_describe (TsImageView *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const TsPlan *plan = ts_document_get_plan (document);
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  g_autofree char *name = dup_picture_name (self);
  g_autoptr (GString) words = g_string_new (NULL);
  guint n = plan != NULL ? plan->surfaces->len : 0;

  g_string_append_printf (words, ngettext ("%u surface.", "%u surfaces.", n), n);
  if (surface != NULL)
    append_selected (self, words, surface);
  ts_image_view_append_outline (self, words);
  if (self->crossing)
    g_string_append_printf (words, _ (" Cross at %.0f, %.0f."), self->cross.x, self->cross.y);
  ts_image_view_append_clipping (self, words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words->str, -1);
}

/* What opens comes first; it takes no runs yet. */
static TsImage *
find_image (TsImageView *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));

  self->preview = ts_document_get_preview (document) != NULL;
  if (self->preview)
    return ts_document_get_preview (document);
  if (!ts_document_get_has_plan (document))
    return NULL;
  return ts_document_get_image (document, ts_document_get_shown_picture (document));
}

/* Whole after a reduced form of the same size: nothing moves. */
static gboolean
takes_place_of (const TsImage *image, const TsImage *before)
{
  return image != NULL && before != NULL &&
         ts_image_get_width (before) < ts_image_get_full_width (before) &&
         ts_image_get_full_width (image) == ts_image_get_full_width (before) &&
         ts_image_get_full_height (image) == ts_image_get_full_height (before);
}

static void
take_image (TsImageView *self)
{
  TsImage *image = find_image (self);
  g_autoptr (TsImage) before = NULL;

  if (image == self->image)
    return;
  if (self->preview)
    {
      if (self->drag == TS_DRAG_NEW || self->drag == TS_DRAG_MOVE)
        ts_image_view_cancel_drag (self);
      self->crossing = self->cross_started = FALSE;
      self->pointing = TS_POINTING_NOTHING;
    }
  before = g_steal_pointer (&self->image);
  if (image != NULL)
    self->image = ts_image_ref (image);
  if (!takes_place_of (image, before))
    {
      self->fit = TRUE;
      ts_image_view_place_fitted (self, gtk_widget_get_width (GTK_WIDGET (self)),
                                  gtk_widget_get_height (GTK_WIDGET (self)));
      ts_image_view_remove_swatch (self);
    }
  ts_texture_set_image (self->texture, image, self->look);
  ts_clip_mask_set_image (self->clip, self->clipping && !self->preview ? image : NULL);
  ts_image_view_changed (self);
}

/* Lightness alone in the steps of the stair, where that is asked for. */
static void
take_steps (TsImageView *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  guint8 codes[256];

  if (self->flat && document != NULL && self->image != NULL &&
      ts_look_find_steps (TS_VIEW (self), ts_document_get_shown_picture (document), codes))
    ts_texture_set_steps (self->texture, codes);
  else
    ts_texture_set_steps (self->texture, NULL);
}

static void
ts_image_view_update (TsView *view, TsChange change)
{
  TsImageView *self = TS_IMAGE_VIEW (view);

  if (change & (TS_CHANGE_PICTURE | TS_CHANGE_PLAN))
    take_image (self);
  if (change & TS_CHANGE_SELECTION &&
      self->focus.surface != ts_document_get_selected_surface (ts_view_get_document (view)))
    self->focus = (TsGrip){ .surface = -1 };
  if (change & (TS_CHANGE_PLAN | TS_CHANGE_PICTURE | TS_CHANGE_SELECTION))
    ts_image_view_hold_chosen (self);
  if (self->flat)
    take_steps (self);
  if (self->swatch != NULL && change != TS_CHANGE_BUSY)
    ts_swatch_refresh (TS_SWATCH (self->swatch));
  ts_image_view_describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
ts_image_view_dispose (GObject *object)
{
  TsImageView *self = TS_IMAGE_VIEW (object);

  ts_image_view_dispose_over (self);
  g_clear_handle_id (&self->fitted_idle, g_source_remove);
  g_clear_object (&self->texture);
  g_clear_pointer (&self->trail, g_array_unref);
  g_clear_object (&self->hover);
  g_clear_pointer (&self->image, ts_image_unref);
  G_OBJECT_CLASS (ts_image_view_parent_class)->dispose (object);
}

static void
ts_image_view_finalize (GObject *object)
{
  g_array_unref (TS_IMAGE_VIEW (object)->chosen);
  G_OBJECT_CLASS (ts_image_view_parent_class)->finalize (object);
}

static void
ts_image_view_class_init (TsImageViewClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = ts_image_view_dispose;
  object_class->finalize = ts_image_view_finalize;
  widget_class->snapshot = ts_image_view_snapshot;
  widget_class->measure = ts_image_view_measure;
  widget_class->size_allocate = ts_image_view_size_allocate;
  TS_VIEW_CLASS (class)->update = ts_image_view_update;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_set_css_name (widget_class, "imageview");

  signals[VIEW_CHANGED] = g_signal_new ("view-changed", TS_TYPE_IMAGE_VIEW, G_SIGNAL_RUN_LAST, 0,
                                        NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[POINTER_MOVED] = g_signal_new ("pointer-moved", TS_TYPE_IMAGE_VIEW, G_SIGNAL_RUN_LAST, 0,
                                         NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SURFACE_ADDED] = g_signal_new ("surface-added", TS_TYPE_IMAGE_VIEW, G_SIGNAL_RUN_LAST, 0,
                                         NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT);
}

static void
ts_image_view_init (TsImageView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  self->zoom = 1.0;
  self->fit = TRUE;
  self->focus.surface = -1;
  self->texture = ts_texture_new ();
  g_signal_connect_object (self->texture, "changed", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_overflow (widget, GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_hexpand (widget, TRUE);
  gtk_widget_set_vexpand (widget, TRUE);
  ts_image_view_init_over (self);
  ts_image_view_add_pointer (self);
  ts_image_view_add_keys (self);
  ts_image_view_add_swatch_drop (self);
  ts_image_view_init_choose (self);
}

/**
 * ts_image_view_set_hover:
 * @self: the view
 * @hover: what is under the pointer, shared with curve and stair
 *
 * Marks what is hovered elsewhere, and tells what is hovered here.
 */
void
ts_image_view_set_hover (TsImageView *self, TsHover *hover)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  if (g_set_object (&self->hover, hover))
    g_signal_connect_object (hover, "changed", G_CALLBACK (gtk_widget_queue_draw), self,
                             G_CONNECT_SWAPPED);
}

/**
 * ts_image_view_set_look:
 * @self: the view
 * @look: as it is, by lightness alone, or as from arm's length
 *
 * Shows the picture with other eyes.
 */
void
ts_image_view_set_look (TsImageView *self, TsLook look)
{
  TsLook before;

  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  before = self->look;
  self->look = look;
  if ((before == TS_LOOK_VALUES) != (look == TS_LOOK_VALUES))
    ts_texture_set_image (self->texture, self->image, look);
  ts_image_view_changed (self);
}

/**
 * ts_image_view_set_flat:
 * @self: the view
 * @flat: whether lightness alone is shown in the steps of the selected stair
 */
void
ts_image_view_set_flat (TsImageView *self, gboolean flat)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  self->flat = flat;
  take_steps (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_image_view_get_look:
 * @self: the view
 *
 * Returns: how the picture is shown
 */
TsLook
ts_image_view_get_look (TsImageView *self)
{
  g_return_val_if_fail (TS_IS_IMAGE_VIEW (self), TS_LOOK_COLOUR);

  return self->look;
}

/**
 * ts_image_view_get_image:
 * @self: the view
 *
 * Returns: (transfer none) (nullable): what it shows, whole or reduced
 */
TsImage *
ts_image_view_get_image (TsImageView *self)
{
  g_return_val_if_fail (TS_IS_IMAGE_VIEW (self), NULL);

  return self->image;
}

/**
 * ts_image_view_set_captioned:
 * @self: the view
 * @captioned: whether it says how it shows the picture: it is not alone
 */
void
ts_image_view_set_captioned (TsImageView *self, gboolean captioned)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  self->captioned = captioned;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_image_view_set_mark:
 * @self: the view
 * @place: (nullable): where the pointer is in the picture beside it, upright pixels
 */
void
ts_image_view_set_mark (TsImageView *self, const TsPoint *place)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  self->has_mark = place != NULL;
  if (place != NULL)
    self->mark = *place;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_image_view_get_pointer:
 * @self: the view
 * @place: (out): where the pointer is, upright pixels
 *
 * Returns: whether it is on the picture
 */
gboolean
ts_image_view_get_pointer (TsImageView *self, TsPoint *place)
{
  g_return_val_if_fail (TS_IS_IMAGE_VIEW (self), FALSE);

  if (!self->has_pointer || self->image == NULL || self->preview)
    return FALSE;
  *place = ts_image_view_to_picture (self, self->pointer.x, self->pointer.y);
  return place->x >= 0.0 && place->y >= 0.0 && place->x < ts_image_get_full_width (self->image) &&
         place->y < ts_image_get_full_height (self->image);
}
