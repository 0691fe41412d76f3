/* ts-reach-view.c: a step that no mix reaches: how far, which way, and which kind of paint would
 * help
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-reach-view.h"

#include <glib/gi18n.h>

#include "palette/ts-paint-advice.h"
#include "plan/ts-pipeline.h"
#include "gui/widgets/ts-mark-icon.h"
#include "gui/widgets/ts-strip.h"

#define STRIP_WIDTH 54
#define STRIP_HEIGHT 36
#define STRIP_EDGE 4

struct _TsReachView
{
  TsView parent_instance;

  int step;
  GCancellable *cancellable; /* owned, NULL: no advice is being looked for */
  TsSurfaceResult *base;     /* owned, NULL: what the advice is for */
  GArray *advice;            /* owned, NULL: TsPaintAdvice */
  TsStrip *helpful;          /* child */

  /* Template children */
  GtkWidget *title_box, *title, *text, *advice_box, *advice_label;
};

/* What the thread works from: the steps of one stair that are out of reach. */
typedef struct
{
  TsPlan *plan; /* owned */
  guint n;
  TsLab wanted[TS_STAIR_MAX_STEPS];
  double nearest[TS_STAIR_MAX_STEPS]; /* CIEDE2000 */
} AdviceJob;

G_DEFINE_FINAL_TYPE (TsReachView, ts_reach_view, TS_TYPE_VIEW)

static void
advice_job_free (gpointer data)
{
  AdviceJob *job = data;

  ts_plan_unref (job->plan);
  g_free (job);
}

static void
stop (TsReachView *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
forget (TsReachView *self)
{
  stop (self);
  g_clear_pointer (&self->base, ts_surface_result_unref);
  g_clear_pointer (&self->advice, g_array_unref);
}

/* One sentence for each kind of paint, the most helpful first. */
static char *
dup_advice (TsReachView *self, guint n_targets)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < self->advice->len; i++)
    {
      g_autofree char *one =
        ts_paint_advice_to_text (&g_array_index (self->advice, TsPaintAdvice, i), n_targets);

      g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", one);
    }
  if (text->len == 0)
    g_string_append (text, _ ("No single kind of paint would bring it much nearer."));
  return g_string_free (text, FALSE);
}

static guint
count_out (TsSurfaceResult *result)
{
  guint n = 0;

  for (guint i = 0; i < ts_surface_result_get_n_steps (result); i++)
    n += ts_surface_result_get_reach (result, i) != TS_REACH_WITHIN;
  return n;
}

static void
show_advice (TsReachView *self)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  gboolean helps = self->advice != NULL && self->advice->len > 0;
  g_autofree char *text = NULL;

  if (self->advice != NULL)
    text = dup_advice (self, count_out (result));
  else
    text = g_strdup (self->cancellable != NULL ? _ ("Looking for a kind of paint that would help…")
                                               : "");
  gtk_label_set_label (GTK_LABEL (self->advice_label), text);
  gtk_widget_set_visible (GTK_WIDGET (self->helpful), helps);
  if (!helps)
    return;
  ts_strip_set_colours (self->helpful, &g_array_index (self->advice, TsPaintAdvice, 0).masstone, 1,
                        1);
  ts_strip_describe (self->helpful, _ ("Paint that would help"), text);
}

static void
advice_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  AdviceJob *job = task_data;
  g_auto (TsRuledLimits) ruled = { 0 };
  GArray *advice = NULL;
  GError *error = NULL;

  if (ts_pipeline_limits (job->plan, &ruled, &error))
    advice = ts_paint_advice_find (job->plan->paints, &ruled.limits, job->wanted, job->nearest,
                                   job->n, cancellable, &error);
  if (advice != NULL)
    g_task_return_pointer (task, advice, (GDestroyNotify) g_array_unref);
  else
    g_task_return_error (task, error);
}

static void
on_advised (GObject *source, GAsyncResult *result, gpointer data)
{
  TsReachView *self = TS_REACH_VIEW (source);
  g_autoptr (GError) error = NULL;
  GArray *advice = g_task_propagate_pointer (G_TASK (result), &error);

  /* Other advice may have been asked for since. */
  if (self->cancellable != g_task_get_cancellable (G_TASK (result)))
    {
      g_clear_pointer (&advice, g_array_unref);
      return;
    }
  g_clear_object (&self->cancellable);
  self->advice = advice;
  if (ts_view_get_result (TS_VIEW (self)) != NULL)
    show_advice (self);
}

