/* ts-correction-panel.c: the correction of one photograph, beside it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/correction/ts-correction-panel.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/correction/ts-correction-cards.h"
#include "gui/correction/ts-chart-table.h"
#include "gui/widgets/ts-mark-icon.h"

/* Where an error is told for all colours together: a mid grey, and a colour of middling chroma. */
#define MIDDLE_L 50.0
#define MIDDLE_CHROMA 30.0

struct _TsCorrectionPanel
{
  TsView parent_instance;

  TsCorrectionDraft *draft; /* owned, or NULL: closed */
  GArray *sources;          /* owned, guint: pictures that the drop-down lists */
  GtkWidget *row[TS_DRAFT_N_CHOICES], *row_sub[TS_DRAFT_N_CHOICES], *row_title[TS_DRAFT_N_CHOICES];
  TsCorrectionCards *cards, *match; /* borrowed: children */
  gboolean updating;

  /* Template children */
  GtkWidget *choices, *fault_box, *fault, *pages, *card_box, *other_box, *source, *assumes;
  GtkWidget *guess_box, *guess, *guess_buttons, *guess_use, *guess_leave, *sure, *use, *others;
  TsChartTable *chart;
};

enum
{
  CLOSED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static const char *const page_names[TS_DRAFT_N_CHOICES] = { "chart", "card", "other", "none" };

G_DEFINE_FINAL_TYPE (TsCorrectionPanel, ts_correction_panel, TS_TYPE_VIEW)

static const TsPlan *
get_plan (TsCorrectionPanel *self)
{
  return ts_document_get_plan (ts_view_get_document (TS_VIEW (self)));
}

static char *
dup_picture_name (TsCorrectionPanel *self, guint picture)
{
  return g_filename_display_basename (ts_plan_get_picture (get_plan (self), picture)->path);
}

static void
set_draft (TsCorrectionPanel *self, TsCorrectionDraft *draft)
{
  g_set_object (&self->draft, draft);
  ts_chart_table_set_draft (self->chart, draft);
  ts_correction_cards_set_draft (self->cards, draft);
  ts_correction_cards_set_draft (self->match, draft);
}

/* Another picture was opened or chosen: not the one in which the same card lies. */
static gboolean
is_gone (TsCorrectionPanel *self, TsDocument *document)
{
  int shown = (int) ts_document_get_shown_picture (document);

  return shown != (int) ts_correction_draft_get_picture (self->draft) &&
         (ts_correction_draft_get_aim (self->draft) != TS_DISC_THERE ||
          shown != ts_correction_draft_get_source (self->draft));
}

/* The photograph of the draft is shown again where the card in another one was pointed at. */
static void
leave (TsCorrectionPanel *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  guint picture = ts_correction_draft_get_picture (self->draft);
  gboolean shows_other = ts_document_get_has_plan (document) && !is_gone (self, document);

  set_draft (self, NULL);
  if (shows_other && picture < get_plan (self)->pictures->len)
    ts_document_show_picture (document, picture);
  g_signal_emit (self, signals[CLOSED], 0);
}

static void
on_back (TsCorrectionPanel *self)
{
  if (self->draft != NULL)
    leave (self);
}

/* FALSE, and the painter is told why, where it cannot be put into the plan. */
static gboolean
keep (TsCorrectionPanel *self)
{
  g_autoptr (GError) error = NULL;

  if (!ts_correction_draft_can_keep (self->draft))
    return TRUE;
  if (ts_correction_draft_keep (self->draft, &error))
    return TRUE;
  g_signal_emit_by_name (ts_view_get_document (TS_VIEW (self)), "message", error->message, NULL,
                         NULL);
  return FALSE;
}

static void
on_use (TsCorrectionPanel *self)
{
  if (self->draft != NULL && keep (self))
    leave (self);
}

static void
on_row_selected (TsCorrectionPanel *self, GtkListBoxRow *row)
{
  if (!self->updating && self->draft != NULL && row != NULL)
    ts_correction_draft_choose (self->draft, (TsDraftChoice) gtk_list_box_row_get_index (row));
}

static void
on_source (TsCorrectionPanel *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->source));

  if (!self->updating && self->draft != NULL && chosen < self->sources->len)
    ts_correction_draft_set_source (self->draft, g_array_index (self->sources, guint, chosen));
}

static void
on_guess (TsCorrectionPanel *self)
{
  if (!self->updating && self->draft != NULL)
    ts_correction_draft_set_use_guess (self->draft, TRUE);
}

