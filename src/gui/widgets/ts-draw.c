/* ts-draw.c: text and small shapes for own drawings
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-draw.h"

#include <math.h>

#define PILL_PAD_X 7.0
#define PILL_PAD_Y 2.0
#define ROOM 13.0 /* pixels from ring to ring that need no smaller ones */
#define LEAST_SIZE 0.45

/**
 * ts_draw_field:
 * @widget: the widget drawn on
 * @snapshot: what it is drawn to
 * @palette: (out): the colours of the widget's parts
 *
 * Begins a drawing with the whole widget in the neutral colour that lies behind pictures.
 *
 * Returns: (transfer full): to draw on, in pixels of the widget
 */
cairo_t *
ts_draw_field (GtkWidget *widget, GtkSnapshot *snapshot, TsPalette *palette)
{
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));

  ts_palette_get (widget, palette);
  gdk_cairo_set_source_rgba (cr, &palette->field);
  cairo_paint (cr);
  return cr;
}

/**
 * ts_draw_new_layout:
 * @widget: the widget drawn on
 * @em: size of type, in the widget's own
 * @bold: whether bold
 * @text: what it says
 *
 * A layout with figures of one width, so that columns of numbers stand still.
 *
 * Returns: (transfer full): the layout
 */
PangoLayout *
ts_draw_new_layout (GtkWidget *widget, double em, gboolean bold, const char *text)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, text);
  PangoAttrList *attributes = pango_attr_list_new ();

  pango_attr_list_insert (attributes, pango_attr_scale_new (em));
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum"));
  pango_attr_list_insert (attributes,
                          pango_attr_weight_new (bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  return layout;
}

/**
 * ts_draw_layout:
 * @cr: a cairo context
 * @layout: the text
 * @x: where, pixels
 * @y: where, pixels
 * @align_x: 0 to 1, how far across the text @x stands
 * @align_y: 0 to 1, how far down
 * @colour: colour of the text
 *
 * Draws a text and leaves no current point behind.
 */
void
ts_draw_layout (cairo_t *cr, PangoLayout *layout, double x, double y, double align_x,
                double align_y, const GdkRGBA *colour)
{
  int width, height;

  pango_layout_get_pixel_size (layout, &width, &height);
  gdk_cairo_set_source_rgba (cr, colour);
  cairo_move_to (cr, x - align_x * width, y - align_y * height);
  pango_cairo_show_layout (cr, layout);
  cairo_new_path (cr);
}

/**
 * ts_draw_text:
 * @cr: a cairo context
 * @widget: the widget drawn on
 * @em: size of type
 * @bold: whether bold
 * @text: what it says
 * @x: where, pixels
 * @y: where, pixels
 * @align_x: 0 to 1, how far across the text @x stands
 * @align_y: 0 to 1, how far down
 * @colour: colour of the text
 *
 * Draws one text; one that would reach out of the widget is moved in.
 */
void
ts_draw_text (cairo_t *cr, GtkWidget *widget, double em, gboolean bold, const char *text, double x,
              double y, double align_x, double align_y, const GdkRGBA *colour)
{
  g_autoptr (PangoLayout) layout = ts_draw_new_layout (widget, em, bold, text);
  int width, room = gtk_widget_get_width (widget);

  pango_layout_get_pixel_size (layout, &width, NULL);
  if (width > room)
    {
      pango_layout_set_width (layout, room * PANGO_SCALE);
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
      width = room;
    }
  x = CLAMP (x, align_x * width, room - (1.0 - align_x) * width);
  ts_draw_layout (cr, layout, x, y, align_x, align_y, colour);
}

/**
 * ts_draw_get_line:
 * @widget: the widget drawn on
 * @em: size of type
 *
 * Returns: the height of a line of text, pixels
 */
int
ts_draw_get_line (GtkWidget *widget, double em)
{
  g_autoptr (PangoLayout) layout = ts_draw_new_layout (widget, em, FALSE, "0");
  int height;

  pango_layout_get_pixel_size (layout, NULL, &height);
  return height;
}

/**
 * ts_draw_get_text_scale:
 * @widget: a widget
 *
 * Returns: the size of text over the usual one, 1 or more
 */
double
ts_draw_get_text_scale (GtkWidget *widget)
{
  int dpi;

  g_object_get (gtk_widget_get_settings (widget), "gtk-xft-dpi", &dpi, NULL);
  return MAX (1.0, dpi / (96.0 * PANGO_SCALE));
}

/**
 * ts_draw_mark:
 * @cr: a cairo context whose source is set
 * @mark: which shape
 * @x: middle, pixels
 * @y: middle, pixels
 *
 * Draws a verdict's shape.
 */
void
ts_draw_mark (cairo_t *cr, TsMark mark, double x, double y)
{
  ts_mark_draw (cr, mark, x - TS_DRAW_MARK / 2.0, y - TS_DRAW_MARK / 2.0, TS_DRAW_MARK);
}

/**
 * ts_draw_rounded:
 * @cr: a cairo context
 * @x: left edge
 * @y: top edge
 * @width: width
 * @height: height
 * @radius: of the corners
 *
 * Adds a closed path: a rectangle with round corners.
 */
void
ts_draw_rounded (cairo_t *cr, double x, double y, double width, double height, double radius)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, x + width - radius, y + radius, radius, -G_PI_2, 0.0);
  cairo_arc (cr, x + width - radius, y + height - radius, radius, 0.0, G_PI_2);
  cairo_arc (cr, x + radius, y + height - radius, radius, G_PI_2, G_PI);
  cairo_arc (cr, x + radius, y + radius, radius, G_PI, 1.5 * G_PI);
  cairo_close_path (cr);
}

