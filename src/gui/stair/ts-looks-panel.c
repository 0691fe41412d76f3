/* ts-looks-panel.c: what lightness alone, distance, other lights and other eyes leave of a stair
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-looks-panel.h"

#include <glib/gi18n.h>

#include "colour/ts-colour-convert.h"
#include "plan/ts-surface-under.h"
#include "plan/ts-touching.h"
#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-distance.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-strip.h"
#include "gui/widgets/ts-verdict-row.h"

#define N_VALUES 11 /* 0 to 10 */
#define SCALE_HEIGHT 25
#define SCALE_EDGE 4
/* Sizes of figures that can be told, mm. */
#define LEAST_HEIGHT 5.0
#define MOST_HEIGHT 1000.0

struct _TsLooksPanel
{
  TsView parent_instance;

  gboolean updating; /* settings are shown, not made */

  /* Children */
  GtkWidget *box, *lightness, *touching, *touch_button, *touch_choices, *under, *arm, *arm_title,
    *arm_rule, *merged, *unit, *distance, *figure;
};

G_DEFINE_FINAL_TYPE (TsLooksPanel, ts_looks_panel, TS_TYPE_VIEW)

static GtkWidget *
add_label (GtkWidget *box, const char *text, const char *size, gboolean dim)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, size);
  if (dim)
    gtk_widget_add_css_class (label, "dim");
  gtk_box_append (GTK_BOX (box), label);
  return label;
}

static void
empty (GtkWidget *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (box)) != NULL)
    gtk_box_remove (GTK_BOX (box), child);
}

static TsLab
grey (TsLab lab)
{
  return (TsLab){ lab.L, 0.0, 0.0 };
}

static TsLab
base_of (TsSurfaceResult *result)
{
  TsStair *stair = ts_surface_result_get_stair (result);

  for (guint i = 0; i < ts_stair_get_n_steps (stair); i++)
    if (g_strcmp0 (ts_stair_get_role (stair, i), "base") == 0)
      return ts_surface_result_get_colour (result, i);
  return ts_surface_result_get_colour (result, 0);
}

static void
add_touching (TsLooksPanel *self, const TsPlan *plan, const TsTouching *pair)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const TsLab colours[] = { grey (base_of (ts_document_get_result (document, pair->one))),
                            grey (base_of (ts_document_get_result (document, pair->other))) };
  TsVerdict verdict = pair->contrast.verdict;
  g_autofree char *name =
    g_strdup_printf (_ ("%s and %s"), ts_plan_get_surface (plan, pair->one)->name,
                     ts_plan_get_surface (plan, pair->other)->name);
  g_autofree char *words =
    g_strdup_printf (_ ("%s, %.0f L* apart"), ts_format_verdict (verdict), pair->contrast.delta_L);

  gtk_box_append (GTK_BOX (self->touching),
                  ts_verdict_row_new (colours, name, words, ts_mark_of_verdict (verdict),
                                      ts_format_verdict_is_problem (verdict)));
}

static void
show_touching (TsLooksPanel *self, const TsPlan *plan)
{
  g_autoptr (GArray) pairs =
    ts_plan_check_touching (plan, ts_document_get_results (ts_view_get_document (TS_VIEW (self))));

  empty (self->touching);
  for (guint i = 0; i < pairs->len; i++)
    add_touching (self, plan, &g_array_index (pairs, TsTouching, i));
  if (pairs->len == 0)
    add_label (self->touching,
               _ ("None yet. Outline surfaces that touch (Ctrl and a drag), or say which do."),
               "small", TRUE);
}

static void
on_touch_toggled (GtkCheckButton *check, TsLooksPanel *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  guint other = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (check), "surface"));

  if (!self->updating)
    ts_document_set_touch (document, (guint) ts_document_get_selected_surface (document), other,
                           gtk_check_button_get_active (check));
}

static gboolean
do_touch (const TsPlan *plan, guint one, guint other)
{
  int said = ts_plan_get_touch (plan, one, other);

  return said < 0
           ? ts_surfaces_meet (ts_plan_get_surface (plan, one), ts_plan_get_surface (plan, other))
           : said > 0;
}

/* A tick for every other surface: what the outlines tell, until the painter says otherwise. */
static void
show_choices (TsLooksPanel *self, const TsPlan *plan, int selected)
{
  g_autofree char *title = NULL;

  empty (self->touch_choices);
  gtk_widget_set_visible (self->touch_button, selected >= 0 && plan->surfaces->len > 1);
  if (selected < 0)
    return;
  title =
    g_strdup_printf (_ ("What touches %s…"), ts_plan_get_surface (plan, (guint) selected)->name);
  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->touch_button), title);
  ts_accessible_name_inner (self->touch_button, title);
  for (guint i = 0; i < plan->surfaces->len; i++)
    if (i != (guint) selected)
      {
        GtkWidget *check = gtk_check_button_new_with_label (ts_plan_get_surface (plan, i)->name);

        gtk_check_button_set_active (GTK_CHECK_BUTTON (check),
                                     do_touch (plan, (guint) selected, i));
        g_object_set_data (G_OBJECT (check), "surface", GUINT_TO_POINTER (i));
        g_signal_connect (check, "toggled", G_CALLBACK (on_touch_toggled), self);
        gtk_box_append (GTK_BOX (self->touch_choices), check);
      }
}

