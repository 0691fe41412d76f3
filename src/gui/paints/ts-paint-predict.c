/* ts-paint-predict.c: parts put together by hand, and what the mix will look like
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-predict.h"

#include <glib/gi18n.h>
#include <math.h>

#include "document/ts-document-paints.h"
#include "recipes/ts-prediction.h"
#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-format.h"
#include "gui/paints/ts-paint-learn.h"
#include "gui/paints/ts-paint-spot.h"
#include "gui/paints/ts-paint-words.h"
#include "gui/widgets/ts-strip.h"

/* From a 95 % radius in three dimensions to a standard error: the square root of the 0.95 quantile
 * of chi squared with 3 degrees of freedom, 2.795. */
#define RADIUS_IN_ERRORS 2.795

struct _TsPaintPredict
{
  TsView parent_instance;

  TsPaintSet *set; /* owned, nullable: whose indices the trial has */
  TsTrial trial;
  int chosen; /* in the list, or -1 */
  gboolean updating;
  gboolean adding; /* the next spot is a test swatch */

  /* Template children */
  GtkWidget *scroller, *empty, *pair_holder, *words, *parts, *add, *less_medium, *medium,
    *more_medium;
  GtkWidget *base, *coats, *compare, *add_swatch, *painted_box, *painted, *over, *spot_note;
  TsPaintSpot *spot;
  TsPaintLearn *learn;

  GtkWidget *pair, *films[TS_N_GROUNDS], *film_words[TS_N_GROUNDS];
};

enum
{
  CLOSED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsPaintPredict, ts_paint_predict, TS_TYPE_VIEW)

static void show_all (TsPaintPredict *self);

static const char *
get_ground_name (guint ground)
{
  switch (ground)
    {
    case TS_GROUND_BLACK:
      return _ ("on black");
    case TS_GROUND_GREY:
      return _ ("on grey");
    case TS_GROUND_WHITE:
      return _ ("on white");
    case TS_GROUND_BASE:
    default:
      return _ ("on the base");
    }
}

static void
on_back (TsPaintPredict *self)
{
  g_signal_emit (self, signals[CLOSED], 0);
}

static void
on_empty (TsPaintPredict *self)
{
  self->trial.recipe.n_paints = 0;
  self->trial.medium = 0;
  show_all (self);
}

static void
on_part_clicked (GtkButton *button, TsPaintPredict *self)
{
  guint place = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "place"));
  int by = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "by"));

  if (place < self->trial.recipe.n_paints && ts_trial_change_parts (&self->trial, place, by))
    show_all (self);
}

static GtkWidget *
new_part_button (TsPaintPredict *self, guint place, int by, const char *name)
{
  GtkWidget *button = gtk_button_new_with_label (by > 0 ? "+" : "−");
  g_autofree char *label =
    g_strdup_printf (by > 0 ? _ ("One part more of %s") : _ ("One part less of %s"), name);

  g_object_set_data (G_OBJECT (button), "place", GUINT_TO_POINTER (place));
  g_object_set_data (G_OBJECT (button), "by", GINT_TO_POINTER (by));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
  g_signal_connect (button, "clicked", G_CALLBACK (on_part_clicked), self);
  return button;
}

static GtkWidget *
new_part_row (TsPaintPredict *self, guint place)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  TsPaint *paint = ts_paint_set_get_paint (self->set, self->trial.recipe.paint[place]);
  TsLab lab = ts_paint_get_masstone (paint);
  GtkWidget *strip = ts_strip_new (54, 26, 4), *name = gtk_label_new (ts_paint_get_name (paint));
  g_autofree char *number = g_strdup_printf ("%u", self->trial.recipe.parts[place]);
  g_autofree char *colour = ts_format_lab (lab);
  g_autofree char *said =
    g_strdup_printf ("%u %s", self->trial.recipe.parts[place], ts_paint_get_name (paint));
  GtkWidget *parts = gtk_label_new (number);

  ts_strip_set_colours (TS_STRIP (strip), &lab, 1, 1);
  ts_strip_describe (TS_STRIP (strip), ts_paint_get_name (paint), colour);
  gtk_widget_set_valign (strip, GTK_ALIGN_CENTER);
  gtk_label_set_xalign (GTK_LABEL (name), 0.0F);
  ts_accessible_may_be_cut (name);
  gtk_widget_set_hexpand (name, TRUE);
  gtk_widget_add_css_class (name, "body");
  gtk_label_set_width_chars (GTK_LABEL (parts), 2);
  gtk_widget_add_css_class (parts, "heading");
  gtk_box_append (GTK_BOX (box), strip);
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), new_part_button (self, place, -1, ts_paint_get_name (paint)));
  gtk_box_append (GTK_BOX (box), parts);
  gtk_box_append (GTK_BOX (box), new_part_button (self, place, 1, ts_paint_get_name (paint)));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_widget_set_focusable (row, FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
  return row;
}

