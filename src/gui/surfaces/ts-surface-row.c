/* ts-surface-row.c: one surface in the list: its name, its verdicts, its stair
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/surfaces/ts-surface-row.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-mark-icon.h"
#include "gui/widgets/ts-strip.h"

#define STRIP_HEIGHT 17
#define STRIP_EDGE 3

struct _TsSurfaceRow
{
  GtkListBoxRow parent_instance;

  TsDocument *document; /* owned */
  guint index;
  gboolean cancelled;

  /* Children */
  GtkWidget *names, *name, *entry, *hidden, *summary, *mark, *strip;
};

G_DEFINE_FINAL_TYPE (TsSurfaceRow, ts_surface_row, GTK_TYPE_LIST_BOX_ROW)

static gboolean
is_renaming (TsSurfaceRow *self)
{
  return gtk_stack_get_visible_child (GTK_STACK (self->names)) == self->entry;
}

/* Return and leaving keep what was typed; Esc does not. */
static void
end_renaming (TsSurfaceRow *self)
{
  g_autofree char *typed =
    g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));

  if (!is_renaming (self))
    return;
  gtk_stack_set_visible_child (GTK_STACK (self->names), self->name);
  if (!self->cancelled && *typed != '\0')
    ts_document_rename_surface (self->document, self->index, typed);
}

static void
on_activate (GtkEntry *entry, TsSurfaceRow *self)
{
  end_renaming (self);
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

/* A window that loses the keyboard, to a menu that is closing say, has the same focus as before. A
 * row that went with its surface hears of it late, when something else takes the focus: there is
 * nothing left to name. */
static void
on_leave (GtkEventControllerFocus *controller, TsSurfaceRow *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus;

  if (root == NULL)
    return;
  focus = gtk_root_get_focus (root);
  if (focus == NULL || !gtk_widget_is_ancestor (focus, self->entry))
    end_renaming (self);
}

static gboolean
on_key (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
        TsSurfaceRow *self)
{
  if (keyval != GDK_KEY_Escape)
    return FALSE;
  self->cancelled = TRUE;
  end_renaming (self);
  gtk_widget_grab_focus (GTK_WIDGET (self));
  return TRUE;
}

static void
show_result (TsSurfaceRow *self, TsSurfaceResult *result, gboolean grey)
{
  guint n = ts_surface_result_get_n_steps (result);
  g_autofree TsLab *colours = g_new (TsLab, n);
  TsMark mark = TS_MARK_DISC;
  gboolean problem = FALSE;
  g_autofree char *summary = ts_format_summary (result, &mark, &problem);
  g_autofree char *description = NULL;

  for (guint i = 0; i < n; i++)
    {
      colours[i] = ts_surface_result_get_colour (result, i);
      if (grey)
        colours[i].a = colours[i].b = 0.0;
    }
  ts_strip_set_colours (TS_STRIP (self->strip), colours, n, 1);
  if (ts_surface_get_fall (ts_document_get_plan (self->document), self->index) == TS_FALL_AGAINST)
    {
      char *with_light = g_strdup_printf (_ ("%s, lit from elsewhere"), summary);

      g_free (summary);
      summary = with_light;
      if (!problem)
        mark = TS_MARK_CAUTION;
      problem = TRUE;
    }
  gtk_label_set_label (GTK_LABEL (self->summary), summary);
  ts_mark_icon_set (TS_MARK_ICON (self->mark), mark);
  if (problem)
    {
      gtk_widget_remove_css_class (gtk_widget_get_parent (self->summary), "dim");
      gtk_widget_add_css_class (gtk_widget_get_parent (self->summary), "summary-problem");
    }
  else
    {
      gtk_widget_remove_css_class (gtk_widget_get_parent (self->summary), "summary-problem");
      gtk_widget_add_css_class (gtk_widget_get_parent (self->summary), "dim");
    }
  description =
    g_strdup_printf (ngettext ("%u step, L* %.0f to %.0f, %s", "%u steps, L* %.0f to %.0f, %s", n),
                     n, ts_surface_result_get_colour (result, 0).L,
                     ts_surface_result_get_colour (result, n - 1).L, summary);
  ts_strip_describe (TS_STRIP (self->strip), _ ("Stair"), description);
}

static void
ts_surface_row_dispose (GObject *object)
{
  g_clear_object (&TS_SURFACE_ROW (object)->document);
  G_OBJECT_CLASS (ts_surface_row_parent_class)->dispose (object);
}

static void
ts_surface_row_class_init (TsSurfaceRowClass *class)
{
  G_OBJECT_CLASS (class)->dispose = ts_surface_row_dispose;
}

static void
add_names (TsSurfaceRow *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->names = gtk_stack_new ();
  self->name = gtk_label_new ("");
  self->entry = gtk_entry_new ();
  gtk_label_set_xalign (GTK_LABEL (self->name), 0.0F);
  ts_accessible_may_be_cut (self->name);
  gtk_widget_add_css_class (self->name, "body");
  gtk_widget_add_css_class (self->entry, "body");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Name of the surface"), -1);
  gtk_stack_set_vhomogeneous (GTK_STACK (self->names), FALSE);
  gtk_stack_add_child (GTK_STACK (self->names), self->name);
  gtk_stack_add_child (GTK_STACK (self->names), self->entry);
  gtk_widget_set_hexpand (self->names, TRUE);
  g_signal_connect (self->entry, "activate", G_CALLBACK (on_activate), self);
  g_signal_connect (focus, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (self->entry, focus);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (self->entry, keys);
}

static void
ts_surface_row_init (TsSurfaceRow *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *verdict = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  add_names (self);
  self->summary = gtk_label_new ("");
  self->mark = ts_mark_icon_new ();
  self->strip = ts_strip_new (-1, STRIP_HEIGHT, STRIP_EDGE);
  gtk_widget_add_css_class (self->summary, "small");
  gtk_box_append (GTK_BOX (verdict), self->summary);
  gtk_box_append (GTK_BOX (verdict), self->mark);
  self->hidden = gtk_image_new_from_icon_name ("view-conceal-symbolic");
  gtk_widget_set_tooltip_text (self->hidden, _ ("Hidden on the picture until it is chosen"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->hidden), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Hidden on the picture until it is chosen"), -1);
  gtk_widget_add_css_class (self->hidden, "dim");
  gtk_box_append (GTK_BOX (line), self->names);
  gtk_box_append (GTK_BOX (line), self->hidden);
  gtk_box_append (GTK_BOX (line), verdict);
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), self->strip);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), box);
}

