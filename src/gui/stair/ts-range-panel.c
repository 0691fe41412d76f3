/* ts-range-panel.c: the wanted range of lightness, and the colours of light and shadow
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-range-panel.h"

#include <glib/gi18n.h>
#include <math.h>

#include "colour/ts-colour-convert.h"
#include "gui/widgets/ts-accessible.h"
#include "gui/stair/ts-looked-at.h"
#include "gui/stair/ts-preset-box.h"

/* Ranges that painters ask for (common practice, no source), L*. */
#define FLAT_DARK 30.0
#define FLAT_LIGHT 70.0
#define DISPLAY_DARK 18.0
#define DISPLAY_LIGHT 85.0
#define STRONG_DARK 10.0
#define STRONG_LIGHT 94.0

struct _TsRangePanel
{
  TsView parent_instance;

  gboolean updating; /* settings are shown, not made */

  /* Template children */
  GtkAdjustment *lightest, *darkest, *light_share, *shadow_share;
  GtkWidget *has_range, *has_light, *has_shadow, *light, *shadow, *polished;
  GtkWidget *darkest_spin, *lightest_spin, *light_spin, *shadow_spin;
};

G_DEFINE_FINAL_TYPE (TsRangePanel, ts_range_panel, TS_TYPE_VIEW)

static void
show_colour (GtkWidget *button, TsLab lab)
{
  guint8 srgb[3];

  ts_lab_to_srgb8 (lab, srgb);
  gtk_color_chooser_set_rgba (GTK_COLOR_CHOOSER (button),
                              &(GdkRGBA){ (float) srgb[0] / 255.0F, (float) srgb[1] / 255.0F,
                                          (float) srgb[2] / 255.0F, 1.0F });
}

static TsLab
get_colour (GtkWidget *button)
{
  GdkRGBA rgba;
  guint8 srgb[3];

  gtk_color_chooser_get_rgba (GTK_COLOR_CHOOSER (button), &rgba);
  srgb[0] = (guint8) lround (255.0 * (double) rgba.red);
  srgb[1] = (guint8) lround (255.0 * (double) rgba.green);
  srgb[2] = (guint8) lround (255.0 * (double) rgba.blue);
  return ts_lab_from_srgb8 (srgb);
}

static gboolean
is_on (GtkWidget *check)
{
  return gtk_check_button_get_active (GTK_CHECK_BUTTON (check));
}

static void
update_sensitivity (TsRangePanel *self)
{
  gtk_widget_set_sensitive (self->darkest_spin, is_on (self->has_range));
  gtk_widget_set_sensitive (self->lightest_spin, is_on (self->has_range));
  gtk_widget_set_sensitive (self->light, is_on (self->has_light));
  gtk_widget_set_sensitive (self->light_spin, is_on (self->has_light));
  gtk_widget_set_sensitive (self->shadow, is_on (self->has_shadow));
  gtk_widget_set_sensitive (self->shadow_spin, is_on (self->has_shadow));
}

static void
on_changed (TsRangePanel *self)
{
  const TsSurface *surface = ts_view_get_stair_surface (TS_VIEW (self));
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsStairSettings settings;

  if (self->updating || surface == NULL)
    return;
  settings = surface->stair;
  settings.has_range = is_on (self->has_range);
  settings.range_light = gtk_adjustment_get_value (self->lightest);
  settings.range_dark = MIN (gtk_adjustment_get_value (self->darkest), settings.range_light - 1.0);
  settings.has_light = is_on (self->has_light);
  settings.light = get_colour (self->light);
  settings.light_amount = gtk_adjustment_get_value (self->light_share) / 100.0;
  settings.has_shadow = is_on (self->has_shadow);
  settings.shadow = get_colour (self->shadow);
  settings.shadow_amount = gtk_adjustment_get_value (self->shadow_share) / 100.0;
  update_sensitivity (self);
  ts_document_set_stair (document, (guint) ts_document_get_selected_surface (document), &settings,
                         _ ("Change Range and Light"));
}

