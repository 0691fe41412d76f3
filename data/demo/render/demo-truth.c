/* demo-truth.c: what is really in the picture, for those who measure it
 *
 * Every value is the mean radiance of a disc over that of a perfect white lying where the grey card
 * lies, band by band: a reflectance, and from it CIELAB under D50.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-truth.h"

#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-spectrum.h"

#define RUN_POINTS 81
#define CARD_REFLECTANCE 0.18f
#define CARD_RADIUS 60.0f /* of 1600 pixels across */

typedef struct
{
  const DemoTruth *truth;
  DemoBands white;
  GString *table;
} Writing;

static float
scale_of (const DemoTruth *self)
{
  return (float) self->camera->width / 1600.0f;
}

static void
probe (const Writing *w, float x, float y, float radius, TsLab *real, TsLab *seen)
{
  const DemoTruth *truth = w->truth;
  DemoBands mean;
  TsSpectrum spectrum;
  float xyz[3];

  demo_camera_probe (truth->camera, truth->scene, x, y, radius, truth->paths, &mean);
  for (int b = 0; b < DEMO_BANDS; b++)
    spectrum.band[b] = (double) (mean.band[b] / w->white.band[b]);
  demo_illuminant_to_xyz (truth->light, &mean, truth->exposure, xyz);
  *real = ts_lab_from_xyz (ts_spectrum_to_xyz (&spectrum, TS_LIGHT_D50));
  *seen = ts_lab_from_xyz ((TsXyz){ (double) xyz[0], (double) xyz[1], (double) xyz[2] });
}

/* Writes one line and gives back its lightness. */
static double
tell (const Writing *w, const char *kind, const char *name, float x, float y, float radius,
      float position)
{
  TsLab real, seen;
  char place[G_ASCII_DTOSTR_BUF_SIZE] = "";

  if (position >= 0.0f)
    g_snprintf (place, sizeof place, "%.4f", (double) position);
  probe (w, x, y, radius, &real, &seen);
  g_string_append_printf (w->table, "%s,%s,%.1f,%.1f,%.1f,%s,%.3f,%.3f,%.3f,%.3f,%.3f,%.3f\n", kind,
                          name, (double) x, (double) y, (double) radius, place, real.L, real.a,
                          real.b, seen.L, seen.a, seen.b);
  return real.L;
}

static void
tell_run (const Writing *w, const char *name, const float at[5])
{
  double darkest = 1e3;
  float core = 1.0f;

  for (int i = 0; i < RUN_POINTS; i++)
    {
      const float position = (float) i / (RUN_POINTS - 1);
      const double L = tell (w, "run", name, mixf (at[0], at[3], position),
                             mixf (at[1], at[4], position), at[2], position);

      if (L < darkest)
        {
          darkest = L;
          core = position;
        }
    }
  tell (w, "core", name, mixf (at[0], at[3], core), mixf (at[1], at[4], core), at[2], core);
}

static void
tell_card_and_chart (const Writing *w)
{
  static const int corners[4] = { 0, 5, 23, 18 }; /* clockwise from the first patch */
  const float scale = scale_of (w->truth);
  char name[16];
  float x, y;

  demo_camera_place (w->truth->camera, demo_card_middle, &x, &y);
  tell (w, "card", "grey card", x, y, CARD_RADIUS * scale, -1.0f);
  for (int i = 0; i < 4; i++)
    {
      g_snprintf (name, sizeof name, "patch %d", corners[i] + 1);
      demo_camera_place (w->truth->camera, demo_patch_middle (corners[i]), &x, &y);
      tell (w, "corner", name, x, y, 16.0f * scale, -1.0f);
    }
  for (int i = 0; i < 24; i++)
    {
      g_snprintf (name, sizeof name, "patch %d", i + 1);
      demo_camera_place (w->truth->camera, demo_patch_middle (i), &x, &y);
      tell (w, "patch", name, x, y, 16.0f * scale, -1.0f);
    }
}

static void
tell_place (const Writing *w, char **fields)
{
  float at[5];

  for (int i = 0; i < 5; i++)
    at[i] = (float) g_ascii_strtod (fields[i + 2], NULL) * scale_of (w->truth);
  if (g_str_equal (fields[0], "run"))
    tell_run (w, fields[1], at);
  else
    tell (w, fields[0], fields[1], at[0], at[1], at[2], -1.0f);
}

static void
measure_white (Writing *w)
{
  float x, y;

  demo_camera_place (w->truth->camera, demo_card_middle, &x, &y);
  demo_camera_probe (w->truth->camera, w->truth->scene, x, y, CARD_RADIUS * scale_of (w->truth),
                     w->truth->paths, &w->white);
  for (int b = 0; b <= DEMO_BANDS; b++)
    w->white.band[b] /= CARD_REFLECTANCE;
}

/**
 * demo_truth_write:
 * @self: the picture
 * @places_path: CSV with the columns kind (disc or run), name, x, y, radius, x_end, y_end, in
 * pixels of a picture 1600 across
 * @path: the table to write
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with @error set and nothing written
 */
gboolean
demo_truth_write (const DemoTruth *self, const char *places_path, const char *path, GError **error)
{
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  g_autoptr (GString) table =
    g_string_new ("# What is really in the picture of the same name, known because it was "
                  "computed. x, y, radius: pixels of\n"
                  "# the upright picture. L, a, b: CIELAB, D50, 1931 observer, of the mean "
                  "radiance of the disc over that of a perfect\n"
                  "# white lying where the grey card lies. L_seen, a_seen, b_seen: CIELAB of the "
                  "picture as it is, uncorrected.\n"
                  "# Kinds: card, corner (of the chart, clockwise from patch 1), patch, disc, run "
                  "(81 places from lit, 0, to\n"
                  "# shadow, 1) and core (the darkest place of that run).\n"
                  "kind,name,x,y,radius,position,L,a,b,L_seen,a_seen,b_seen\n");
  Writing w = { self, { { 0 } }, table };

  if (places_path == NULL || !g_file_get_contents (places_path, &text, NULL, error))
    {
      if (places_path == NULL)
        g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND,
                     "No places were given; name their table with --places");
      return FALSE;
    }
  measure_white (&w);
  tell_card_and_chart (&w);
  lines = g_strsplit (text, "\n", -1);
  for (int i = 0; lines[i] != NULL; i++)
    {
      g_auto (GStrv) fields = g_strsplit (lines[i], ",", -1);

      if (g_strv_length (fields) == 7 && !g_str_has_prefix (lines[i], "kind,"))
        tell_place (&w, fields);
    }
  return g_file_set_contents (path, table->str, (gssize) table->len, error);
}
