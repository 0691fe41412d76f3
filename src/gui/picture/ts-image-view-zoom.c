/* ts-image-view-zoom.c: how large the picture is shown, and which part of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-image-view-private.h"

#define LEAST_ZOOM 0.01
#define MOST_ZOOM 32.0
#define LEAST_IN_VIEW 40.0 /* pixels of the picture that always stay to be seen */

TsPoint
ts_image_view_to_widget (TsImageView *self, TsPoint place)
{
  return (TsPoint){ place.x * self->zoom + self->x, place.y * self->zoom + self->y };
}

TsPoint
ts_image_view_to_picture (TsImageView *self, double x, double y)
{
  return (TsPoint){ (x - self->x) / self->zoom, (y - self->y) / self->zoom };
}

void
ts_image_view_place_fitted (TsImageView *self, int width, int height)
{
  double w, h;

  if (self->image == NULL || width <= 0 || height <= 0)
    return;
  w = ts_image_get_full_width (self->image);
  h = ts_image_get_full_height (self->image);
  self->zoom = CLAMP (MIN (width / w, height / h), LEAST_ZOOM, MOST_ZOOM);
  self->x = (width - w * self->zoom) / 2.0;
  self->y = (height - h * self->zoom) / 2.0;
}

static void
hold_in_view (TsImageView *self)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double height = gtk_widget_get_height (GTK_WIDGET (self));

  if (self->image == NULL)
    return;
  self->x = CLAMP (self->x, LEAST_IN_VIEW - ts_image_get_full_width (self->image) * self->zoom,
                   width - LEAST_IN_VIEW);
  self->y = CLAMP (self->y, LEAST_IN_VIEW - ts_image_get_full_height (self->image) * self->zoom,
                   height - LEAST_IN_VIEW);
}

void
ts_image_view_zoom_at (TsImageView *self, double zoom, double x, double y)
{
  TsPoint place = ts_image_view_to_picture (self, x, y);

  self->fit = FALSE;
  self->zoom = CLAMP (zoom, LEAST_ZOOM, MOST_ZOOM);
  self->x = x - place.x * self->zoom;
  self->y = y - place.y * self->zoom;
  hold_in_view (self);
  ts_image_view_changed (self);
}

void
ts_image_view_pan (TsImageView *self, double dx, double dy)
{
  self->fit = FALSE;
  self->x += dx;
  self->y += dy;
  hold_in_view (self);
  ts_image_view_changed (self);
}

/**
 * ts_image_view_get_zoom:
 * @self: the view
 *
 * Returns: screen pixels to one of the picture
 */
double
ts_image_view_get_zoom (TsImageView *self)
{
  g_return_val_if_fail (TS_IS_IMAGE_VIEW (self), 1.0);

  return self->zoom;
}

/**
 * ts_image_view_is_fitted:
 * @self: the view
 *
 * Returns: whether the picture follows the size of the view
 */
gboolean
ts_image_view_is_fitted (TsImageView *self)
{
  g_return_val_if_fail (TS_IS_IMAGE_VIEW (self), FALSE);

  return self->fit;
}

/**
 * ts_image_view_fit:
 * @self: the view
 *
 * Shows the whole picture.
 */
void
ts_image_view_fit (TsImageView *self)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  self->fit = TRUE;
  ts_image_view_place_fitted (self, gtk_widget_get_width (GTK_WIDGET (self)),
                              gtk_widget_get_height (GTK_WIDGET (self)));
  ts_image_view_changed (self);
}

/**
 * ts_image_view_set_zoom:
 * @self: the view
 * @zoom: screen pixels to one of the picture
 *
 * Shows the picture larger or smaller about the middle.
 */
void
ts_image_view_set_zoom (TsImageView *self, double zoom)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  ts_image_view_zoom_at (self, zoom, gtk_widget_get_width (GTK_WIDGET (self)) / 2.0,
                         gtk_widget_get_height (GTK_WIDGET (self)) / 2.0);
}
