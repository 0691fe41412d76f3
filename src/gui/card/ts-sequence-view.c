/* ts-sequence-view.c: the order of work for one stair, to be ticked off while painting
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/card/ts-sequence-view.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"

/* A share of all drops, beyond which a word on it helps. */
#define MUCH_LEFT 0.5
/* Rows that are made in one turn of the main loop: a long order of work takes as long to lay out as
 * some frames. */
#define ROWS_AT_ONCE 8

struct _TsSequenceView
{
  TsView parent_instance;

  gboolean updating; /* things are shown, not chosen */
  GPtrArray *keys;   /* owned, char *: of the rows that are shown */
  GPtrArray *texts;  /* owned, char * */
  guint n_rows;      /* of them that have been made */
  guint making;      /* source id, 0: all are made */

  /* Template children */
  GtkAdjustment *area, *coats;
  GtkWidget *surfaces, *area_spin, *coats_spin, *list, *summary;
};

G_DEFINE_FINAL_TYPE (TsSequenceView, ts_sequence_view, TS_TYPE_VIEW)

static guint
get_selected (TsSequenceView *self)
{
  return (guint) ts_document_get_selected_surface (ts_view_get_document (TS_VIEW (self)));
}

static gboolean
can_choose (TsSequenceView *self)
{
  return !self->updating && ts_view_get_surface (TS_VIEW (self)) != NULL;
}

static void
on_surface_chosen (TsSequenceView *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->surfaces));

  if (can_choose (self) && chosen != GTK_INVALID_LIST_POSITION)
    ts_document_select_surface (ts_view_get_document (TS_VIEW (self)), (int) chosen);
}

static void
on_amount_changed (TsSequenceView *self)
{
  if (can_choose (self))
    ts_document_set_work (ts_view_get_document (TS_VIEW (self)), get_selected (self),
                          gtk_adjustment_get_value (self->area),
                          gtk_adjustment_get_value (self->coats));
}

static void
on_toggled (GtkCheckButton *check, TsSequenceView *self)
{
  /* The row is told anew meanwhile. */
  g_autofree char *key = g_strdup (g_object_get_data (G_OBJECT (check), "key"));

  if (can_choose (self))
    ts_document_tick_work (ts_view_get_document (TS_VIEW (self)), get_selected (self), key,
                           gtk_check_button_get_active (check));
}

static GtkWidget *
new_check (TsSequenceView *self)
{
  GtkWidget *check = gtk_check_button_new (), *label = gtk_label_new (NULL);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_natural_wrap_mode (GTK_LABEL (label), GTK_NATURAL_WRAP_NONE);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
  gtk_check_button_set_child (GTK_CHECK_BUTTON (check), label);
  gtk_widget_add_css_class (check, "work");
  gtk_widget_set_valign (gtk_widget_get_first_child (check), GTK_ALIGN_START);
  g_signal_connect (check, "toggled", G_CALLBACK (on_toggled), self);
  return check;
}

/* What row @i is of, and whether that is done. */
static void
show_work (TsSequenceView *self, GtkWidget *row, guint i)
{
  const char *key = g_ptr_array_index (self->keys, i), *text = g_ptr_array_index (self->texts, i);
  char **done = ts_view_get_surface (TS_VIEW (self))->done;
  gboolean ticked = done != NULL && g_strv_contains ((const char *const *) done, key);

  g_object_set_data_full (G_OBJECT (row), "key", g_strdup (key), g_free);
  gtk_label_set_label (GTK_LABEL (gtk_check_button_get_child (GTK_CHECK_BUTTON (row))), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (row), ticked);
  if (ticked)
    gtk_widget_add_css_class (row, "dim");
  else
    gtk_widget_remove_css_class (row, "dim");
}

static gboolean
make_rows (gpointer user_data)
{
  TsSequenceView *self = TS_SEQUENCE_VIEW (user_data);
  gboolean has_surface = ts_view_get_surface (TS_VIEW (self)) != NULL;
  guint n = has_surface ? MIN (self->n_rows + ROWS_AT_ONCE, self->keys->len) : self->n_rows;
  gboolean was_updating = self->updating;

  self->updating = TRUE;
  for (; self->n_rows < n; self->n_rows++)
    {
      GtkWidget *row = new_check (self);

      show_work (self, row, self->n_rows);
      gtk_box_append (GTK_BOX (self->list), row);
    }
  self->updating = was_updating;
  if (has_surface && n < self->keys->len)
    return G_SOURCE_CONTINUE;
  self->making = 0;
  return G_SOURCE_REMOVE;
}

/* Takes both. Rows that are there stay, so that the keyboard and a click that has begun do. */
static void
show_rows (TsSequenceView *self, GPtrArray *keys, GPtrArray *texts)
{
  GtkWidget *row;

  g_ptr_array_unref (self->keys);
  g_ptr_array_unref (self->texts);
  self->keys = keys;
  self->texts = texts;
  for (; self->n_rows > keys->len; self->n_rows--)
    gtk_box_remove (GTK_BOX (self->list), gtk_widget_get_last_child (self->list));
  row = gtk_widget_get_first_child (self->list);
  for (guint i = 0; i < self->n_rows; i++, row = gtk_widget_get_next_sibling (row))
    show_work (self, row, i);
  if (self->making == 0 && self->n_rows < keys->len)
    self->making = g_idle_add (make_rows, self);
}

