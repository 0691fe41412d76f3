/* ts-stair-step.c: one step of the stair, as a widget of its own so that it can be reached
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-stair-step.h"

#include <glib/gi18n.h>

#include "colour/ts-colour-convert.h"
#include "plan/ts-surface-accent.h"
#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-palette.h"

#define INDENT 2.0
#define BAR_HEIGHT 3.0
#define PARTS_GAP 7.0
#define ACCENT 12.0
#define CAPTION_GAP 9.0
#define CAPTION_GAP_NARROW 5.0
#define PADLOCK 12.0 /* its width with a little about it */

struct _TsStairStep
{
  GtkWidget parent_instance;

  TsStairView *view; /* borrowed: the parent */
  guint index;

  GtkWidget *menu; /* a child, NULL before it is asked for */
};

G_DEFINE_FINAL_TYPE (TsStairStep, ts_stair_step, GTK_TYPE_WIDGET)

static TsDocument *
get_document (TsStairStep *self)
{
  return ts_view_get_document (TS_VIEW (self->view));
}

/* NULL while the stair has fewer steps than widgets. */
static TsSurfaceResult *
get_result (TsStairStep *self)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self->view));

  return result != NULL && self->index < ts_surface_result_get_n_steps (result) ? result : NULL;
}

static gboolean
is_selected (TsStairStep *self)
{
  return ts_document_get_selected_step (get_document (self)) == (int) self->index;
}

typedef struct
{
  TsStairStep *self;
  GtkWidget *widget;
  cairo_t *cr;
  TsPalette palette;
  TsStairMetrics metrics;
  TsSurfaceResult *result;
  double width;
  gboolean mirror;
} Drawing;

/* Text from the start side: @x counts from there. Gives back where the text ends. */
static double
draw_from_start (Drawing *d, double em, gboolean bold, const char *text, double x, double y,
                 const GdkRGBA *colour)
{
  g_autoptr (PangoLayout) layout = ts_draw_new_layout (d->widget, em, bold, text);
  int width;

  if (x < d->width)
    {
      pango_layout_set_width (layout, (int) ((d->width - x) * PANGO_SCALE));
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
      pango_layout_set_height (layout, 0);
    }
  if (d->mirror)
    pango_layout_set_alignment (layout, PANGO_ALIGN_LEFT);
  pango_layout_get_pixel_size (layout, &width, NULL);
  pango_layout_set_width (layout, -1);
  pango_layout_set_width (layout, width * PANGO_SCALE + PANGO_SCALE);
  ts_draw_layout (d->cr, layout, d->mirror ? d->width - x - width : x, y, 0.0, 0.5, colour);
  return x + width;
}

static double
get_text_width (Drawing *d, double em, gboolean bold, const char *text)
{
  g_autoptr (PangoLayout) layout = ts_draw_new_layout (d->widget, em, bold, text);
  int width;

  pango_layout_get_pixel_size (layout, &width, NULL);
  return width;
}

static void
draw_mark (Drawing *d, TsMark mark, double x, double y, const GdkRGBA *colour)
{
  gdk_cairo_set_source_rgba (d->cr, colour);
  ts_draw_mark (d->cr, mark, d->mirror ? d->width - x : x, y);
}

/* The marks of hovering and of being selected, under the caption. */
static void
draw_caption_bar (Drawing *d, gboolean selected)
{
  double height = selected ? BAR_HEIGHT : 1.0;

  if (!selected && ts_stair_view_get_hovered (d->self->view) != (int) d->self->index)
    return;
  gdk_cairo_set_source_rgba (d->cr, &d->palette.text);
  cairo_rectangle (d->cr, 0.0, d->metrics.caption - height - 1.0, d->width, height);
  cairo_fill (d->cr);
}

/* Lightness, role and value; where they have no room, the role goes first unless it is the base's:
 * that the first is the highlight is plain to see. */
