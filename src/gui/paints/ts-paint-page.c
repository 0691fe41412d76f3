/* ts-paint-page.c: one paint: what it looks like, what is known of it, and how surely
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-page.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-mark-icon.h"
#include "gui/paints/ts-paint-card.h"
#include "gui/paints/ts-paint-plot.h"
#include "gui/paints/ts-paint-words.h"

#define CARD_HEIGHT 108
#define CARD_EDGE 10

struct _TsPaintPage
{
  TsView parent_instance;

  TsPaintItem *item; /* owned, nullable */
  gboolean updating;

  /* Template children */
  GtkWidget *scroller, *name, *stock, *full, *low, *out, *edit, *card_holder;
  GtkWidget *opacity, *source, *sure, *colour, *pigments, *finish, *notes, *used;
  GtkWidget *caution, *caution_mark, *caution_text, *plot, *plot_note;

  GtkWidget *card;
};

enum
{
  STOCK,
  EDIT,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsPaintPage, ts_paint_page, TS_TYPE_VIEW)

static void
on_stock (GtkToggleButton *button, TsPaintPage *self)
{
  TsStock stock = GTK_WIDGET (button) == self->out   ? TS_STOCK_OUT
                  : GTK_WIDGET (button) == self->low ? TS_STOCK_LOW
                                                     : TS_STOCK_FULL;

  if (!self->updating && gtk_toggle_button_get_active (button))
    g_signal_emit (self, signals[STOCK], 0, (int) stock);
}

static void
on_edit (TsPaintPage *self)
{
  g_signal_emit (self, signals[EDIT], 0);
}

/* A line that says nothing is left out. */
static void
set_line (GtkWidget *label, const char *text)
{
  GtkWidget *before = gtk_widget_get_prev_sibling (label);
  gboolean shown = text != NULL && *text != '\0';

  gtk_label_set_label (GTK_LABEL (label), shown ? text : "");
  gtk_widget_set_visible (label, shown);
  gtk_widget_set_visible (before, shown);
}

static gboolean
is_in_recipe (const TsSurfaceResult *result, guint step, int paint)
{
  const TsRecipe *recipe = ts_surface_result_get_recipe (result, step);

  for (guint p = 0; recipe != NULL && p < recipe->n_paints; p++)
    if ((int) recipe->paint[p] == paint)
      return TRUE;
  return FALSE;
}