/* Which button has the keyboard, so that the one made anew in its place gets it back. */
static gboolean
find_focus (TsPaintPredict *self, guint *place, int *by)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  if (focus == NULL || !gtk_widget_is_ancestor (focus, self->parts) || !GTK_IS_BUTTON (focus))
    return FALSE;
  *place = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (focus), "place"));
  *by = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (focus), "by"));
  return TRUE;
}

static void
give_focus (TsPaintPredict *self, guint place, int by)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->parts), (int) place);
  GtkWidget *child = row != NULL ? gtk_list_box_row_get_child (row) : NULL;

  for (child = child != NULL ? gtk_widget_get_first_child (child) : NULL; child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_BUTTON (child) && GPOINTER_TO_INT (g_object_get_data (G_OBJECT (child), "by")) == by)
      gtk_widget_grab_focus (child);
}

static void
show_parts (TsPaintPredict *self)
{
  guint place = 0;
  int by = 0;
  gboolean focused = find_focus (self, &place, &by);
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (self->parts)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->parts), row);
  for (guint i = 0; i < self->trial.recipe.n_paints; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->parts), new_part_row (self, i));
  gtk_widget_set_visible (self->parts, self->trial.recipe.n_paints > 0);
  if (focused)
    give_focus (self, MIN (place, MAX (self->trial.recipe.n_paints, 1) - 1), by);
}

static void
show_add (TsPaintPredict *self)
{
  gboolean full = self->trial.recipe.n_paints >= TS_RECIPE_MAX_PAINTS;
  g_autofree char *text = NULL;

  if (self->chosen >= 0 && self->set != NULL)
    text = g_strdup_printf (_ ("Add a part of %s"), ts_paint_get_name (ts_paint_set_get_paint (
                                                      self->set, (guint) self->chosen)));
  gtk_button_set_label (GTK_BUTTON (self->add), text != NULL ? text : _ ("Add a part"));
  gtk_widget_set_sensitive (self->add, text != NULL && !full);
}

/* What was painted, of the prediction: the whole, or so many coats over a ground. */
static TsLab
get_painted (TsPaintPredict *self, const TsPrediction *prediction)
{
  guint coats = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->painted));
  guint ground = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->over));

  if (coats == 0 || coats > TS_PREDICTION_MOST_COATS || ground >= TS_N_GROUNDS ||
      (ground == TS_GROUND_BASE && self->trial.base < 0))
    return prediction->masstone;
  return prediction->film[ground][coats];
}

static void
show_pair (TsPaintPredict *self, gboolean known, const TsPrediction *prediction)
{
  const TsSpot *spot =
    gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->compare)) || self->adding
      ? ts_paint_spot_get (self->spot)
      : NULL;
  TsLab painted = get_painted (self, prediction);
  TsLab colours[2] = { painted, spot != NULL ? spot->lab : painted };
  g_autofree char *within = NULL, *colour = NULL, *far = NULL, *words = NULL;

  gtk_widget_set_visible (self->pair, known);
  if (!known)
    {
      gtk_label_set_label (
        GTK_LABEL (self->words),
        _ ("Choose a paint in the list and add a part of it; a double click adds "
           "one at once."));
      return;
    }
  within = ts_format_error (prediction->error);
  colour = ts_format_lab (painted);
  far = spot != NULL ? ts_paint_words_compare (painted, spot->lab) : NULL;
  words = g_strdup_printf (_ ("%s, %s; one coat hides %.0f %%"), colour, within,
                           100.0 * prediction->contrast);
  if (far != NULL)
    {
      g_autofree char *alone = g_steal_pointer (&words);

      words = g_strconcat (alone, "; ", far, NULL);
    }
  ts_strip_set_colours (TS_STRIP (self->pair), colours, spot != NULL ? 2 : 1, 1);
  ts_strip_describe (TS_STRIP (self->pair), spot != NULL ? _ ("Mix and spot") : _ ("The mix"),
                     words);
  gtk_label_set_label (GTK_LABEL (self->words), words);
}

