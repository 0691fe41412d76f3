/* ts-page.c: one page of the mixing card on the screen
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/card/ts-page.h"

#include <glib/gi18n.h>
#include <math.h>

#define PAGE_WIDTH 760
#define LEAST_WIDTH 240

struct _TsPage
{
  GtkWidget parent_instance;

  TsCard *card; /* owned */
  guint index;

  cairo_surface_t *drawing;  /* owned, or NULL: as a thread has drawn it */
  GCancellable *cancellable; /* owned, while a thread is at it */
  int pixels;                /* width of what is drawn or under way, 0 for nothing */
};

G_DEFINE_FINAL_TYPE (TsPage, ts_page, GTK_TYPE_WIDGET)

static GtkSizeRequestMode
ts_page_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

/* As wide as there is room for, so that a whole line of it is seen. */
static void
ts_page_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                 int *natural, int *minimum_baseline, int *natural_baseline)
{
  int shown = for_size < 0 ? PAGE_WIDTH : CLAMP (for_size, LEAST_WIDTH, PAGE_WIDTH);
  double width, height;

  ts_card_get_size (TS_PAGE (widget)->card, &width, &height);
  *minimum =
    orientation == GTK_ORIENTATION_HORIZONTAL ? LEAST_WIDTH : (int) (shown * height / width);
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? PAGE_WIDTH : *minimum;
}

/* What a thread draws. */
typedef struct
{
  TsCard *card; /* owned */
  guint index;
  int pixels; /* width */
} Sheet;

static void
sheet_free (gpointer data)
{
  Sheet *sheet = data;

  ts_card_unref (sheet->card);
  g_free (sheet);
}

static void
free_drawing (gpointer surface)
{
  cairo_surface_destroy (surface);
}

static void
draw_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  const Sheet *sheet = task_data;
  double width, height, scale;
  cairo_surface_t *surface;
  cairo_t *cr;

  ts_card_get_size (sheet->card, &width, &height);
  scale = sheet->pixels / width;
  surface =
    cairo_image_surface_create (CAIRO_FORMAT_RGB24, sheet->pixels, (int) ceil (height * scale));
  cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_paint (cr);
  cairo_scale (cr, scale, scale);
  ts_card_draw (sheet->card, sheet->index, cr);
  cairo_destroy (cr);
  g_task_return_pointer (task, surface, free_drawing);
}

static void
on_drawn (GObject *source, GAsyncResult *result, gpointer data)
{
  TsPage *self = TS_PAGE (source);
  cairo_surface_t *drawing = g_task_propagate_pointer (G_TASK (result), NULL);

  if (drawing == NULL) /* of another size, or of a card that has changed */
    return;
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->drawing, cairo_surface_destroy);
  self->drawing = drawing;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* A page takes longer to draw than a frame may; until it is there the one before stands in for it.
 */
static void
draw (TsPage *self)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  int pixels = width * gtk_widget_get_scale_factor (GTK_WIDGET (self));
  g_autoptr (GTask) task = NULL;
  Sheet *sheet;

  if (pixels == 0 || pixels == self->pixels)
    return;
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  self->pixels = pixels;
  sheet = g_new0 (Sheet, 1);
  *sheet = (Sheet){ ts_card_ref (self->card), self->index, pixels };
  task = g_task_new (self, self->cancellable, on_drawn, NULL);
  g_task_set_task_data (task, sheet, sheet_free);
  g_task_run_in_thread (task, draw_thread);
}

static void
ts_page_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  draw (TS_PAGE (widget));
}

static void
ts_page_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsPage *self = TS_PAGE (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));

  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_paint (cr);
  if (self->drawing != NULL)
    {
      double scale = (double) width / cairo_image_surface_get_width (self->drawing);

      cairo_scale (cr, scale, scale);
      cairo_set_source_surface (cr, self->drawing, 0.0, 0.0);
      cairo_paint (cr);
    }
  cairo_destroy (cr);
}

static void
ts_page_dispose (GObject *object)
{
  TsPage *self = TS_PAGE (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  G_OBJECT_CLASS (ts_page_parent_class)->dispose (object);
}

static void
ts_page_finalize (GObject *object)
{
  TsPage *self = TS_PAGE (object);

  ts_card_unref (self->card);
  g_clear_pointer (&self->drawing, cairo_surface_destroy);
  G_OBJECT_CLASS (ts_page_parent_class)->finalize (object);
}

static void
ts_page_class_init (TsPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_page_dispose;
  G_OBJECT_CLASS (class)->finalize = ts_page_finalize;
  widget_class->size_allocate = ts_page_size_allocate;
  widget_class->get_request_mode = ts_page_get_request_mode;
  widget_class->measure = ts_page_measure;
  widget_class->snapshot = ts_page_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_page_init (TsPage *self)
{
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  g_signal_connect (self, "notify::scale-factor", G_CALLBACK (draw), NULL);
}

/**
 * ts_page_new:
 * @card: a card
 * @index: which of its pages, from 0
 *
 * Returns: (transfer floating): a widget that shows the page
 */
GtkWidget *
ts_page_new (TsCard *card, guint index)
{
  TsPage *self = g_object_new (TS_TYPE_PAGE, NULL);
  g_autofree char *name = g_strdup_printf (_ ("Page %u of the mixing card"), index + 1);

  self->card = ts_card_ref (card);
  self->index = index;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return GTK_WIDGET (self);
}

/**
 * ts_page_set_card:
 * @self: a page
 * @card: a card that has as many pages at least
 *
 * Shows the page as it is in another card.
 */
void
ts_page_set_card (TsPage *self, TsCard *card)
{
  g_return_if_fail (TS_IS_PAGE (self));

  ts_card_ref (card);
  ts_card_unref (self->card);
  self->card = card;
  self->pixels = 0;
  draw (self);
}
