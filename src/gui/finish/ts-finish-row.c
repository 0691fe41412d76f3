/* ts-finish-row.c: one surface in the list of the finish check: planned over achieved
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/finish/ts-finish-row.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-mark-icon.h"
#include "gui/widgets/ts-strip.h"

#define STRIP_HEIGHT 23
#define STRIP_EDGE 3

struct _TsFinishRow
{
  GtkListBoxRow parent_instance;

  /* Children */
  GtkWidget *name, *verdict, *word, *mark, *strip;
};

G_DEFINE_FINAL_TYPE (TsFinishRow, ts_finish_row, GTK_TYPE_LIST_BOX_ROW)

static void
ts_finish_row_class_init (TsFinishRowClass *class)
{
}

static void
ts_finish_row_init (TsFinishRow *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  self->name = gtk_label_new ("");
  self->verdict = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->word = gtk_label_new ("");
  self->mark = ts_mark_icon_new ();
  self->strip = ts_strip_new (-1, STRIP_HEIGHT, STRIP_EDGE);
  gtk_label_set_xalign (GTK_LABEL (self->name), 0.0F);
  ts_accessible_may_be_cut (self->name);
  gtk_widget_set_hexpand (self->name, TRUE);
  gtk_widget_add_css_class (self->name, "body");
  gtk_widget_add_css_class (self->word, "small");
  gtk_box_append (GTK_BOX (self->verdict), self->word);
  gtk_box_append (GTK_BOX (self->verdict), self->mark);
  gtk_box_append (GTK_BOX (line), self->name);
  gtk_box_append (GTK_BOX (line), self->verdict);
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), self->strip);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), box);
}

static void
show_finished (TsFinishRow *self, const TsFinished *finished, gboolean grey)
{
  TsLab colours[2 * TS_STAIR_MAX_STEPS];
  g_autofree char *range = ts_finished_range_to_words (finished);
  g_autofree char *description = NULL;
  TsMark mark = TS_MARK_TICK;
  const char *word = ts_format_finished (ts_finished_get_verdict (finished), &mark);

  for (guint i = 0; i < finished->n_steps; i++)
    {
      colours[i] = finished->step[i].planned;
      colours[finished->n_steps + i] = finished->step[i].achieved;
    }
  if (grey)
    ts_strip_make_grey (colours, 2 * finished->n_steps);
  ts_strip_set_colours (TS_STRIP (self->strip), colours, finished->n_steps, 2);
  gtk_label_set_label (GTK_LABEL (self->word), word);
  ts_mark_icon_set (TS_MARK_ICON (self->mark), mark);
  if (mark == TS_MARK_TICK)
    gtk_widget_add_css_class (self->verdict, "dim");
  else
    gtk_widget_remove_css_class (self->verdict, "dim");
  description = g_strdup_printf ("%s, %s", word, range);
  ts_strip_describe (TS_STRIP (self->strip), _ ("Planned over achieved"), description);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  description, -1);
}

/**
 * ts_finish_row_new:
 *
 * Returns: (transfer floating): a row
 */
GtkWidget *
ts_finish_row_new (void)
{
  return g_object_new (TS_TYPE_FINISH_ROW, NULL);
}

/**
 * ts_finish_row_update:
 * @self: the row
 * @document: a document with a plan
 * @surface: index of a surface
 * @grey: whether lightness alone is shown
 *
 * Shows what the document has now.
 */
void
ts_finish_row_update (TsFinishRow *self, TsDocument *document, guint surface, gboolean grey)
{
  const char *name = ts_plan_get_surface (ts_document_get_plan (document), surface)->name;
  const TsFinished *finished = ts_document_get_finished (document, surface);

  g_return_if_fail (TS_IS_FINISH_ROW (self));

  gtk_label_set_label (GTK_LABEL (self->name), name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_widget_set_visible (self->strip, finished != NULL);
  gtk_widget_set_visible (self->mark, finished != NULL);
  if (finished != NULL)
    show_finished (self, finished, grey);
  else
    gtk_label_set_label (GTK_LABEL (self->word), _ ("not measured"));
}
