/* ts-brief-spot.c: where in a picture a line of the brief was measured
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/brief/ts-brief-spot.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-draw.h"

/* Of the part that is shown, pixels of the picture. */
#define WIDTH 600
#define HEIGHT 380

struct _TsBriefSpot
{
  GtkWidget parent_instance;

  TsImage *image;         /* owned, or NULL */
  cairo_surface_t *part;  /* owned, or NULL: of the image */
  guint left, top;        /* where in the image it lies */
  guint n_across, n_down; /* its pixels */
  double x, y, radius;    /* of the spot, in the part */
};

G_DEFINE_FINAL_TYPE (TsBriefSpot, ts_brief_spot, GTK_TYPE_WIDGET)

static GtkSizeRequestMode
ts_brief_spot_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
ts_brief_spot_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = 120;
  if (orientation == GTK_ORIENTATION_VERTICAL && for_size > 0)
    *minimum = *natural = for_size * HEIGHT / WIDTH;
}

static void
ts_brief_spot_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsBriefSpot *self = TS_BRIEF_SPOT (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  double scale;

  if (self->part != NULL)
    {
      scale = MIN (width / (double) self->n_across, height / (double) self->n_down);
      cairo_save (cr);
      cairo_scale (cr, scale, scale);
      cairo_set_source_surface (cr, self->part, 0.0, 0.0);
      cairo_paint (cr);
      cairo_restore (cr);
      ts_draw_ring (cr, (TsPoint){ self->x * scale, self->y * scale },
                    MAX (self->radius * scale, 4.0), 2.0);
      ts_draw_pill (cr, widget, _ ("asked"), self->x * scale,
                    self->y * scale - MAX (self->radius * scale, 4.0) - 18.0);
    }
  cairo_destroy (cr);
}

static void
ts_brief_spot_finalize (GObject *object)
{
  g_clear_pointer (&TS_BRIEF_SPOT (object)->part, cairo_surface_destroy);
  g_clear_pointer (&TS_BRIEF_SPOT (object)->image, ts_image_unref);
  G_OBJECT_CLASS (ts_brief_spot_parent_class)->finalize (object);
}

static void
ts_brief_spot_class_init (TsBriefSpotClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_brief_spot_finalize;
  widget_class->get_request_mode = ts_brief_spot_get_request_mode;
  widget_class->measure = ts_brief_spot_measure;
  widget_class->snapshot = ts_brief_spot_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_brief_spot_init (TsBriefSpot *self)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Measured off a picture"), -1);
}

/* The lower edge of a stretch of @length about @middle that lies within @whole. */
static guint
place (double middle, guint length, guint whole)
{
  return (guint) CLAMP (middle - length / 2.0, 0.0, (double) (whole - length));
}

static void
read_part (TsBriefSpot *self, guint x, guint y)
{
  cairo_surface_t *part =
    cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) self->n_across, (int) self->n_down);

  ts_image_read_screen (self->image, x, y, self->n_across, self->n_down,
                        (guint32 *) (gpointer) cairo_image_surface_get_data (part),
                        (gsize) cairo_image_surface_get_stride (part) / 4);
  cairo_surface_mark_dirty (part);
  g_clear_pointer (&self->part, cairo_surface_destroy);
  self->part = part;
  self->left = x;
  self->top = y;
}

/**
 * ts_brief_spot_show:
 * @self: the widget
 * @image: the picture, whose pixels are there
 * @line: a line with a spot on it
 *
 * Shows the part about the spot, as the picture is. Pixels are read where they are others.
 */
void
ts_brief_spot_show (TsBriefSpot *self, TsImage *image, const TsBriefLine *line)
{
  guint x, y;
  gboolean other = self->image != image;

  g_return_if_fail (TS_IS_BRIEF_SPOT (self));

  if (other)
    {
      g_clear_pointer (&self->image, ts_image_unref);
      self->image = ts_image_ref (image);
      self->n_across = MIN (WIDTH, ts_image_get_width (image));
      self->n_down = MIN (HEIGHT, ts_image_get_height (image));
    }
  x = place (line->x, self->n_across, ts_image_get_width (image));
  y = place (line->y, self->n_down, ts_image_get_height (image));
  if (other || x != self->left || y != self->top)
    read_part (self, x, y);
  self->x = line->x - x;
  self->y = line->y - y;
  self->radius = line->radius;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