static void
show_under (TsLooksPanel *self, TsSurfaceResult *result)
{
  empty (self->under);
  for (TsUnder under = TS_UNDER_LED; result != NULL && under < TS_N_UNDERS; under++)
    {
      guint lost = ts_surface_result_count_lost (result, under);
      g_autofree char *words = lost > 0
                                 ? g_strdup_printf (ngettext ("%u merges", "%u merge", lost), lost)
                                 : g_strdup (_ ("as in daylight"));

      gtk_box_append (GTK_BOX (self->under),
                      ts_verdict_row_new (NULL, ts_format_under (under), words,
                                          lost > 0 ? TS_MARK_MEETING : TS_MARK_DISC, lost > 0));
    }
}

static void
show_distance (TsLooksPanel *self, const TsPlan *plan, const TsSurface *surface,
               TsSurfaceResult *result)
{
  g_autofree char *words = NULL, *from = NULL;

  ts_distance_show (self->distance, plan->contrast.distance);
  gtk_label_set_label (GTK_LABEL (self->unit), ts_format_get_length_unit () == TS_LENGTH_INCHES
                                                 ? _ ("Distance, inches")
                                                 : _ ("Distance, cm"));
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->figure), plan->figure_height);
  if (result != NULL)
    {
      from = ts_format_distance (ts_surface_result_get_settings (result).distance);
      words = g_strdup_printf (
        _ ("Steps of %s merge in bands narrower than about %.1f mm at %s (an estimate)."),
        surface->name, ts_surface_result_get_least_band (result), from);
    }
  gtk_label_set_label (GTK_LABEL (self->merged), words != NULL ? words : "");
}

/* Only while it is to be seen: a drag does not wait for what nobody looks at. */
static void
ts_looks_panel_update (TsView *view, TsChange change)
{
  TsLooksPanel *self = TS_LOOKS_PANEL (view);
  TsDocument *document = ts_view_get_document (view);
  const TsPlan *plan = ts_document_get_plan (document);
  TsSurfaceResult *result = ts_view_get_result (view);

  if (plan == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)) ||
      !(change & (TS_CHANGE_PLAN | TS_CHANGE_RESULTS | TS_CHANGE_SELECTION)))
    return;
  self->updating = TRUE;
  show_touching (self, plan);
  if (!gtk_widget_get_visible (gtk_widget_get_ancestor (self->touch_choices, GTK_TYPE_POPOVER)))
    show_choices (self, plan, ts_document_get_selected_surface (document));
  show_under (self, result);
  show_distance (self, plan, ts_view_get_surface (view), result);
  self->updating = FALSE;
}

static void
ts_looks_panel_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (ts_looks_panel_parent_class)->map (widget);
  if (ts_view_get_document (TS_VIEW (widget)) != NULL)
    ts_looks_panel_update (TS_VIEW (widget), TS_CHANGE_ALL);
}

static void
on_distance (TsLooksPanel *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsContrastSettings settings;

  if (self->updating || ts_document_get_plan (document) == NULL)
    return;
  settings = ts_document_get_plan (document)->contrast;
  settings.distance = ts_distance_get (self->distance);
  ts_document_set_contrast (document, &settings);
}

static void
on_figure (TsLooksPanel *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));

  if (!self->updating && ts_document_get_plan (document) != NULL)
    ts_document_set_figure_height (document,
                                   gtk_spin_button_get_value (GTK_SPIN_BUTTON (self->figure)));
}