static void
on_polished (TsRangePanel *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));

  if (!self->updating && ts_view_get_surface (TS_VIEW (self)) != NULL)
    ts_document_set_polished (document, (guint) ts_document_get_selected_surface (document),
                              is_on (self->polished));
}

static void
take_range (TsRangePanel *self, double dark, double light)
{
  self->updating = TRUE;
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->has_range), TRUE);
  gtk_adjustment_set_value (self->darkest, dark);
  gtk_adjustment_set_value (self->lightest, light);
  self->updating = FALSE;
  on_changed (self);
}

static void
on_flat (TsRangePanel *self)
{
  take_range (self, FLAT_DARK, FLAT_LIGHT);
}

static void
on_display (TsRangePanel *self)
{
  take_range (self, DISPLAY_DARK, DISPLAY_LIGHT);
}

static void
on_high_contrast (TsRangePanel *self)
{
  take_range (self, STRONG_DARK, STRONG_LIGHT);
}

/* Without a wish the ends of the present stair are what to start from. */
static void
show_range (TsRangePanel *self, const TsStairSettings *settings)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  double light = settings->range_light, dark = settings->range_dark;

  if (!settings->has_range && result != NULL)
    {
      TsStair *stair = ts_surface_result_get_stair (result);

      light = round (ts_stair_get_step (stair, 0)->wanted.L);
      dark = round (ts_stair_get_step (stair, ts_stair_get_n_steps (stair) - 1)->wanted.L);
    }
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->has_range), settings->has_range);
  gtk_adjustment_set_value (self->lightest, light);
  gtk_adjustment_set_value (self->darkest, dark);
}

static void
ts_range_panel_update (TsView *view, TsChange change)
{
  TsRangePanel *self = TS_RANGE_PANEL (view);
  const TsSurface *surface = ts_view_get_stair_surface (view);
  const TsLab warm = { 85.0, 5.0, 25.0 }, cool = { 20.0, 5.0, -20.0 };
  const TsStairSettings *settings;

  if (surface == NULL)
    return;
  settings = &surface->stair;
  self->updating = TRUE;
  show_range (self, settings);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->has_light), settings->has_light);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->has_shadow), settings->has_shadow);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->polished), surface->polished);
  show_colour (self->light, settings->has_light ? settings->light : warm);
  show_colour (self->shadow, settings->has_shadow ? settings->shadow : cool);
  gtk_adjustment_set_value (self->light_share,
                            settings->has_light ? settings->light_amount * 100.0 : 30.0);
  gtk_adjustment_set_value (self->shadow_share,
                            settings->has_shadow ? settings->shadow_amount * 100.0 : 30.0);
  update_sensitivity (self);
  self->updating = FALSE;
}

static void
ts_range_panel_class_init (TsRangePanelClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  TS_VIEW_CLASS (class)->update = ts_range_panel_update;
  g_type_ensure (TS_TYPE_LOOKED_AT);
  g_type_ensure (TS_TYPE_PRESET_BOX);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-range-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, lightest);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, darkest);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, light_share);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, shadow_share);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, has_range);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, has_light);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, has_shadow);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, light);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, shadow);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, darkest_spin);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, lightest_spin);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, light_spin);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, shadow_spin);
  gtk_widget_class_bind_template_child (widget_class, TsRangePanel, polished);
  gtk_widget_class_bind_template_callback (widget_class, on_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_polished);
  gtk_widget_class_bind_template_callback (widget_class, on_flat);
  gtk_widget_class_bind_template_callback (widget_class, on_display);
  gtk_widget_class_bind_template_callback (widget_class, on_high_contrast);
}

static void
ts_range_panel_init (TsRangePanel *self)
{
  self->updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_accessible_name_inner (self->light, _ ("Colour of the light"));
  ts_accessible_name_inner (self->shadow, _ ("Colour of the shadow"));
  self->updating = FALSE;
}