static void
on_leave_guess (TsCorrectionPanel *self)
{
  if (!self->updating && self->draft != NULL)
    ts_correction_draft_set_use_guess (self->draft, FALSE);
}

static gboolean
sources_are (TsCorrectionPanel *self, const GArray *sources)
{
  return self->sources->len == sources->len &&
         (sources->len == 0 ||
          memcmp (self->sources->data, sources->data, sources->len * sizeof (guint)) == 0);
}

/* The other photographs with a chart or a card of their own. */
static void
show_sources (TsCorrectionPanel *self)
{
  const TsPlan *plan = get_plan (self);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  g_autoptr (GArray) sources = g_array_new (FALSE, FALSE, sizeof (guint));
  int chosen = ts_correction_draft_get_source (self->draft);

  for (guint i = 0; i < plan->pictures->len; i++)
    if (ts_correction_draft_may_lend (self->draft, i))
      {
        g_autofree char *name = dup_picture_name (self, i);
        g_autofree char *words = g_strdup_printf (_ ("as in %s"), name);

        gtk_string_list_append (names, words);
        g_array_append_val (sources, i);
      }
  if (!sources_are (self, sources))
    {
      g_array_unref (self->sources);
      self->sources = g_steal_pointer (&sources);
      gtk_drop_down_set_model (GTK_DROP_DOWN (self->source), G_LIST_MODEL (names));
    }
  for (guint i = 0; i < self->sources->len; i++)
    if ((int) g_array_index (self->sources, guint, i) == chosen &&
        gtk_drop_down_get_selected (GTK_DROP_DOWN (self->source)) != i)
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->source), i);
  gtk_widget_set_visible (self->row[TS_DRAFT_OTHER],
                          self->sources->len > 0 ||
                            ts_correction_draft_get_choice (self->draft) == TS_DRAFT_OTHER);
}

static gboolean
is_matched (TsCorrectionPanel *self)
{
  return ts_correction_draft_get_disc (self->draft, TS_DISC_HERE)->radius > 0.0 &&
         ts_correction_draft_get_disc (self->draft, TS_DISC_THERE)->radius > 0.0;
}

static void
show_other (TsCorrectionPanel *self)
{
  int source = ts_correction_draft_get_source (self->draft);
  g_autofree char *name = NULL, *title = NULL, *assumes = NULL;

  if (source < 0)
    {
      gtk_label_set_label (GTK_LABEL (self->row_title[TS_DRAFT_OTHER]),
                           _ ("As in another photograph"));
      gtk_label_set_label (GTK_LABEL (self->assumes), "");
      return;
    }
  name = dup_picture_name (self, (guint) source);
  title = g_strdup_printf (_ ("As in %s"), name);
  assumes = g_strdup_printf (
    is_matched (self)
      ? _ ("Right where both photographs were taken in the same light. The grey card in both makes "
           "up for another exposure or white balance than in %s.")
      : _ ("Right only where both photographs were taken in the same light, with the same exposure "
           "and white balance as %s. A grey card in both makes up for those."),
    name);
  gtk_label_set_label (GTK_LABEL (self->row_title[TS_DRAFT_OTHER]), title);
  gtk_label_set_label (GTK_LABEL (self->assumes), assumes);
}

/* The question, as it depends on what the light looks like. */
static const char *
get_question (TsCast cast)
{
  switch (cast)
    {
    case TS_CAST_WARM:
      return _ ("The light looks warm (a guess). Correct for it?");
    case TS_CAST_GREENISH:
      return _ ("The light looks greenish (a guess). Correct for it?");
    case TS_CAST_COOL:
      return _ ("The light looks cool (a guess). Correct for it?");
    case TS_CAST_PINKISH:
      return _ ("The light looks pinkish (a guess). Correct for it?");
    case TS_CAST_NONE:
    default:
      return _ ("The light looks neutral (a guess).");
    }
}

static void
show_guess (TsCorrectionPanel *self)
{
  const TsLightGuess *guess = ts_correction_draft_get_guess (self->draft);
  gboolean used = ts_correction_draft_get_use_guess (self->draft);

  gtk_widget_set_visible (self->guess_box, guess != NULL);
  if (guess == NULL)
    return;
  gtk_label_set_label (GTK_LABEL (self->guess), get_question (guess->cast));
  gtk_widget_set_visible (self->guess_buttons, guess->cast != TS_CAST_NONE || used);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->guess_use), used);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->guess_leave), !used);
}

