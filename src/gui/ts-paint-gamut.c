/* ts-paint-gamut.c: the whole set: its colours, what they can mix, and where they cannot
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-paint-gamut.h"

#include <glib/gi18n.h>

#include "ts-paint-chart.h"

struct _TsPaintGamut
{
  GtkWidget parent_instance;

  /* Template children */
  GtkWidget *scroller, *about, *gap;
  TsPaintChart *hues, *depths;
};

enum
{
  CHOSEN,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsPaintGamut, ts_paint_gamut, GTK_TYPE_WIDGET)

static void
on_chosen (TsPaintGamut *self, guint paint)
{
  g_signal_emit (self, signals[CHOSEN], 0, paint);
}

static void
ts_paint_gamut_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TS_TYPE_PAINT_GAMUT);
  G_OBJECT_CLASS (ts_paint_gamut_parent_class)->dispose (object);
}

static void
ts_paint_gamut_class_init (TsPaintGamutClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_paint_gamut_dispose;
  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  g_type_ensure (TS_TYPE_PAINT_CHART);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-paint-gamut.ui");
  gtk_widget_class_bind_template_child (widget_class, TsPaintGamut, scroller);
  gtk_widget_class_bind_template_child (widget_class, TsPaintGamut, about);
  gtk_widget_class_bind_template_child (widget_class, TsPaintGamut, gap);
  gtk_widget_class_bind_template_child (widget_class, TsPaintGamut, hues);
  gtk_widget_class_bind_template_child (widget_class, TsPaintGamut, depths);
  gtk_widget_class_bind_template_callback (widget_class, on_chosen);
}

static void
ts_paint_gamut_init (TsPaintGamut *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_paint_chart_set_kind (self->depths, TS_PAINT_CHART_DEPTHS);
}

/**
 * ts_paint_gamut_set_items:
 * @self: the panel
 * @items: TsPaintItem in the order of the set
 */
void
ts_paint_gamut_set_items (TsPaintGamut *self, GListModel *items)
{
  g_return_if_fail (TS_IS_PAINT_GAMUT (self));

  ts_paint_chart_set_items (self->hues, items);
  ts_paint_chart_set_items (self->depths, items);
}

static void
describe (TsPaintGamut *self, guint n_paints, const char *gap)
{
  g_autofree char *count =
    g_strdup_printf (ngettext ("%u paint.", "%u paints.", n_paints), n_paints);
  g_autofree char *words = gap != NULL ? g_strconcat (count, " ", gap, NULL) : g_strdup (count);

  ts_paint_chart_describe (self->hues, _ ("What these paints can mix"), words);
  ts_paint_chart_describe (self->depths, _ ("Lightness against chroma"), words);
  gtk_label_set_label (GTK_LABEL (self->gap), gap != NULL ? gap : "");
}

/**
 * ts_paint_gamut_set_paints:
 * @self: the panel
 * @paints: (nullable): the set
 *
 * Works out what the set can mix, and shows it when it is known.
 */
void
ts_paint_gamut_set_paints (TsPaintGamut *self, TsPaintSet *paints)
{
  g_return_if_fail (TS_IS_PAINT_GAMUT (self));

  describe (self, paints != NULL ? ts_paint_set_get_n_paints (paints) : 0, NULL);
}

/**
 * ts_paint_gamut_choose:
 * @self: the panel
 * @paint: index in the set, or -1
 */
void
ts_paint_gamut_choose (TsPaintGamut *self, int paint)
{
  g_return_if_fail (TS_IS_PAINT_GAMUT (self));

  ts_paint_chart_choose (self->hues, paint);
  ts_paint_chart_choose (self->depths, paint);
}
