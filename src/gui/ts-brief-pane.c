/* ts-brief-pane.c: the colours a client asked for, and what is mixed for each
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-brief-pane.h"

#include <glib/gi18n.h>

#include "ts-file-dialogs.h"
#include "ts-format.h"
#include "ts-mark-icon.h"
#include "ts-strip.h"

struct _TsBriefPane
{
  TsView parent_instance;

  /* Template children */
  GtkWidget *box, *summary, *list, *stack;
};

/* One line with what was found for it. */
typedef struct
{
  guint index;
  const TsBriefLine *line; /* borrowed */
  const TsRecipe *recipe;  /* borrowed, nullable */
  TsBriefVerdict verdict;
} Line;

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
    {
      const TsBriefLine *old = ts_plan_get_brief_line (plan, i);
      TsBriefLine *kept = ts_brief_line_new (old->name, old->lab, old->tolerance);

      kept->locked = g_strdup (old->locked);
      g_ptr_array_add (lines, kept);
    }
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
    report (self, error != NULL ? error->message : _ ("There is no text to paste."));
}

static void
paste_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (widget), NULL, on_text_pasted,
                                 g_object_ref (widget));
}

static Line
check_line (TsDocument *document, guint index)
{
  const GArray *choices = ts_document_get_brief_choices (document, index);
  Line line = { index, ts_plan_get_brief_line (ts_document_get_plan (document), index), NULL,
                TS_BRIEF_FAILS };

  if (choices != NULL && choices->len > 0)
    {
      line.recipe = &g_array_index (choices, TsRecipe, 0);
      line.verdict =
        ts_brief_check (line.recipe->delta_e, line.recipe->error, line.line->tolerance);
    }
  return line;
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
new_result (const Line *line)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *icon = ts_mark_icon_new ();
  TsMark mark = TS_MARK_DISC;
  const char *word =
    line->recipe != NULL ? ts_format_brief (line->verdict, &mark) : _ ("not mixed yet");
  GtkWidget *label = new_label (word, "body", FALSE);

  if (line->recipe != NULL && line->verdict == TS_BRIEF_FAILS)
    gtk_widget_add_css_class (label, "problem");
  else
    gtk_widget_add_css_class (box, "dim");
  gtk_label_set_wrap (GTK_LABEL (label), FALSE);
  ts_mark_icon_set (TS_MARK_ICON (icon), mark);
  gtk_widget_set_visible (icon, line->recipe != NULL);
  gtk_box_append (GTK_BOX (box), icon);
  gtk_box_append (GTK_BOX (box), label);
  gtk_widget_set_size_request (box, 120, -1);
  return box;
}

static GtkWidget *
new_words (TsDocument *document, const Line *line)
{
  TsPaintSet *paints = ts_document_get_plan (document)->paints;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *recipe =
    line->recipe != NULL && paints != NULL ? ts_recipe_to_text (paints, line->recipe) : NULL;
  g_autofree char *off =
    line->recipe != NULL
      ? g_strdup_printf (_ ("dE %.1f from what was asked, give or take %.0f; %.1f is allowed"),
                         line->recipe->delta_e, line->recipe->error, line->line->tolerance)
      : NULL;

  gtk_box_append (GTK_BOX (box), new_label (line->line->name, "heading", FALSE));
  gtk_box_append (GTK_BOX (box), new_label (recipe != NULL ? recipe : "", "recipe", FALSE));
  gtk_box_append (GTK_BOX (box), new_label (off != NULL ? off : "", "small", TRUE));
  gtk_widget_set_hexpand (box, TRUE);
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  return box;
}

static GtkWidget *
new_row (TsDocument *document, const Line *line)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16);
  GtkWidget *strip = ts_strip_new (132, 54, 6);
  TsLab pair[2] = { line->line->lab, line->recipe != NULL ? line->recipe->lab : line->line->lab };
  g_autofree char *one = ts_format_lab (pair[0]), *two = ts_format_lab (pair[1]);
  g_autofree char *words = g_strdup_printf (_ ("%s, and %s"), one, two);

  ts_strip_set_colours (TS_STRIP (strip), pair, line->recipe != NULL ? 2 : 1, 1);
  ts_strip_describe (TS_STRIP (strip), _ ("Asked and mixed"), words);
  gtk_box_append (GTK_BOX (box), strip);
  gtk_box_append (GTK_BOX (box), new_words (document, line));
  gtk_box_append (GTK_BOX (box), new_result (line));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  line->line->name, -1);
  return row;
}

/* Failing lines first, then the doubtful. */
static int
compare_lines (gconstpointer a, gconstpointer b)
{
  const Line *one = a, *other = b;

  if (one->verdict != other->verdict)
    return (int) one->verdict - (int) other->verdict;
  return (int) one->index - (int) other->index;
}

static void
show_summary (TsBriefPane *self, const GArray *lines)
{
  guint counts[TS_BRIEF_PASSES + 1] = { 0 };
  g_autofree char *text = NULL;

  for (guint i = 0; i < lines->len; i++)
    counts[g_array_index (lines, Line, i).verdict]++;
  text = g_strdup_printf (_ ("%u pass, %u may pass, %u fail"), counts[TS_BRIEF_PASSES],
                          counts[TS_BRIEF_MAY_PASS], counts[TS_BRIEF_FAILS]);
  gtk_label_set_label (GTK_LABEL (self->summary), lines->len > 0 ? text : "");
}

static void
ts_brief_pane_update (TsView *view, TsChange change)
{
  TsBriefPane *self = TS_BRIEF_PANE (view);
  TsDocument *document = ts_view_get_document (view);
  const TsPlan *plan = ts_document_get_plan (document);
  g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (Line));
  GtkWidget *row;

  if (!(change & (TS_CHANGE_PLAN | TS_CHANGE_RESULTS)))
    return;
  for (guint i = 0; plan != NULL && i < plan->brief->len; i++)
    {
      Line line = check_line (document, i);

      g_array_append_val (lines, line);
    }
  g_array_sort (lines, compare_lines);
  while ((row = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), row);
  for (guint i = 0; i < lines->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list),
                         new_row (document, &g_array_index (lines, Line, i)));
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), lines->len > 0 ? "list" : "empty");
  show_summary (self, lines);
}

static void
ts_brief_pane_class_init (TsBriefPaneClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  TS_VIEW_CLASS (class)->update = ts_brief_pane_update;
  gtk_widget_class_install_action (widget_class, "brief.read", NULL, read_action);
  gtk_widget_class_install_action (widget_class, "brief.paste", NULL, paste_action);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-brief-pane.ui");
  gtk_widget_class_bind_template_child (widget_class, TsBriefPane, box);
  gtk_widget_class_bind_template_child (widget_class, TsBriefPane, summary);
  gtk_widget_class_bind_template_child (widget_class, TsBriefPane, list);
  gtk_widget_class_bind_template_child (widget_class, TsBriefPane, stack);
}

static void
ts_brief_pane_init (TsBriefPane *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