/* An honest radius in words: of a grey, and of a colour where that is another number. */
static char *
dup_sure_words (const TsCorrection *correction)
{
  const TsLab grey = { MIDDLE_L, 0.0, 0.0 }, colour = { MIDDLE_L, MIDDLE_CHROMA, 0.0 };
  double of_grey = ts_correction_get_error (correction, grey);
  double of_colour = ts_correction_get_error (correction, colour);
  double of_lightness = ts_correction_get_lightness_error (correction, grey);

  if (ts_correction_get_kind (correction) == TS_CORRECTION_NONE)
    return g_strdup (_ ("Nobody knows what the light did to the colours; the card says "
                        "“uncorrected photograph”."));
  if (fabs (of_grey - of_colour) < 1.0)
    return g_strdup_printf (
      _ ("An estimate: of 100 colours read through this correction 95 lie within about dE %.0f, "
         "their lightness within about %.0f L*."),
      of_colour, of_lightness);
  return g_strdup_printf (
    _ ("An estimate: of 100 colours read through this correction 95 lie within about dE %.0f, of "
       "greys within about dE %.0f, their lightness within about %.0f L*."),
    of_colour, of_grey, of_lightness);
}

static void
show_sure (TsCorrectionPanel *self)
{
  TsCorrection *correction = ts_correction_draft_get_correction (self->draft);
  const char *fault = ts_correction_draft_get_fault (self->draft);
  g_autofree char *words = correction != NULL ? dup_sure_words (correction) : NULL;

  gtk_widget_set_visible (self->fault_box, fault != NULL);
  gtk_label_set_label (GTK_LABEL (self->fault), fault != NULL ? fault : "");
  gtk_widget_set_visible (self->sure, words != NULL);
  gtk_label_set_label (GTK_LABEL (self->sure), words != NULL ? words : "");
}

/* Photographs that could be corrected as this one: all the others of the plan. */
static void
list_others (TsCorrectionPanel *self)
{
  const TsPlan *plan = get_plan (self);
  g_autoptr (GMenu) menu = g_menu_new ();

  for (guint i = 0; i < plan->pictures->len; i++)
    {
      g_autofree char *name = dup_picture_name (self, i);
      g_autofree char *action = g_strdup_printf ("correction.use-for(uint32 %u)", i);

      if (i != ts_correction_draft_get_picture (self->draft) &&
          ts_document_get_image (ts_view_get_document (TS_VIEW (self)), i) != NULL)
        g_menu_append (menu, name, action);
    }
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (self->others), G_MENU_MODEL (menu));
}

static void
show_others (TsCorrectionPanel *self)
{
  TsDraftChoice choice = ts_correction_draft_get_choice (self->draft);
  GMenuModel *menu = gtk_menu_button_get_menu_model (GTK_MENU_BUTTON (self->others));

  gtk_widget_set_visible (self->others, menu != NULL && g_menu_model_get_n_items (menu) > 0 &&
                                          (choice == TS_DRAFT_CHART || choice == TS_DRAFT_CARD));
  gtk_widget_set_sensitive (self->others,
                            ts_correction_draft_get_correction (self->draft) != NULL &&
                              !ts_correction_draft_get_busy (self->draft));
}

static void
on_changed (TsCorrectionPanel *self)
{
  TsDraftChoice choice;

  if (self->draft == NULL || get_plan (self) == NULL)
    return;
  choice = ts_correction_draft_get_choice (self->draft);
  self->updating = TRUE;
  gtk_list_box_select_row (GTK_LIST_BOX (self->choices), GTK_LIST_BOX_ROW (self->row[choice]));
  gtk_stack_set_visible_child_name (GTK_STACK (self->pages), page_names[choice]);
  show_sources (self);
  show_other (self);
  show_guess (self);
  show_sure (self);
  show_others (self);
  self->updating = FALSE;
  gtk_widget_set_sensitive (self->use, ts_correction_draft_can_keep (self->draft));
}

