/* ts-brief-detail.c: one line of the brief at large: why it fails, and what would pass
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/brief/ts-brief-detail.h"

#include <glib/gi18n.h>
#include <math.h>

#include "palette/ts-paint-advice.h"
#include "plan/ts-pipeline.h"
#include "gui/brief/ts-brief-spot.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-strip.h"

#define STRIP_HEIGHT 132
#define STRIP_EDGE 12
#define OFFER_WIDTH 54
#define OFFER_HEIGHT 40
#define OFFER_EDGE 4
#define N_PARTS 3 /* of a colour */

struct _TsBriefDetail
{
  TsView parent_instance;

  int line;
  gboolean updating;         /* the line is shown, not changed */
  GCancellable *cancellable; /* owned, NULL: nothing is being looked for */
  TsPlan *base;              /* owned, NULL: of the plan that the offers are for */
  TsRecipe mix;              /* that they are beside */
  TsLab asked;
  GArray *offers; /* owned, NULL: TsBriefOffer */
  char *advice;   /* owned, NULL: which kind of paint would help */

  GtkWidget *strip, *part[N_PARTS]; /* children */

  /* Template children */
  GtkWidget *scroller, *name, *strip_box, *caption, *why, *asked_box, *offers_title, *offers_box;
  GtkWidget *looking, *measured_line, *measured, *measured_words, *nearest;
  TsBriefSpot *spot;
  GtkAdjustment *tolerance, *L, *a, *b;
  GtkWidget *tolerance_spin;
};

/* What the thread works from, and what it finds. */
typedef struct
{
  TsPlan *plan;    /* owned */
  GArray *choices; /* owned, NULL */
  TsBriefResult result;
  GArray *offers; /* owned */
  char *advice;   /* owned */
} Job;

G_DEFINE_FINAL_TYPE (TsBriefDetail, ts_brief_detail, TS_TYPE_VIEW)

static void
job_free (gpointer data)
{
  Job *job = data;

  ts_plan_unref (job->plan);
  g_clear_pointer (&job->choices, g_array_unref);
  g_clear_pointer (&job->offers, g_array_unref);
  g_free (job->advice);
  g_free (job);
}

static void
stop (TsBriefDetail *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
forget (TsBriefDetail *self)
{
  stop (self);
  g_clear_pointer (&self->base, ts_plan_unref);
  g_clear_pointer (&self->offers, g_array_unref);
  g_clear_pointer (&self->advice, g_free);
}

static const TsPlan *
get_plan (TsBriefDetail *self)
{
  return ts_document_get_plan (ts_view_get_document (TS_VIEW (self)));
}

static TsBriefResult
get_result (TsBriefDetail *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));

  return ts_brief_result_of (ts_document_get_plan (document), (guint) self->line,
                             ts_document_get_brief_choices (document, (guint) self->line));
}

static GtkWidget *
new_label (const char *text, const char *class, gboolean dim)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, class);
  if (dim)
    gtk_widget_add_css_class (label, "dim");
  return label;
}

static void
on_use (GtkWidget *button, TsBriefDetail *self)
{
  guint index = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "offer"));

  if (self->offers != NULL && index < self->offers->len)
    ts_document_lock_brief_line (ts_view_get_document (TS_VIEW (self)), (guint) self->line,
                                 &g_array_index (self->offers, TsBriefOffer, index).recipe);
}

