/* ts-paint-editor.c: every field of one paint, new or there already
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-editor.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "document/ts-document-paints.h"
#include "gui/widgets/ts-accessible.h"
#include "gui/paints/ts-paint-words.h"
#include "gui/widgets/ts-strip.h"

struct _TsPaintEditor
{
  TsView parent_instance;

  int paint; /* index, or -1: a new one */
  gboolean filling;

  /* Template children */
  GtkWidget *box, *title, *name, *name_fault, *kind, *opacity, *stock, *pigments, *finish, *notes;
  GtkWidget *lab, *L, *a, *b, *strip_holder, *measured, *fault, *save, *remove;

  GtkWidget *strip;
};

enum
{
  CLOSED,
  REMOVE,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsPaintEditor, ts_paint_editor, TS_TYPE_VIEW)

static const char *
get_text (GtkWidget *entry)
{
  return gtk_editable_get_text (GTK_EDITABLE (entry));
}

static void
set_text (GtkWidget *entry, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (entry), text != NULL ? text : "");
}

/* A painter types a comma where their country does, and a true minus where they paste one. */
static char *
dup_number (GtkWidget *entry)
{
  g_autofree char *text = g_strstrip (g_strdup (get_text (entry)));
  g_autoptr (GString) plain = g_string_new (text);

  g_string_replace (plain, ",", ".", 0);
  g_string_replace (plain, "−", "-", 0);
  return g_string_free (g_steal_pointer (&plain), FALSE);
}

static gboolean
read_number (GtkWidget *entry, double *number)
{
  g_autofree char *text = dup_number (entry);
  char *end = NULL;

  *number = g_ascii_strtod (text, &end);
  return end != text && *end == '\0' && isfinite (*number);
}

static gboolean
read_lab (TsPaintEditor *self, TsLab *lab)
{
  return read_number (self->L, &lab->L) && read_number (self->a, &lab->a) &&
         read_number (self->b, &lab->b);
}

static void
show_fault (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL);
}

/* What is wrong with the name, or %NULL: said beside it while it is typed. */
static char *
find_name_fault (TsPaintEditor *self)
{
  TsPaintSet *set = ts_document_get_paints (ts_view_get_document (TS_VIEW (self)));
  g_autofree char *name = g_strstrip (g_strdup (get_text (self->name)));
  int other = set != NULL && *name != '\0' ? ts_paint_set_find (set, name) : -1;

  if (other >= 0 && other != self->paint)
    return g_strdup_printf (_ ("There is a paint called %s already."),
                            ts_paint_get_name (ts_paint_set_get_paint (set, (guint) other)));
  if (strstr (name, " + ") != NULL)
    return g_strdup (_ ("A name cannot hold a “+” between blanks: recipes are written so."));
  return NULL;
}

static gboolean
has_letters (const char *text)
{
  g_autofree char *stripped = g_strstrip (g_strdup (text));

  return *stripped != '\0';
}

static void
on_changed (TsPaintEditor *self)
{
  g_autofree char *name_fault = NULL;
  TsLab lab;

  if (self->filling)
    return;
  name_fault = find_name_fault (self);
  show_fault (self->name_fault, name_fault);
  show_fault (self->fault, NULL);
  if (name_fault != NULL)
    gtk_widget_add_css_class (self->name, "error");
  else
    gtk_widget_remove_css_class (self->name, "error");
  gtk_accessible_update_state (
    GTK_ACCESSIBLE (self->name), GTK_ACCESSIBLE_STATE_INVALID,
    name_fault != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  gtk_widget_set_sensitive (self->save, name_fault == NULL && has_letters (get_text (self->name)));
  gtk_widget_set_visible (self->strip, read_lab (self, &lab));
  if (read_lab (self, &lab))
    ts_strip_set_colours (TS_STRIP (self->strip), &lab, 1, 1);
}

static void
add_cell (GPtrArray *cells, const char *column, const char *text)
{
  g_ptr_array_add (cells, g_strdup (column));
  g_ptr_array_add (cells, g_strstrip (g_strdup (text)));
}

/* What a paint is measured from stays as it is: only a paint known by its colour has that edited.
 */
static gboolean
may_edit_colour (TsPaintEditor *self)
{
  TsPaintSet *set = ts_document_get_paints (ts_view_get_document (TS_VIEW (self)));

  return self->paint < 0 ||
         ts_paint_get_source (ts_paint_set_get_paint (set, (guint) self->paint)) == TS_SOURCE_WORD;
}

static GPtrArray *
collect_cells (TsPaintEditor *self)
{
  GPtrArray *cells = g_ptr_array_new_with_free_func (g_free);
  GtkWidget *numbers[] = { self->L, self->a, self->b };
  const char *columns[] = { "L", "a", "b" };
  guint kind = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->kind));
  guint opacity = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->opacity));
  guint stock = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->stock));

  add_cell (cells, "name", get_text (self->name));
  add_cell (cells, "kind", ts_paint_kind_to_word ((TsPaintKind) kind));
  add_cell (cells, "opacity", ts_opacity_to_word ((TsOpacity) opacity));
  add_cell (cells, "stock", ts_stock_to_word ((TsStock) stock));
  add_cell (cells, "pigments", get_text (self->pigments));
  add_cell (cells, "finish", get_text (self->finish));
  add_cell (cells, "notes", get_text (self->notes));
  for (guint i = 0; may_edit_colour (self) && i < G_N_ELEMENTS (numbers); i++)
    {
      g_autofree char *number = dup_number (numbers[i]);

      add_cell (cells, columns[i], number);
    }
  g_ptr_array_add (cells, NULL);
  return cells;
}

