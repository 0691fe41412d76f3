/* ts-finish-pane.c: the finished figure against the plan
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-finish-pane.h"

struct _TsFinishPane
{
  TsView parent_instance;

  GtkWidget *box; /* template child */
};

G_DEFINE_FINAL_TYPE (TsFinishPane, ts_finish_pane, TS_TYPE_VIEW)

static void
ts_finish_pane_class_init (TsFinishPaneClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-finish-pane.ui");
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, box);
}

static void
ts_finish_pane_init (TsFinishPane *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
