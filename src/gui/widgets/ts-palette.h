/* ts-palette.h: the colours of the window's parts, as drawings need them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "colour/ts-colour.h"

G_BEGIN_DECLS

typedef struct
{
  GdkRGBA field; /* behind pictures and chips, neutral, L* 50 */
  GdkRGBA win, panel, plot;
  GdkRGBA line, grid, band;
  GdkRGBA sel;
  GdkRGBA text, dim;
} TsPalette;

void ts_palette_get     (GtkWidget        *widget,
                         TsPalette        *palette);
void ts_palette_install (GdkDisplay       *display);
/* A measured colour as the screen shows it. */
void ts_palette_set_lab (cairo_t          *cr,
                         TsLab             lab);

G_END_DECLS