static void
show_summary (TsSequenceView *self, const TsMixingSequence *sequence)
{
  const TsSurface *surface = ts_view_get_stair_surface (TS_VIEW (self));
  g_autofree char *text = NULL;
  double left = 0.0;
  guint drops = 0;

  if (sequence == NULL)
    text = g_strdup (_ ("The order of work is told once every step has its mix."));
  else
    {
      drops = ts_mixing_sequence_get_drops (sequence, &left);
      text = g_strdup_printf (
        ngettext ("%u drop in all, about %.0f of them left over. Amounts are estimates.",
                  "%u drops in all, about %.0f of them left over. Amounts are estimates.", drops),
        drops, left);
    }
  if (left > MUCH_LEFT * drops && surface->together == TS_TOGETHER_APART)
    {
      g_autofree char *amounts = g_steal_pointer (&text);

      /* Where it is done: over the stair. */
      text = g_strdup_printf (
        _ ("%s Mixes chosen together leave less over: press the number of paints over the stair."),
        amounts);
    }
  gtk_label_set_label (GTK_LABEL (self->summary), text);
}

static void
show_sequence (TsSequenceView *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  const TsPlan *plan = ts_document_get_plan (document);
  g_autoptr (TsMixingSequence) sequence =
    result != NULL ? ts_surface_result_sequence (result, plan, get_selected (self)) : NULL;
  GPtrArray *keys = g_ptr_array_new_with_free_func (g_free);
  GPtrArray *texts = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; sequence != NULL && i < ts_mixing_sequence_get_n (sequence); i++)
    {
      const TsWork *work = ts_mixing_sequence_get_work (sequence, i);

      g_ptr_array_add (keys, ts_work_to_key (work, ts_surface_result_get_paints (result)));
      g_ptr_array_add (texts,
                       ts_work_to_text (work, ts_surface_result_get_paints (result), plan->medium));
    }
  show_rows (self, keys, texts);
  show_summary (self, sequence);
}

static gboolean
has_names (GListModel *model, const TsPlan *plan)
{
  guint n = model != NULL ? g_list_model_get_n_items (model) : 0;

  if (n != plan->surfaces->len)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (!g_str_equal (gtk_string_list_get_string (GTK_STRING_LIST (model), i),
                      ts_plan_get_surface (plan, i)->name))
      return FALSE;
  return TRUE;
}

/* While a row is being chosen GTK 4.8 does not bear other rows: they stay where their names do. */
static void
show_surfaces (TsSequenceView *self)
{
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (TS_VIEW (self)));
  g_autoptr (GtkStringList) names = NULL;

  if (!has_names (gtk_drop_down_get_model (GTK_DROP_DOWN (self->surfaces)), plan))
    {
      names = gtk_string_list_new (NULL);
      for (guint i = 0; i < plan->surfaces->len; i++)
        gtk_string_list_append (names, ts_plan_get_surface (plan, i)->name);
      gtk_drop_down_set_model (GTK_DROP_DOWN (self->surfaces), G_LIST_MODEL (names));
    }
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->surfaces), get_selected (self));
}

static void
ts_sequence_view_update (TsView *view, TsChange change)
{
  TsSequenceView *self = TS_SEQUENCE_VIEW (view);
  const TsSurface *surface = ts_view_get_surface (view);

  if (!gtk_widget_get_mapped (GTK_WIDGET (self)) || surface == NULL)
    return;
  self->updating = TRUE;
  if (change & (TS_CHANGE_PLAN | TS_CHANGE_SELECTION))
    show_surfaces (self);
  gtk_adjustment_set_value (self->area, surface->area > 0.0 ? surface->area : TS_USUAL_AREA);
  gtk_adjustment_set_value (self->coats, surface->coats > 0.0 ? surface->coats : TS_USUAL_COATS);
  show_sequence (self);
  self->updating = FALSE;
}

static void
ts_sequence_view_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (ts_sequence_view_parent_class)->map (widget);
  ts_sequence_view_update (TS_VIEW (widget), TS_CHANGE_ALL);
}

static void
ts_sequence_view_dispose (GObject *object)
{
  g_clear_handle_id (&TS_SEQUENCE_VIEW (object)->making, g_source_remove);
  G_OBJECT_CLASS (ts_sequence_view_parent_class)->dispose (object);
}

static void
ts_sequence_view_finalize (GObject *object)
{
  TsSequenceView *self = TS_SEQUENCE_VIEW (object);

  g_ptr_array_unref (self->keys);
  g_ptr_array_unref (self->texts);
  G_OBJECT_CLASS (ts_sequence_view_parent_class)->finalize (object);
}

static void
ts_sequence_view_class_init (TsSequenceViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_sequence_view_dispose;
  G_OBJECT_CLASS (class)->finalize = ts_sequence_view_finalize;
  TS_VIEW_CLASS (class)->update = ts_sequence_view_update;
  widget_class->map = ts_sequence_view_map;
  gtk_widget_class_set_template_from_resource (
    widget_class, "/io/github/tonestair/Tonestair/ts-sequence-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TsSequenceView, area);
  gtk_widget_class_bind_template_child (widget_class, TsSequenceView, coats);
  gtk_widget_class_bind_template_child (widget_class, TsSequenceView, surfaces);
  gtk_widget_class_bind_template_child (widget_class, TsSequenceView, area_spin);
  gtk_widget_class_bind_template_child (widget_class, TsSequenceView, coats_spin);
  gtk_widget_class_bind_template_child (widget_class, TsSequenceView, list);
  gtk_widget_class_bind_template_child (widget_class, TsSequenceView, summary);
  gtk_widget_class_bind_template_callback (widget_class, on_surface_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_amount_changed);
}

static void
ts_sequence_view_init (TsSequenceView *self)
{
  self->updating = TRUE;
  self->keys = g_ptr_array_new_with_free_func (g_free);
  self->texts = g_ptr_array_new_with_free_func (g_free);
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_accessible_name_inner (self->surfaces, _ ("Surface"));
  self->updating = FALSE;
}