static void
draw_caption (Drawing *d)
{
  TsStair *stair = ts_surface_result_get_stair (d->result);
  guint index = d->self->index;
  const char *role = ts_format_role (stair, index);
  gboolean selected = is_selected (d->self);
  gboolean is_base = g_strcmp0 (ts_stair_get_role (stair, index), "base") == 0;
  const GdkRGBA *colour = selected ? &d->palette.text : &d->palette.dim;
  double y = (d->metrics.caption - 6.0) / 2.0, x = INDENT, gap = CAPTION_GAP, room;
  double wanted = ts_stair_get_step (stair, index)->wanted.L;
  g_autofree char *number = g_strdup_printf ("%u", index + 1);
  g_autofree char *lightness = g_strdup_printf (_ ("L* %.0f"), wanted);
  g_autofree char *value = ts_format_value (wanted);
  double role_width = get_text_width (d, TS_EM_SMALL, FALSE, role);
  double value_width = get_text_width (d, TS_EM_SMALL, FALSE, value);

  x = draw_from_start (d, TS_EM_SMALL, TRUE, number, x, y, &d->palette.text) + 6.0;
  x = draw_from_start (d, TS_EM_SMALL, FALSE, lightness, x, y, colour);
  if (ts_surface_result_is_locked (d->result, index))
    {
      draw_mark (d, TS_MARK_PADLOCK, x + gap + 5.0, y, &d->palette.text);
      x += gap + PADLOCK;
    }
  if (ts_stair_view_is_painted (d->self->view, index))
    {
      draw_mark (d, TS_MARK_TICK, x + gap + 5.0, y, &d->palette.text);
      x += gap + PADLOCK;
    }
  room = d->width - INDENT - x;
  if (*role != '\0' && 2.0 * gap + role_width + value_width > room)
    gap = CAPTION_GAP_NARROW;
  if (*role != '\0' && gap + role_width <= room &&
      (is_base || 2.0 * gap + role_width + value_width <= room || gap + value_width > room))
    x = draw_from_start (d, TS_EM_SMALL, FALSE, role, x + gap, y, colour);
  if (x + gap + value_width <= d->width - INDENT)
    draw_from_start (d, TS_EM_SMALL, FALSE, value, x + gap, y, &d->palette.dim);
  draw_caption_bar (d, selected);
}

static TsLab
as_shown (Drawing *d, TsLab lab)
{
  return ts_stair_view_get_grey (d->self->view) ? (TsLab){ lab.L, 0.0, 0.0 } : lab;
}

/* Whole pixels: neighbours touch. */
static void
draw_chips (Drawing *d)
{
  const TsStep *step = ts_stair_get_step (ts_surface_result_get_stair (d->result), d->self->index);
  double top = d->metrics.caption + d->metrics.edge;

  ts_palette_set_lab (d->cr, as_shown (d, step->wanted));
  cairo_rectangle (d->cr, 0.0, top, d->width, d->metrics.chip);
  cairo_fill (d->cr);
  if (ts_surface_result_get_recipe (d->result, d->self->index) == NULL)
    return;
  ts_palette_set_lab (d->cr,
                      as_shown (d, ts_surface_result_get_colour (d->result, d->self->index)));
  cairo_rectangle (d->cr, 0.0, top + d->metrics.chip, d->width, d->metrics.chip);
  cairo_fill (d->cr);
}

/* Whether all steps out of reach can say it at length from @x on: neighbours say the same. */
static gboolean
have_room (Drawing *d, double x)
{
  int n = (int) ts_surface_result_get_n_steps (d->result);
  int room =
    gtk_widget_get_width (GTK_WIDGET (d->self->view)) - d->metrics.label - 2 * d->metrics.edge;

  for (guint i = 0; i < (guint) n; i++)
    {
      g_autofree char *text = NULL;

      if (ts_surface_result_get_reach (d->result, i) == TS_REACH_WITHIN)
        continue;
      text = ts_format_out_of_reach (d->result, i, FALSE);
      if (x + get_text_width (d, TS_EM_SMALL, TRUE, text) + PARTS_GAP > room / n)
        return FALSE;
    }
  return TRUE;
}