static GtkWidget *
new_offer (TsBriefDetail *self, guint index)
{
  const TsBriefOffer *offer = &g_array_index (self->offers, TsBriefOffer, index);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *strip = ts_strip_new (OFFER_WIDTH, OFFER_HEIGHT, OFFER_EDGE);
  GtkWidget *use = gtk_button_new_with_label (_ ("Use"));
  TsLab pair[2] = { self->asked, offer->recipe.lab };
  g_autofree char *recipe = ts_recipe_to_text (get_plan (self)->paints, &offer->recipe);
  g_autofree char *said = ts_format_lab (offer->recipe.lab);
  TsMark mark;
  g_autofree char *off = g_strdup_printf (
    _ ("%s, dE %.1f"), ts_mark_of_brief (offer->verdict, &mark), offer->recipe.delta_e);
  g_autofree char *name = g_strdup_printf (_ ("Use %s"), recipe);

  ts_strip_set_colours (TS_STRIP (strip), pair, 1, 2);
  ts_strip_describe (TS_STRIP (strip), recipe, said);
  gtk_widget_set_valign (strip, GTK_ALIGN_CENTER);
  if (offer->one_more)
    gtk_box_append (GTK_BOX (words), new_label (_ ("With one paint more"), "heading", FALSE));
  gtk_box_append (GTK_BOX (words), new_label (recipe, "recipe", FALSE));
  gtk_box_append (GTK_BOX (words), new_label (off, "small", TRUE));
  gtk_widget_set_hexpand (words, TRUE);
  gtk_widget_set_valign (use, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (use), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data (G_OBJECT (use), "offer", GUINT_TO_POINTER (index));
  g_signal_connect (use, "clicked", G_CALLBACK (on_use), self);
  gtk_box_append (GTK_BOX (row), strip);
  gtk_box_append (GTK_BOX (row), words);
  gtk_box_append (GTK_BOX (row), use);
  return row;
}

static void
show_offers (TsBriefDetail *self)
{
  guint n = self->offers != NULL ? self->offers->len : 0;
  g_autofree char *text = NULL;
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (self->offers_box)) != NULL)
    gtk_box_remove (GTK_BOX (self->offers_box), row);
  for (guint i = 0; i < n; i++)
    gtk_box_append (GTK_BOX (self->offers_box), new_offer (self, i));
  if (self->cancellable != NULL)
    text = g_strdup (_ ("Looking for other mixes…"));
  else
    text = g_strconcat (
      n == 0 && self->offers != NULL ? _ ("Nothing nearer with these paints.") : "",
      n == 0 && self->advice != NULL ? "\n" : "", self->advice != NULL ? self->advice : "", NULL);
  gtk_label_set_label (GTK_LABEL (self->looking), text);
  gtk_widget_set_visible (self->looking, *text != '\0');
}

/* The kinds of paint that would bring a failing line nearer. */
static char *
find_advice (const Job *job, GCancellable *cancellable)
{
  g_auto (TsRuledLimits) ruled = { 0 };
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GArray) advice = NULL;

  if (job->result.verdict != TS_BRIEF_FAILS || !ts_pipeline_limits (job->plan, &ruled, NULL))
    return NULL;
  advice = ts_paint_advice_find (job->plan->paints, &ruled.limits, &job->result.line->lab,
                                 &job->result.recipe.delta_e, 1, cancellable, NULL);
  for (guint i = 0; advice != NULL && i < advice->len; i++)
    {
      g_autofree char *one = ts_paint_advice_to_text (&g_array_index (advice, TsPaintAdvice, i), 1);

      g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", one);
    }
  return text->len > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

static void
look_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  Job *job = task_data;
  GError *error = NULL;

  job->offers = ts_brief_result_offers (&job->result, job->plan, job->choices, cancellable, &error);
  if (job->offers == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  job->advice = find_advice (job, cancellable);
  g_task_return_boolean (task, TRUE);
}

static void
on_looked (GObject *source, GAsyncResult *result, gpointer data)
{
  TsBriefDetail *self = TS_BRIEF_DETAIL (source);
  Job *job = g_task_get_task_data (G_TASK (result));

  /* Others may have been asked for since. */
  if (self->cancellable != g_task_get_cancellable (G_TASK (result)))
    return;
  g_clear_object (&self->cancellable);
  if (g_task_propagate_boolean (G_TASK (result), NULL))
    {
      self->offers = g_steal_pointer (&job->offers);
      self->advice = g_steal_pointer (&job->advice);
    }
  if (ts_view_get_document (TS_VIEW (self)) != NULL)
    show_offers (self);
}

