/* ts-finish-pane.c: the finished figure against the plan
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/finish/ts-finish-pane-private.h"

#include <glib/gi18n.h>

#include "plan/ts-repairs.h"
#include "gui/widgets/ts-accessible.h"
#include "gui/finish/ts-finish-row.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-mark-icon.h"
#include "gui/widgets/ts-strip.h"

#define STRIP_HEIGHT 68
#define STRIP_EDGE 7
#define LIST_HEIGHT 330
#define SMALL_LIST_HEIGHT 128

G_DEFINE_FINAL_TYPE (TsFinishPane, ts_finish_pane, TS_TYPE_VIEW)

int
ts_finish_pane_find_photo (TsFinishPane *self)
{
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (TS_VIEW (self)));

  return plan != NULL ? ts_plan_find_picture (plan, TS_ROLE_FINISHED) : -1;
}

static void
on_reference_moved (TsFinishPane *self)
{
  ts_finish_view_follow (self->finished, self->reference);
  ts_finish_pane_show_zoom (self);
}

static void
on_finished_moved (TsFinishPane *self)
{
  ts_finish_view_follow (self->reference, self->finished);
  ts_finish_pane_show_zoom (self);
}

/* Where there is no room beside the pictures, the lists take their place. */
static void
on_over (TsFinishPane *self)
{
  ts_layout_set_side_over (self->layout,
                           gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->over)));
}

static void
on_folded (TsFinishPane *self)
{
  gboolean small = ts_layout_get_fold (self->layout) >= TS_FOLD_SMALL;

  gtk_widget_set_visible (self->over, ts_layout_get_fold (self->layout) == TS_FOLD_TINY);
  /* What to repaint needs the room more. */
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (self->list_scroller),
                                              small ? SMALL_LIST_HEIGHT : LIST_HEIGHT);
  ts_finish_pane_show_zoom (self);
  if (ts_view_get_document (TS_VIEW (self)) != NULL)
    ts_finish_pane_show (self);
}

static void
on_row_selected (GtkListBox *list, GtkListBoxRow *row, TsFinishPane *self)
{
  if (row != NULL && !self->updating)
    ts_document_select_surface (ts_view_get_document (TS_VIEW (self)),
                                gtk_list_box_row_get_index (row));
}

static void
show_surfaces (TsFinishPane *self, TsDocument *document)
{
  guint n = ts_document_get_plan (document)->surfaces->len;
  int selected = ts_document_get_selected_surface (document);
  GtkListBox *list = GTK_LIST_BOX (self->list);
  GtkListBoxRow *row;

  self->updating = TRUE;
  while ((row = gtk_list_box_get_row_at_index (list, (int) n)) != NULL)
    gtk_list_box_remove (list, GTK_WIDGET (row));
  for (guint i = 0; i < n; i++)
    {
      if (gtk_list_box_get_row_at_index (list, (int) i) == NULL)
        gtk_list_box_append (list, ts_finish_row_new ());
      row = gtk_list_box_get_row_at_index (list, (int) i);
      ts_finish_row_update (TS_FINISH_ROW (row), document, i, self->look == TS_LOOK_VALUES);
    }
  gtk_list_box_select_row (list,
                           selected >= 0 ? gtk_list_box_get_row_at_index (list, selected) : NULL);
  self->updating = FALSE;
}

static GtkWidget *
new_label (const char *text, const char *class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
  gtk_widget_add_css_class (label, class);
  return label;
}

static void
on_ticked (GtkCheckButton *tick, TsFinishPane *self)
{
  const char *title = g_object_get_data (G_OBJECT (tick), "title");

  if (gtk_check_button_get_active (tick))
    g_hash_table_add (self->done, g_strdup (title));
  else
    g_hash_table_remove (self->done, title);
}

static GtkWidget *
new_repair (TsFinishPane *self, const TsRepair *repair)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *tick = gtk_check_button_new ();
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  GtkWidget *title = new_label (repair->title, "heading");
  GtkWidget *detail = new_label (repair->detail, "small");

  gtk_label_set_wrap (GTK_LABEL (title), TRUE);
  gtk_label_set_wrap (GTK_LABEL (detail), TRUE);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), title);
  gtk_box_append (GTK_BOX (words), detail);
  gtk_widget_set_valign (tick, GTK_ALIGN_START);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (tick),
                               g_hash_table_contains (self->done, repair->title));
  g_object_set_data_full (G_OBJECT (tick), "title", g_strdup (repair->title), g_free);
  gtk_accessible_update_property (GTK_ACCESSIBLE (tick), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  repair->title, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  repair->detail, -1);
  g_signal_connect (tick, "toggled", G_CALLBACK (on_ticked), self);
  gtk_box_append (GTK_BOX (line), tick);
  gtk_box_append (GTK_BOX (line), words);
  return line;
}

static GPtrArray *
list_repairs (TsDocument *document)
{
  GPtrArray *repairs = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_repair_free);
  const TsPlan *plan = ts_document_get_plan (document);

  for (guint i = 0; i < plan->surfaces->len; i++)
    if (ts_document_get_finished (document, i) != NULL)
      ts_repairs_add (repairs, ts_plan_get_surface (plan, i)->name,
                      ts_document_get_result (document, i), ts_document_get_finished (document, i));
  return repairs;
}

