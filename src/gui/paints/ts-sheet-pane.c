/* ts-sheet-pane.c: paints from the photograph of a swatch sheet
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-sheet-pane.h"

#include <glib/gi18n.h>
#include <math.h>

#include "card/ts-sheet-template.h"
#include "document/ts-document-paints.h"
#include "gui/widgets/ts-accessible.h"
#include "gui/correction/ts-chart-make.h"
#include "gui/paints/ts-sheet-photo.h"
#include "gui/paints/ts-sheet-reading.h"
#include "gui/paints/ts-sheet-row.h"
#include "gui/paints/ts-sheet-view.h"

#define READ_DELAY 120      /* ms: a drag's next change comes sooner */
#define CARD_LIGHTNESS 49.5 /* L* of an 18 % grey card */

struct _TsSheetPane
{
  TsView parent_instance;

  /* Owned, nullable */
  TsImage *image;
  TsSheet *sheet;
  char *problem; /* why there is no sheet */
  GCancellable *opening, *reading;

  guint read_source;
  guint taking; /* source id: numbers of cells have changed, or 0 */
  gboolean filling;
  double within; /* 95 % radius of the correction about mid grey, or NaN */

  /* Template children */
  TsChartMake *make;
  GtkWidget *box, *rows, *columns, *cell, *kind, *state, *title, *scroller, *list, *summary, *add;
  TsSheetView *view;
};

/* What each cell is, in the order of its drop-down list. */
enum
{
  FULL_STRENGTH,
  CONTRAST_CARD,
  PRINTED_SHEET
};

enum
{
  CLOSED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsSheetPane, ts_sheet_pane, TS_TYPE_VIEW)

static void show_all (TsSheetPane *self);

static void
tell (TsSheetPane *self, const char *text)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));

  if (document != NULL)
    g_signal_emit_by_name (document, "message", text, NULL, NULL);
}

static void
show_state (TsSheetPane *self)
{
  guint kind = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->kind));
  g_autofree char *text = NULL;

  if (self->problem != NULL)
    text = g_strdup (self->problem);
  else if (self->sheet == NULL)
    text = g_strdup (self->image != NULL ? _ ("reading…") : _ ("opening…"));
  else if (kind == 0)
    text = g_strdup (_ ("Uncorrected: only rough"));
  else
    text = g_strdup_printf (_ ("Corrected, within about dE %.0f"), ceil (self->within - 0.05));
  gtk_label_set_label (GTK_LABEL (self->state), text);
  gtk_widget_set_tooltip_text (self->state, text);
}

static void
on_read (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsSheetPane) self = user_data;
  g_autoptr (GError) error = NULL;
  double within;
  g_autoptr (TsSheet) sheet = ts_sheet_reading_finish (result, &within, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&self->reading);
  g_clear_pointer (&self->sheet, ts_sheet_unref);
  self->sheet = g_steal_pointer (&sheet);
  self->problem = error != NULL ? g_strdup (error->message) : NULL;
  self->within = within;
  ts_sheet_view_set_sheet (self->view, self->sheet);
  show_all (self);
}

static TsCorrectionKind
get_kind (TsSheetPane *self)
{
  const TsCorrectionKind kinds[] = { TS_CORRECTION_NONE, TS_CORRECTION_CARD, TS_CORRECTION_CHART };

  return kinds[MIN (gtk_drop_down_get_selected (GTK_DROP_DOWN (self->kind)), 2)];
}

static gboolean
start_reading (gpointer user_data)
{
  TsSheetPane *self = user_data;
  TsCorrectionSettings settings = { .card_lightness = CARD_LIGHTNESS,
                                    .chart = g_strdup (ts_chart_make_get (self->make)) };

  self->read_source = 0;
  ts_sheet_view_get_settings (self->view, &settings);
  self->reading = g_cancellable_new ();
  ts_sheet_reading_run (self->image, &settings, ts_sheet_view_get_grid (self->view), self->reading,
                        on_read, g_object_ref (self));
  ts_correction_settings_clear (&settings);
  return G_SOURCE_REMOVE;
}

static void
stop (GCancellable **cancellable)
{
  g_cancellable_cancel (*cancellable);
  g_clear_object (cancellable);
}

static void
stop_reading (TsSheetPane *self)
{
  stop (&self->reading);
  g_clear_handle_id (&self->read_source, g_source_remove);
  g_clear_pointer (&self->problem, g_free);
}

/* Nothing of the photograph stays, nor comes later. */
static void
forget_photo (TsSheetPane *self)
{
  stop (&self->opening);
  stop_reading (self);
  g_clear_pointer (&self->image, ts_image_unref);
  g_clear_pointer (&self->sheet, ts_sheet_unref);
}

