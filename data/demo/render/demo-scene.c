/* demo-scene.c: figure, wall, table, cards and lights; what a ray meets
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-scene.h"

#define WALL_Z -4.0f
#define WALL_END 8.7f /* beyond it, out of the picture, the window shines past */
#define TABLE_Y -3.92f
#define LAMP_HALF 4.2f

const Vec demo_card_middle = { 5.25f, 1.55f, 0.84f };
const Vec demo_chart_middle = { 5.25f, -1.55f, 0.84f };
const float demo_card_half_width = 1.15f, demo_card_half_height = 0.80f;
const float demo_patch_pitch = 0.46f, demo_patch_half = 0.19f;

typedef struct
{
  Vec middle, half;
  DemoMaterial material;
} Box;

static const Box boxes[] = {
  { { 5.25f, 1.55f, 0.81f }, { 1.15f, 0.80f, 0.03f }, DEMO_CARD },
  { { 5.25f, -1.55f, 0.81f }, { 1.44f, 0.98f, 0.03f }, DEMO_BOARD },
  { { 5.25f, -0.90f, 0.72f }, { 0.07f, 3.00f, 0.05f }, DEMO_BOARD },
  { { 5.25f, -3.87f, 0.60f }, { 0.75f, 0.05f, 0.45f }, DEMO_BOARD },
};

Vec
demo_patch_middle (int index)
{
  const float column = (float) (index % 6) - 2.5f, row = 1.5f - (float) (index / 6);

  return vec_add (demo_chart_middle, vec (column * demo_patch_pitch, row * demo_patch_pitch, 0.0f));
}

static DemoMaterial
chart_material (Vec p)
{
  const float x = (p.x - demo_chart_middle.x) / demo_patch_pitch + 3.0f;
  const float y = (demo_chart_middle.y - p.y) / demo_patch_pitch + 2.0f;
  const float inside = demo_patch_half / demo_patch_pitch;

  if (p.z < demo_chart_middle.z - 1e-3f || x < 0.0f || x >= 6.0f || y < 0.0f || y >= 4.0f ||
      fabsf (x - floorf (x) - 0.5f) > inside || fabsf (y - floorf (y) - 0.5f) > inside)
    return DEMO_BOARD;
  return DEMO_PATCH + 6 * (int) y + (int) x;
}

static gboolean
meet_box (const Box *box, Vec from, Vec direction, float limit, float *distance, Vec *normal)
{
  const float d[3] = { direction.x, direction.y, direction.z };
  const float o[3] = { from.x - box->middle.x, from.y - box->middle.y, from.z - box->middle.z };
  const float h[3] = { box->half.x, box->half.y, box->half.z };
  float enter = 1e-4f, leave = limit;
  int side = -1;

  for (int i = 0; i < 3; i++)
    {
      const float inverse = 1.0f / (fabsf (d[i]) < 1e-9f ? 1e-9f : d[i]);
      const float a = (-h[i] - o[i]) * inverse, b = (h[i] - o[i]) * inverse;

      if (fminf (a, b) > enter)
        {
          enter = fminf (a, b);
          side = i;
        }
      leave = fminf (leave, fmaxf (a, b));
    }
  if (side < 0 || enter >= leave)
    return FALSE;
  *distance = enter;
  *normal = vec (side == 0 ? copysignf (1, -d[0]) : 0, side == 1 ? copysignf (1, -d[1]) : 0,
                 side == 2 ? copysignf (1, -d[2]) : 0);
  return TRUE;
}

