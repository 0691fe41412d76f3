/* demo-material.h: how each material reflects: its known spectrum, its sheen
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "demo-bands.h"
#include "demo-figure.h"

typedef struct
{
  DemoBands diffuse;    /* reflectance 0..1; of a metal, its mirror reflectance */
  float     mirror;     /* reflectance of the surface at normal incidence, 0 = matt */
  float     roughness;  /* GGX alpha */
  gboolean  metal;
} DemoFinish;

typedef struct _DemoPalette DemoPalette;

DemoPalette *demo_palette_new       (const char         *chart_path,
                                     gboolean            painted,
                                     GError            **error);
void         demo_palette_free      (DemoPalette        *self);
/* What is at @p, whose surface faces @normal. */
void         demo_palette_finish_at (const DemoPalette  *self,
                                     DemoMaterial        material,
                                     Vec                 p,
                                     Vec                 normal,
                                     DemoFinish         *finish);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (DemoPalette, demo_palette_free)
