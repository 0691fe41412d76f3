/* demo-material.c: how each material reflects: its known spectrum, its sheen
 *
 * Every spectrum here is invented: a floor and at most two smooth rises and one bump, which is the
 * shape most dyes, pigments and skins have.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-material.h"

#include <stdlib.h>

#include "base/ts-error.h"

typedef struct
{
  float floor;
  float rise_1, at_1, width_1;
  float rise_2, at_2, width_2;
  float bump, at_3, width_3;
} Shape;

typedef struct
{
  Shape shape;
  float mirror, roughness;
  gboolean metal;
} Recipe;

/* clang-format off */
static const Recipe recipes[DEMO_PATCH] = {
  [DEMO_SKIN]    = { { 0.080f, 0.16f, 470, 30, 0.27f, 592, 17, -0.045f, 546, 24 }, 0.028f, 0.42f },
  [DEMO_LIP]     = { { 0.070f, 0.07f, 470, 30, 0.22f, 606, 17, -0.020f, 546, 24 }, 0.028f, 0.35f },
  [DEMO_EYE]     = { { 0.400f, 0.10f, 500, 40, 0.05f, 600, 30, 0, 550, 20 },       0.040f, 0.05f },
  [DEMO_BEARD]   = { { 0.260f, 0.09f, 510, 60, 0.05f, 600, 50, 0, 550, 20 },       0.020f, 0.45f },
  [DEMO_BROW]    = { { 0.150f, 0.05f, 510, 60, 0.05f, 600, 50, 0, 550, 20 },       0.020f, 0.45f },
  [DEMO_CAP]     = { { 0.028f, 0.00f, 500, 30, 0.03f, 680, 20, 0.100f, 492, 42 },  0.0f,   0.5f },
  [DEMO_SCARF]   = { { 0.370f, 0.20f, 482, 34, 0.06f, 590, 40, 0, 550, 20 },       0.0f,   0.5f },
  [DEMO_COAT]    = { { 0.042f, 0.20f, 536, 22, 0.07f, 600, 30, 0, 550, 20 },       0.045f, 0.30f },
  [DEMO_LEATHER] = { { 0.030f, 0.07f, 546, 26, 0.11f, 612, 26, 0, 550, 20 },       0.040f, 0.30f },
  [DEMO_BRASS]   = { { 0.380f, 0.42f, 512, 22, 0.08f, 590, 30, 0, 550, 20 },       0.800f, 0.24f, TRUE },
  [DEMO_GLASS]   = { { 0.480f, 0.08f, 500, 40, -0.03f, 640, 40, 0.04f, 530, 50 },  0.045f, 0.10f },
  [DEMO_WOOD]    = { { 0.030f, 0.02f, 540, 40, 0.06f, 620, 40, 0, 550, 20 },       0.040f, 0.28f },
  [DEMO_WALL]    = { { 0.215f, 0.02f, 500, 60, 0.01f, 600, 50, 0, 550, 20 },       0.0f,   0.5f },
  [DEMO_TABLE]   = { { 0.150f, 0.02f, 500, 60, 0.02f, 600, 50, 0, 550, 20 },       0.0f,   0.5f },
  [DEMO_BOARD]   = { { 0.030f, 0.00f, 500, 60, 0.00f, 600, 50, 0, 550, 20 },       0.0f,   0.5f },
  [DEMO_CARD]    = { { 0.180f, 0.00f, 500, 60, 0.00f, 600, 50, 0, 550, 20 },       0.0f,   0.5f },
};
static const Shape flushed = { 0.060f, 0.11f, 470, 30, 0.30f, 598, 16, -0.060f, 546, 26 };
static const Shape iris    = { 0.050f, 0.00f, 470, 30, 0.03f, 620, 40, 0.120f, 470, 50 };
static const Shape pupil   = { 0.008f, 0.00f, 470, 30, 0.00f, 620, 40, 0, 550, 20 };
/* clang-format on */