static void
draw_error (Drawing *d, double x, double y)
{
  g_autofree char *text = NULL;

  if (ts_surface_result_get_reach (d->result, d->self->index) == TS_REACH_WITHIN)
    {
      text = ts_format_error (ts_surface_result_get_error (d->result, d->self->index));
      draw_from_start (d, TS_EM_SMALL, FALSE, text, x, y, &d->palette.dim);
      return;
    }
  text = ts_format_out_of_reach (d->result, d->self->index, !have_room (d, x));
  draw_mark (d, TS_MARK_OUT_OF_REACH, INDENT + 4.5, y, &d->palette.text);
  draw_from_start (d, TS_EM_SMALL, TRUE, text, x, y, &d->palette.text);
}

/* A line each: its colour on the field, its name, and what comes to the mix. */
static void
draw_accents (Drawing *d, double x, double y)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (d->self->view));
  double left = d->mirror ? d->width - INDENT - ACCENT : INDENT;

  for (guint i = 0; surface != NULL && i < surface->accents->len; i++)
    {
      const TsAccent *accent = g_ptr_array_index (surface->accents, i);
      g_autofree char *text = NULL;
      TsRecipe recipe;

      if (accent->step != d->self->index)
        continue;
      gdk_cairo_set_source_rgba (d->cr, &d->palette.field);
      cairo_rectangle (d->cr, left, y - ACCENT / 2.0, ACCENT, ACCENT);
      cairo_fill (d->cr);
      if (ts_surface_result_mix_accent (d->result, accent, &recipe))
        {
          ts_palette_set_lab (d->cr, as_shown (d, recipe.lab));
          cairo_rectangle (d->cr, left + 1.0, y - ACCENT / 2.0 + 1.0, ACCENT - 2.0, ACCENT - 2.0);
          cairo_fill (d->cr);
        }
      text = g_strdup_printf (_ ("%s: + %u %s"), accent->name, accent->parts, accent->paint);
      draw_from_start (d, TS_EM_SMALL, FALSE, text, x, y, &d->palette.text);
      y += d->metrics.line;
    }
}

static void
draw_recipe (Drawing *d)
{
  const TsRecipe *recipe = ts_surface_result_get_recipe (d->result, d->self->index);
  TsPaintSet *paints = ts_surface_result_get_paints (d->result);
  const GdkRGBA *colour =
    ts_surface_result_is_stale (d->result) ? &d->palette.dim : &d->palette.text;
  double y = d->metrics.caption + 2.0 * (d->metrics.edge + d->metrics.chip) + d->metrics.verdict +
             d->metrics.line / 2.0;
  double column = 0.0;

  if (recipe == NULL || paints == NULL)
    return;
  for (guint i = 0; i < recipe->n_paints; i++)
    {
      g_autofree char *parts = g_strdup_printf ("%u", recipe->parts[i]);

      column = MAX (column, get_text_width (d, TS_EM_RECIPE, TRUE, parts));
    }
  for (guint i = 0; i < recipe->n_paints; i++, y += d->metrics.line)
    {
      g_autofree char *parts = g_strdup_printf ("%u", recipe->parts[i]);
      double width = get_text_width (d, TS_EM_RECIPE, TRUE, parts);

      draw_from_start (d, TS_EM_RECIPE, TRUE, parts, INDENT + column - width, y, colour);
      draw_from_start (d, TS_EM_RECIPE, FALSE,
                       ts_paint_get_name (ts_paint_set_get_paint (paints, recipe->paint[i])),
                       INDENT + column + PARTS_GAP, y, colour);
    }
  draw_error (d, INDENT + column + PARTS_GAP, y);
  draw_accents (d, INDENT + MAX (column + PARTS_GAP, ACCENT + 4.0), y + d->metrics.line);
}

