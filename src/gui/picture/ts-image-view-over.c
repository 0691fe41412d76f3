/* ts-image-view-over.c: what stands over the picture, and other ways to show it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-image-view-private.h"

#include <glib/gi18n.h>
#include <string.h>

#include "gui/widgets/ts-draw.h"

#define SAMPLE 14.0 /* pixels, of the legend */
#define LEGEND_EDGE 12.0
#define LEGEND_GAP 6.0

static void
forget_recoloured (TsImageView *self)
{
  g_clear_pointer (&self->recoloured, cairo_surface_destroy);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_clip_changed (TsImageView *self)
{
  ts_image_view_describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
ts_image_view_init_over (TsImageView *self)
{
  self->recolour = ts_recolour_new ();
  self->clip = ts_clip_mask_new ();
  g_signal_connect_object (self->recolour, "changed", G_CALLBACK (forget_recoloured), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->texture, "changed", G_CALLBACK (forget_recoloured), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->clip, "changed", G_CALLBACK (on_clip_changed), self,
                           G_CONNECT_SWAPPED);
}

void
ts_image_view_dispose_over (TsImageView *self)
{
  g_clear_pointer (&self->recoloured, cairo_surface_destroy);
  g_clear_object (&self->recolour);
  g_clear_object (&self->clip);
  g_clear_pointer (&self->over, gtk_widget_unparent);
  g_clear_pointer (&self->swatch, gtk_widget_unparent);
}

/* What is to be seen of the picture, in pixels of the device. */
static cairo_surface_t *
make_recoloured (TsImageView *self, int width, int height, int scale)
{
  cairo_surface_t *surface =
    cairo_image_surface_create (CAIRO_FORMAT_RGB24, width * scale, height * scale);
  TsPoint from = ts_image_view_to_picture (self, 0, 0);
  TsPoint to = ts_image_view_to_picture (self, width, height);
  cairo_t *cr = cairo_create (surface);
  guint8 *data;

  cairo_scale (cr, scale, scale);
  cairo_translate (cr, self->x, self->y);
  cairo_scale (cr, self->zoom, self->zoom);
  ts_texture_draw (self->texture, cr, from.x, from.y, to.x - from.x, to.y - from.y,
                   self->zoom * scale, 1);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  data = cairo_image_surface_get_data (surface);
  for (int row = 0; row < height * scale; row++)
    ts_recolour_apply (self->recolour,
                       (guint32 *) (void *) (data + row * cairo_image_surface_get_stride (surface)),
                       (gsize) width * (gsize) scale);
  cairo_surface_mark_dirty (surface);
  cairo_surface_set_device_scale (surface, scale, scale);
  return surface;
}

/* FALSE where the picture is shown as it was shot. */
gboolean
ts_image_view_draw_recoloured (TsImageView *self, cairo_t *cr, int width, int height)
{
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  const double now[6] = { self->zoom, self->x, self->y, width, height, scale };

  if (self->look != TS_LOOK_COLOUR || !ts_recolour_is_ready (self->recolour))
    return FALSE;
  if (self->recoloured == NULL || memcmp (now, self->recoloured_for, sizeof now) != 0)
    {
      g_clear_pointer (&self->recoloured, cairo_surface_destroy);
      self->recoloured = make_recoloured (self, width, height, scale);
      memcpy (self->recoloured_for, now, sizeof now);
    }
  cairo_save (cr);
  cairo_rectangle (cr, self->x, self->y, ts_image_get_width (self->image) * self->zoom,
                   ts_image_get_height (self->image) * self->zoom);
  cairo_clip (cr);
  cairo_set_source_surface (cr, self->recoloured, 0, 0);
  cairo_paint (cr);
  cairo_restore (cr);
  return TRUE;
}

static char *
dup_share_words (const char *what, double share)
{
  if (share < 0.0005)
    return g_strdup_printf (_ ("%s: none"), what);
  return g_strdup_printf (share < 0.0095 ? _ ("%s: %.1f %%") : _ ("%s: %.0f %%"), what,
                          100.0 * share);
}

/* One line of the legend, its foot at @y. */
static double
draw_legend (TsImageView *self, cairo_t *cr, TsClipping which, const char *words, double y)
{
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  double width, height;

  ts_draw_pill_size (GTK_WIDGET (self), words, &width, &height);
  ts_clip_mask_draw_sample (cr, which, LEGEND_EDGE, y - height / 2.0 - SAMPLE / 2.0, SAMPLE, SAMPLE,
                            scale);
  ts_draw_pill (cr, GTK_WIDGET (self), words, LEGEND_EDGE + SAMPLE + LEGEND_GAP + width / 2.0,
                y - height / 2.0);
  cairo_new_path (cr);
  return height + LEGEND_GAP;
}

/* Hatches on the picture as it was shot, whatever look it has. */
void
ts_image_view_draw_clipping (TsImageView *self, cairo_t *cr, int width, int height)
{
  g_autofree char *light_words = NULL, *shadow_words = NULL;
  double lights, shadows, y = height - LEGEND_EDGE;

  if (!self->clipping || !ts_clip_mask_get_shares (self->clip, &lights, &shadows))
    return;
  ts_clip_mask_draw (self->clip, cr, self->zoom, self->x, self->y, width, height,
                     gtk_widget_get_scale_factor (GTK_WIDGET (self)));
  light_words = dup_share_words (_ ("clipped lights"), lights);
  shadow_words = dup_share_words (_ ("lost shadows"), shadows);
  y -= draw_legend (self, cr, TS_CLIPPED_SHADOW, shadow_words, y);
  draw_legend (self, cr, TS_CLIPPED_LIGHT, light_words, y);
}

void
ts_image_view_append_clipping (TsImageView *self, GString *words)
{
  double lights, shadows;

  if (self->clipping && ts_clip_mask_get_shares (self->clip, &lights, &shadows))
    g_string_append_printf (
      words, _ (" Marked: clipped lights, %.1f %% of the picture; lost shadows, %.1f %%."),
      100.0 * lights, 100.0 * shadows);
}

/**
 * ts_image_view_set_over:
 * @self: the view
 * @over: (transfer floating) (nullable): a widget
 *
 * Puts a widget over the picture in place of the runs. Pan, zoom and views stay.
 */
void
ts_image_view_set_over (TsImageView *self, GtkWidget *over)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  ts_image_view_remove_swatch (self);
  g_clear_pointer (&self->over, gtk_widget_unparent);
  self->over = over;
  if (over != NULL)
    gtk_widget_set_parent (over, GTK_WIDGET (self));
  self->crossing = self->cross_started = FALSE;
  self->pointing = TS_POINTING_NOTHING;
  gtk_widget_set_focusable (GTK_WIDGET (self), over == NULL);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "crosshair");
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_image_view_set_shown_correction:
 * @self: the view
 * @correction: (nullable): what the picture is to be shown through
 *
 * Shows the colours as they are corrected, to the eye alone; %NULL shows them as they were shot.
 */
void
ts_image_view_set_shown_correction (TsImageView *self, TsCorrection *correction)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  ts_recolour_set_correction (self->recolour, correction);
}

/**
 * ts_image_view_set_clipping:
 * @self: the view
 * @clipping: whether clipped lights and lost shadows are marked
 */
void
ts_image_view_set_clipping (TsImageView *self, gboolean clipping)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  self->clipping = clipping;
  ts_clip_mask_set_image (self->clip, clipping && !self->preview ? self->image : NULL);
  on_clip_changed (self);
}

/**
 * ts_image_view_is_panning:
 * @self: the view
 *
 * Returns: whether a drag would move the picture itself
 */
gboolean
ts_image_view_is_panning (TsImageView *self)
{
  g_return_val_if_fail (TS_IS_IMAGE_VIEW (self), FALSE);

  return self->space;
}
