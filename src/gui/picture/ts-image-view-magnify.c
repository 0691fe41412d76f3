/* ts-image-view-magnify.c: the magnifier, and the grey card that is pointed at
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-image-view-private.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-format.h"

#define GLASS 58.0 /* radius, pixels */
#define AWAY 92.0  /* from the pointer to the middle of the glass */
#define TIMES 5.0

static double
get_spot_radius (TsImageView *self)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));

  return surface != NULL && surface->runs->len > 0 ? ts_surface_get_run (surface, 0)->radius : 4.0;
}

/* Above and beside the pointer, on the side where there is room. */
static TsPoint
find_middle (TsImageView *self)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double side = self->pointer.x + AWAY + GLASS < width ? 1.0 : -1.0;
  double up = self->pointer.y - AWAY - GLASS > 0.0 ? -1.0 : 1.0;

  return (TsPoint){ self->pointer.x + side * AWAY, self->pointer.y + up * AWAY };
}

static void
draw_ring (cairo_t *cr, TsPoint at, double radius)
{
  cairo_new_path (cr);
  cairo_arc (cr, at.x, at.y, radius, 0.0, 2.0 * G_PI);
  cairo_set_source_rgba (cr, 0.0, 0.0, 0.0, 0.6);
  cairo_set_line_width (cr, 4.0);
  cairo_stroke_preserve (cr);
  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_set_line_width (cr, 1.8);
  cairo_stroke (cr);
}

static void
draw_numbers (TsImageView *self, cairo_t *cr, TsPoint place, TsPoint middle, double radius)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsCorrection *correction =
    ts_document_get_correction (document, ts_document_get_shown_picture (document));
  g_autofree char *text = NULL, *code = NULL, *clipped = NULL;
  double width, height, y = middle.y + GLASS + 16.0;
  TsSpot spot;

  if (!ts_spot_measure (self->image, correction, place.x, place.y, radius, &spot, NULL))
    return;
  text = ts_format_colour (spot.lab);
  code = ts_format_code (spot.lab);
  clipped = ts_format_clipped (&spot);
  ts_draw_pill_size (GTK_WIDGET (self), text, &width, &height);
  ts_draw_pill (cr, GTK_WIDGET (self), text, middle.x, y);
  ts_draw_pill (cr, GTK_WIDGET (self), code, middle.x, y + height + 2.0);
  if (clipped != NULL)
    ts_draw_pill (cr, GTK_WIDGET (self), clipped, middle.x, y + 2.0 * (height + 2.0));
}

/**
 * ts_image_view_draw_magnifier:
 * @self: the view
 * @cr: a cairo context
 *
 * Draws what is under the pointer 5 times as large, with a ring of a spot's size and its numbers.
 */
void
ts_image_view_draw_magnifier (TsImageView *self, cairo_t *cr)
{
  double zoom = self->zoom * TIMES, reach = GLASS / zoom, radius = get_spot_radius (self);
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  TsPoint place, middle = find_middle (self);

  if (!self->magnify || !ts_image_view_get_pointer (self, &place))
    return;
  cairo_save (cr);
  cairo_new_path (cr);
  cairo_arc (cr, middle.x, middle.y, GLASS, 0.0, 2.0 * G_PI);
  cairo_clip (cr);
  cairo_set_source_rgb (cr, 0x77 / 255.0, 0x77 / 255.0, 0x77 / 255.0); /* the field */
  cairo_paint (cr);
  cairo_translate (cr, middle.x - place.x * zoom, middle.y - place.y * zoom);
  cairo_scale (cr, zoom, zoom);
  ts_texture_draw (self->texture, cr, place.x - reach, place.y - reach, 2.0 * reach, 2.0 * reach,
                   zoom * scale, 1);
  cairo_restore (cr);
  draw_ring (cr, middle, GLASS);
  draw_ring (cr, middle, MIN (radius * zoom, GLASS - 6.0));
  draw_numbers (self, cr, place, middle, radius);
}

/* The new line of the brief is there to be seen. */
static gboolean
take_brief_colour (TsImageView *self, guint picture, TsPoint place, GError **error)
{
  if (ts_document_measure_brief_line (ts_view_get_document (TS_VIEW (self)), picture, place,
                                      error) < 0)
    return FALSE;
  gtk_widget_activate_action (GTK_WIDGET (self), "win.place", "s", "brief");
  return TRUE;
}

void
ts_image_view_take_point (TsImageView *self, TsPoint place)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  guint shown = ts_document_get_shown_picture (document);
  TsPointing pointing = self->pointing;
  g_autoptr (GError) error = NULL;

  self->crossing = FALSE;
  self->pointing = TS_POINTING_NOTHING;
  if (pointing == TS_POINTING_CARD)
    ts_document_place_card (document, shown, place, &error);
  else
    take_brief_colour (self, shown, place, &error);
  if (error != NULL)
    g_signal_emit_by_name (document, "message", error->message, NULL, NULL);
  ts_image_view_describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
point (TsImageView *self, TsPointing pointing)
{
  double width, height;
  TsPoint middle;

  if (self->image == NULL || self->preview || self->drag != TS_DRAG_NONE || self->cross_started)
    return;
  width = gtk_widget_get_width (GTK_WIDGET (self));
  height = gtk_widget_get_height (GTK_WIDGET (self));
  middle = ts_image_view_to_picture (self, width / 2.0, height / 2.0);
  self->crossing = TRUE;
  self->pointing = pointing;
  self->cross = (TsPoint){ CLAMP (middle.x, 0.0, ts_image_get_full_width (self->image) - 1.0),
                           CLAMP (middle.y, 0.0, ts_image_get_full_height (self->image) - 1.0) };
  gtk_widget_grab_focus (GTK_WIDGET (self));
  ts_image_view_describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_image_view_place_card:
 * @self: the view
 *
 * Lets the painter point at a grey card in the picture.
 */
void
ts_image_view_place_card (TsImageView *self)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  point (self, TS_POINTING_CARD);
}

/**
 * ts_image_view_place_brief:
 * @self: the view
 *
 * Lets the painter point at a colour that the client asks for.
 */
void
ts_image_view_place_brief (TsImageView *self)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  point (self, TS_POINTING_BRIEF);
}
