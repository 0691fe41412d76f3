/* ts-image-view-swatch.c: the comparison swatch on the picture
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-image-view-private.h"

#include "colour/ts-colour-convert.h"
#include "gui/picture/ts-swatch.h"

static gboolean
may_lay (TsImageView *self)
{
  return self->image != NULL && !self->preview && self->over == NULL;
}

/**
 * ts_image_view_lay_swatch:
 * @self: the view
 * @place: upright pixels
 *
 * Lays a swatch of the selected step there, in place of the one before, and gives it the keyboard.
 */
void
ts_image_view_lay_swatch (TsImageView *self, TsPoint place)
{
  if (!may_lay (self))
    return;
  ts_image_view_remove_swatch (self);
  place.x = CLAMP (place.x, 0.5, ts_image_get_full_width (self->image) - 0.5);
  place.y = CLAMP (place.y, 0.5, ts_image_get_full_height (self->image) - 0.5);
  self->swatch = ts_swatch_new (self, place);
  gtk_widget_set_parent (self->swatch, GTK_WIDGET (self));
  g_signal_connect_object (self->swatch, "moved", G_CALLBACK (gtk_widget_queue_allocate), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->swatch, "removed", G_CALLBACK (ts_image_view_remove_swatch), self,
                           G_CONNECT_SWAPPED);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_grab_focus (self->swatch);
}

/**
 * ts_image_view_remove_swatch:
 * @self: the view
 *
 * Takes it away, if there is one; the keyboard stays with the picture.
 */
void
ts_image_view_remove_swatch (TsImageView *self)
{
  GtkWidget *swatch = g_steal_pointer (&self->swatch);

  if (swatch == NULL)
    return;
  if (gtk_widget_is_focus (swatch))
    gtk_widget_grab_focus (GTK_WIDGET (self));
  gtk_widget_unparent (swatch);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_image_view_swatch_key:
 * @self: the view
 * @turn: whether the one that lies there is to show its other colour
 *
 * Lays a swatch where the pointer is, or else in the middle; takes away the one that lies there.
 *
 * Returns: %FALSE where there is no picture to lay it on
 */
gboolean
ts_image_view_swatch_key (TsImageView *self, gboolean turn)
{
  TsPoint place;

  if (!may_lay (self))
    return FALSE;
  if (self->swatch != NULL)
    {
      if (turn)
        ts_swatch_turn (TS_SWATCH (self->swatch));
      else
        ts_image_view_remove_swatch (self);
      return TRUE;
    }
  if (!ts_image_view_get_pointer (self, &place))
    place = ts_image_view_to_picture (self, gtk_widget_get_width (GTK_WIDGET (self)) / 2.0,
                                      gtk_widget_get_height (GTK_WIDGET (self)) / 2.0);
  ts_image_view_lay_swatch (self, place);
  if (turn)
    ts_swatch_turn (TS_SWATCH (self->swatch));
  return TRUE;
}

/**
 * ts_image_view_place_swatch:
 * @self: the view, while it is allocated
 *
 * The swatch goes with the picture, as large as ever.
 */
void
ts_image_view_place_swatch (TsImageView *self)
{
  TsPoint at;

  if (self->swatch == NULL)
    return;
  at = ts_image_view_to_widget (self, ts_swatch_get_place (TS_SWATCH (self->swatch)));
  gtk_widget_size_allocate (self->swatch,
                            &(GtkAllocation){ (int) (at.x - TS_SWATCH_SIDE / 2.0),
                                              (int) (at.y - TS_SWATCH_SIDE / 2.0), TS_SWATCH_SIDE,
                                              TS_SWATCH_SIDE },
                            -1);
}

/* Whether the colour that was dropped is what is wanted of the selected step, and not its mix. */
static gboolean
is_wanted (TsImageView *self, const GdkRGBA *rgba)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  int step = ts_document_get_selected_step (ts_view_get_document (TS_VIEW (self)));
  guint8 wanted[3], mixed[3];
  float red = rgba->red * 255.0F;

  if (result == NULL || step < 0 || step >= (int) ts_surface_result_get_n_steps (result))
    return FALSE;
  ts_lab_to_srgb8 (ts_stair_get_step (ts_surface_result_get_stair (result), (guint) step)->wanted,
                   wanted);
  ts_lab_to_srgb8 (ts_surface_result_get_colour (result, (guint) step), mixed);
  return ABS (red - wanted[0]) + ABS (rgba->green * 255.0F - wanted[1]) +
           ABS (rgba->blue * 255.0F - wanted[2]) <
         ABS (red - mixed[0]) + ABS (rgba->green * 255.0F - mixed[1]) +
           ABS (rgba->blue * 255.0F - mixed[2]);
}

/* A chip of the stair is dropped: its step is the selected one since it was taken hold of. */
static gboolean
on_drop (GtkDropTarget *target, const GValue *value, double x, double y, TsImageView *self)
{
  GdkDrop *drop = gtk_drop_target_get_current_drop (target);

  if (!may_lay (self) || drop == NULL || gdk_drop_get_drag (drop) == NULL ||
      !G_VALUE_HOLDS (value, GDK_TYPE_RGBA))
    return FALSE;
  ts_image_view_lay_swatch (self, ts_image_view_to_picture (self, x, y));
  ts_swatch_set_wanted (TS_SWATCH (self->swatch), is_wanted (self, g_value_get_boxed (value)));
  return TRUE;
}

/**
 * ts_image_view_add_swatch_drop:
 * @self: a new view
 *
 * Lets a chip of the stair be dropped on the picture.
 */
void
ts_image_view_add_swatch_drop (TsImageView *self)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_RGBA, GDK_ACTION_COPY);

  g_signal_connect (target, "drop", G_CALLBACK (on_drop), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}