static void
show_films (TsPaintPredict *self, gboolean known, const TsPrediction *prediction)
{
  gtk_widget_set_visible (self->coats, known);
  for (guint g = 0; known && g < TS_N_GROUNDS; g++)
    {
      gboolean there = g != TS_GROUND_BASE || self->trial.base >= 0;
      const TsLab *film = prediction->film[g];
      g_autofree char *words = NULL;

      gtk_widget_set_visible (self->films[g], there);
      gtk_widget_set_visible (self->film_words[g], there);
      if (!there)
        continue;
      words =
        g_strdup_printf (_ ("bare L* %.0f; one to five coats L* %.0f, %.0f, %.0f, %.0f, %.0f"),
                         film[0].L, film[1].L, film[2].L, film[3].L, film[4].L, film[5].L);
      ts_strip_set_colours (TS_STRIP (self->films[g]), film, TS_PREDICTION_MOST_COATS + 1, 1);
      ts_strip_describe (TS_STRIP (self->films[g]), get_ground_name (g), words);
    }
}

static void
show_all (TsPaintPredict *self)
{
  TsPrediction prediction = { 0 };
  gboolean known = self->set != NULL && ts_trial_predict (self->set, &self->trial, &prediction);
  g_autofree char *medium = g_strdup_printf ("%u", self->trial.medium);

  if (self->set != NULL)
    show_parts (self);
  show_add (self);
  show_pair (self, known, &prediction);
  show_films (self, known, &prediction);
  gtk_label_set_label (GTK_LABEL (self->medium), medium);
  gtk_widget_set_sensitive (self->less_medium, self->trial.medium > 0);
  gtk_widget_set_sensitive (self->empty, known);
  gtk_widget_set_sensitive (self->compare, known);
  gtk_widget_set_sensitive (self->add_swatch, known && self->trial.medium == 0);
}

static void
on_add (TsPaintPredict *self)
{
  if (self->chosen >= 0)
    ts_paint_predict_add (self, (guint) self->chosen);
}

static void
on_less_medium (TsPaintPredict *self)
{
  self->trial.medium -= self->trial.medium > 0 ? 1 : 0;
  show_all (self);
}

static void
on_more_medium (TsPaintPredict *self)
{
  self->trial.medium = MIN (self->trial.medium + 1, TS_TRIAL_MOST_MEDIUM);
  show_all (self);
}

static void
on_base (TsPaintPredict *self)
{
  if (self->updating)
    return;
  self->trial.base = (int) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->base)) - 1;
  show_all (self);
}

static void
on_painted (TsPaintPredict *self)
{
  gtk_widget_set_sensitive (self->over,
                            gtk_drop_down_get_selected (GTK_DROP_DOWN (self->painted)) > 0);
  show_all (self);
}

/* Without a picture there is nothing to measure. */
static void
show_spot (TsPaintPredict *self, gboolean shown)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  guint picture = ts_document_get_shown_picture (document);
  gboolean has_image = ts_document_get_image (document, picture) != NULL;
  TsCorrection *correction = has_image ? ts_document_get_correction (document, picture) : NULL;
  const char *note = NULL;

  if (!has_image)
    note =
      _ ("Open a photograph of the painted mix first; it joins the plan as another reference.");
  else if (correction == NULL || ts_correction_get_kind (correction) == TS_CORRECTION_NONE)
    note = _ ("Uncorrected photograph: a swatch measured in it counts for little.");
  gtk_widget_set_visible (GTK_WIDGET (self->spot), shown && has_image);
  gtk_widget_set_visible (self->painted_box, shown && has_image);
  gtk_label_set_label (GTK_LABEL (self->spot_note), note != NULL ? note : "");
  gtk_widget_set_visible (self->spot_note, shown && note != NULL);
}