struct _DemoPalette
{
  gboolean painted;
  DemoFinish finishes[DEMO_N_MATERIALS];
  DemoBands flushed, iris, pupil;
};

static float
rise (float wavelength, float at, float width)
{
  return 1.0f / (1.0f + expf (-(wavelength - at) / width));
}

static void
draw_shape (const Shape *s, DemoBands *out)
{
  demo_bands_fill (out, 0.0f);
  for (int b = 0; b < DEMO_BANDS; b++)
    {
      const float nm = demo_wavelength (b);
      const float off = (nm - s->at_3) / s->width_3;

      out->band[b] = s->floor + s->rise_1 * rise (nm, s->at_1, s->width_1) +
                     s->rise_2 * rise (nm, s->at_2, s->width_2) +
                     s->bump * expf (-0.5f * off * off);
    }
}

/* One line a patch: number, name and 31 reflectances. */
static gboolean
read_patch (char *line, const char *path, int number, DemoBands *out, GError **error)
{
  g_auto (GStrv) fields = g_strsplit (line, ",", -1);

  demo_bands_fill (out, 0.0f);
  if (g_strv_length (fields) != DEMO_BANDS + 2 || atoi (fields[0]) != number)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   "%s: patch %d must have its number, its name and %d reflectances; give the "
                   "chart table of data/demo",
                   path, number, DEMO_BANDS);
      return FALSE;
    }
  for (int b = 0; b < DEMO_BANDS; b++)
    out->band[b] = (float) g_ascii_strtod (fields[b + 2], NULL);
  return TRUE;
}

static gboolean
read_chart (DemoPalette *self, const char *path, GError **error)
{
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  int patch = 0;

  if (!g_file_get_contents (path, &text, NULL, error))
    return FALSE;
  lines = g_strsplit (text, "\n", -1);
  for (int i = 0; lines[i] != NULL && patch < 24; i++)
    if (g_ascii_isdigit (lines[i][0]))
      {
        if (!read_patch (lines[i], path, patch + 1, &self->finishes[DEMO_PATCH + patch].diffuse,
                         error))
          return FALSE;
        patch++;
      }
  if (patch < 24)
    g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW, "%s has %d patches; the chart needs 24", path,
                 patch);
  return patch == 24;
}

/**
 * demo_palette_new:
 * @chart_path: the chart's reflectances, a CSV table
 * @painted: whether the figure is painted in flat steps of an imagined light
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the materials of the scene
 */
DemoPalette *
demo_palette_new (const char *chart_path, gboolean painted, GError **error)
{
  g_autoptr (DemoPalette) self = g_new0 (DemoPalette, 1);

  self->painted = painted;
  for (int m = 0; m < DEMO_N_MATERIALS; m++)
    self->finishes[m].roughness = 0.5f;
  for (int m = 0; m < DEMO_PATCH; m++)
    {
      draw_shape (&recipes[m].shape, &self->finishes[m].diffuse);
      self->finishes[m].mirror = recipes[m].mirror;
      self->finishes[m].roughness = recipes[m].roughness;
      self->finishes[m].metal = recipes[m].metal;
    }
  draw_shape (&flushed, &self->flushed);
  draw_shape (&iris, &self->iris);
  draw_shape (&pupil, &self->pupil);
  return read_chart (self, chart_path, error) ? g_steal_pointer (&self) : NULL;
}

void
demo_palette_free (DemoPalette *self)
{
  g_free (self);
}

static void
blend (DemoBands *base, const DemoBands *other, float share)
{
  for (int b = 0; b < DEMO_BANDS; b++)
    base->band[b] = mixf (base->band[b], other->band[b], share);
}