/* Reads the sheet again a little later: what was read no longer holds. */
static void
queue_reading (TsSheetPane *self)
{
  stop_reading (self);
  if (self->image != NULL)
    self->read_source = g_timeout_add (READ_DELAY, start_reading, self);
}

static void
on_moved (TsSheetPane *self)
{
  queue_reading (self);
}

static TsSheetRow *
get_row (TsSheetPane *self, guint index)
{
  return TS_SHEET_ROW (gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) index));
}

static guint
count_cells (TsSheetPane *self)
{
  const TsSheetGrid *grid = ts_sheet_view_get_grid (self->view);

  return grid->n_rows * grid->n_columns;
}

static void
on_renamed (TsSheetPane *self)
{
  if (!self->filling)
    show_all (self);
}

/* As many rows as the sheet has cells; names that were typed stay. */
static void
match_rows (TsSheetPane *self)
{
  guint n = count_cells (self), have = 0;

  while (gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) have) != NULL)
    have++;
  for (; have > n; have--)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (get_row (self, have - 1)));
  for (; have < n; have++)
    {
      GtkWidget *row = ts_sheet_row_new (have + 1);

      g_signal_connect_swapped (row, "renamed", G_CALLBACK (on_renamed), self);
      gtk_list_box_append (GTK_LIST_BOX (self->list), row);
    }
}

/* The names as they will be taken: one that an earlier cell has is left out. @kinds (nullable) says
 * what each is. */
static GPtrArray *
collect_names (TsSheetPane *self, TsSheetName *kinds)
{
  TsPaintSet *set = ts_document_get_paints (ts_view_get_document (TS_VIEW (self)));
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < count_cells (self); i++)
    {
      char *name = ts_sheet_row_dup_name (get_row (self, i));
      char *key = g_utf8_casefold (name, -1);
      TsSheetName kind = TS_SHEET_NAME_NEW;

      if (*name != '\0' && g_hash_table_contains (seen, key))
        kind = TS_SHEET_NAME_TWICE;
      else if (*name != '\0' && set != NULL && ts_paint_set_find (set, name) >= 0)
        kind = TS_SHEET_NAME_KNOWN;
      g_hash_table_add (seen, key);
      if (kinds != NULL)
        kinds[i] = kind;
      if (kind == TS_SHEET_NAME_TWICE)
        *name = '\0';
      g_ptr_array_add (names, name);
    }
  g_ptr_array_add (names, NULL);
  return names;
}

static void
show_summary (TsSheetPane *self, const GPtrArray *names, const TsSheetName *kinds)
{
  guint n = count_cells (self), n_added = 0, n_again = 0, n_out = 0, n_doubtful = 0, n_twice = 0;
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *add = NULL;

  for (guint i = 0; i < n; i++)
    {
      const TsSheetCell *cell = self->sheet != NULL ? ts_sheet_get_cell (self->sheet, i) : NULL;
      gboolean named = *(const char *) g_ptr_array_index (names, i) != '\0';

      n_twice += kinds[i] == TS_SHEET_NAME_TWICE ? 1 : 0;
      if (cell == NULL)
        continue;
      n_out += cell->usable ? 0 : 1;
      n_doubtful += cell->usable && cell->why != NULL ? 1 : 0;
      n_added += cell->usable && named && kinds[i] == TS_SHEET_NAME_NEW ? 1 : 0;
      n_again += cell->usable && kinds[i] == TS_SHEET_NAME_KNOWN ? 1 : 0;
    }
  if (self->sheet != NULL)
    g_string_append_printf (
      text, ngettext ("%u cell is even.", "%u cells are even.", n - n_out - n_doubtful),
      n - n_out - n_doubtful);
  if (n_doubtful > 0)
    g_string_append_printf (text,
                            ngettext (" %u is in doubt and counts for less.",
                                      " %u are in doubt and count for less.", n_doubtful),
                            n_doubtful);
  if (n_out > 0)
    g_string_append_printf (text,
                            ngettext (" %u cannot be used and is left out.",
                                      " %u cannot be used and are left out.", n_out),
                            n_out);
  if (self->sheet != NULL && n_added + n_again == 0 && n_twice == 0)
    g_string_append (text, _ (" Give them names: a cell without one is not added."));
  if (n_again > 0)
    g_string_append_printf (text,
                            ngettext (" %u paint is there already and is measured again.",
                                      " %u paints are there already and are measured again.",
                                      n_again),
                            n_again);
  if (n_twice > 0)
    g_string_append_printf (text,
                            ngettext (" %u name is there twice: type another.",
                                      " %u names are there twice: type others.", n_twice),
                            n_twice);
  gtk_label_set_label (GTK_LABEL (self->summary), text->str);
  if (n_again > 0)
    add = g_strdup_printf (ngettext ("Take %u paint", "Take %u paints", n_added + n_again),
                           n_added + n_again);
  else
    add = n_added > 0
            ? g_strdup_printf (ngettext ("Add %u paint", "Add %u paints", n_added), n_added)
            : g_strdup (_ ("Add no paints"));
  gtk_button_set_label (GTK_BUTTON (self->add), add);
  gtk_widget_set_sensitive (self->add, n_added + n_again > 0);
}

