/* ts-paint-gamut.c: the whole set: its colours, what they can mix, and where they cannot
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-gamut.h"

#include <glib/gi18n.h>
#include <math.h>

#include "paint/ts-gamut.h"
#include "gui/paints/ts-paint-chart.h"

#define MOST_PAINTS 3 /* in a mix */

struct _TsPaintGamut
{
  GtkWidget parent_instance;

  TsPaintSet *paints;        /* owned, nullable */
  GCancellable *cancellable; /* owned, nullable: of the edge that is worked out */

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
stop (TsPaintGamut *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
ts_paint_gamut_dispose (GObject *object)
{
  TsPaintGamut *self = TS_PAINT_GAMUT (object);

  stop (self);
  g_clear_pointer (&self->paints, ts_paint_set_unref);
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
  gtk_label_set_label (GTK_LABEL (self->about),
                       _ ("The line is the edge of every mix of up to three paints in stock."));
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

/* From a radius for each hue to points of the chart. */
static void
show_hues (TsPaintGamut *self, const TsGamut *gamut)
{
  double points[TS_GAMUT_HUES][2];

  for (guint i = 0; i < TS_GAMUT_HUES; i++)
    {
      double angle = 2.0 * G_PI * i / TS_GAMUT_HUES;

      points[i][0] = gamut->chroma[i] * cos (angle);
      points[i][1] = gamut->chroma[i] * sin (angle);
    }
  ts_paint_chart_set_outline (self->hues, (const double (*)[2]) points, TS_GAMUT_HUES);
}

/* Up along the most chroma of each lightness, and down again along the least. */
static void
show_depths (TsPaintGamut *self, const TsGamut *gamut)
{
  double points[2 * TS_GAMUT_LEVELS][2];
  guint n = 0;

  for (guint L = 0; L < TS_GAMUT_LEVELS; L++)
    if (!isnan (gamut->most[L]))
      {
        points[n][0] = gamut->most[L];
        points[n++][1] = L;
      }
  for (guint i = 0; i < TS_GAMUT_LEVELS; i++)
    if (!isnan (gamut->least[TS_GAMUT_LEVELS - 1 - i]))
      {
        points[n][0] = gamut->least[TS_GAMUT_LEVELS - 1 - i];
        points[n++][1] = TS_GAMUT_LEVELS - 1.0 - i;
      }
  ts_paint_chart_set_outline (self->depths, (const double (*)[2]) points, n);
}

static void
show_gamut (TsPaintGamut *self, const TsGamut *gamut)
{
  g_autofree char *gap = NULL;

  show_hues (self, gamut);
  show_depths (self, gamut);
  ts_paint_chart_set_gap (self->hues, gamut->has_hole ? &gamut->hole : NULL);
  ts_paint_chart_set_gap (self->depths, gamut->has_hole ? &gamut->hole : NULL);
  if (gamut->has_hole)
    gap = g_strdup_printf (_ ("Widest gap: %s, the dotted ring; the nearest mix is dE %.0f away."),
                           _ (gamut->words), gamut->distance);
  describe (self, ts_paint_set_get_n_paints (self->paints),
            gap != NULL ? gap : _ ("No wide gap beside measured pigments."));
}

static void
find_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  g_autofree TsGamut *gamut = g_new0 (TsGamut, 1);
  GError *error = NULL;

  if (ts_gamut_find (task_data, MOST_PAINTS, cancellable, gamut, &error))
    g_task_return_pointer (task, g_steal_pointer (&gamut), g_free);
  else
    g_task_return_error (task, error);
}

static void
on_gamut_found (GObject *source, GAsyncResult *result, gpointer data)
{
  TsPaintGamut *self = TS_PAINT_GAMUT (source);
  GTask *task = G_TASK (result);
  g_autoptr (GError) error = NULL;
  g_autofree TsGamut *gamut = g_task_propagate_pointer (task, &error);

  if (self->cancellable != g_task_get_cancellable (task))
    return;
  g_clear_object (&self->cancellable);
  if (gamut != NULL)
    show_gamut (self, gamut);
  else
    describe (self, ts_paint_set_get_n_paints (self->paints), error->message);
}

/**
 * ts_paint_gamut_set_paints:
 * @self: the panel
 * @paints: (nullable): the set
 *
 * Works out what the set can mix, and shows it when it is known; the edge of the set before stays
 * until then.
 */
void
ts_paint_gamut_set_paints (TsPaintGamut *self, TsPaintSet *paints)
{
  g_autoptr (GTask) task = NULL;

  g_return_if_fail (TS_IS_PAINT_GAMUT (self));

  stop (self);
  g_clear_pointer (&self->paints, ts_paint_set_unref);
  self->paints = paints != NULL ? ts_paint_set_ref (paints) : NULL;
  if (paints == NULL)
    {
      ts_paint_chart_set_outline (self->hues, NULL, 0);
      ts_paint_chart_set_outline (self->depths, NULL, 0);
      describe (self, 0, NULL);
      return;
    }
  describe (self, ts_paint_set_get_n_paints (paints), NULL);
  self->cancellable = g_cancellable_new ();
  task = g_task_new (self, self->cancellable, on_gamut_found, NULL);
  g_task_set_task_data (task, ts_paint_set_ref (paints), (GDestroyNotify) ts_paint_set_unref);
  g_task_run_in_thread (task, find_thread);
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
