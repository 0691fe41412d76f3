/* ts-paints-pane.c: the Paints place: the list, one paint, the whole set
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paints-pane.h"

#include <glib/gi18n.h>

#include "document/ts-document-paints.h"
#include "gui/widgets/ts-file-dialogs.h"
#include "gui/paints/ts-paint-editor.h"
#include "gui/paints/ts-paint-files.h"
#include "gui/paints/ts-paint-gamut.h"
#include "gui/paints/ts-paint-item.h"
#include "gui/paints/ts-paint-layout.h"
#include "gui/paints/ts-paint-list.h"
#include "gui/paints/ts-paint-page.h"
#include "gui/paints/ts-paint-predict.h"
#include "gui/paints/ts-sheet-pane.h"

struct _TsPaintsPane
{
  TsView parent_instance;

  TsPaintSet *shown; /* owned, nullable */
  char *chosen_name; /* owned, nullable: follows the paint from set to set */
  int chosen;        /* index, or -1 */

  /* Template children */
  GtkWidget *stack, *layout, *kept, *show_set, *more, *middle;
  TsPaintList *list;
  TsPaintPage *page;
  TsPaintEditor *editor;
  TsPaintPredict *predict;
  TsSheetPane *sheet;
  TsPaintGamut *gamut;
};

G_DEFINE_FINAL_TYPE (TsPaintsPane, ts_paints_pane, TS_TYPE_VIEW)

static void
choose (TsPaintsPane *self, int paint)
{
  GListModel *items = ts_paint_list_get_items (self->list);
  g_autoptr (TsPaintItem) item = paint >= 0 ? g_list_model_get_item (items, (guint) paint) : NULL;

  self->chosen = item != NULL ? paint : -1;
  g_free (self->chosen_name);
  self->chosen_name =
    item != NULL ? g_strdup (ts_paint_get_name (ts_paint_item_get_paint (item))) : NULL;
  ts_paint_list_choose (self->list, self->chosen);
  ts_paint_gamut_choose (self->gamut, self->chosen);
  ts_paint_page_show (self->page, item);
  ts_paint_predict_choose (self->predict, self->chosen);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "paints.edit", item != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "paints.remove", item != NULL);
}

static void
show_middle (TsPaintsPane *self, const char *name)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->middle), name);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->show_set), FALSE);
  gtk_stack_set_visible_child_name (
    GTK_STACK (self->stack), self->shown != NULL || g_str_equal (name, "editor") ? "set" : "empty");
}

static void
on_chosen (TsPaintsPane *self, guint paint)
{
  if (g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->middle)), "editor") == 0)
    show_middle (self, "page");
  choose (self, (int) paint);
}

static void
edit (TsPaintsPane *self, int paint)
{
  show_middle (self, "editor");
  ts_paint_editor_edit (self->editor, paint);
}

static gboolean
is_trying (TsPaintsPane *self)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->middle)), "mix") == 0;
}

/* While a mix is tried, a paint goes into it. */
static void
on_activated (TsPaintsPane *self, guint paint)
{
  choose (self, (int) paint);
  if (is_trying (self))
    {
      ts_paint_predict_add (self->predict, paint);
      return;
    }
  edit (self, (int) paint);
}

static void
on_edit (TsPaintsPane *self)
{
  if (self->chosen >= 0)
    edit (self, self->chosen);
}

static void
on_editor_closed (TsPaintsPane *self, int paint)
{
  show_middle (self, "page");
  if (paint >= 0)
    choose (self, paint);
  gtk_widget_child_focus (GTK_WIDGET (self->list), GTK_DIR_TAB_FORWARD);
}

static void
tell (TsPaintsPane *self, const char *text, const char *action, const char *label)
{
  g_signal_emit_by_name (ts_view_get_document (TS_VIEW (self)), "message", text, action, label);
}

static void
on_stock (TsPaintsPane *self, int stock)
{
  if (self->chosen >= 0)
    ts_document_set_stock (ts_view_get_document (TS_VIEW (self)), (guint) self->chosen,
                           (TsStock) stock);
}

