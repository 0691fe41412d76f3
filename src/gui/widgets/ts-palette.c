/* ts-palette.c: the colours of the window's parts, as drawings need them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-palette.h"

#include "gui/widgets/ts-screen.h"

#include "colour/ts-colour-convert.h"

#define RESOURCE_FOLDER "/io/github/tonestair/Tonestair/"

static void
look_up (GtkStyleContext *context, const char *name, GdkRGBA *colour)
{
  if (!gtk_style_context_lookup_color (context, name, colour))
    *colour = (GdkRGBA){ 0.5F, 0.5F, 0.5F, 1.0F };
}

/**
 * ts_palette_get:
 * @widget: a widget of the window
 * @palette: (out): the colours in force
 *
 * Looks the tokens of the style sheet up, light, dark or high contrast.
 */
void
ts_palette_get (GtkWidget *widget, TsPalette *palette)
{
  GtkStyleContext *context = gtk_widget_get_style_context (widget);

  look_up (context, "ts_field", &palette->field);
  look_up (context, "ts_win", &palette->win);
  look_up (context, "ts_panel", &palette->panel);
  look_up (context, "ts_plot", &palette->plot);
  look_up (context, "ts_line", &palette->line);
  look_up (context, "ts_grid", &palette->grid);
  look_up (context, "ts_band", &palette->band);
  look_up (context, "ts_sel", &palette->sel);
  look_up (context, "ts_text", &palette->text);
  look_up (context, "ts_dim", &palette->dim);
}

/**
 * ts_palette_set_lab:
 * @cr: a cairo context
 * @lab: a colour, D50
 *
 * Makes @lab the source of @cr, held at the edge of what sRGB shows, in the monitor's colours as
 * the picture beside it is.
 */
void
ts_palette_set_lab (cairo_t *cr, TsLab lab)
{
  guint8 srgb[3];
  guint32 word;

  ts_lab_to_srgb8 (lab, srgb);
  word = ts_screen_adapt (ts_screen_get (gdk_display_get_default ()),
                          (guint32) srgb[0] << 16 | (guint32) srgb[1] << 8 | srgb[2]);
  cairo_set_source_rgb (cr, (word >> 16 & 0xff) / 255.0, (word >> 8 & 0xff) / 255.0,
                        (word & 0xff) / 255.0);
}

/* The theme's name says high contrast; GTK_THEME beats the setting. */
static char *
dup_theme_name (GtkSettings *settings)
{
  const char *forced = g_getenv ("GTK_THEME");
  char *name = NULL;

  if (forced != NULL && *forced != '\0')
    return g_strdup (forced);
  g_object_get (settings, "gtk-theme-name", &name, NULL);
  return name != NULL ? name : g_strdup ("");
}

static const char *
choose_colours (GtkSettings *settings)
{
  g_autofree char *name = dup_theme_name (settings);
  g_autofree char *theme = g_ascii_strdown (name, -1);
  gboolean prefer_dark = FALSE, dark, high_contrast;

  g_object_get (settings, "gtk-application-prefer-dark-theme", &prefer_dark, NULL);
  if (g_getenv ("GTK_THEME") != NULL)
    prefer_dark = FALSE;
  high_contrast = strstr (theme, "contrast") != NULL || strstr (theme, "-hc") != NULL ||
                  strstr (theme, ":hc") != NULL;
  dark = prefer_dark || strstr (theme, "dark") != NULL || strstr (theme, "inverse") != NULL;
  if (high_contrast)
    return dark ? RESOURCE_FOLDER "style-hc-dark.css" : RESOURCE_FOLDER "style-hc.css";
  return dark ? RESOURCE_FOLDER "style-dark.css" : RESOURCE_FOLDER "style-light.css";
}

static void
reload (GtkSettings *settings, GParamSpec *pspec, gpointer user_data)
{
  gtk_css_provider_load_from_resource (GTK_CSS_PROVIDER (user_data), choose_colours (settings));
}

/**
 * ts_palette_install:
 * @display: the display
 *
 * Puts the style sheet in force, and its tokens, which follow the theme.
 */
void
ts_palette_install (GdkDisplay *display)
{
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();
  g_autoptr (GtkCssProvider) rules = gtk_css_provider_new ();
  GtkSettings *settings = gtk_settings_get_for_display (display);

  reload (settings, NULL, provider);
  gtk_css_provider_load_from_resource (rules, RESOURCE_FOLDER "style.css");
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (rules),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  g_signal_connect_object (settings, "notify::gtk-theme-name", G_CALLBACK (reload), provider, 0);
  g_signal_connect_object (settings, "notify::gtk-application-prefer-dark-theme",
                           G_CALLBACK (reload), provider, 0);
}