static void
draw_area (Drawing *d)
{
  const TsStairMetrics *m = &d->metrics;
  double y = m->caption + 2.0 * (m->edge + m->chip) + m->verdict + m->n_lines * m->line;
  g_autofree char *text = ts_format_area (ts_surface_result_get_area (d->result, d->self->index));

  draw_from_start (d, TS_EM_SMALL, FALSE, text, INDENT,
                   y + ts_draw_get_line (d->widget, TS_EM_SMALL) / 2.0 + 2.0, &d->palette.dim);
}

static void
ts_stair_step_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsStairStep *self = TS_STAIR_STEP (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  Drawing d = { .self = self, .widget = widget, .width = width, .result = get_result (self) };

  if (d.result == NULL)
    return;
  ts_palette_get (widget, &d.palette);
  d.metrics = ts_stair_view_get_metrics (self->view);
  d.mirror = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  d.cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  draw_caption (&d);
  draw_chips (&d);
  if (d.metrics.n_lines > 0)
    draw_recipe (&d);
  if (d.metrics.n_lines > 0 && d.metrics.areas > 0)
    draw_area (&d);
  if (gtk_widget_has_visible_focus (widget))
    ts_draw_focus (d.cr, &d.palette.text, 0.0, 0.0, width, d.metrics.caption - BAR_HEIGHT - 2.0);
  cairo_destroy (d.cr);
}

static void
nudge (TsStairStep *self, double by)
{
  TsDocument *document = get_document (self);
  TsSurfaceResult *result = get_result (self);
  const TsStep *step = ts_stair_get_step (ts_surface_result_get_stair (result), self->index);

  ts_document_place_step (document, (guint) ts_document_get_selected_surface (document),
                          self->index, step->position, CLAMP (step->wanted.L + by, 0.0, 100.0));
}

static void
toggle_lock (TsStairStep *self)
{
  TsDocument *document = get_document (self);
  TsSurfaceResult *result = get_result (self);
  const TsRecipe *recipe = ts_surface_result_get_recipe (result, self->index);
  guint surface = (guint) ts_document_get_selected_surface (document);

  if (ts_surface_result_is_locked (result, self->index))
    ts_document_unlock_recipe (document, surface, self->index);
  else if (recipe != NULL)
    ts_document_lock_recipe (document, surface, self->index, recipe);
}

static void
choose (TsStairStep *self, int step)
{
  int n = (int) ts_surface_result_get_n_steps (get_result (self));
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self->view));

  step = CLAMP (step, 0, n - 1);
  ts_document_select_step (get_document (self), step);
  for (int i = 0; i < step && child != NULL; i++)
    child = gtk_widget_get_next_sibling (child);
  if (child != NULL)
    gtk_widget_grab_focus (child);
}

static void
lock_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  if (get_result (TS_STAIR_STEP (widget)) != NULL)
    toggle_lock (TS_STAIR_STEP (widget));
}

static void
copy_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ts_stair_view_copy (TS_STAIR_STEP (widget)->view, g_strcmp0 (name, "step.copy-colour") == 0);
}

static void
add_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TsStairStep *self = TS_STAIR_STEP (widget);
  TsDocument *document = get_document (self);
  TsSurfaceResult *result = get_result (self);
  guint n = result != NULL ? ts_surface_result_get_n_steps (result) : 0;

  if (self->index + 1 < n && n < TS_STAIR_MAX_STEPS)
    ts_document_add_step (document, (guint) ts_document_get_selected_surface (document),
                          self->index);
}

static void
merge_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TsStairStep *self = TS_STAIR_STEP (widget);
  TsDocument *document = get_document (self);
  TsSurfaceResult *result = get_result (self);
  guint n = result != NULL ? ts_surface_result_get_n_steps (result) : 0;

  if (n > 2)
    ts_document_merge_step (document, (guint) ts_document_get_selected_surface (document),
                            MIN (self->index, n - 2));
}