static void
on_compare (TsPaintPredict *self)
{
  gboolean shown = gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->compare));

  self->adding = FALSE;
  ts_paint_spot_ask (self->spot, _ ("click on a spot"));
  show_spot (self, shown);
  show_all (self);
}

static void
on_add_swatch (TsPaintPredict *self)
{
  self->adding = TRUE;
  ts_paint_spot_clear (self->spot);
  ts_paint_spot_ask (self->spot, _ ("click on the painted mix"));
  show_spot (self, TRUE);
  show_all (self);
  if (gtk_widget_get_visible (GTK_WIDGET (self->spot)))
    gtk_widget_grab_focus (GTK_WIDGET (self->spot));
}

static double
get_standard_error (TsPaintPredict *self, const TsSpot *spot)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsCorrection *correction =
    ts_document_get_correction (document, ts_document_get_shown_picture (document));
  double radius = correction != NULL ? ts_correction_get_error (correction, spot->lab) : 0.0;

  return hypot (spot->standard_error, radius / RADIUS_IN_ERRORS);
}

static void
take_swatch (TsPaintPredict *self, const TsSpot *spot)
{
  guint coats = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->painted));
  guint ground = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->over));
  g_autofree char *recipe = ts_recipe_to_text (self->set, &self->trial.recipe);
  g_autofree char *over =
    coats > 0 ? ts_ground_to_text (self->set, (TsGround) ground, self->trial.base) : NULL;
  const TsTestSwatch swatch = { recipe, coats > 0 ? coats : (double) INFINITY, over, spot->lab,
                                get_standard_error (self, spot) };
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  g_autoptr (GError) error = NULL;

  if (ts_document_add_swatch (document, &swatch, &error))
    ts_paint_learn_start (self->learn);
  else
    g_signal_emit_by_name (document, "message", error->message, NULL, NULL);
}

static void
on_measured (TsPaintPredict *self)
{
  const TsSpot *spot = ts_paint_spot_get (self->spot);

  if (self->adding && spot != NULL)
    {
      take_swatch (self, spot);
      self->adding = FALSE;
      ts_paint_spot_ask (self->spot, _ ("click on a spot"));
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->compare), TRUE);
    }
  show_all (self);
}

static void
fill_base (TsPaintPredict *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  guint n = self->set != NULL ? ts_paint_set_get_n_paints (self->set) : 0;

  gtk_string_list_append (names, C_ ("base", "none"));
  for (guint i = 0; i < n; i++)
    gtk_string_list_append (names, ts_paint_get_name (ts_paint_set_get_paint (self->set, i)));
  self->updating = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->base), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->base), (guint) (self->trial.base + 1));
  self->updating = FALSE;
}

static void
ts_paint_predict_update (TsView *view, TsChange change)
{
  TsPaintPredict *self = TS_PAINT_PREDICT (view);
  TsPaintSet *set = ts_document_get_paints (ts_view_get_document (view));

  if (change != TS_CHANGE_ALL && (change & TS_CHANGE_PICTURE))
    show_spot (self, gtk_widget_get_visible (GTK_WIDGET (self->spot)) ||
                       gtk_widget_get_visible (self->spot_note));
  if (set == self->set && change != TS_CHANGE_ALL)
    return;
  ts_trial_follow (&self->trial, self->set, set);
  g_clear_pointer (&self->set, ts_paint_set_unref);
  self->set = set != NULL ? ts_paint_set_ref (set) : NULL;
  if (self->chosen >= 0 && (set == NULL || self->chosen >= (int) ts_paint_set_get_n_paints (set)))
    self->chosen = -1;
  fill_base (self);
  show_all (self);
}

static gboolean
back (GtkWidget *widget, GVariant *args, gpointer user_data)
{
  on_back (TS_PAINT_PREDICT (widget));
  return TRUE;
}

