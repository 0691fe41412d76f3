/* demo-camera.c: where the picture is taken from, and taking it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-camera.h"

typedef struct
{
  const DemoCamera *camera;
  const DemoScene *scene;
  const DemoIlluminant *light;
  float *xyz;
  int next; /* atomic: the next row */
} Taking;

static Vec
line_of_sight (const DemoCamera *self, float x, float y)
{
  const float pixel = self->across / (float) self->width;

  return vec_unit (vec ((x - 0.5f * (float) self->width) * pixel,
                        (0.5f * (float) self->height - y) * pixel, -self->eye.z));
}

void
demo_camera_place (const DemoCamera *self, Vec p, float *x, float *y)
{
  const float scale = self->eye.z / (self->eye.z - p.z) * (float) self->width / self->across;

  *x = 0.5f * (float) self->width + (p.x - self->eye.x) * scale;
  *y = 0.5f * (float) self->height - (p.y - self->eye.y) * scale;
}

static void
take_pixel (const Taking *taking, int x, int y)
{
  const DemoCamera *self = taking->camera;
  const guint32 seed = demo_sampler_hash ((guint32) (y * self->width + x) ^ self->seed);
  DemoBands sum;

  demo_bands_fill (&sum, 0.0f);
  for (int look = 0; look < self->looks; look++)
    {
      DemoSampler place = { seed, (guint32) look, 0 };
      DemoHit hit;
      Vec direction;
      float u, v;

      demo_sampler_next (&place, &u, &v);
      direction = line_of_sight (self, (float) x + u, (float) y + v);
      if (!demo_scene_meet (taking->scene, self->eye, direction, TRUE, &hit))
        continue;
      for (int path = 0; path < self->paths; path++)
        {
          DemoSampler sampler = { seed, (guint32) (look * self->paths + path), 1 };

          demo_trace (taking->scene, &hit, direction, &sampler, &sum);
        }
    }
  demo_illuminant_to_xyz (taking->light, &sum, 1.0f / (float) (self->looks * self->paths),
                          taking->xyz + 3 * ((gsize) y * self->width + x));
}

static gpointer
take_rows (gpointer data)
{
  Taking *taking = data;

  while (TRUE)
    {
      const int y = g_atomic_int_add (&taking->next, 1);

      if (y >= taking->camera->height)
        return NULL;
      for (int x = 0; x < taking->camera->width; x++)
        take_pixel (taking, x, y);
    }
}

float *
demo_camera_take (const DemoCamera *self, const DemoScene *scene, const DemoIlluminant *light)
{
  Taking taking = { self, scene, light, NULL, 0 };
  g_autoptr (GPtrArray) threads = g_ptr_array_new ();

  taking.xyz = g_new0 (float, (gsize) self->width * self->height * 3);
  for (guint i = 0; i < g_get_num_processors (); i++)
    g_ptr_array_add (threads, g_thread_new ("take", take_rows, &taking));
  for (guint i = 0; i < threads->len; i++)
    g_thread_join (g_ptr_array_index (threads, i));
  return taking.xyz;
}

void
demo_camera_probe (const DemoCamera *self, const DemoScene *scene, float x, float y, float radius,
                   int paths, DemoBands *mean)
{
  demo_bands_fill (mean, 0.0f);
  for (int i = 0; i < paths; i++)
    {
      DemoSampler sampler = { self->seed ^ 0x51ed270bu, (guint32) i, 0 };
      DemoHit hit;
      Vec direction;
      float u, v;

      demo_sampler_next (&sampler, &u, &v);
      u = radius * sqrtf (u);
      v *= 2.0f * (float) G_PI;
      direction = line_of_sight (self, x + u * cosf (v), y + u * sinf (v));
      if (demo_scene_meet (scene, self->eye, direction, TRUE, &hit))
        demo_trace (scene, &hit, direction, &sampler, mean);
    }
  for (int b = 0; b <= DEMO_BANDS; b++)
    mean->band[b] /= (float) paths;
}
