/* ts-card-pane.c: the mixing card as it will be printed
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/card/ts-card-pane.h"

#include <glib/gi18n.h>

#include "gui/card/ts-card-job.h"
#include "gui/card/ts-page.h"
#include "gui/card/ts-print.h"
#include "gui/card/ts-sequence-view.h"

struct _TsCardPane
{
  TsView parent_instance;

  /* Template children */
  GtkWidget *box, *pages, *count, *work;

  gboolean making; /* a thread is at it */
  gboolean stale;  /* what it makes has changed meanwhile */
};

G_DEFINE_FINAL_TYPE (TsCardPane, ts_card_pane, TS_TYPE_VIEW)

static void show_card (TsCardPane *self);

/* Pages that stay are kept, so that the view does not jump. */
static void
show_pages (TsCardPane *self, TsCard *card)
{
  guint n = ts_card_get_n_pages (card);
  g_autofree char *count = g_strdup_printf (ngettext ("%u page", "%u pages", n), n);
  GtkWidget *page = gtk_widget_get_first_child (self->pages);

  for (guint i = 0; i < n; i++)
    {
      if (page == NULL)
        gtk_box_append (GTK_BOX (self->pages), ts_page_new (card, i));
      else
        ts_page_set_card (TS_PAGE (page), card);
      page = page != NULL ? gtk_widget_get_next_sibling (page) : NULL;
    }
  while (page != NULL)
    {
      GtkWidget *next = gtk_widget_get_next_sibling (page);

      gtk_box_remove (GTK_BOX (self->pages), page);
      page = next;
    }
  gtk_label_set_label (GTK_LABEL (self->count), count);
}

static void
on_made (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsCardPane) self = user_data;
  g_autoptr (TsCard) card = ts_card_job_finish (result, NULL);

  self->making = FALSE;
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  if (self->stale)
    show_card (self);
  else
    show_pages (self, card);
}

/* One thread at a time, so that a search that finds mix after mix does not start many. */
static void
show_card (TsCardPane *self)
{
  TsCardJob *job = self->making ? NULL : ts_card_job_new (ts_view_get_document (TS_VIEW (self)));

  self->stale = self->making;
  if (job == NULL)
    return;
  self->making = TRUE;
  ts_card_job_run (job, NULL, on_made, g_object_ref (self));
}

static void
on_work (TsCardPane *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));

  if (ts_document_get_plan (document) != NULL)
    ts_document_set_card_work (document,
                               gtk_check_button_get_active (GTK_CHECK_BUTTON (self->work)));
}

static void
show_choice (TsCardPane *self)
{
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (TS_VIEW (self)));

  if (plan != NULL)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->work), plan->card_work);
}

/* Laid out when it is looked at: a card that nobody sees costs nothing. */
static void
ts_card_pane_update (TsView *view, TsChange change)
{
  if (change & TS_CHANGE_PLAN)
    show_choice (TS_CARD_PANE (view));
  if (gtk_widget_get_mapped (GTK_WIDGET (view)) &&
      change & (TS_CHANGE_PLAN | TS_CHANGE_RESULTS | TS_CHANGE_PICTURE))
    show_card (TS_CARD_PANE (view));
}

static void
prepare_printing (gpointer user_data)
{
  ts_print_prepare ();
}

static void
ts_card_pane_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (ts_card_pane_parent_class)->map (widget);
  show_card (TS_CARD_PANE (widget));
  /* After the first look at the card. */
  g_idle_add_once (prepare_printing, NULL);
}

static void
ts_card_pane_class_init (TsCardPaneClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  TS_VIEW_CLASS (class)->update = ts_card_pane_update;
  widget_class->map = ts_card_pane_map;
  g_type_ensure (TS_TYPE_SEQUENCE_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-card-pane.ui");
  gtk_widget_class_bind_template_child (widget_class, TsCardPane, box);
  gtk_widget_class_bind_template_child (widget_class, TsCardPane, pages);
  gtk_widget_class_bind_template_child (widget_class, TsCardPane, count);
  gtk_widget_class_bind_template_child (widget_class, TsCardPane, work);
  gtk_widget_class_bind_template_callback (widget_class, on_work);
}

static void
ts_card_pane_init (TsCardPane *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