static void
look (TsBriefDetail *self, const TsBriefResult *result)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const GArray *choices = ts_document_get_brief_choices (document, (guint) self->line);
  const TsPlan *plan = get_plan (self);
  const TsLab *lab = &result->line->lab;
  g_autoptr (GTask) task = NULL;
  Job *job;

  if (self->base != NULL && ts_pipeline_is_same_search (self->base, plan) &&
      ts_recipe_is_same (&self->mix, &result->recipe) && !(fabs (self->asked.L - lab->L) > 0.0) &&
      !(fabs (self->asked.a - lab->a) > 0.0) && !(fabs (self->asked.b - lab->b) > 0.0))
    return;
  forget (self);
  job = g_new0 (Job, 1);
  job->plan = ts_plan_ref ((TsPlan *) plan);
  job->choices = choices != NULL ? g_array_copy ((GArray *) choices) : NULL;
  job->result = *result;
  self->base = ts_plan_ref ((TsPlan *) plan);
  self->mix = result->recipe;
  self->asked = *lab;
  self->cancellable = g_cancellable_new ();
  task = g_task_new (self, self->cancellable, on_looked, NULL);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, look_thread);
}

static void
show_mix (TsBriefDetail *self, const TsBriefResult *result)
{
  TsLab pair[2] = { result->line->lab, result->recipe.lab };
  g_autofree char *one = ts_format_lab (pair[0]);
  g_autofree char *two = result->has_recipe ? ts_format_lab (pair[1]) : g_strdup ("");
  g_autofree char *words = g_strdup_printf (_ ("%s, and %s"), one, two);
  g_autofree char *why = ts_brief_result_why (result);
  g_autofree char *caption =
    result->has_recipe
      ? g_strdup_printf (_ ("asked above, mixed below; within about dE %.0f"), result->recipe.error)
      : g_strdup ("");

  ts_strip_set_colours (TS_STRIP (self->strip), pair, 1, result->has_recipe ? 2 : 1);
  ts_strip_describe (TS_STRIP (self->strip), _ ("Asked and mixed"), words);
  gtk_label_set_label (GTK_LABEL (self->caption), caption);
  gtk_label_set_label (GTK_LABEL (self->why), why);
  gtk_widget_set_visible (self->nearest, result->locked);
}

static void
show_measured (TsBriefDetail *self, const TsBriefLine *line)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsImage *image = line->radius > 0.0 ? ts_document_get_image (document, line->picture) : NULL;
  const TsPicture *picture;
  g_autofree char *file = NULL;
  g_autofree char *words = NULL;

  gtk_widget_set_visible (self->measured, image != NULL);
  gtk_widget_set_visible (self->measured_line, image != NULL);
  if (image == NULL)
    return;
  picture = ts_plan_get_picture (get_plan (self), line->picture);
  file = g_filename_display_basename (picture->path);
  if (picture->correction.kind == TS_CORRECTION_NONE)
    words =
      g_strdup_printf (_ ("%s, uncorrected photograph: the colour that is asked for may itself "
                          "be off. Ask the client to confirm it."),
                       file);
  else
    words = g_strdup_printf (_ ("%s, as corrected; it is measured again when the correction is "
                                "another."),
                             file);
  gtk_label_set_label (GTK_LABEL (self->measured_words), words);
  ts_brief_spot_show (self->spot, image, line);
}

static void
show_line (TsBriefDetail *self, const TsBriefLine *line)
{
  self->updating = TRUE;
  /* What is being typed stays. */
  if (*gtk_editable_get_text (GTK_EDITABLE (self->name)) == '\0' ||
      !gtk_widget_has_focus (GTK_WIDGET (gtk_editable_get_delegate (GTK_EDITABLE (self->name)))))
    gtk_editable_set_text (GTK_EDITABLE (self->name), line->name);
  gtk_adjustment_set_value (self->tolerance, line->tolerance);
  gtk_adjustment_set_value (self->L, line->lab.L);
  gtk_adjustment_set_value (self->a, line->lab.a);
  gtk_adjustment_set_value (self->b, line->lab.b);
  self->updating = FALSE;
}