static void
show_all (TsSheetPane *self)
{
  guint n = count_cells (self);
  g_autofree TsSheetName *kinds = g_new0 (TsSheetName, n);
  g_autoptr (GPtrArray) names = NULL;
  g_autofree char *title =
    g_strdup_printf (ngettext ("%u paint from one sheet", "%u paints from one sheet", n), n);

  match_rows (self);
  names = collect_names (self, kinds);
  for (guint i = 0; i < n; i++)
    ts_sheet_row_show (get_row (self, i),
                       self->sheet != NULL && i < ts_sheet_get_n_cells (self->sheet)
                         ? ts_sheet_get_cell (self->sheet, i)
                         : NULL,
                       ts_sheet_view_get_grid (self->view)->halves, kinds[i]);
  gtk_label_set_label (GTK_LABEL (self->title), title);
  show_summary (self, names, kinds);
  show_state (self);
}

static gboolean
take_cells (gpointer user_data)
{
  TsSheetPane *self = TS_SHEET_PANE (user_data);
  guint cell;

  self->taking = 0;
  cell = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->cell));
  ts_sheet_view_set_cells (
    self->view, (guint) gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->rows)),
    (guint) gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->columns)),
    cell != FULL_STRENGTH, cell == PRINTED_SHEET ? TS_TEMPLATE_BARE : 0.0);
  g_clear_pointer (&self->sheet, ts_sheet_unref);
  show_all (self);
  queue_reading (self);
  return G_SOURCE_REMOVE;
}

/* Before the next event, but not while the focus moves: GTK never ends where the row that is about
 * to get it goes. */
static void
on_cells (TsSheetPane *self)
{
  if (self->view != NULL && !self->filling && self->taking == 0)
    self->taking = g_idle_add_full (G_PRIORITY_HIGH, take_cells, self, NULL);
}

static void
on_make (TsSheetPane *self)
{
  queue_reading (self);
}

static void
on_kind (TsSheetPane *self)
{
  if (self->view == NULL || self->filling)
    return;
  ts_sheet_view_set_kind (self->view, get_kind (self));
  gtk_widget_set_visible (GTK_WIDGET (self->make), get_kind (self) == TS_CORRECTION_CHART);
  queue_reading (self);
}

static void
on_turn (TsSheetPane *self)
{
  ts_sheet_view_turn (self->view);
}

static void
on_cell_chosen (TsSheetPane *self, guint cell)
{
  TsSheetRow *row = get_row (self, cell);

  if (row != NULL)
    {
      gtk_list_box_select_row (GTK_LIST_BOX (self->list), GTK_LIST_BOX_ROW (row));
      gtk_widget_grab_focus (GTK_WIDGET (row));
    }
}

static void
on_row_selected (GtkListBox *list, GtkListBoxRow *row, TsSheetPane *self)
{
  ts_sheet_view_choose (self->view, row != NULL ? gtk_list_box_row_get_index (row) : -1);
}

static void
on_names_pasted (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsSheetPane) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, &error);
  g_auto (GStrv) names = text != NULL ? ts_sheet_parse_names (text, -1) : NULL;
  guint n = names != NULL ? g_strv_length (names) : 0;

  if (ts_view_get_document (TS_VIEW (self)) == NULL)
    return;
  if (n == 0)
    {
      tell (self, _ ("There are no names to paste: copy a list, one name a line."));
      return;
    }
  self->filling = TRUE;
  for (guint i = 0; i < MIN (n, count_cells (self)); i++)
    ts_sheet_row_set_name (get_row (self, i), names[i]);
  self->filling = FALSE;
  show_all (self);
}

static void
on_paste (TsSheetPane *self)
{
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (GTK_WIDGET (self)), NULL,
                                 on_names_pasted, g_object_ref (self));
}

static void
close_sheet (TsSheetPane *self, gboolean added)
{
  forget_photo (self);
  ts_sheet_view_set_image (self->view, NULL);
  g_signal_emit (self, signals[CLOSED], 0, added);
}

static void
on_cancel (TsSheetPane *self)
{
  close_sheet (self, FALSE);
}