/* For the whole stair: paints are bought for all of it. */
static void
look_for_advice (TsReachView *self, TsSurfaceResult *result)
{
  g_autoptr (GTask) task = NULL;
  AdviceJob *job;

  if (self->base != NULL && ts_surface_result_wants_same (self->base, result))
    return;
  forget (self);
  self->base = ts_surface_result_ref (result);
  job = g_new0 (AdviceJob, 1);
  job->plan = ts_plan_ref ((TsPlan *) ts_document_get_plan (ts_view_get_document (TS_VIEW (self))));
  for (guint i = 0; i < ts_surface_result_get_n_steps (result); i++)
    {
      const TsRecipe *recipe = ts_surface_result_get_recipe (result, i);

      if (ts_surface_result_get_reach (result, i) == TS_REACH_WITHIN || recipe == NULL)
        continue;
      job->wanted[job->n] = ts_stair_get_step (ts_surface_result_get_stair (result), i)->wanted;
      job->nearest[job->n++] = recipe->delta_e;
    }
  self->cancellable = g_cancellable_new ();
  task = g_task_new (self, self->cancellable, on_advised, NULL);
  g_task_set_task_data (task, job, advice_job_free);
  g_task_run_in_thread (task, advice_thread);
}

static void
show_shortfall (TsReachView *self, TsSurfaceResult *result, const TsRecipe *recipe)
{
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (TS_VIEW (self)));
  TsLab wanted =
    ts_stair_get_step (ts_surface_result_get_stair (result), (guint) self->step)->wanted;
  TsShortfall shortfall = ts_shortfall_of (wanted, recipe, plan->mix.reach);
  g_autofree char *title = g_strdup_printf (_ ("Step %d is out of reach"), self->step + 1);
  g_autofree char *text = ts_shortfall_to_text (&shortfall);

  gtk_label_set_label (GTK_LABEL (self->title), title);
  gtk_label_set_label (GTK_LABEL (self->text), text);
}

static void
ts_reach_view_update (TsView *view, TsChange change)
{
  ts_reach_view_show (TS_REACH_VIEW (view), TS_REACH_VIEW (view)->step);
}

static void
ts_reach_view_dispose (GObject *object)
{
  forget (TS_REACH_VIEW (object));
  G_OBJECT_CLASS (ts_reach_view_parent_class)->dispose (object);
}

static void
ts_reach_view_class_init (TsReachViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_reach_view_dispose;
  TS_VIEW_CLASS (class)->update = ts_reach_view_update;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-reach-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TsReachView, title_box);
  gtk_widget_class_bind_template_child (widget_class, TsReachView, title);
  gtk_widget_class_bind_template_child (widget_class, TsReachView, text);
  gtk_widget_class_bind_template_child (widget_class, TsReachView, advice_label);
  gtk_widget_class_bind_template_child (widget_class, TsReachView, advice_box);
}

static void
ts_reach_view_init (TsReachView *self)
{
  GtkWidget *mark = ts_mark_icon_new ();

  self->step = -1;
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_mark_icon_set (TS_MARK_ICON (mark), TS_MARK_OUT_OF_REACH);
  gtk_box_prepend (GTK_BOX (self->title_box), mark);
  self->helpful = TS_STRIP (ts_strip_new (STRIP_WIDTH, STRIP_HEIGHT, STRIP_EDGE));
  gtk_widget_set_valign (GTK_WIDGET (self->helpful), GTK_ALIGN_START);
  ts_strip_describe (self->helpful, _ ("Paint that would help"), _ ("no step"));
  gtk_box_prepend (GTK_BOX (self->advice_box), GTK_WIDGET (self->helpful));
}

/**
 * ts_reach_view_show:
 * @self: the view
 * @step: a step of the selected surface, or -1
 *
 * Shows how far it is out of reach and looks for advice on another thread; hides where it is
 * within.
 */
void
ts_reach_view_show (TsReachView *self, int step)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  const TsRecipe *recipe = NULL;
  gboolean out;

  self->step = step;
  if (result != NULL && step >= 0 && step < (int) ts_surface_result_get_n_steps (result))
    recipe = ts_surface_result_get_recipe (result, (guint) step);
  out = recipe != NULL && ts_surface_result_get_reach (result, (guint) step) != TS_REACH_WITHIN;
  gtk_widget_set_visible (GTK_WIDGET (self), out);
  if (!out)
    {
      stop (self);
      return;
    }
  show_shortfall (self, result, recipe);
  look_for_advice (self, result);
  show_advice (self);
}
