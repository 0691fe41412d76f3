/* ts-paint-learn.c: the test swatches of a set, what they have refined, and what to paint next
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-learn.h"

#include <glib/gi18n.h>
#include <math.h>

#include "document/ts-calibration.h"
#include "document/ts-document-paints.h"
#include "paint/ts-paint-teach.h"
#include "recipes/ts-recipe.h"
#include "gui/widgets/ts-mark-icon.h"

#define N_TEACH 4
#define MOVED_LEAST 0.5 /* CIEDE2000: less is not worth a word */

struct _TsPaintLearn
{
  TsView parent_instance;

  TsCalibration *calibration; /* owned, nullable */
  GCancellable *teaching;     /* owned, nullable */
  TsPaintSet *shown;          /* owned, nullable */

  /* Template children */
  GtkWidget *box, *calibrate, *running, *progress, *report, *list, *next, *teach;
};

/* What to paint next, on another thread. */
typedef struct
{
  TsPaintSet *set;
  GArray *known;  /* TsSwatch */
  GArray *wanted; /* TsSwatch: the plan's mixes */
} TeachJob;

G_DEFINE_FINAL_TYPE (TsPaintLearn, ts_paint_learn, TS_TYPE_VIEW)

static void
teach_job_free (gpointer data)
{
  TeachJob *job = data;

  ts_paint_set_unref (job->set);
  g_array_unref (job->known);
  g_array_unref (job->wanted);
  g_free (job);
}

static void
teach_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  TeachJob *job = task_data;
  GError *error = NULL;
  GArray *mixes = ts_paint_teach (job->set, (const TsSwatch *) job->known->data, job->known->len,
                                  (const TsSwatch *) job->wanted->data, job->wanted->len, N_TEACH,
                                  cancellable, &error);

  if (mixes != NULL)
    g_task_return_pointer (task, mixes, (GDestroyNotify) g_array_unref);
  else
    g_task_return_error (task, error);
}

static char *
mix_to_text (const TsPaintSet *set, const TsTeachMix *mix)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < mix->n_amounts; i++)
    g_string_append_printf (
      text, "%s%.0f %s", i > 0 ? " + " : "", mix->amounts[i].parts,
      ts_paint_get_name (ts_paint_set_get_paint (set, mix->amounts[i].paint)));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
mixes_to_words (const TsPaintSet *set, const GArray *mixes)
{
  g_autoptr (GString) text = g_string_new (_ ("These would teach most, painted next:"));
  const TsTeachMix *last;

  if (mixes->len == 0)
    return g_strdup (_ ("There is nothing left that a test mix would teach."));
  for (guint i = 0; i < mixes->len; i++)
    {
      g_autofree char *mix = mix_to_text (set, &g_array_index (mixes, TsTeachMix, i));

      g_string_append_printf (text, "\n%u. %s", i + 1, mix);
    }
  last = &g_array_index (mixes, TsTeachMix, mixes->len - 1);
  g_string_append_printf (text, _ ("\nMixes, now open by about dE %.0f, would be by about %.0f."),
                          g_array_index (mixes, TsTeachMix, 0).before, last->after);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
on_taught (GObject *source, GAsyncResult *result, gpointer data)
{
  TsPaintLearn *self = TS_PAINT_LEARN (source);
  GTask *task = G_TASK (result);
  TeachJob *job = g_task_get_task_data (task);
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) mixes = g_task_propagate_pointer (task, &error);
  g_autofree char *words = NULL;

  if (self->teaching != g_task_get_cancellable (task))
    return;
  g_clear_object (&self->teaching);
  gtk_widget_set_sensitive (self->teach, TRUE);
  words = mixes != NULL ? mixes_to_words (job->set, mixes) : g_strdup (error->message);
  gtk_label_set_label (GTK_LABEL (self->next), words);
}