static gboolean
is_measured (TsDocument *document)
{
  for (guint i = 0; i < ts_document_get_plan (document)->surfaces->len; i++)
    if (ts_document_get_finished (document, i) != NULL)
      return TRUE;
  return FALSE;
}

/* Made anew only where it says something else: a tick keeps the keyboard's focus. */
static void
show_repairs (TsFinishPane *self, TsDocument *document)
{
  g_autoptr (GPtrArray) repairs = list_repairs (document);
  g_autoptr (GString) text = g_string_new (NULL);
  GtkWidget *child;

  for (guint i = 0; i < repairs->len; i++)
    {
      const TsRepair *repair = g_ptr_array_index (repairs, i);

      g_string_append_printf (text, "%s\n%s\n", repair->title, repair->detail);
    }
  if (repairs->len == 0)
    g_string_append (text, is_measured (document) ? _ ("Nothing: all is as planned.")
                                                  : _ ("Nothing is measured on the photo yet."));
  if (g_strcmp0 (text->str, self->shown) == 0)
    return;
  g_free (self->shown);
  self->shown = g_strdup (text->str);
  while ((child = gtk_widget_get_first_child (self->repairs)) != NULL)
    gtk_box_remove (GTK_BOX (self->repairs), child);
  for (guint i = 0; i < repairs->len; i++)
    gtk_box_append (GTK_BOX (self->repairs), new_repair (self, g_ptr_array_index (repairs, i)));
  if (repairs->len == 0)
    gtk_box_append (GTK_BOX (self->repairs), new_label (text->str, "body"));
}

/* Steps stand in two columns each, so that what is between two steps stands between them. */
static void
add_caption (TsFinishPane *self, const TsFinished *finished, guint step, int row, char *text,
             gboolean problem)
{
  GtkWidget *label = new_label (text, "small");

  gtk_label_set_xalign (GTK_LABEL (label), 0.5F);
  ts_accessible_may_be_cut (label);
  gtk_widget_add_css_class (label, problem ? "problem" : "dim");
  gtk_grid_attach (GTK_GRID (self->steps), label, 2 * (int) step, row, 2, 1);
  g_free (text);
}

static void
add_between (TsFinishPane *self, const TsFinished *finished, guint step)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *icon = ts_mark_icon_new ();
  gboolean merged = finished->merged[step];
  TsVerdict verdict = finished->contrast[step].verdict;
  GtkWidget *word = new_label (merged ? _ ("merged") : ts_format_verdict (verdict), "small");

  ts_accessible_may_be_cut (word);
  gtk_widget_add_css_class (merged ? word : box, merged ? "problem" : "dim");
  ts_mark_icon_set (TS_MARK_ICON (icon), merged ? TS_MARK_DOWN : ts_mark_of_verdict (verdict));
  gtk_box_append (GTK_BOX (box), icon);
  gtk_box_append (GTK_BOX (box), word);
  gtk_widget_set_halign (box, GTK_ALIGN_CENTER);
  gtk_grid_attach (GTK_GRID (self->steps), box, 2 * (int) step + 1, 2, 2, 1);
}

static void
add_strip (TsFinishPane *self, const TsFinished *finished, const char *name)
{
  GtkWidget *strip = ts_strip_new (-1, STRIP_HEIGHT, STRIP_EDGE);
  g_autofree char *range = ts_finished_range_to_words (finished);
  TsLab colours[2 * TS_STAIR_MAX_STEPS];

  for (guint i = 0; i < finished->n_steps; i++)
    {
      colours[i] = finished->step[i].planned;
      colours[finished->n_steps + i] = finished->step[i].achieved;
    }
  if (self->look == TS_LOOK_VALUES)
    ts_strip_make_grey (colours, 2 * finished->n_steps);
  ts_strip_set_colours (TS_STRIP (strip), colours, finished->n_steps, 2);
  ts_strip_describe (TS_STRIP (strip), name, range);
  gtk_grid_attach (GTK_GRID (self->steps), strip, 0, 1, 2 * (int) finished->n_steps, 1);
}

/* Its role as well where there is room. */
static char *
name_step (TsFinishPane *self, const TsFinishedStep *step, guint index)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  const char *role = "";
  g_autofree char *number = g_strdup_printf (_ ("%u  L* %.0f"), index + 1, step->planned.L);

  if (result != NULL && ts_layout_get_fold (self->layout) < TS_FOLD_SMALL)
    role = ts_format_role (ts_surface_result_get_stair (result), index);
  return *role != '\0' ? g_strdup_printf ("%s  %s", number, role) : g_steal_pointer (&number);
}