/* What can be done with the step now. */
static GMenuModel *
new_menu (TsStairStep *self, TsSurfaceResult *result)
{
  GtkWidget *widget = GTK_WIDGET (self);
  guint n = ts_surface_result_get_n_steps (result);
  gboolean has_mix = ts_surface_result_get_recipe (result, self->index) != NULL;
  gboolean is_last = self->index + 1 == n;
  GMenu *menu = g_menu_new ();
  g_autofree char *others = g_strdup_printf (_ ("Other mixes for %d…"), (int) self->index + 1);

  gtk_widget_action_set_enabled (widget, "step.lock", has_mix);
  gtk_widget_action_set_enabled (widget, "step.copy-recipe", has_mix);
  gtk_widget_action_set_enabled (widget, "step.add", !is_last && n < TS_STAIR_MAX_STEPS);
  gtk_widget_action_set_enabled (widget, "step.merge", !is_last && n > 2);
  g_menu_append (menu, others, "picture.other-mixes");
  g_menu_append (menu,
                 ts_surface_result_is_locked (result, self->index) ? _ ("Unlock the mix")
                                                                   : _ ("Lock the mix"),
                 "step.lock");
  g_menu_append (menu, _ ("Copy the recipe"), "step.copy-recipe");
  g_menu_append (menu, _ ("Copy the colour"), "step.copy-colour");
  g_menu_append (menu, _ ("Add a step after this one"), "step.add");
  g_menu_append (menu, _ ("Merge with the next"), "step.merge");
  return G_MENU_MODEL (menu);
}

static void
show_menu (TsStairStep *self, double x, double y)
{
  g_autoptr (GMenuModel) menu = new_menu (self, get_result (self));

  if (self->menu == NULL)
    {
      self->menu = gtk_popover_menu_new_from_model (NULL);
      gtk_popover_set_has_arrow (GTK_POPOVER (self->menu), FALSE);
      gtk_widget_set_halign (self->menu, GTK_ALIGN_START);
      gtk_widget_set_parent (self->menu, GTK_WIDGET (self));
    }
  gtk_popover_menu_set_menu_model (GTK_POPOVER_MENU (self->menu), menu);
  gtk_popover_set_pointing_to (GTK_POPOVER (self->menu), &(GdkRectangle){ (int) x, (int) y, 1, 1 });
  gtk_popover_popup (GTK_POPOVER (self->menu));
}

static gboolean
change_key (TsStairStep *self, guint keyval, GdkModifierType state)
{
  GtkWidget *widget = GTK_WIDGET (self);
  double far = state & GDK_SHIFT_MASK ? 5.0 : 1.0;

  switch (gdk_keyval_to_lower (keyval))
    {
    case GDK_KEY_Up:
      nudge (self, far);
      return TRUE;
    case GDK_KEY_Down:
      nudge (self, -far);
      return TRUE;
    case GDK_KEY_l:
      toggle_lock (self);
      return TRUE;
    case GDK_KEY_Insert:
      add_action (widget, NULL, NULL);
      return TRUE;
    case GDK_KEY_Delete:
      merge_action (widget, NULL, NULL);
      return TRUE;
    case GDK_KEY_Menu:
    case GDK_KEY_F10:
      if (keyval == GDK_KEY_F10 && !(state & GDK_SHIFT_MASK))
        return FALSE;
      show_menu (self, gtk_widget_get_width (widget) / 2.0,
                 ts_stair_view_get_metrics (self->view).caption);
      return TRUE;
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      return gtk_widget_activate_action (widget, "picture.other-mixes", NULL);
    default:
      return FALSE;
    }
}