/**
 * ts_surface_row_new:
 * @document: the document
 * @index: which surface
 *
 * Returns: (transfer floating): a row for one surface
 */
GtkWidget *
ts_surface_row_new (TsDocument *document, guint index)
{
  TsSurfaceRow *self = g_object_new (TS_TYPE_SURFACE_ROW, NULL);

  self->document = g_object_ref (document);
  self->index = index;
  return GTK_WIDGET (self);
}

/**
 * ts_surface_row_update:
 * @self: the row
 * @grey: whether to show lightness alone
 *
 * Shows what the document has now.
 */
void
ts_surface_row_update (TsSurfaceRow *self, gboolean grey)
{
  const TsSurface *surface =
    ts_plan_get_surface (ts_document_get_plan (self->document), self->index);
  TsSurfaceResult *result = ts_document_get_result (self->document, self->index);

  gtk_label_set_label (GTK_LABEL (self->name), surface->name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  surface->name, -1);
  gtk_widget_set_visible (self->hidden, surface->hidden);
  gtk_widget_set_visible (self->strip, result != NULL);
  gtk_widget_set_visible (self->mark, result != NULL);
  if (result != NULL)
    show_result (self, result, grey);
  else
    gtk_label_set_label (GTK_LABEL (self->summary), _ ("cannot be measured"));
}

/**
 * ts_surface_row_rename:
 * @self: the row
 *
 * Puts an entry in place of the name, its text selected.
 */
void
ts_surface_row_rename (TsSurfaceRow *self)
{
  g_return_if_fail (TS_IS_SURFACE_ROW (self));

  self->cancelled = FALSE;
  gtk_editable_set_text (GTK_EDITABLE (self->entry), gtk_label_get_label (GTK_LABEL (self->name)));
  gtk_stack_set_visible_child (GTK_STACK (self->names), self->entry);
  gtk_widget_grab_focus (self->entry);
  gtk_editable_select_region (GTK_EDITABLE (self->entry), 0, -1);
}