/* "steps 1 to 4, 6" */
static char *
list_steps (const TsSurfaceResult *result, int paint)
{
  g_autoptr (GString) text = g_string_new (NULL);
  guint n = ts_surface_result_get_n_steps (result), n_used = 0;

  for (guint i = 0; i < n; i++)
    {
      guint first = i;

      if (!is_in_recipe (result, i, paint))
        continue;
      while (i + 1 < n && is_in_recipe (result, i + 1, paint))
        i++;
      g_string_append (text, text->len > 0 ? _ (", ") : "");
      if (first == i)
        g_string_append_printf (text, "%u", first + 1);
      else
        g_string_append_printf (text, _ ("%u to %u"), first + 1, i + 1);
      n_used += i - first + 1;
    }
  if (n_used == 0)
    return NULL;
  g_string_prepend (text, n_used == 1 ? _ ("step ") : _ ("steps "));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
dup_used (TsPaintPage *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const TsPlan *plan = document != NULL ? ts_document_get_plan (document) : NULL;
  g_autoptr (GString) text = g_string_new (NULL);
  const char *name = ts_paint_get_name (ts_paint_item_get_paint (self->item));

  for (guint i = 0; plan != NULL && i < plan->surfaces->len; i++)
    {
      const TsSurfaceResult *result = ts_document_get_result (document, i);
      TsPaintSet *set = result != NULL ? ts_surface_result_get_paints (result) : NULL;
      int paint = set != NULL ? ts_paint_set_find (set, name) : -1;
      g_autofree char *steps = paint >= 0 ? list_steps (result, paint) : NULL;

      if (steps != NULL)
        g_string_append_printf (text, "%s%s, %s", text->len > 0 ? "; " : "",
                                ts_plan_get_surface (plan, i)->name, steps);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
show_opacity (TsPaintPage *self)
{
  TsPaint *paint = ts_paint_item_get_paint (self->item);
  const TsPaintSamples *samples = ts_paint_item_get_samples (self->item);
  g_autofree char *words = ts_paint_words_hiding (paint, samples);

  set_line (self->opacity, words);
  if (ts_paint_words_disagree (paint, samples))
    gtk_widget_add_css_class (self->opacity, "problem");
  else
    gtk_widget_remove_css_class (self->opacity, "problem");
}

static void
show_caution (TsPaintPage *self)
{
  const char *caution = ts_paint_get_caution (ts_paint_item_get_paint (self->item));

  gtk_widget_set_visible (self->caution, caution != NULL);
  gtk_label_set_label (GTK_LABEL (self->caution_text), caution != NULL ? caution : "");
}

/* Whether the curve itself was measured, or only a colour, from which it is worked out. */
static const char *
get_plot_note (TsPaintSource source)
{
  switch (source)
    {
    case TS_SOURCE_WORD:
    case TS_SOURCE_FILMS_LAB:
      return _ ("Worked out from a colour: its colour is exact, its shape a likely one.");
    case TS_SOURCE_CALIBRATED:
      return _ ("As your test swatches have refined it.");
    case TS_SOURCE_MASSTONE:
    case TS_SOURCE_FILMS_SPECTRA:
    case TS_SOURCE_TINTS:
      return _ ("As it was measured.");
    case TS_SOURCE_DIRECT:
    default:
      return _ ("Worked out from the absorption and scattering given.");
    }
}

static void
show_plot (TsPaintPage *self, TsPaintSet *set)
{
  TsPaint *paint = ts_paint_item_get_paint (self->item);
  TsSpectrum reflectance;

  ts_mix_get_masstone (ts_paint_get_K (paint), ts_paint_get_S (paint),
                       ts_paint_set_get_surface (set), &reflectance);
  ts_paint_plot_show (TS_PAINT_PLOT (self->plot), &reflectance, NULL, NULL,
                      ts_paint_get_name (paint));
  gtk_label_set_label (GTK_LABEL (self->plot_note), get_plot_note (ts_paint_get_source (paint)));
}

static void
show_known (TsPaintPage *self, TsPaintSet *set)
{
  TsPaint *paint = ts_paint_item_get_paint (self->item);
  g_autofree char *source = ts_paint_words_source (set, ts_paint_item_get_index (self->item));
  g_autofree char *within = ts_format_error (ts_paint_get_error (paint));
  g_autofree char *sure = g_strdup_printf (_ ("%s in mixes"), within);
  g_autofree char *colour = ts_format_lab (ts_paint_get_masstone (paint));
  g_autofree char *used = dup_used (self);

  show_opacity (self);
  set_line (self->source, source);
  set_line (self->sure, sure);
  set_line (self->colour, colour);
  set_line (self->pigments, ts_paint_get_pigments (paint));
  set_line (self->finish, ts_paint_get_finish (paint));
  set_line (self->notes, ts_paint_get_notes (paint));
  set_line (self->used, used);
}

static void
show_stock (TsPaintPage *self)
{
  TsStock stock = ts_paint_get_stock (ts_paint_item_get_paint (self->item));
  GtkWidget *buttons[] = { self->full, self->low, self->out };

  self->updating = TRUE;
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (buttons[stock]), TRUE);
  self->updating = FALSE;
}

/**
 * ts_paint_page_show:
 * @self: the page
 * @item: (nullable): a paint
 *
 * Shows that paint.
 */
void
ts_paint_page_show (TsPaintPage *self, TsPaintItem *item)
{
  TsPaintSet *set = item != NULL ? ts_paint_item_get_set (item) : NULL;

  g_return_if_fail (TS_IS_PAINT_PAGE (self));

  g_set_object (&self->item, item);
  gtk_widget_set_visible (self->scroller, item != NULL);
  if (item == NULL)
    return;
  gtk_label_set_label (GTK_LABEL (self->name), ts_paint_get_name (ts_paint_item_get_paint (item)));
  ts_paint_card_show (TS_PAINT_CARD (self->card), ts_paint_item_get_samples (item),
                      ts_paint_get_name (ts_paint_item_get_paint (item)));
  show_stock (self);
  show_known (self, set);
  show_caution (self);
  show_plot (self, set);
}

/* Where it is used follows the search for mixes. */
static void
ts_paint_page_update (TsView *view, TsChange change)
{
  TsPaintPage *self = TS_PAINT_PAGE (view);
  g_autofree char *used = NULL;

  if (self->item == NULL || !(change & TS_CHANGE_RESULTS))
    return;
  used = dup_used (self);
  set_line (self->used, used);
}

static void
ts_paint_page_finalize (GObject *object)
{
  g_clear_object (&TS_PAINT_PAGE (object)->item);
  G_OBJECT_CLASS (ts_paint_page_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, name);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, stock);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, full);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, low);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, out);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, edit);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, card_holder);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, opacity);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, source);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, sure);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, colour);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, pigments);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, finish);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, notes);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, used);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, caution);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, caution_mark);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, caution_text);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, plot);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPage, plot_note);
  gtk_widget_class_bind_template_callback (widget_class, on_stock);
  gtk_widget_class_bind_template_callback (widget_class, on_edit);
}

static void
ts_paint_page_class_init (TsPaintPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_paint_page_finalize;
  TS_VIEW_CLASS (class)->update = ts_paint_page_update;
  signals[STOCK] = g_signal_new ("stock", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                 NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT);
  signals[EDIT] = g_signal_new ("edit", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 0);
  g_type_ensure (TS_TYPE_MARK_ICON);
  g_type_ensure (TS_TYPE_PAINT_PLOT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-paint-page.ui");
  bind_children (widget_class);
}

static void
ts_paint_page_init (TsPaintPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_mark_icon_set (TS_MARK_ICON (self->caution_mark), TS_MARK_CAUTION);
  self->card = ts_paint_card_new (-1, CARD_HEIGHT, CARD_EDGE);
  gtk_widget_set_hexpand (self->card, TRUE);
  gtk_box_append (GTK_BOX (self->card_holder), self->card);
  /* Before there is a paint. */
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->card), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("No paint is chosen"), -1);
}