static gboolean
on_key_pressed (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                TsStairStep *self)
{
  gboolean mirror = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
  int index = (int) self->index, towards = mirror ? -1 : 1;

  if (get_result (self) == NULL || state & GDK_ALT_MASK)
    return FALSE;
  if (state & GDK_CONTROL_MASK)
    return gdk_keyval_to_lower (keyval) == GDK_KEY_c &&
           ts_stair_view_copy (self->view, (state & GDK_SHIFT_MASK) != 0);
  switch (keyval)
    {
    case GDK_KEY_Left:
      choose (self, index - towards);
      return TRUE;
    case GDK_KEY_Right:
      choose (self, index + towards);
      return TRUE;
    case GDK_KEY_Home:
      choose (self, 0);
      return TRUE;
    case GDK_KEY_End:
      choose (self, TS_STAIR_MAX_STEPS);
      return TRUE;
    default:
      return change_key (self, keyval, state);
    }
}

static void
on_pressed (GtkGestureClick *click, int n_press, double x, double y, TsStairStep *self)
{
  if (get_result (self) == NULL)
    return;
  ts_document_select_step (get_document (self), (int) self->index);
  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (n_press == 2)
    gtk_widget_activate_action (GTK_WIDGET (self), "picture.other-mixes", NULL);
}

static void
on_secondary_pressed (GtkGestureClick *click, int n_press, double x, double y, TsStairStep *self)
{
  if (get_result (self) == NULL)
    return;
  ts_document_select_step (get_document (self), (int) self->index);
  gtk_widget_grab_focus (GTK_WIDGET (self));
  show_menu (self, x, y);
}

/* A chip gives its colour, what lies below them the recipe; as text wherever it is dropped. */
static GdkContentProvider *
on_drag_prepare (GtkDragSource *source, double x, double y, TsStairStep *self)
{
  TsSurfaceResult *result = get_result (self);
  TsStairMetrics m = ts_stair_view_get_metrics (self->view);
  double mixed = m.caption + m.edge + m.chip;
  GdkContentProvider *both[2];
  g_autofree char *text = NULL;
  GdkRGBA rgba = { .alpha = 1.0F };
  guint8 code[3];
  TsLab lab;

  if (result == NULL)
    return NULL;
  if (y >= mixed + m.chip)
    {
      text = ts_format_recipe (result, self->index);
      return text != NULL ? gdk_content_provider_new_typed (G_TYPE_STRING, text) : NULL;
    }
  lab = y < mixed ? ts_stair_get_step (ts_surface_result_get_stair (result), self->index)->wanted
                  : ts_surface_result_get_colour (result, self->index);
  text = ts_format_colour_text (lab);
  ts_lab_to_srgb8 (lab, code);
  rgba.red = code[0] / 255.0F;
  rgba.green = code[1] / 255.0F;
  rgba.blue = code[2] / 255.0F;
  both[0] = gdk_content_provider_new_typed (G_TYPE_STRING, text);
  both[1] = gdk_content_provider_new_typed (GDK_TYPE_RGBA, &rgba);
  return gdk_content_provider_new_union (both, G_N_ELEMENTS (both));
}

/* What is dragged hangs on the pointer in words. */
static void
on_drag_begin (GtkDragSource *source, GdkDrag *drag, TsStairStep *self)
{
  GdkContentProvider *content = gdk_drag_get_content (drag);
  g_auto (GValue) value = G_VALUE_INIT;
  GtkWidget *label;

  g_value_init (&value, G_TYPE_STRING);
  if (!gdk_content_provider_get_value (content, &value, NULL))
    return;
  label = gtk_label_new (g_value_get_string (&value));
  gtk_widget_add_css_class (label, "dragged");
  gtk_drag_icon_set_child (GTK_DRAG_ICON (gtk_drag_icon_get_for_drag (drag)), label);
}

static void
on_enter (GtkEventControllerMotion *motion, double x, double y, TsStairStep *self)
{
  TsHover *hover = ts_stair_view_get_hover (self->view);

  if (hover != NULL)
    ts_hover_set (hover, (int) self->index, -1);
}

static void
on_leave (GtkEventControllerMotion *motion, TsStairStep *self)
{
  TsHover *hover = ts_stair_view_get_hover (self->view);

  if (hover != NULL && ts_hover_get_step (hover) == (int) self->index)
    ts_hover_set (hover, -1, -1);
}