static void
on_save (TsPaintEditor *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  g_autoptr (GPtrArray) cells = NULL;
  g_autoptr (GError) error = NULL;
  const char *const *texts;
  gboolean saved;

  if (!gtk_widget_get_sensitive (self->save))
    return;
  cells = collect_cells (self);
  texts = (const char *const *) cells->pdata;
  saved = self->paint < 0
            ? ts_document_add_paint (document, texts, &error)
            : ts_document_edit_paint (document, (guint) self->paint, texts, NULL, &error);
  if (!saved)
    {
      show_fault (self->fault, error->message);
      return;
    }
  if (self->paint < 0)
    self->paint = (int) ts_paint_set_get_n_paints (ts_document_get_paints (document)) - 1;
  g_signal_emit (self, signals[CLOSED], 0, self->paint);
}

static void
on_cancel (TsPaintEditor *self)
{
  g_signal_emit (self, signals[CLOSED], 0, self->paint);
}

static void
on_remove (TsPaintEditor *self)
{
  g_signal_emit (self, signals[REMOVE], 0);
}

static void
set_number (GtkWidget *entry, double number)
{
  g_autofree char *text = g_strdup_printf ("%.1f", number);

  set_text (entry, text);
}

static void
fill_new (TsPaintEditor *self)
{
  GtkWidget *entries[] = { self->name, self->pigments, self->finish, self->notes,
                           self->L,    self->a,        self->b };

  gtk_label_set_label (GTK_LABEL (self->title), _ ("A new paint"));
  gtk_button_set_label (GTK_BUTTON (self->save), _ ("Add it"));
  for (guint i = 0; i < G_N_ELEMENTS (entries); i++)
    set_text (entries[i], "");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->kind), TS_PAINT_PAINT);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->opacity), TS_OPACITY_SEMI_OPAQUE);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->stock), TS_STOCK_FULL);
  gtk_label_set_label (GTK_LABEL (self->measured),
                       _ ("Measured of a thick layer, light D50. A swatch sheet, or one coat on a "
                          "contrast card, tells far more about its mixes."));
}

static void
fill_from (TsPaintEditor *self, TsPaintSet *set)
{
  TsPaint *paint = ts_paint_set_get_paint (set, (guint) self->paint);
  TsLab lab = ts_paint_get_masstone (paint);
  g_autofree char *title = g_strdup_printf (_ ("Edit %s"), ts_paint_get_name (paint));
  g_autofree char *source = ts_paint_words_source (set, (guint) self->paint);
  g_autofree char *measured = g_strdup_printf (_ ("Measured from %s."), source);

  gtk_label_set_label (GTK_LABEL (self->title), title);
  gtk_button_set_label (GTK_BUTTON (self->save), _ ("Keep the changes"));
  set_text (self->name, ts_paint_get_name (paint));
  set_text (self->pigments, ts_paint_get_pigments (paint));
  set_text (self->finish, ts_paint_get_finish (paint));
  set_text (self->notes, ts_paint_get_notes (paint));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->kind), ts_paint_get_kind (paint));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->opacity), ts_paint_get_opacity (paint));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->stock), ts_paint_get_stock (paint));
  set_number (self->L, lab.L);
  set_number (self->a, lab.a);
  set_number (self->b, lab.b);
  gtk_label_set_label (GTK_LABEL (self->measured), measured);
}

/**
 * ts_paint_editor_edit:
 * @self: the editor
 * @paint: index in the document's set, or -1 for a new one
 *
 * Fills all fields in, and gives the first of them the keyboard.
 */
void
ts_paint_editor_edit (TsPaintEditor *self, int paint)
{
  TsPaintSet *set = ts_document_get_paints (ts_view_get_document (TS_VIEW (self)));

  g_return_if_fail (TS_IS_PAINT_EDITOR (self));

  self->paint = set != NULL ? paint : -1;
  self->filling = TRUE;
  if (self->paint < 0)
    fill_new (self);
  else
    fill_from (self, set);
  self->filling = FALSE;
  gtk_widget_set_visible (self->remove, self->paint >= 0);
  gtk_widget_set_sensitive (self->lab, may_edit_colour (self));
  on_changed (self);
  gtk_widget_grab_focus (self->name);
}

static void
ts_paint_editor_update (TsView *view, TsChange change)
{
}

static gboolean
cancel (GtkWidget *widget, GVariant *args, gpointer user_data)
{
  on_cancel (TS_PAINT_EDITOR (widget));
  return TRUE;
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, box);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, title);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, name);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, name_fault);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, kind);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, opacity);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, stock);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, pigments);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, finish);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, notes);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, lab);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, L);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, a);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, b);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, strip_holder);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, measured);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, fault);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, save);
  gtk_widget_class_bind_template_child (widget_class, TsPaintEditor, remove);
  gtk_widget_class_bind_template_callback (widget_class, on_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_save);
  gtk_widget_class_bind_template_callback (widget_class, on_cancel);
  gtk_widget_class_bind_template_callback (widget_class, on_remove);
}

static void
ts_paint_editor_class_init (TsPaintEditorClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  TS_VIEW_CLASS (class)->update = ts_paint_editor_update;
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT);
  signals[REMOVE] = g_signal_new ("remove", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, cancel, NULL);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-paint-editor.ui");
  bind_children (widget_class);
}

static void
ts_paint_editor_init (TsPaintEditor *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_accessible_name_inner (self->kind, _ ("Kind"));
  ts_accessible_name_inner (self->opacity, _ ("Opacity on the label"));
  ts_accessible_name_inner (self->stock, _ ("Stock"));
  self->strip = ts_strip_new (132, 34, 5);
  ts_strip_describe (TS_STRIP (self->strip), _ ("Colour at full strength"), "");
  gtk_box_append (GTK_BOX (self->strip_holder), self->strip);
}
