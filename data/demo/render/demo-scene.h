/* demo-scene.h: figure, wall, table, cards and lights; what a ray meets
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "demo-field.h"
#include "demo-material.h"

typedef struct
{
  Vec          place;
  Vec          normal;
  DemoMaterial material;
} DemoHit;

typedef struct
{
  Vec   middle;
  Vec   out;         /* the way it shines */
  Vec   across, up;  /* from its middle to its edges */
  float strength;
} DemoLamp;

typedef struct
{
  DemoField   *field;
  DemoPalette *palette;
  DemoLamp     lamp;
} DemoScene;

/* Places of the card and the chart in the world; both face along z. */
extern const Vec   demo_card_middle;
extern const Vec   demo_chart_middle;
extern const float demo_card_half_width, demo_card_half_height;
extern const float demo_patch_pitch, demo_patch_half;
Vec      demo_patch_middle   (int                index);

gboolean demo_scene_meet     (const DemoScene   *self,
                              Vec                from,
                              Vec                direction,
                              gboolean           exact,
                              DemoHit           *hit);
gboolean demo_scene_blocked  (const DemoScene   *self,
                              Vec                from,
                              Vec                to);
void     demo_lamp_init       (DemoLamp          *self,
                               Vec                middle);
/* A point of it by two numbers of 0..1, and what it sends to @place facing @normal if nothing is between. */
Vec      demo_lamp_point      (const DemoLamp    *self,
                               float              u,
                               float              v);
float    demo_lamp_share      (const DemoLamp    *self,
                               Vec                place,
                               Vec                normal,
                               Vec                point);
/* What comes from where nothing is met: the room, and with @with_lamp the lamp itself. */
float    demo_lamp_seen       (const DemoLamp    *self,
                               Vec                from,
                               Vec                direction,
                               gboolean           with_lamp);