/* The correction is kept here first, since it is this photograph's that the other one takes. */
static void
use_for_action (GtkWidget *widget, const char *action, GVariant *parameter)
{
  TsCorrectionPanel *self = TS_CORRECTION_PANEL (widget);
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  guint to = g_variant_get_uint32 (parameter);
  g_autofree char *name = NULL, *words = NULL;
  g_autoptr (GError) error = NULL;

  if (self->draft == NULL || !keep (self))
    return;
  if (!ts_document_share_correction (document, ts_correction_draft_get_picture (self->draft), to,
                                     &error))
    {
      g_signal_emit_by_name (document, "message", error->message, NULL, NULL);
      return;
    }
  name = dup_picture_name (self, to);
  words = g_strdup_printf (_ ("%s is corrected as this photograph; that is right where light, "
                              "exposure and white balance were the same."),
                           name);
  g_signal_emit_by_name (document, "message", words, "win.undo", _ ("Undo"));
}

/* The plan was closed, or the photograph is no longer in it. */
static void
ts_correction_panel_update (TsView *view, TsChange change)
{
  TsCorrectionPanel *self = TS_CORRECTION_PANEL (view);
  TsDocument *document = ts_view_get_document (view);

  if (self->draft == NULL)
    return;
  if (!ts_document_get_has_plan (document) ||
      ts_document_get_image (document, ts_correction_draft_get_picture (self->draft)) == NULL ||
      is_gone (self, document))
    {
      leave (self);
      return;
    }
  if (change & (TS_CHANGE_PLAN | TS_CHANGE_PICTURE))
    {
      list_others (self);
      on_changed (self);
    }
}

static void
add_choice (TsCorrectionPanel *self, TsDraftChoice choice, const char *title, const char *sub)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  GtkWidget *name = gtk_label_new (title), *words = gtk_label_new (sub);

  gtk_label_set_xalign (GTK_LABEL (name), 0.0F);
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_MIDDLE);
  ts_accessible_may_be_cut (name);
  gtk_widget_add_css_class (name, "body");
  gtk_label_set_xalign (GTK_LABEL (words), 0.0F);
  gtk_widget_add_css_class (words, "small");
  gtk_widget_add_css_class (words, "dim");
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), words);
  self->row[choice] = gtk_list_box_row_new ();
  self->row_title[choice] = name;
  self->row_sub[choice] = words;
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self->row[choice]), box);
  gtk_list_box_append (GTK_LIST_BOX (self->choices), self->row[choice]);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->row[choice]),
                                  GTK_ACCESSIBLE_RELATION_LABELLED_BY, name, NULL,
                                  GTK_ACCESSIBLE_RELATION_DESCRIBED_BY, words, NULL, -1);
}

static void
add_cards (TsCorrectionPanel *self)
{
  GtkWidget *note = gtk_label_new (_ ("One card sets light and exposure; hues may still be off. A "
                                      "black, a grey and a white card also undo the camera’s "
                                      "contrast."));
  GtkWidget *cards = ts_correction_cards_new (TS_DISC_GREY, TS_DISC_BLACK, TRUE);
  GtkWidget *match = ts_correction_cards_new (TS_DISC_HERE, TS_DISC_THERE, FALSE);

  gtk_label_set_wrap (GTK_LABEL (note), TRUE);
  gtk_label_set_xalign (GTK_LABEL (note), 0.0F);
  gtk_widget_add_css_class (note, "small");
  gtk_widget_add_css_class (note, "dim");
  self->cards = TS_CORRECTION_CARDS (cards);
  self->match = TS_CORRECTION_CARDS (match);
  gtk_box_append (GTK_BOX (self->card_box), cards);
  gtk_box_append (GTK_BOX (self->card_box), note);
  gtk_box_append (GTK_BOX (self->other_box), match);
}

static void
ts_correction_panel_dispose (GObject *object)
{
  TsCorrectionPanel *self = TS_CORRECTION_PANEL (object);

  if (self->draft != NULL)
    set_draft (self, NULL);
  G_OBJECT_CLASS (ts_correction_panel_parent_class)->dispose (object);
}

static void
ts_correction_panel_finalize (GObject *object)
{
  g_array_unref (TS_CORRECTION_PANEL (object)->sources);
  G_OBJECT_CLASS (ts_correction_panel_parent_class)->finalize (object);
}