/* The mixes that the plan means to paint. */
static GArray *
collect_wanted (TsDocument *document, TsPaintSet *set)
{
  const GPtrArray *results = ts_document_get_results (document);
  GArray *wanted = g_array_new (FALSE, TRUE, sizeof (TsSwatch));

  for (guint i = 0; i < results->len; i++)
    {
      const TsSurfaceResult *result = g_ptr_array_index (results, i);

      for (guint s = 0; result != NULL && ts_surface_result_get_paints (result) == set &&
                        s < ts_surface_result_get_n_steps (result);
           s++)
        {
          const TsRecipe *recipe = ts_surface_result_get_recipe (result, s);
          TsSwatch swatch = { .coats = (double) INFINITY };

          if (recipe == NULL)
            continue;
          swatch.n_amounts = recipe->n_paints;
          for (guint p = 0; p < recipe->n_paints; p++)
            swatch.amounts[p] = (TsAmount){ recipe->paint[p], recipe->parts[p] };
          swatch.lab = recipe->lab;
          g_array_append_val (wanted, swatch);
        }
    }
  return wanted;
}

static void
on_teach (TsPaintLearn *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsPaintSet *set = ts_document_get_paints (document);
  g_autoptr (GTask) task = NULL;
  TeachJob *job;

  if (set == NULL)
    return;
  job = g_new0 (TeachJob, 1);
  job->set = ts_paint_set_ref (set);
  job->known = g_array_new (FALSE, FALSE, sizeof (TsSwatch));
  job->wanted = collect_wanted (document, set);
  for (guint i = 0; i < ts_paint_set_get_n_swatches (set); i++)
    {
      TsSwatch swatch;

      if (ts_paint_set_get_swatch (set, i, &swatch))
        g_array_append_val (job->known, swatch);
    }
  self->teaching = g_cancellable_new ();
  task = g_task_new (self, self->teaching, on_taught, NULL);
  g_task_set_task_data (task, job, teach_job_free);
  g_task_run_in_thread (task, teach_thread);
  gtk_widget_set_sensitive (self->teach, FALSE);
  gtk_label_set_label (GTK_LABEL (self->next), _ ("Looking for what would teach most…"));
}

static void
append_moves (GString *text, const TsPaintFit *fit)
{
  guint n, told = 0;
  const TsFitMove *moves = ts_paint_fit_get_moves (fit, &n);

  for (guint i = 0; i < n; i++)
    if (moves[i].moved >= MOVED_LEAST)
      g_string_append_printf (
        text, _ ("%s%s moved by dE %.0f, now within about dE %.0f"), told++ > 0 ? "; " : "\n",
        ts_paint_get_name (ts_paint_set_get_paint (ts_paint_fit_get_set (fit), moves[i].paint)),
        moves[i].moved, ceil (moves[i].error - 0.05));
  if (told > 0)
    g_string_append_c (text, '.');
  else
    g_string_append (text, _ ("\nNo paint moved by more than can be seen."));
}

static char *
report_to_words (const TsPaintFit *fit)
{
  const TsFitReport *report = ts_paint_fit_get_report (fit);
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, _ ("The swatches are predicted to dE %.1f; before it was %.1f."),
                          report->after_median, report->before_median);
  if (report->n_left_out > 0)
    g_string_append_printf (text, _ (" Mixes left out of the fit: dE %.1f, 9 of 10 below %.1f."),
                            report->left_out_median, report->left_out_90);
  else
    g_string_append (text, _ (" How well other mixes are predicted cannot be told from so few."));
  append_moves (text, fit);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
on_remove (GtkButton *button, TsPaintLearn *self)
{
  guint index = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "swatch"));

  ts_document_remove_swatch (ts_view_get_document (TS_VIEW (self)), index);
}

/* What the last fit says of the swatch, or %NULL. */
static const TsFitResidual *
find_residual (TsPaintLearn *self, guint swatch)
{
  const TsPaintFit *fit =
    self->calibration != NULL ? ts_calibration_get_fit (self->calibration) : NULL;
  guint n = 0;
  const TsFitResidual *residuals = fit != NULL ? ts_paint_fit_get_residuals (fit, &n) : NULL;

  for (guint i = 0; i < n; i++)
    if (ts_calibration_get_swatch (self->calibration, i) == swatch)
      return &residuals[i];
  return NULL;
}

