/* ts-page.c: one page of the mixing card on the screen
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-page.h"

#include <glib/gi18n.h>

#define PAGE_WIDTH 760
#define LEAST_WIDTH 240

struct _TsPage
{
  GtkWidget parent_instance;

  TsCard *card; /* owned */
  guint index;
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

static void
ts_page_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsPage *self = TS_PAGE (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  double page_width, page_height;

  ts_card_get_size (self->card, &page_width, &page_height);
  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_paint (cr);
  cairo_scale (cr, width / page_width, height / page_height);
  ts_card_draw (self->card, self->index, cr);
  cairo_destroy (cr);
}

static void
ts_page_finalize (GObject *object)
{
  ts_card_unref (TS_PAGE (object)->card);
  G_OBJECT_CLASS (ts_page_parent_class)->finalize (object);
}

static void
ts_page_class_init (TsPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_page_finalize;
  widget_class->get_request_mode = ts_page_get_request_mode;
  widget_class->measure = ts_page_measure;
  widget_class->snapshot = ts_page_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_page_init (TsPage *self)
{
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
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