static void
on_focus (GtkEventControllerFocus *focus, TsStairStep *self)
{
  if (get_result (self) != NULL)
    ts_document_select_step (get_document (self), (int) self->index);
}

static void
ts_stair_step_dispose (GObject *object)
{
  g_clear_pointer (&TS_STAIR_STEP (object)->menu, gtk_widget_unparent);
  G_OBJECT_CLASS (ts_stair_step_parent_class)->dispose (object);
}

static void
ts_stair_step_class_init (TsStairStepClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_stair_step_dispose;
  widget_class->snapshot = ts_stair_step_snapshot;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_install_action (widget_class, "step.lock", NULL, lock_action);
  gtk_widget_class_install_action (widget_class, "step.copy-recipe", NULL, copy_action);
  gtk_widget_class_install_action (widget_class, "step.copy-colour", NULL, copy_action);
  gtk_widget_class_install_action (widget_class, "step.add", NULL, add_action);
  gtk_widget_class_install_action (widget_class, "step.merge", NULL, merge_action);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST_ITEM);
  gtk_widget_class_set_css_name (widget_class, "stairstep");
}

static void
ts_stair_step_init (TsStairStep *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkGesture *click = gtk_gesture_click_new (), *second = gtk_gesture_click_new ();
  GtkDragSource *drag = gtk_drag_source_new ();

  gtk_widget_set_focusable (widget, TRUE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed), self);
  gtk_widget_add_controller (widget, keys);
  g_signal_connect (motion, "enter", G_CALLBACK (on_enter), self);
  g_signal_connect (motion, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (widget, motion);
  g_signal_connect (focus, "enter", G_CALLBACK (on_focus), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (gtk_widget_queue_draw), self);
  gtk_widget_add_controller (widget, focus);
  g_signal_connect (click, "pressed", G_CALLBACK (on_pressed), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (click));
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (second), GDK_BUTTON_SECONDARY);
  g_signal_connect (second, "pressed", G_CALLBACK (on_secondary_pressed), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (second));
  g_signal_connect (drag, "prepare", G_CALLBACK (on_drag_prepare), self);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
}

/**
 * ts_stair_step_new:
 * @view: the stair it is part of, and its parent
 * @index: which step, from 0
 *
 * Returns: (transfer floating): a widget for one step
 */
GtkWidget *
ts_stair_step_new (TsStairView *view, guint index)
{
  TsStairStep *self = g_object_new (TS_TYPE_STAIR_STEP, NULL);

  self->view = view;
  self->index = index;
  return GTK_WIDGET (self);
}

static void
append_accents (TsStairStep *self, GString *words, const TsSurfaceResult *result)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self->view));

  for (guint i = 0; surface != NULL && i < surface->accents->len; i++)
    {
      const TsAccent *accent = g_ptr_array_index (surface->accents, i);
      g_autofree char *mix = ts_surface_result_describe_accent (result, accent);

      if (accent->step == self->index && mix != NULL)
        g_string_append_printf (words, _ (" Accent %s: %s."), accent->name, mix);
    }
}

/**
 * ts_stair_step_refresh:
 * @self: the step
 *
 * Draws the step anew and says in words what it shows.
 */
void
ts_stair_step_refresh (TsStairStep *self)
{
  TsSurfaceResult *result = get_result (self);
  g_autofree char *name = g_strdup_printf (_ ("Step %u"), self->index + 1);
  g_autofree char *step = result != NULL ? ts_format_step (result, self->index) : g_strdup ("");
  g_autofree char *done = ts_stair_view_is_painted (self->view, self->index)
                            ? g_strdup_printf (_ ("%s, painted"), step)
                            : g_strdup (step);
  g_autoptr (GString) words = g_string_new (done);

  if (result != NULL)
    append_accents (self, words, result);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words->str, -1);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_SELECTED,
                               is_selected (self), -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