/* "2 Lamp Black + 1 Deep Blue, 1 coat" */
static char *
swatch_to_words (TsPaintSet *set, guint index, gboolean *counts)
{
  TsSwatch swatch;
  TsRecipe recipe = { 0 };
  g_autofree char *mix = NULL;

  *counts = ts_paint_set_get_swatch (set, index, &swatch);
  if (!*counts)
    return g_strdup (ts_paint_set_get_swatch_text (set, index));
  recipe.n_paints = MIN (swatch.n_amounts, TS_RECIPE_MAX_PAINTS);
  for (guint i = 0; i < recipe.n_paints; i++)
    {
      recipe.paint[i] = swatch.amounts[i].paint;
      recipe.parts[i] = (guint) lround (swatch.amounts[i].parts);
    }
  mix = ts_recipe_to_text (set, &recipe);
  if (!isfinite (swatch.coats))
    return g_steal_pointer (&mix);
  return g_strdup_printf (
    ngettext ("%s, %.0f coat", "%s, %.0f coats", (unsigned long) lround (swatch.coats)), mix,
    swatch.coats);
}

static char *
judge_swatch (const TsFitResidual *residual, gboolean counts)
{
  if (!counts)
    return g_strdup (_ ("left out: a paint of it is gone"));
  if (residual == NULL)
    return g_strdup (_ ("not yet used"));
  if (residual->suspect)
    return g_strdup_printf (_ ("disagrees by dE %.0f: measure it or read its recipe again"),
                            residual->after);
  return g_strdup_printf (_ ("off by dE %.1f"), residual->after);
}

static GtkWidget *
new_row (TsPaintLearn *self, TsPaintSet *set, guint index)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *about = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *mark = ts_mark_icon_new ();
  GtkWidget *remove = gtk_button_new_with_label (_ ("Remove")), *label, *judged;
  const TsFitResidual *residual = find_residual (self, index);
  gboolean counts, bad;
  g_autofree char *words = swatch_to_words (set, index, &counts);
  g_autofree char *verdict = judge_swatch (residual, counts);

  bad = !counts || (residual != NULL && residual->suspect);
  label = gtk_label_new (words);
  judged = gtk_label_new (verdict);
  gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
  gtk_label_set_xalign (GTK_LABEL (judged), 0.0F);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap (GTK_LABEL (judged), TRUE);
  gtk_widget_add_css_class (label, "recipe");
  gtk_widget_add_css_class (judged, "small");
  gtk_widget_add_css_class (judged, bad ? "problem" : "dim");
  gtk_widget_set_hexpand (about, TRUE);
  ts_mark_icon_set (TS_MARK_ICON (mark), !counts ? TS_MARK_OUT_OF_REACH
                                         : bad   ? TS_MARK_CROSS
                                                 : TS_MARK_TICK);
  gtk_widget_set_opacity (mark, residual != NULL || !counts ? 1.0 : 0.0);
  g_object_set_data (G_OBJECT (remove), "swatch", GUINT_TO_POINTER (index));
  g_signal_connect (remove, "clicked", G_CALLBACK (on_remove), self);
  gtk_widget_set_valign (remove, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (about), label);
  gtk_box_append (GTK_BOX (about), judged);
  gtk_box_append (GTK_BOX (box), mark);
  gtk_box_append (GTK_BOX (box), about);
  gtk_box_append (GTK_BOX (box), remove);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_widget_set_focusable (row, FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, words,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, verdict, -1);
  return row;
}

static void
show_report (TsPaintLearn *self, guint n_swatches)
{
  const TsPaintFit *fit =
    self->calibration != NULL ? ts_calibration_get_fit (self->calibration) : NULL;
  const char *problem =
    self->calibration != NULL ? ts_calibration_get_problem (self->calibration) : NULL;
  g_autofree char *words = NULL;

  if (problem != NULL)
    words = g_strdup (problem);
  else if (fit != NULL)
    words = report_to_words (fit);
  else if (n_swatches == 0)
    words = g_strdup (_ ("None yet. A mix that you have painted, dried and photographed tells more "
                         "about its paints than their single swatches do."));
  else
    words = g_strdup (_ ("“Refine the paints” makes them agree with these swatches."));
  gtk_label_set_label (GTK_LABEL (self->report), words);
}