static void
ts_brief_detail_update (TsView *view, TsChange change)
{
  TsBriefDetail *self = TS_BRIEF_DETAIL (view);
  const TsPlan *plan = get_plan (self);
  TsBriefResult result;

  if (plan == NULL || self->line < 0 || self->line >= (int) plan->brief->len)
    {
      forget (self);
      return;
    }
  if (!(change & (TS_CHANGE_PLAN | TS_CHANGE_RESULTS | TS_CHANGE_PICTURE)) ||
      !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  result = get_result (self);
  show_line (self, result.line);
  show_mix (self, &result);
  show_measured (self, result.line);
  if (result.has_recipe)
    look (self, &result);
  else
    forget (self);
  show_offers (self);
}

static void
ts_brief_detail_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (ts_brief_detail_parent_class)->map (widget);
  if (ts_view_get_document (TS_VIEW (widget)) != NULL)
    ts_brief_detail_update (TS_VIEW (widget), TS_CHANGE_ALL);
}

/* A number that is shown rounded is not changed by that. */
static double
edited (GtkAdjustment *adjustment, double before)
{
  double value = gtk_adjustment_get_value (adjustment);

  return fabs (value - before) < 0.05 ? before : value;
}

/* A name with an sRGB code in it says the colour too. */
static gboolean
take_code (TsBriefDetail *self, const TsBriefLine *line)
{
  TsBriefEntry *entry =
    ts_brief_entry_from_words (gtk_editable_get_text (GTK_EDITABLE (self->name)));
  g_autofree char *name = NULL;

  if (entry == NULL)
    return FALSE;
  name = g_strdup (*entry->name != '\0' ? entry->name : line->name);
  self->updating = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->name), name);
  self->updating = FALSE;
  ts_document_set_brief_line (ts_view_get_document (TS_VIEW (self)), (guint) self->line, name,
                              entry->lab, line->tolerance);
  ts_brief_entry_free (entry);
  return TRUE;
}

static void
on_edited (TsBriefDetail *self)
{
  const TsPlan *plan = get_plan (self);
  const TsBriefLine *line;
  TsLab lab;

  if (self->updating || plan == NULL || self->line < 0 || self->line >= (int) plan->brief->len)
    return;
  line = ts_plan_get_brief_line (plan, (guint) self->line);
  if (take_code (self, line))
    return;
  lab = (TsLab){ edited (self->L, line->lab.L), edited (self->a, line->lab.a),
                 edited (self->b, line->lab.b) };
  ts_document_set_brief_line (ts_view_get_document (TS_VIEW (self)), (guint) self->line,
                              gtk_editable_get_text (GTK_EDITABLE (self->name)), lab,
                              edited (self->tolerance, line->tolerance));
}

static void
on_nearest (TsBriefDetail *self)
{
  ts_document_lock_brief_line (ts_view_get_document (TS_VIEW (self)), (guint) self->line, NULL);
}

static void
ts_brief_detail_dispose (GObject *object)
{
  forget (TS_BRIEF_DETAIL (object));
  G_OBJECT_CLASS (ts_brief_detail_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, scroller);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, name);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, strip_box);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, caption);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, why);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, asked_box);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, offers_title);
  gtk_widget_class_bind_template_child_full (widget_class, "offers", FALSE,
                                             G_STRUCT_OFFSET (TsBriefDetail, offers_box));
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, looking);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, measured_line);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, measured);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, measured_words);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, nearest);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, spot);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, tolerance);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, tolerance_spin);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, L);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, a);
  gtk_widget_class_bind_template_child (widget_class, TsBriefDetail, b);
}

static void
ts_brief_detail_class_init (TsBriefDetailClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_brief_detail_dispose;
  widget_class->map = ts_brief_detail_map;
  TS_VIEW_CLASS (class)->update = ts_brief_detail_update;
  g_type_ensure (TS_TYPE_BRIEF_SPOT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-brief-detail.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, on_nearest);
}

