/* ts-brief-pane.c: the colours a client asked for, and what is mixed for each
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/brief/ts-brief-pane.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-file.h"
#include "gui/brief/ts-brief-detail.h"
#include "gui/widgets/ts-file-dialogs.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-mark-icon.h"
#include "gui/card/ts-print.h"
#include "gui/widgets/ts-strip.h"

#define RESULT_WIDTH 150

/* Of a line that is typed, before its numbers are. */
static const TsLab new_colour = { 50.0, 0.0, 0.0 };

struct _TsBriefPane
{
  TsView parent_instance;

  int chosen;        /* index of a line in the plan, or -1 */
  guint n_lines;     /* of the plan, as shown */
  gboolean picked;   /* the painter has chosen it; else it is the first */
  gboolean updating; /* rows are put there, not chosen */
  guint filling;     /* source id: rows are to be made anew, or 0 */

  /* Template children */
  GtkWidget *box, *summary, *list, *stack, *foot;
  TsBriefDetail *detail;
};

G_DEFINE_FINAL_TYPE (TsBriefPane, ts_brief_pane, TS_TYPE_VIEW)

static TsBriefLine *
new_line (const TsBriefEntry *entry)
{
  return ts_brief_line_new (entry->name, entry->lab, entry->tolerance);
}

/* Takes @entries; lines that were there stay. */
static void
add_entries (TsBriefPane *self, GPtrArray *entries)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const TsPlan *plan = ts_document_get_plan (document);
  GPtrArray *lines = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_brief_line_free);

  for (guint i = 0; i < plan->brief->len; i++)
    g_ptr_array_add (lines, ts_brief_line_copy (ts_plan_get_brief_line (plan, i)));
  for (guint i = 0; i < entries->len; i++)
    g_ptr_array_add (lines, new_line (g_ptr_array_index (entries, i)));
  ts_document_set_brief (document, lines, _ ("Read a Brief"));
  g_ptr_array_unref (entries);
}

static void
report (TsBriefPane *self, const char *text)
{
  g_signal_emit_by_name (ts_view_get_document (TS_VIEW (self)), "message", text, NULL, NULL);
}

static void
read_file (const char *path, gpointer user_data)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *entries = ts_brief_load (path, &error);

  if (entries != NULL)
    add_entries (TS_BRIEF_PANE (user_data), entries);
  else
    report (TS_BRIEF_PANE (user_data), error->message);
}

static void
read_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_file_dialog_open (GTK_WINDOW (gtk_widget_get_root (widget)), _ ("Read a List of Colours"),
                       TS_FILES_BRIEF, read_file, G_OBJECT (widget));
}

static void
on_text_pasted (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsBriefPane) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, &error);
  GPtrArray *entries = text != NULL ? ts_brief_parse (text, -1, _ ("pasted text"), &error) : NULL;

  if (ts_view_get_document (TS_VIEW (self)) == NULL)
    g_clear_pointer (&entries, g_ptr_array_unref);
  else if (entries != NULL)
    add_entries (self, entries);
  else
    report (self, text != NULL ? error->message : _ ("There is no text to paste."));
}

static void
paste_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (widget), NULL, on_text_pasted,
                                 g_object_ref (widget));
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

static GtkWidget *
new_result (const TsBriefResult *result)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *icon = ts_mark_icon_new ();
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  TsMark mark = TS_MARK_DISC;
  const char *word =
    result->has_recipe ? ts_mark_of_brief (result->verdict, &mark) : _ ("not mixed yet");
  GtkWidget *label = new_label (word, "body", FALSE);
  g_autofree char *off = result->has_recipe
                           ? g_strdup_printf (_ ("off by dE %.1f; %.1f is allowed"),
                                              result->recipe.delta_e, result->line->tolerance)
                           : g_strdup ("");

  if (result->has_recipe && result->verdict == TS_BRIEF_FAILS)
    gtk_widget_add_css_class (label, "problem");
  else
    gtk_widget_add_css_class (box, "dim");
  ts_mark_icon_set (TS_MARK_ICON (icon), mark);
  gtk_widget_set_visible (icon, result->has_recipe);
  gtk_widget_set_valign (icon, GTK_ALIGN_START);
  gtk_widget_set_margin_top (icon, 3);
  gtk_box_append (GTK_BOX (words), label);
  gtk_box_append (GTK_BOX (words), new_label (off, "small", TRUE));
  gtk_box_append (GTK_BOX (box), icon);
  gtk_box_append (GTK_BOX (box), words);
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_widget_set_size_request (box, RESULT_WIDTH, -1);
  return box;
}