static void
show_all (TsPaintLearn *self)
{
  TsPaintSet *set = ts_document_get_paints (ts_view_get_document (TS_VIEW (self)));
  guint n = set != NULL ? ts_paint_set_get_n_swatches (set) : 0;
  gboolean running = self->calibration != NULL && ts_calibration_is_running (self->calibration);
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), row);
  for (guint i = 0; i < n; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), new_row (self, set, i));
  gtk_widget_set_visible (self->list, n > 0);
  gtk_widget_set_visible (self->calibrate, n > 0 && !running);
  gtk_widget_set_visible (self->running, running);
  show_report (self, n);
}

static void
on_calibration (TsPaintLearn *self)
{
  gboolean running = ts_calibration_is_running (self->calibration);

  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress),
                                 ts_calibration_get_progress (self->calibration));
  /* Rows need not be made anew for news of progress. */
  if (running && gtk_widget_get_visible (self->running))
    return;
  show_all (self);
}

static void
on_stop (TsPaintLearn *self)
{
  if (self->calibration != NULL)
    ts_calibration_stop (self->calibration);
}

/**
 * ts_paint_learn_start:
 * @self: the panel
 *
 * Refines the paints by all their test swatches; progress, end and what came of it are shown.
 */
void
ts_paint_learn_start (TsPaintLearn *self)
{
  g_return_if_fail (TS_IS_PAINT_LEARN (self));

  if (self->calibration == NULL)
    {
      self->calibration = ts_calibration_new (ts_view_get_document (TS_VIEW (self)));
      g_signal_connect_swapped (self->calibration, "changed", G_CALLBACK (on_calibration), self);
    }
  if (!ts_calibration_start (self->calibration))
    show_all (self);
}

static void
ts_paint_learn_update (TsView *view, TsChange change)
{
  TsPaintLearn *self = TS_PAINT_LEARN (view);
  TsPaintSet *set = ts_document_get_paints (ts_view_get_document (view));

  if (set == self->shown && change != TS_CHANGE_ALL)
    return;
  g_clear_pointer (&self->shown, ts_paint_set_unref);
  self->shown = set != NULL ? ts_paint_set_ref (set) : NULL;
  gtk_label_set_label (GTK_LABEL (self->next), "");
  show_all (self);
}

static void
ts_paint_learn_dispose (GObject *object)
{
  TsPaintLearn *self = TS_PAINT_LEARN (object);

  if (self->calibration != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->calibration, self);
      ts_calibration_stop (self->calibration);
    }
  g_clear_object (&self->calibration);
  if (self->teaching != NULL)
    g_cancellable_cancel (self->teaching);
  g_clear_object (&self->teaching);
  g_clear_pointer (&self->shown, ts_paint_set_unref);
  G_OBJECT_CLASS (ts_paint_learn_parent_class)->dispose (object);
}

static void
ts_paint_learn_class_init (TsPaintLearnClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_paint_learn_dispose;
  TS_VIEW_CLASS (class)->update = ts_paint_learn_update;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-paint-learn.ui");
  gtk_widget_class_bind_template_child (widget_class, TsPaintLearn, box);
  gtk_widget_class_bind_template_child (widget_class, TsPaintLearn, calibrate);
  gtk_widget_class_bind_template_child (widget_class, TsPaintLearn, running);
  gtk_widget_class_bind_template_child (widget_class, TsPaintLearn, progress);
  gtk_widget_class_bind_template_child (widget_class, TsPaintLearn, report);
  gtk_widget_class_bind_template_child (widget_class, TsPaintLearn, list);
  gtk_widget_class_bind_template_child (widget_class, TsPaintLearn, next);
  gtk_widget_class_bind_template_child (widget_class, TsPaintLearn, teach);
  gtk_widget_class_bind_template_callback (widget_class, ts_paint_learn_start);
  gtk_widget_class_bind_template_callback (widget_class, on_stop);
  gtk_widget_class_bind_template_callback (widget_class, on_teach);
}

static void
ts_paint_learn_init (TsPaintLearn *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