static void
ts_looks_panel_class_init (TsLooksPanelClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  TS_VIEW_CLASS (class)->update = ts_looks_panel_update;
  widget_class->map = ts_looks_panel_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

/* Munsell's values, each grey over its number. */
static void
add_scale (TsLooksPanel *self)
{
  GtkWidget *strip = ts_strip_new (-1, SCALE_HEIGHT, SCALE_EDGE);
  GtkWidget *numbers = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  TsLab greys[N_VALUES];

  gtk_box_set_homogeneous (GTK_BOX (numbers), TRUE);
  for (guint i = 0; i < N_VALUES; i++)
    {
      g_autofree char *number = g_strdup_printf ("%u", i);
      GtkWidget *label = gtk_label_new (number);

      greys[i] = (TsLab){ ts_lightness_from_munsell_value (i), 0.0, 0.0 };
      gtk_widget_add_css_class (label, "small");
      gtk_widget_add_css_class (label, "dim");
      gtk_box_append (GTK_BOX (numbers), label);
    }
  ts_strip_set_colours (TS_STRIP (strip), greys, N_VALUES, 1);
  ts_strip_describe (TS_STRIP (strip), _ ("Munsell values"), _ ("greys of value 0 to 10"));
  gtk_box_append (GTK_BOX (self->lightness), strip);
  gtk_box_append (GTK_BOX (self->lightness), numbers);
}

static GtkWidget *
add_box (TsLooksPanel *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  gtk_box_append (GTK_BOX (self->box), box);
  return box;
}

static void
add_touch_button (TsLooksPanel *self)
{
  GtkWidget *popover = gtk_popover_new ();

  self->touch_choices = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_popover_set_child (GTK_POPOVER (popover), self->touch_choices);
  self->touch_button = gtk_menu_button_new ();
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (self->touch_button), popover);
  gtk_widget_set_halign (self->touch_button, GTK_ALIGN_START);
  ts_accessible_name_inner (self->touch_button, _ ("What touches the surface"));
  gtk_box_append (GTK_BOX (self->box), self->touch_button);
}

/* @spin with its name before it. */
static GtkWidget *
add_setting (TsLooksPanel *self, const char *name, GtkWidget *spin)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *label = add_label (line, name, "body", FALSE);

  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_set_valign (spin, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (line), spin);
  gtk_box_append (GTK_BOX (self->arm), line);
  return label;
}

static void
add_distance (TsLooksPanel *self)
{
  GtkWidget *flat = gtk_check_button_new_with_label (_ ("Flatten to the steps of the stair"));

  self->distance = ts_distance_new ();
  self->figure = gtk_spin_button_new_with_range (LEAST_HEIGHT, MOST_HEIGHT, 1.0);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->figure), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Height of the figure, mm"), -1);
  self->unit = add_setting (self, "", self->distance);
  add_setting (self, _ ("Height of the figure, mm"), self->figure);
  g_signal_connect_swapped (self->distance, "value-changed", G_CALLBACK (on_distance), self);
  g_signal_connect_swapped (self->figure, "value-changed", G_CALLBACK (on_figure), self);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (flat), "picture.flatten");
  gtk_box_append (GTK_BOX (self->arm), flat);
}

static void
ts_looks_panel_init (TsLooksPanel *self)
{
  self->updating = TRUE;
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_margin_start (self->box, 16);
  gtk_widget_set_margin_end (self->box, 14);
  gtk_widget_set_margin_top (self->box, 10);
  gtk_widget_set_margin_bottom (self->box, 10);
  self->lightness = add_box (self);
  add_label (self->lightness, _ ("Lightness alone"), "title", FALSE);
  add_label (self->lightness,
             _ ("Hue is set aside: what is light and what is dark, and does it hold from where it "
                "is seen?"),
             "small", TRUE);
  add_scale (self);
  gtk_box_append (GTK_BOX (self->lightness), gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
  add_label (self->box, _ ("Where surfaces touch"), "heading", FALSE);
  self->touching = add_box (self);
  add_touch_button (self);
  gtk_box_append (GTK_BOX (self->box), gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
  add_label (self->box, _ ("Other lights, other eyes"), "heading", FALSE);
  self->under = add_box (self);
  self->arm_rule = gtk_separator_new (GTK_ORIENTATION_HORIZONTAL);
  gtk_box_append (GTK_BOX (self->box), self->arm_rule);
  self->arm = add_box (self);
  self->arm_title = add_label (self->arm, _ ("At arm’s length"), "heading", FALSE);
  self->merged = add_label (self->arm, "", "small", FALSE);
  add_distance (self);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->updating = FALSE;
}

/**
 * ts_looks_panel_set_arms_length:
 * @self: the panel
 * @arms_length: whether the picture is shown as it is seen from there, and not by lightness alone
 *
 * Puts first what belongs to the picture as it is shown.
 */
void
ts_looks_panel_set_arms_length (TsLooksPanel *self, gboolean arms_length)
{
  GtkBox *box;

  g_return_if_fail (TS_IS_LOOKS_PANEL (self));

  box = GTK_BOX (self->box);
  gtk_widget_set_visible (self->lightness, !arms_length);
  gtk_widget_remove_css_class (self->arm_title, arms_length ? "heading" : "title");
  gtk_widget_add_css_class (self->arm_title, arms_length ? "title" : "heading");
  gtk_box_reorder_child_after (box, self->arm,
                               arms_length ? NULL : gtk_widget_get_last_child (self->box));
  if (arms_length)
    gtk_box_reorder_child_after (box, self->arm_rule, self->arm);
  else
    gtk_box_reorder_child_after (box, self->arm_rule, gtk_widget_get_prev_sibling (self->arm));
}