static void
show_steps (TsFinishPane *self, const TsFinished *finished, const char *name, gboolean hues)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->steps)) != NULL)
    gtk_grid_remove (GTK_GRID (self->steps), child);
  if (finished == NULL)
    return;
  add_strip (self, finished, name);
  for (guint i = 0; i < finished->n_steps; i++)
    {
      const TsFinishedStep *step = &finished->step[i];
      g_autofree char *off = ts_finished_step_to_words (step);

      add_caption (self, finished, i, 0, name_step (self, step, i), FALSE);
      if (i + 1 < finished->n_steps)
        add_between (self, finished, i);
      add_caption (self, finished, i, 3,
                   hues ? g_strdup_printf (_ ("%s, dE %.0f"), off, step->delta_e) : g_strdup (off),
                   step->verdict != TS_FINISH_AS_PLANNED);
    }
}

/* How the photo is corrected, and without a card what that means and what helps. */
static gboolean
show_note (TsFinishPane *self, TsDocument *document, guint photo)
{
  TsCorrection *correction = ts_document_get_correction (document, photo);
  TsCorrectionKind kind =
    correction != NULL ? ts_correction_get_kind (correction) : TS_CORRECTION_NONE;
  const char *text = ts_finish_correction_to_words (kind);

  gtk_label_set_label (GTK_LABEL (self->note), text);
  ts_accessible_name_inner (self->photo_button, text);
  gtk_widget_set_visible (self->no_card, !ts_finish_judges_hues (kind));
  return ts_finish_judges_hues (kind);
}

static void
show_selected (TsFinishPane *self, TsDocument *document, gboolean hues)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  int selected = ts_document_get_selected_surface (document);
  const TsFinished *finished =
    surface != NULL ? ts_document_get_finished (document, (guint) selected) : NULL;
  g_autofree char *range = finished != NULL ? ts_finished_range_to_words (finished) : NULL;

  gtk_label_set_label (GTK_LABEL (self->name), surface != NULL ? surface->name : "");
  gtk_label_set_label (GTK_LABEL (self->range), range != NULL ? range
                                                : surface != NULL
                                                  ? _ ("not measured on the photo yet")
                                                  : _ ("Choose a surface."));
  ts_finish_pane_enable (self, "lay",
                         surface != NULL && (surface->runs->len > 0 || surface->outline != NULL));
  show_steps (self, finished, surface != NULL ? surface->name : NULL, hues);
}

void
ts_finish_pane_show (TsFinishPane *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  int photo = ts_finish_pane_find_photo (self);

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), photo >= 0 ? "check" : "empty");
  ts_finish_pane_enable (self, "copy-report", photo >= 0);
  gtk_button_set_label (GTK_BUTTON (self->copy), _ ("Copy the report"));
  if (photo < 0)
    return;
  show_surfaces (self, document);
  show_repairs (self, document);
  show_selected (self, document, show_note (self, document, (guint) photo));
}

static void
ts_finish_pane_update (TsView *view, TsChange change)
{
  if (change & ~TS_CHANGE_BUSY)
    ts_finish_pane_show (TS_FINISH_PANE (view));
}

static void
ts_finish_pane_dispose (GObject *object)
{
  g_clear_object (&TS_FINISH_PANE (object)->actions);
  G_OBJECT_CLASS (ts_finish_pane_parent_class)->dispose (object);
}

static void
ts_finish_pane_finalize (GObject *object)
{
  TsFinishPane *self = TS_FINISH_PANE (object);

  g_hash_table_unref (self->done);
  g_free (self->shown);
  G_OBJECT_CLASS (ts_finish_pane_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, stack);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, layout);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, reference);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, finished);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, photo_button);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, note);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, own_zoom);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, no_card);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, copy);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, over);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, list);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, list_scroller);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, repairs);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, name);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, range);
  gtk_widget_class_bind_template_child (widget_class, TsFinishPane, steps);
  gtk_widget_class_bind_template_callback (widget_class, on_reference_moved);
  gtk_widget_class_bind_template_callback (widget_class, on_finished_moved);
  gtk_widget_class_bind_template_callback (widget_class, on_folded);
  gtk_widget_class_bind_template_callback (widget_class, on_over);
  gtk_widget_class_bind_template_callback (widget_class, on_row_selected);
}

static void
ts_finish_pane_class_init (TsFinishPaneClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_finish_pane_dispose;
  G_OBJECT_CLASS (class)->finalize = ts_finish_pane_finalize;
  TS_VIEW_CLASS (class)->update = ts_finish_pane_update;
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_c, GDK_CONTROL_MASK,
                                       "finish.copy-report", NULL);
  g_type_ensure (TS_TYPE_LAYOUT);
  g_type_ensure (TS_TYPE_FINISH_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-finish-pane.ui");
  bind_children (widget_class);
}

static void
ts_finish_pane_init (TsFinishPane *self)
{
  self->done = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  ts_finish_pane_add_actions (self);
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (self->list_scroller),
                                              LIST_HEIGHT);
  ts_accessible_may_be_cut (self->note);
  ts_accessible_may_be_cut (self->name);
  ts_accessible_may_be_cut (self->range);
  ts_accessible_name_inner (self->photo_button, _ ("The photo of the finished figure"));
  ts_finish_view_set_role (self->reference, TS_ROLE_REFERENCE);
  ts_finish_view_set_role (self->finished, TS_ROLE_FINISHED);
}