/* Nose, cheeks and ears redder than the rest. */
static void
colour_skin (const DemoPalette *self, Vec p, DemoBands *out)
{
  const Vec q = demo_head_turned (vec_sub (p, demo_figure_place));
  const Vec s = vec (fabsf (q.x), q.y, q.z);
  const float nose = smoothf (0.34f, 0.05f, vec_length (vec_sub (q, vec (0.0f, -0.20f, 1.08f))));
  const float cheek = smoothf (0.42f, 0.05f, vec_length (vec_sub (s, vec (0.46f, -0.17f, 0.68f))));
  const float ear = smoothf (0.30f, 0.10f, vec_length (vec_sub (s, vec (0.84f, -0.02f, -0.06f))));

  blend (out, &self->flushed, clampf (0.75f * nose + 0.7f * cheek + 0.8f * ear, 0.0f, 1.0f));
}

static void
colour_eye (const DemoPalette *self, Vec p, DemoBands *out)
{
  const float gaze = demo_head_gaze (vec_sub (p, demo_figure_place));

  blend (out, &self->iris, smoothf (0.868f, 0.882f, gaze));
  blend (out, &self->pupil, 0.55f * smoothf (0.868f, 0.885f, gaze) * smoothf (0.91f, 0.89f, gaze));
  blend (out, &self->pupil, smoothf (0.970f, 0.976f, gaze));
}

/* Two stripes of the cap's wool near the hanging end. */
static void
colour_scarf (const DemoPalette *self, Vec p, DemoBands *out)
{
  const Vec q = vec_sub (p, demo_figure_place);
  const float y = q.y + 0.02f * sinf (q.x * 9.0f);
  const float stripes =
    smoothf (0.075f, 0.060f, fabsf (y + 3.34f)) + smoothf (0.045f, 0.030f, fabsf (y + 3.15f));

  blend (out, &self->finishes[DEMO_CAP].diffuse, q.z > 0.3f ? stripes : 0.0f);
}

static void
colour_wood (Vec p, DemoBands *out)
{
  const float rings = sdf_noise (vec (p.x * 0.5f, p.y * 7.0f, p.z * 7.0f)) +
                      0.5f * sdf_noise (vec (p.x * 1.5f, p.y * 19.0f, p.z * 19.0f));
  DemoBands grain;

  demo_bands_fill (&grain, 1.0f);
  demo_bands_multiply (out, &grain, 0.95f + 0.30f * rings);
}

/* The painter's stair: five flat tones by an imagined light from the upper left. On the coat the
 * two lightest came out the same. */
static float
painted_step (DemoMaterial material, Vec normal)
{
  static const float tones[] = { 0.30f, 0.48f, 0.70f, 1.0f, 1.4f };
  const float lit = vec_dot (normal, vec (-0.47f, 0.62f, 0.63f));
  int step = (int) floorf (2.1f + 2.9f * lit);

  step = CLAMP (step, 0, 4);
  if (material == DEMO_COAT && step == 4)
    step = 3;
  return tones[step];
}

void
demo_palette_finish_at (const DemoPalette *self, DemoMaterial material, Vec p, Vec normal,
                        DemoFinish *finish)
{
  *finish = self->finishes[material];
  if (material == DEMO_SKIN)
    colour_skin (self, p, &finish->diffuse);
  else if (material == DEMO_EYE)
    colour_eye (self, p, &finish->diffuse);
  else if (material == DEMO_SCARF)
    colour_scarf (self, p, &finish->diffuse);
  else if (material == DEMO_WOOD)
    colour_wood (p, &finish->diffuse);
  if (self->painted && material < DEMO_WOOD && material != DEMO_EYE)
    {
      /* metal paint is darker than metal */
      const float tone = painted_step (material, normal) * (material == DEMO_BRASS ? 0.6f : 1.0f);

      for (int b = 0; b < DEMO_BANDS; b++)
        finish->diffuse.band[b] = fminf (finish->diffuse.band[b] * tone, 0.9f);
      finish->metal = FALSE;
      finish->mirror = 0.02f;
      finish->roughness = 0.5f;
    }
}