/**
 * ts_draw_pill_size:
 * @widget: the widget drawn on
 * @text: what it says
 * @width: (out): width, pixels
 * @height: (out): height, pixels
 *
 * How large ts_draw_pill() will draw.
 */
void
ts_draw_pill_size (GtkWidget *widget, const char *text, double *width, double *height)
{
  g_autoptr (PangoLayout) layout = ts_draw_new_layout (widget, TS_EM_SMALL, FALSE, text);
  int w, h;

  pango_layout_get_pixel_size (layout, &w, &h);
  *width = w + 2.0 * PILL_PAD_X;
  *height = h + 2.0 * PILL_PAD_Y;
}

/**
 * ts_draw_pill:
 * @cr: a cairo context
 * @widget: the widget drawn on
 * @text: what it says
 * @x: middle, pixels
 * @y: middle, pixels
 *
 * Words over a picture stand in a dark pill, since neither black nor white is sure to be read
 * there. They are whole, also where they reach out of the widget.
 */
void
ts_draw_pill (cairo_t *cr, GtkWidget *widget, const char *text, double x, double y)
{
  const GdkRGBA white = { 1.0F, 1.0F, 1.0F, 1.0F };
  g_autoptr (PangoLayout) layout = ts_draw_new_layout (widget, TS_EM_SMALL, FALSE, text);
  double width, height;

  ts_draw_pill_size (widget, text, &width, &height);
  cairo_set_source_rgba (cr, 0.08, 0.08, 0.08, 0.88);
  ts_draw_rounded (cr, x - width / 2.0, y - height / 2.0, width, height, height / 2.0);
  cairo_fill (cr);
  ts_draw_layout (cr, layout, x, y, 0.5, 0.5, &white);
}

/**
 * ts_draw_focus:
 * @cr: a cairo context
 * @text: colour of text on this ground
 * @x: left edge
 * @y: top edge
 * @width: width
 * @height: height
 *
 * Draws the outline of keyboard focus just inside a rectangle.
 */
void
ts_draw_focus (cairo_t *cr, const GdkRGBA *text, double x, double y, double width, double height)
{
  cairo_set_source_rgba (cr, (double) text->red, (double) text->green, (double) text->blue, 0.75);
  cairo_set_line_width (cr, 2.0);
  ts_draw_rounded (cr, x + 1.0, y + 1.0, width - 2.0, height - 2.0, 3.0);
  cairo_stroke (cr);
}

/**
 * ts_draw_stroke_over:
 * @cr: a cairo context with a path
 * @width: of the white line
 *
 * Strokes the path white within black, to be seen over dark and light alike.
 */
void
ts_draw_stroke_over (cairo_t *cr, double width)
{
  cairo_set_source_rgba (cr, 0.0, 0.0, 0.0, 0.55);
  cairo_set_line_width (cr, width + 1.8);
  cairo_stroke_preserve (cr);
  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
}

/**
 * ts_draw_outline:
 * @cr: a cairo context
 * @points: (array length=n_points): its corners
 * @n_points: how many
 *
 * Draws a closed line of dashes over a picture.
 */
void
ts_draw_outline (cairo_t *cr, const TsPoint *points, guint n_points)
{
  const double dashes[] = { 6.0, 4.0 };

  cairo_save (cr);
  cairo_set_dash (cr, dashes, G_N_ELEMENTS (dashes), 0.0);
  cairo_new_path (cr);
  for (guint i = 0; i < n_points; i++)
    cairo_line_to (cr, points[i].x, points[i].y);
  cairo_close_path (cr);
  ts_draw_stroke_over (cr, 1.2);
  cairo_restore (cr);
}

/**
 * ts_draw_ring:
 * @cr: a cairo context
 * @at: its middle
 * @radius: pixels
 * @width: of its line
 *
 * Draws a ring over a picture; what is within stays free.
 */
void
ts_draw_ring (cairo_t *cr, TsPoint at, double radius, double width)
{
  cairo_new_path (cr);
  cairo_arc (cr, at.x, at.y, radius, 0.0, 2.0 * G_PI);
  ts_draw_stroke_over (cr, width);
}

/**
 * ts_draw_get_crowding:
 * @at: (array length=n): middles of the rings of one run, pixels
 * @n: how many
 *
 * Returns: by how much the rings are to be smaller, so that one can be told from the next: 0.45 to
 * 1
 */
double
ts_draw_get_crowding (const TsPoint *at, guint n)
{
  double least = ROOM;

  for (guint i = 1; i < n; i++)
    least = MIN (least, hypot (at[i].x - at[i - 1].x, at[i].y - at[i - 1].y));
  return MAX (least / ROOM, LEAST_SIZE);
}

/**
 * ts_draw_segment:
 * @cr: a cairo context
 * @from: middle of one ring
 * @to: middle of the next
 * @from_radius: of the one
 * @to_radius: of the other
 *
 * Adds a line from ring to ring to the path, and never into one.
 */
void
ts_draw_segment (cairo_t *cr, TsPoint from, TsPoint to, double from_radius, double to_radius)
{
  double dx = to.x - from.x, dy = to.y - from.y, length = hypot (dx, dy);

  if (length <= from_radius + to_radius + 1.0)
    return;
  dx /= length;
  dy /= length;
  cairo_move_to (cr, from.x + dx * from_radius, from.y + dy * from_radius);
  cairo_line_to (cr, to.x - dx * to_radius, to.y - dy * to_radius);
}