static GtkWidget *
new_words (TsDocument *document, const TsBriefResult *result)
{
  TsPaintSet *paints = ts_document_get_plan (document)->paints;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *recipe =
    result->has_recipe && paints != NULL ? ts_recipe_to_text (paints, &result->recipe) : NULL;

  gtk_box_append (GTK_BOX (box), new_label (result->line->name, "heading", FALSE));
  gtk_box_append (GTK_BOX (box), new_label (recipe != NULL ? recipe : "", "recipe", FALSE));
  gtk_widget_set_hexpand (box, TRUE);
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  return box;
}

static GtkWidget *
new_row (TsDocument *document, const TsBriefResult *result)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16);
  GtkWidget *strip = ts_strip_new (132, 54, 6);
  TsLab pair[2] = { result->line->lab, result->recipe.lab };
  g_autofree char *one = ts_format_lab (pair[0]);
  g_autofree char *two = ts_format_lab (pair[result->has_recipe ? 1 : 0]);
  g_autofree char *words = g_strdup_printf (_ ("%s, and %s"), one, two);
  g_autofree char *why = ts_brief_result_why (result);

  ts_strip_set_colours (TS_STRIP (strip), pair, result->has_recipe ? 2 : 1, 1);
  ts_strip_describe (TS_STRIP (strip), _ ("Asked and mixed"), words);
  gtk_widget_set_valign (strip, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), strip);
  gtk_box_append (GTK_BOX (box), new_words (document, result));
  gtk_box_append (GTK_BOX (box), new_result (result));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  g_object_set_data (G_OBJECT (row), "line", GUINT_TO_POINTER (result->index));
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  result->line->name, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, why, -1);
  return row;
}

static int
get_line (GtkListBoxRow *row)
{
  return row != NULL ? (int) GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "line")) : -1;
}

static void
choose (TsBriefPane *self, int line)
{
  self->chosen = line;
  ts_brief_detail_show (self->detail, line);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "brief.remove", line >= 0);
}

static void
on_row_selected (GtkListBox *list, GtkListBoxRow *row, TsBriefPane *self)
{
  if (self->updating)
    return;
  self->picked = TRUE;
  ts_brief_detail_keep (self->detail);
  choose (self, get_line (row));
}

/* The worst first. */
static GArray *
get_results (TsBriefPane *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  GArray *results = ts_document_get_plan (document) != NULL
                      ? ts_document_get_brief_results (document)
                      : g_array_new (FALSE, FALSE, sizeof (TsBriefResult));

  ts_brief_results_rank (results);
  return results;
}

/* Before the next event, but not while a row is being chosen: it would go under GTK's hands. */
static gboolean
fill_list (gpointer user_data)
{
  TsBriefPane *self = TS_BRIEF_PANE (user_data);
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  gboolean had_focus = gtk_widget_get_focus_child (self->list) != NULL;
  g_autoptr (GArray) results = get_results (self);
  GtkWidget *row;

  self->filling = 0;
  self->updating = TRUE;
  while ((row = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), row);
  for (guint i = 0; i < results->len; i++)
    {
      const TsBriefResult *result = &g_array_index (results, TsBriefResult, i);

      row = new_row (document, result);
      gtk_list_box_append (GTK_LIST_BOX (self->list), row);
      if ((int) result->index != self->chosen)
        continue;
      gtk_list_box_select_row (GTK_LIST_BOX (self->list), GTK_LIST_BOX_ROW (row));
      if (had_focus)
        gtk_widget_grab_focus (row);
    }
  self->updating = FALSE;
  return G_SOURCE_REMOVE;
}

/* A line that has just come is the one to look at; else the one that was picked, or the first. */
static int
choose_line (TsBriefPane *self, const TsPlan *plan, const GArray *results)
{
  guint n = plan != NULL ? plan->brief->len : 0;
  int chosen = self->chosen;

  if (n == self->n_lines + 1)
    {
      self->picked = TRUE;
      chosen = (int) n - 1;
    }
  self->n_lines = n;
  self->picked = self->picked && n > 0;
  if (!self->picked)
    return n > 0 ? (int) g_array_index (results, TsBriefResult, 0).index : -1;
  return MIN (chosen, (int) n - 1);
}

static void
ts_brief_pane_update (TsView *view, TsChange change)
{
  TsBriefPane *self = TS_BRIEF_PANE (view);
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (view));
  g_autoptr (GArray) results = NULL;
  g_autofree char *summary = NULL;

  if (!(change & (TS_CHANGE_PLAN | TS_CHANGE_RESULTS)))
    return;
  results = get_results (self);
  choose (self, choose_line (self, plan, results));
  if (self->filling == 0)
    self->filling = g_idle_add_full (G_PRIORITY_HIGH, fill_list, self, NULL);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), results->len > 0 ? "list" : "empty");
  gtk_widget_set_visible (self->foot, results->len > 0);
  summary = ts_brief_results_to_summary (results);
  gtk_label_set_label (GTK_LABEL (self->summary), results->len > 0 ? summary : "");
  gtk_widget_set_visible (self->summary, results->len > 0);
}