/* A colour's three numbers, narrow enough for one line. */
static void
add_parts (TsBriefDetail *self)
{
  GtkAdjustment *adjustments[N_PARTS] = { self->L, self->a, self->b };
  const char *const signs[N_PARTS] = { "L*", "a*", "b*" };
  const char *const names[N_PARTS] = { _ ("Asked for, L*"), _ ("Asked for, a*"),
                                       _ ("Asked for, b*") };

  for (guint i = 0; i < N_PARTS; i++)
    {
      self->part[i] = gtk_spin_button_new (adjustments[i], 1.0, 0);
      gtk_editable_set_width_chars (GTK_EDITABLE (self->part[i]), 3);
      gtk_widget_add_css_class (self->part[i], "narrow");
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->part[i]), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                      names[i], -1);
      gtk_box_append (GTK_BOX (self->asked_box), new_label (signs[i], "body", TRUE));
      gtk_box_append (GTK_BOX (self->asked_box), self->part[i]);
    }
}

static void
on_name_left (GtkEventControllerFocus *focus, TsBriefDetail *self)
{
  on_edited (self);
}

static void
ts_brief_detail_init (TsBriefDetail *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkAdjustment *adjustments[4];

  self->line = -1;
  self->updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->strip = ts_strip_new (-1, STRIP_HEIGHT, STRIP_EDGE);
  gtk_widget_set_hexpand (self->strip, TRUE);
  ts_strip_describe (TS_STRIP (self->strip), _ ("Asked and mixed"), "");
  gtk_box_append (GTK_BOX (self->strip_box), self->strip);
  add_parts (self);
  adjustments[0] = self->L;
  adjustments[1] = self->a;
  adjustments[2] = self->b;
  adjustments[3] = self->tolerance;
  for (guint i = 0; i < G_N_ELEMENTS (adjustments); i++)
    g_signal_connect_swapped (adjustments[i], "value-changed", G_CALLBACK (on_edited), self);
  g_signal_connect_swapped (self->name, "activate", G_CALLBACK (on_edited), self);
  g_signal_connect (focus, "leave", G_CALLBACK (on_name_left), self);
  gtk_widget_add_controller (self->name, focus);
  self->updating = FALSE;
}

/**
 * ts_brief_detail_show:
 * @self: the panel
 * @line: index of a line of the brief, or -1
 *
 * Shows that line; hides where there is none.
 */
void
ts_brief_detail_show (TsBriefDetail *self, int line)
{
  g_return_if_fail (TS_IS_BRIEF_DETAIL (self));

  if (self->line != line)
    {
      forget (self);
      gtk_editable_set_text (GTK_EDITABLE (self->name), "");
    }
  self->line = line;
  gtk_widget_set_visible (GTK_WIDGET (self), line >= 0);
  if (ts_view_get_document (TS_VIEW (self)) != NULL)
    ts_brief_detail_update (TS_VIEW (self), TS_CHANGE_ALL);
}

/**
 * ts_brief_detail_keep:
 * @self: the panel
 *
 * Takes what is being typed into the line that is shown, before another is.
 */
void
ts_brief_detail_keep (TsBriefDetail *self)
{
  g_return_if_fail (TS_IS_BRIEF_DETAIL (self));

  for (guint i = 0; i < N_PARTS; i++)
    gtk_spin_button_update (GTK_SPIN_BUTTON (self->part[i]));
  gtk_spin_button_update (GTK_SPIN_BUTTON (self->tolerance_spin));
  on_edited (self);
}

/**
 * ts_brief_detail_rename:
 * @self: the panel
 *
 * Lets the name be typed.
 */
void
ts_brief_detail_rename (TsBriefDetail *self)
{
  g_return_if_fail (TS_IS_BRIEF_DETAIL (self));

  gtk_widget_grab_focus (self->name);
  gtk_editable_select_region (GTK_EDITABLE (self->name), 0, -1);
}