gboolean
demo_scene_meet (const DemoScene *self, Vec from, Vec direction, gboolean exact, DemoHit *hit)
{
  float nearest = 1e3f, t;
  gboolean found = FALSE;
  Vec normal;

  if (direction.z < -1e-6f && (t = (WALL_Z - from.z) / direction.z) > 1e-4f && t < nearest &&
      from.x + t * direction.x < WALL_END)
    {
      nearest = t;
      *hit = (DemoHit){ .normal = vec (0, 0, 1), .material = DEMO_WALL };
      found = TRUE;
    }
  if (direction.y < -1e-6f && (t = (TABLE_Y - from.y) / direction.y) > 1e-4f && t < nearest)
    {
      nearest = t;
      *hit = (DemoHit){ .normal = vec (0, 1, 0), .material = DEMO_TABLE };
      found = TRUE;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (boxes); i++)
    if (meet_box (&boxes[i], from, direction, nearest, &t, &normal))
      {
        nearest = t;
        *hit = (DemoHit){ .normal = normal, .material = boxes[i].material };
        if (i == 1)
          hit->material = chart_material (vec_along (from, direction, t));
        found = TRUE;
      }
  if (demo_field_meet (self->field, from, direction, nearest, exact, &t))
    {
      hit->place = vec_along (from, direction, t);
      hit->material = demo_figure_at (hit->place).material;
      hit->normal = exact ? demo_figure_normal (hit->place, 0.0025f)
                          : demo_field_normal (self->field, hit->place);
      return TRUE;
    }
  hit->place = vec_along (from, direction, nearest);
  return found;
}

gboolean
demo_scene_blocked (const DemoScene *self, Vec from, Vec to)
{
  const Vec way = vec_sub (to, from);
  const float length = vec_length (way);
  const Vec direction = vec_scale (way, 1.0f / length);
  float t;
  Vec normal;

  for (gsize i = 0; i < G_N_ELEMENTS (boxes); i++)
    if (meet_box (&boxes[i], from, direction, length, &t, &normal))
      return TRUE;
  return demo_field_meet (self->field, from, direction, length, FALSE, &t);
}

/**
 * demo_lamp_init:
 * @self: the lamp to set
 * @middle: where it is; it faces the middle of the scene
 *
 * A square lamp, as bright as gives a white surface in the middle of the scene, facing it, the
 * radiance 1.
 */
void
demo_lamp_init (DemoLamp *self, Vec middle)
{
  const Vec out = vec_unit (middle);
  const Vec across = vec_unit (vec_cross (vec (0, 1, 0), out));

  self->middle = middle;
  self->out = vec_scale (out, -1.0f);
  self->across = vec_scale (across, LAMP_HALF);
  self->up = vec_scale (vec_cross (out, across), LAMP_HALF);
  self->strength = vec_dot (middle, middle);
}

Vec
demo_lamp_point (const DemoLamp *self, float u, float v)
{
  return vec_along (vec_along (self->middle, self->across, 2.0f * u - 1.0f), self->up,
                    2.0f * v - 1.0f);
}

float
demo_lamp_share (const DemoLamp *self, Vec place, Vec normal, Vec point)
{
  const Vec way = vec_sub (point, place);
  const float square = vec_dot (way, way);
  const float here = vec_dot (normal, way), there = -vec_dot (self->out, way);

  return here <= 0.0f || there <= 0.0f ? 0.0f : self->strength * here * there / (square * square);
}

/* A dim room, lighter above, with a window behind to the right that draws the shadow side's edge
 * and a pale board beside the figure that throws light back into its shadows.
 */
static float
room (Vec d)
{
  const float window = smoothf (0.86f, 0.97f, vec_dot (d, vec (0.9290f, 0.1200f, -0.3501f)));
  const float board = smoothf (0.60f, 0.95f, vec_dot (d, vec (0.9798f, 0.0100f, 0.1997f)));
  const float front = smoothf (0.2f, 0.9f, d.z);

  return 0.06f + 0.05f * smoothf (-0.3f, 1.0f, d.y) + 0.07f * front + 1.4f * window + 0.42f * board;
}

float
demo_lamp_seen (const DemoLamp *self, Vec from, Vec direction, gboolean with_lamp)
{
  const float facing = -vec_dot (direction, self->out);
  const float t = -vec_dot (vec_sub (self->middle, from), self->out) / fmaxf (facing, 1e-6f);
  const Vec at = vec_sub (vec_along (from, direction, t), self->middle);
  const float edge = LAMP_HALF * LAMP_HALF;

  if (with_lamp && facing > 0.0f && t > 0.0f && fabsf (vec_dot (at, self->across)) < edge &&
      fabsf (vec_dot (at, self->up)) < edge)
    return self->strength * (float) G_PI / (4.0f * edge);
  return room (direction);
}