static void
add_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TsBriefPane *self = TS_BRIEF_PANE (widget);

  ts_document_add_brief_line (ts_view_get_document (TS_VIEW (self)), new_colour);
  ts_brief_detail_rename (self->detail);
}

static void
remove_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TsBriefPane *self = TS_BRIEF_PANE (widget);

  if (self->chosen >= 0)
    ts_document_remove_brief_line (ts_view_get_document (TS_VIEW (self)), (guint) self->chosen);
}

static void
save_card (const char *path, gpointer user_data)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (user_data));
  g_autoptr (TsBriefCard) card = ts_print_new_brief_card (document);
  g_autoptr (GError) error = NULL;

  if (!ts_brief_card_save (card, path, &error))
    report (TS_BRIEF_PANE (user_data), error->message);
}

static void
card_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_file_dialog_save (GTK_WINDOW (gtk_widget_get_root (widget)), _ ("Save the Client’s Card"),
                       TS_FILES_PAGES, _ ("colours.pdf"), save_card, G_OBJECT (widget));
}

static void
save_results (const char *path, gpointer user_data)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (user_data));
  const TsPlan *plan = ts_document_get_plan (document);
  g_autoptr (GArray) results = ts_document_get_brief_results (document);
  gboolean cgats =
    plan->paints != NULL && (g_str_has_suffix (path, ".txt") || g_str_has_suffix (path, ".cgats"));
  g_autofree char *text = cgats ? ts_brief_results_to_cgats (results, plan->paints)
                                : ts_brief_results_to_csv (results, plan->paints);
  g_autoptr (GError) error = NULL;

  if (!ts_file_save (path, text, strlen (text), TS_FILE_SAVE_PLAIN, &error))
    report (TS_BRIEF_PANE (user_data), error->message);
}

static void
results_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_file_dialog_save (GTK_WINDOW (gtk_widget_get_root (widget)), _ ("Save the Results"),
                       TS_FILES_BRIEF, _ ("results.csv"), save_results, G_OBJECT (widget));
}

static gboolean
on_key_pressed (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                TsBriefPane *self)
{
  if (keyval == GDK_KEY_Delete)
    return gtk_widget_activate_action (GTK_WIDGET (self), "brief.remove", NULL);
  if (keyval != GDK_KEY_F2 || self->chosen < 0)
    return FALSE;
  ts_brief_detail_rename (self->detail);
  return TRUE;
}

static void
ts_brief_pane_dispose (GObject *object)
{
  g_clear_handle_id (&TS_BRIEF_PANE (object)->filling, g_source_remove);
  G_OBJECT_CLASS (ts_brief_pane_parent_class)->dispose (object);
}

static void
ts_brief_pane_class_init (TsBriefPaneClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_brief_pane_dispose;
  TS_VIEW_CLASS (class)->update = ts_brief_pane_update;
  g_type_ensure (TS_TYPE_BRIEF_DETAIL);
  gtk_widget_class_install_action (widget_class, "brief.add", NULL, add_action);
  gtk_widget_class_install_action (widget_class, "brief.remove", NULL, remove_action);
  gtk_widget_class_install_action (widget_class, "brief.read", NULL, read_action);
  gtk_widget_class_install_action (widget_class, "brief.paste", NULL, paste_action);
  gtk_widget_class_install_action (widget_class, "brief.card", NULL, card_action);
  gtk_widget_class_install_action (widget_class, "brief.results", NULL, results_action);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-brief-pane.ui");
  gtk_widget_class_bind_template_child (widget_class, TsBriefPane, box);
  gtk_widget_class_bind_template_child (widget_class, TsBriefPane, summary);
  gtk_widget_class_bind_template_child (widget_class, TsBriefPane, list);
  gtk_widget_class_bind_template_child (widget_class, TsBriefPane, stack);
  gtk_widget_class_bind_template_child (widget_class, TsBriefPane, foot);
  gtk_widget_class_bind_template_child (widget_class, TsBriefPane, detail);
  gtk_widget_class_bind_template_callback (widget_class, on_row_selected);
}

static void
ts_brief_pane_init (TsBriefPane *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->chosen = -1;
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed), self);
  gtk_widget_add_controller (self->list, keys);
}