static void
on_remove (TsPaintsPane *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;

  if (self->chosen < 0)
    return;
  text = g_strdup_printf (_ ("%s is removed."), self->chosen_name);
  gtk_stack_set_visible_child_name (GTK_STACK (self->middle), "page");
  if (ts_document_remove_paint (document, (guint) self->chosen, &error))
    tell (self, text, "win.undo", _ ("Undo"));
  else
    tell (self, error->message, NULL, NULL);
}

static void
on_predict_closed (TsPaintsPane *self)
{
  show_middle (self, "page");
}

static void
on_sheet_closed (TsPaintsPane *self, gboolean added)
{
  if (added && self->shown != NULL)
    choose (self, (int) ts_paint_set_get_n_paints (self->shown) - 1);
  show_middle (self, "page");
}

static void
open_sheet (const char *path, gpointer user_data)
{
  TsPaintsPane *self = TS_PAINTS_PANE (user_data);

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "sheet");
  ts_sheet_pane_open (self->sheet, path);
}

static void
sheet_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_file_dialog_open (GTK_WINDOW (gtk_widget_get_root (widget)),
                       _ ("Open a Photograph of a Swatch Sheet"), TS_FILES_PICTURES_AND_PLANS,
                       open_sheet, G_OBJECT (widget));
}

static void
mix_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  show_middle (TS_PAINTS_PANE (widget), "mix");
}

static void
add_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  edit (TS_PAINTS_PANE (widget), -1);
}

static void
edit_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  on_edit (TS_PAINTS_PANE (widget));
}

static void
remove_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  on_remove (TS_PAINTS_PANE (widget));
}

static void
find_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_paint_list_find (TS_PAINTS_PANE (widget)->list);
}

static void
import_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_paint_files_import (widget, ts_view_get_document (TS_VIEW (widget)));
}

static void
save_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_paint_files_save (widget, ts_view_get_document (TS_VIEW (widget)));
}

static void
save_cgats_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_paint_files_save_cgats (widget, ts_view_get_document (TS_VIEW (widget)));
}

static void
save_sheet_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_paint_files_save_sheet (widget, ts_view_get_document (TS_VIEW (widget)));
}

static void
print_sheet_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_paint_files_print_sheet (widget, ts_view_get_document (TS_VIEW (widget)));
}

static void
on_show_set (TsPaintsPane *self)
{
  ts_paint_layout_set_show_set (TS_PAINT_LAYOUT (self->layout),
                                gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->show_set)));
}

static void
on_folded (TsPaintsPane *self)
{
  gtk_widget_set_visible (self->show_set,
                          ts_paint_layout_is_folded (TS_PAINT_LAYOUT (self->layout)));
}

/* Where the paints are kept: a plan has its own copy. */
static void
show_kept (TsPaintsPane *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const char *name = ts_document_get_paints_name (document);
  g_autofree char *text = NULL;

  if (ts_document_get_has_plan (document))
    text = g_strdup_printf (_ ("“%s”: this plan’s own copy, saved with it. “Save paints…” writes a "
                               "file for other plans."),
                            name != NULL ? name : _ ("Paints"));
  else
    text = g_strdup_printf (_ ("“%s”: what new plans start with. “Save paints…” writes a file."),
                            name != NULL ? name : _ ("Paints"));
  gtk_label_set_label (GTK_LABEL (self->kept), text);
}

/* The same paint as before, by name; else what stands in its place. */
static int
find_chosen (TsPaintsPane *self)
{
  int n = self->shown != NULL ? (int) ts_paint_set_get_n_paints (self->shown) : 0;
  int found =
    n > 0 && self->chosen_name != NULL ? ts_paint_set_find (self->shown, self->chosen_name) : -1;

  return found >= 0 ? found : MIN (MAX (self->chosen, 0), n - 1);
}