static void
on_add (TsSheetPane *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsPaintSet *old = ts_document_get_paints (document);
  g_autoptr (GPtrArray) names = collect_names (self, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) paints = NULL;
  g_autofree char *text = NULL;
  guint n_old = old != NULL ? ts_paint_set_get_n_paints (old) : 0, n, n_again;

  if (self->sheet == NULL)
    return;
  paints = ts_sheet_add_to_set (self->sheet, old, (const char *const *) names->pdata, &error);
  if (paints == NULL)
    {
      tell (self, error->message);
      return;
    }
  n = ts_paint_set_get_n_paints (paints) - n_old;
  n_again = ts_sheet_count_taken (self->sheet, (const char *const *) names->pdata) - n;
  if (n_again > 0)
    text = g_strdup_printf (_ ("Paints added: %u; measured again: %u."), n, n_again);
  else
    text = g_strdup_printf (ngettext ("%u paint is added.", "%u paints are added.", n), n);
  ts_document_take_paints (document, paints,
                           old != NULL ? ts_document_get_paints_name (document) : _ ("My paints"),
                           _ ("Add a Swatch Sheet"));
  g_signal_emit_by_name (document, "message", text, "win.undo", _ ("Undo"));
  close_sheet (self, TRUE);
}

/* A printed sheet says itself how its grid lies. */
static void
take_grid (TsSheetPane *self, const TsSheetGrid *grid)
{
  self->filling = TRUE;
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->rows), grid->n_rows);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->columns), grid->n_columns);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->cell), PRINTED_SHEET);
  self->filling = FALSE;
  ts_sheet_view_set_grid (self->view, grid);
}

static void
on_opened (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsSheetPane) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TsSheetPhoto) photo = ts_sheet_photo_finish (result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&self->opening);
  if (photo == NULL)
    {
      tell (self, error->message);
      close_sheet (self, FALSE);
      return;
    }
  self->image = ts_image_ref (photo->image);
  ts_sheet_view_set_image (self->view, self->image);
  if (photo->found)
    take_grid (self, &photo->grid);
  show_all (self);
  queue_reading (self);
}

/**
 * ts_sheet_pane_open:
 * @self: the pane
 * @path: a photograph of a swatch sheet
 *
 * Opens it and lays the grid on it; the sheet is read as often as the grid moves.
 */
void
ts_sheet_pane_open (TsSheetPane *self, const char *path)
{
  g_return_if_fail (TS_IS_SHEET_PANE (self));

  forget_photo (self);
  self->opening = g_cancellable_new ();
  ts_sheet_photo_open (path, self->opening, on_opened, g_object_ref (self));
  show_all (self);
}

static void
ts_sheet_pane_update (TsView *view, TsChange change)
{
  TsSheetPane *self = TS_SHEET_PANE (view);

  if (change & TS_CHANGE_PLAN && self->image != NULL)
    show_all (self);
}

static gboolean
cancel (GtkWidget *widget, GVariant *args, gpointer user_data)
{
  on_cancel (TS_SHEET_PANE (widget));
  return TRUE;
}

static void
ts_sheet_pane_dispose (GObject *object)
{
  TsSheetPane *self = TS_SHEET_PANE (object);

  g_clear_handle_id (&self->taking, g_source_remove);
  forget_photo (self);
  G_OBJECT_CLASS (ts_sheet_pane_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, box);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, rows);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, columns);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, cell);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, kind);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, make);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, state);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, title);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, scroller);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, list);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, summary);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, add);
  gtk_widget_class_bind_template_child (widget_class, TsSheetPane, view);
}

static void
ts_sheet_pane_class_init (TsSheetPaneClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_sheet_pane_dispose;
  TS_VIEW_CLASS (class)->update = ts_sheet_pane_update;
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, cancel, NULL);
  g_type_ensure (TS_TYPE_CHART_MAKE);
  g_type_ensure (TS_TYPE_SHEET_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-sheet-pane.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, on_moved);
  gtk_widget_class_bind_template_callback (widget_class, on_cell_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_cells);
  gtk_widget_class_bind_template_callback (widget_class, on_kind);
  gtk_widget_class_bind_template_callback (widget_class, on_make);
  gtk_widget_class_bind_template_callback (widget_class, on_turn);
  gtk_widget_class_bind_template_callback (widget_class, on_paste);
  gtk_widget_class_bind_template_callback (widget_class, on_row_selected);
  gtk_widget_class_bind_template_callback (widget_class, on_add);
  gtk_widget_class_bind_template_callback (widget_class, on_cancel);
}

static void
ts_sheet_pane_init (TsSheetPane *self)
{
  self->within = (double) NAN;
  self->filling = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_accessible_may_be_cut (self->state);
  self->filling = FALSE;
  ts_accessible_name_inner (self->cell, _ ("What each cell is"));
  ts_accessible_name_inner (self->kind, _ ("How the colours are corrected"));
}
