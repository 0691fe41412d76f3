/* ts-paint-row.c: one paint in the list of paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-row.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-mark-icon.h"
#include "gui/paints/ts-paint-card.h"
#include "gui/paints/ts-paint-words.h"

struct _TsPaintRow
{
  GtkWidget parent_instance;

  /* Children */
  GtkWidget *card, *name, *about, *caution, *stock;
};

G_DEFINE_FINAL_TYPE (TsPaintRow, ts_paint_row, GTK_TYPE_WIDGET)

static void
ts_paint_row_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (ts_paint_row_parent_class)->dispose (object);
}

static void
ts_paint_row_class_init (TsPaintRowClass *class)
{
  G_OBJECT_CLASS (class)->dispose = ts_paint_row_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
}

static GtkWidget *
add_label (TsPaintRow *self, const char *class, int width)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
  ts_accessible_may_be_cut (label);
  gtk_label_set_width_chars (GTK_LABEL (label), width);
  gtk_widget_add_css_class (label, class);
  gtk_widget_set_parent (label, GTK_WIDGET (self));
  return label;
}

static void
ts_paint_row_init (TsPaintRow *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 10);
  self->card = ts_paint_card_new (102, 26, 4);
  gtk_widget_set_valign (self->card, GTK_ALIGN_CENTER);
  gtk_widget_set_parent (self->card, GTK_WIDGET (self));
  self->name = add_label (self, "body", 7);
  gtk_widget_set_hexpand (self->name, TRUE);
  self->about = add_label (self, "small", 7);
  gtk_widget_add_css_class (self->about, "dim");
  self->caution = ts_mark_icon_new ();
  ts_mark_icon_set (TS_MARK_ICON (self->caution), TS_MARK_CAUTION);
  gtk_widget_set_parent (self->caution, GTK_WIDGET (self));
  self->stock = add_label (self, "small", 4);
  gtk_label_set_xalign (GTK_LABEL (self->stock), 1.0F);
}

/**
 * ts_paint_row_new:
 * @column: what makes the second column as wide in every row
 *
 * Returns: (transfer floating): a row without a paint
 */
GtkWidget *
ts_paint_row_new (GtkSizeGroup *column)
{
  TsPaintRow *self = g_object_new (TS_TYPE_PAINT_ROW, NULL);

  gtk_size_group_add_widget (column, self->about);
  return GTK_WIDGET (self);
}

/**
 * ts_paint_row_show:
 * @self: the row
 * @item: a paint
 *
 * Shows it. Only stock that is not full is spoken of, the one that is out in bold.
 */
void
ts_paint_row_show (TsPaintRow *self, TsPaintItem *item)
{
  TsPaint *paint = ts_paint_item_get_paint (item);
  TsStock stock = ts_paint_get_stock (paint);
  g_autofree char *about = ts_paint_words_summary (paint);

  g_return_if_fail (TS_IS_PAINT_ROW (self));

  ts_paint_card_show (TS_PAINT_CARD (self->card), ts_paint_item_get_samples (item),
                      ts_paint_get_name (paint));
  gtk_label_set_label (GTK_LABEL (self->name), ts_paint_get_name (paint));
  gtk_label_set_label (GTK_LABEL (self->about), about);
  gtk_widget_set_opacity (self->caution, ts_paint_get_caution (paint) != NULL ? 1.0 : 0.0);
  gtk_widget_set_tooltip_text (self->caution, ts_paint_get_caution (paint));
  gtk_label_set_label (GTK_LABEL (self->stock),
                       stock == TS_STOCK_FULL ? "" : ts_paint_words_stock (stock));
  if (stock == TS_STOCK_OUT)
    gtk_widget_add_css_class (self->stock, "problem");
  else
    gtk_widget_remove_css_class (self->stock, "problem");
}