static void
show_set (TsPaintsPane *self, TsPaintSet *paints)
{
  g_clear_pointer (&self->shown, ts_paint_set_unref);
  self->shown = paints != NULL ? ts_paint_set_ref (paints) : NULL;
  ts_paint_list_set_paints (self->list, paints);
  ts_paint_gamut_set_paints (self->gamut, paints);
  choose (self, find_chosen (self));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "paints.save", paints != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "paints.save-cgats", paints != NULL);
  if (!g_str_equal (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), "sheet"))
    gtk_stack_set_visible_child_name (GTK_STACK (self->stack), paints != NULL ? "set" : "empty");
}

static void
ts_paints_pane_update (TsView *view, TsChange change)
{
  TsPaintsPane *self = TS_PAINTS_PANE (view);
  TsPaintSet *paints = ts_document_get_paints (ts_view_get_document (view));

  if (!(change & TS_CHANGE_PLAN))
    return;
  if (paints != self->shown || change == TS_CHANGE_ALL)
    show_set (self, paints);
  show_kept (self);
}

static void
ts_paints_pane_finalize (GObject *object)
{
  TsPaintsPane *self = TS_PAINTS_PANE (object);

  g_clear_pointer (&self->shown, ts_paint_set_unref);
  g_free (self->chosen_name);
  G_OBJECT_CLASS (ts_paints_pane_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, stack);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, layout);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, kept);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, show_set);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, more);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, middle);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, list);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, page);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, editor);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, gamut);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, predict);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, sheet);
  gtk_widget_class_bind_template_callback (widget_class, on_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_activated);
  gtk_widget_class_bind_template_callback (widget_class, on_stock);
  gtk_widget_class_bind_template_callback (widget_class, on_edit);
  gtk_widget_class_bind_template_callback (widget_class, on_remove);
  gtk_widget_class_bind_template_callback (widget_class, on_editor_closed);
  gtk_widget_class_bind_template_callback (widget_class, on_predict_closed);
  gtk_widget_class_bind_template_callback (widget_class, on_sheet_closed);
  gtk_widget_class_bind_template_callback (widget_class, on_show_set);
  gtk_widget_class_bind_template_callback (widget_class, on_folded);
}

static void
install_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "paints.add", NULL, add_action);
  gtk_widget_class_install_action (widget_class, "paints.edit", NULL, edit_action);
  gtk_widget_class_install_action (widget_class, "paints.remove", NULL, remove_action);
  gtk_widget_class_install_action (widget_class, "paints.mix", NULL, mix_action);
  gtk_widget_class_install_action (widget_class, "paints.sheet", NULL, sheet_action);
  gtk_widget_class_install_action (widget_class, "paints.print-sheet", NULL, print_sheet_action);
  gtk_widget_class_install_action (widget_class, "paints.save-sheet", NULL, save_sheet_action);
  gtk_widget_class_install_action (widget_class, "paints.find", NULL, find_action);
  gtk_widget_class_install_action (widget_class, "paints.import", NULL, import_action);
  gtk_widget_class_install_action (widget_class, "paints.save", NULL, save_action);
  gtk_widget_class_install_action (widget_class, "paints.save-cgats", NULL, save_cgats_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_f, GDK_CONTROL_MASK, "paints.find",
                                       NULL);
}

static void
ts_paints_pane_class_init (TsPaintsPaneClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_paints_pane_finalize;
  TS_VIEW_CLASS (class)->update = ts_paints_pane_update;
  install_actions (widget_class);
  g_type_ensure (TS_TYPE_PAINT_LAYOUT);
  g_type_ensure (TS_TYPE_PAINT_LIST);
  g_type_ensure (TS_TYPE_PAINT_PAGE);
  g_type_ensure (TS_TYPE_PAINT_EDITOR);
  g_type_ensure (TS_TYPE_PAINT_GAMUT);
  g_type_ensure (TS_TYPE_PAINT_PREDICT);
  g_type_ensure (TS_TYPE_SHEET_PANE);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-paints-pane.ui");
  bind_children (widget_class);
}

static void
ts_paints_pane_init (TsPaintsPane *self)
{
  self->chosen = -1;
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_paint_gamut_set_items (self->gamut, ts_paint_list_get_items (self->list));
}