static void
ts_correction_panel_class_init (TsCorrectionPanelClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  g_type_ensure (TS_TYPE_CHART_TABLE);
  G_OBJECT_CLASS (class)->dispose = ts_correction_panel_dispose;
  G_OBJECT_CLASS (class)->finalize = ts_correction_panel_finalize;
  TS_VIEW_CLASS (class)->update = ts_correction_panel_update;
  signals[CLOSED] = g_signal_new ("closed", TS_TYPE_CORRECTION_PANEL, G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_install_action (widget_class, "correction.use-for", "u", use_for_action);
  gtk_widget_class_set_template_from_resource (
    widget_class, "/io/github/tonestair/Tonestair/ts-correction-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, choices);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, fault_box);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, fault);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, pages);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, chart);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, card_box);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, other_box);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, source);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, assumes);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, guess_box);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, guess);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, guess_buttons);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, guess_use);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, guess_leave);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, sure);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, use);
  gtk_widget_class_bind_template_child (widget_class, TsCorrectionPanel, others);
  gtk_widget_class_bind_template_callback (widget_class, on_back);
  gtk_widget_class_bind_template_callback (widget_class, on_use);
  gtk_widget_class_bind_template_callback (widget_class, on_row_selected);
  gtk_widget_class_bind_template_callback (widget_class, on_source);
  gtk_widget_class_bind_template_callback (widget_class, on_guess);
  gtk_widget_class_bind_template_callback (widget_class, on_leave_guess);
}

static void
ts_correction_panel_init (TsCorrectionPanel *self)
{
  GtkWidget *mark = ts_mark_icon_new ();

  self->sources = g_array_new (FALSE, FALSE, sizeof (guint));
  self->updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  add_choice (self, TS_DRAFT_CHART, _ ("24-patch chart"), _ ("light and camera corrected"));
  add_choice (self, TS_DRAFT_CARD, _ ("Grey or white card"), _ ("light and exposure corrected"));
  add_choice (self, TS_DRAFT_OTHER, _ ("As in another photograph"), _ ("of the same shoot"));
  add_choice (self, TS_DRAFT_NONE, _ ("No correction"),
              _ ("the card says “uncorrected photograph”"));
  add_cards (self);
  self->updating = FALSE;
  ts_mark_icon_set (TS_MARK_ICON (mark), TS_MARK_CAUTION);
  gtk_widget_set_valign (mark, GTK_ALIGN_START);
  gtk_widget_set_margin_top (mark, 4);
  gtk_box_prepend (GTK_BOX (self->fault_box), mark);
  ts_accessible_tab_leaves (GTK_LIST_BOX (self->choices));
  ts_accessible_name_inner (self->source, _ ("Which photograph"));
}

/**
 * ts_correction_panel_open:
 * @self: the panel
 *
 * Starts to correct the picture that is shown.
 *
 * Returns: (transfer none) (nullable): the draft; %NULL where there is no picture
 */
TsCorrectionDraft *
ts_correction_panel_open (TsCorrectionPanel *self)
{
  TsDocument *document;
  guint shown;
  g_autoptr (TsCorrectionDraft) draft = NULL;

  g_return_val_if_fail (TS_IS_CORRECTION_PANEL (self), NULL);

  document = ts_view_get_document (TS_VIEW (self));
  shown = ts_document_get_shown_picture (document);
  if (ts_document_get_image (document, shown) == NULL)
    return NULL;
  draft = ts_correction_draft_new (document, shown);
  set_draft (self, draft);
  g_signal_connect_object (draft, "changed", G_CALLBACK (on_changed), self, G_CONNECT_SWAPPED);
  list_others (self);
  on_changed (self);
  gtk_widget_grab_focus (self->row[ts_correction_draft_get_choice (draft)]);
  return self->draft;
}

/**
 * ts_correction_panel_close:
 * @self: the panel
 *
 * Leaves; nothing is changed.
 */
void
ts_correction_panel_close (TsCorrectionPanel *self)
{
  g_return_if_fail (TS_IS_CORRECTION_PANEL (self));

  on_back (self);
}

/**
 * ts_correction_panel_get_hint:
 * @self: the panel
 *
 * Returns: (transfer none): what a hand can do on the picture now
 */
const char *
ts_correction_panel_get_hint (TsCorrectionPanel *self)
{
  g_return_val_if_fail (TS_IS_CORRECTION_PANEL (self), "");

  if (self->draft == NULL)
    return "";
  switch (ts_correction_draft_get_choice (self->draft))
    {
    case TS_DRAFT_CHART:
      return _ ("Drag the corner rings onto the corner patches. Numbers are the error left on each "
                "patch.");
    case TS_DRAFT_CARD:
    case TS_DRAFT_OTHER:
      return _ ("Click on the card, or draw a circle on it.");
    case TS_DRAFT_NONE:
    case TS_DRAFT_N_CHOICES:
    default:
      return "";
    }
}