static void
ts_paint_predict_finalize (GObject *object)
{
  g_clear_pointer (&TS_PAINT_PREDICT (object)->set, ts_paint_set_unref);
  G_OBJECT_CLASS (ts_paint_predict_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, scroller);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, empty);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, pair_holder);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, words);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, parts);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, add);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, less_medium);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, medium);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, more_medium);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, base);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, coats);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, compare);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, add_swatch);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, painted_box);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, painted);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, over);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, spot_note);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, spot);
  gtk_widget_class_bind_template_child (widget_class, TsPaintPredict, learn);
}

static void
bind_callbacks (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_callback (widget_class, on_back);
  gtk_widget_class_bind_template_callback (widget_class, on_empty);
  gtk_widget_class_bind_template_callback (widget_class, on_add);
  gtk_widget_class_bind_template_callback (widget_class, on_less_medium);
  gtk_widget_class_bind_template_callback (widget_class, on_more_medium);
  gtk_widget_class_bind_template_callback (widget_class, on_base);
  gtk_widget_class_bind_template_callback (widget_class, on_painted);
  gtk_widget_class_bind_template_callback (widget_class, on_compare);
  gtk_widget_class_bind_template_callback (widget_class, on_add_swatch);
  gtk_widget_class_bind_template_callback (widget_class, on_measured);
}

static void
ts_paint_predict_class_init (TsPaintPredictClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_paint_predict_finalize;
  TS_VIEW_CLASS (class)->update = ts_paint_predict_update;
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, back, NULL);
  g_type_ensure (TS_TYPE_PAINT_SPOT);
  g_type_ensure (TS_TYPE_PAINT_LEARN);
  gtk_widget_class_set_template_from_resource (
    widget_class, "/io/github/tonestair/Tonestair/ts-paint-predict.ui");
  bind_children (widget_class);
  bind_callbacks (widget_class);
}

static void
add_films (TsPaintPredict *self)
{
  for (guint g = 0; g < TS_N_GROUNDS; g++)
    {
      GtkWidget *label = gtk_label_new (get_ground_name (g));

      gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
      gtk_widget_add_css_class (label, "small");
      gtk_widget_add_css_class (label, "dim");
      self->film_words[g] = label;
      self->films[g] = ts_strip_new (-1, 34, 4);
      gtk_widget_set_hexpand (self->films[g], TRUE);
      ts_strip_describe (TS_STRIP (self->films[g]), get_ground_name (g), "");
      gtk_grid_attach (GTK_GRID (self->coats), label, 0, (int) g, 1, 1);
      gtk_grid_attach (GTK_GRID (self->coats), self->films[g], 1, (int) g, 1, 1);
    }
}

static void
ts_paint_predict_init (TsPaintPredict *self)
{
  GtkExpression *name = gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string");

  self->chosen = -1;
  self->trial.base = -1;
  self->updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->pair = ts_strip_new (-1, 84, 9);
  ts_strip_describe (TS_STRIP (self->pair), _ ("The mix"), "");
  gtk_box_append (GTK_BOX (self->pair_holder), self->pair);
  add_films (self);
  ts_accessible_name_inner (self->base, _ ("Base under the coats"));
  ts_accessible_name_inner (self->painted, _ ("How it was painted"));
  ts_accessible_name_inner (self->over, _ ("What it was painted on"));
  gtk_drop_down_set_expression (GTK_DROP_DOWN (self->base), name);
  gtk_expression_unref (name);
  gtk_widget_set_sensitive (self->over, FALSE);
  self->updating = FALSE;
}

/**
 * ts_paint_predict_choose:
 * @self: the panel
 * @paint: index in the document's set, or -1
 */
void
ts_paint_predict_choose (TsPaintPredict *self, int paint)
{
  g_return_if_fail (TS_IS_PAINT_PREDICT (self));

  self->chosen = paint;
  if (self->set != NULL && paint < (int) ts_paint_set_get_n_paints (self->set))
    show_add (self);
}

/**
 * ts_paint_predict_add:
 * @self: the panel
 * @paint: index in the document's set
 *
 * Puts one part more of it into the mix.
 */
void
ts_paint_predict_add (TsPaintPredict *self, guint paint)
{
  g_return_if_fail (TS_IS_PAINT_PREDICT (self));

  if (self->set != NULL && ts_trial_add (&self->trial, paint))
    show_all (self);
}
