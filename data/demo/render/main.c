/* main.c: makes the demo's picture and the table of what is really in it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <stdlib.h>

#include "demo-truth.h"
#include "demo-write.h"

#define KELVIN 4000.0 /* warmer than D50, so that the card has something to correct */
#define WHITE_AT_CARD 0.62f

typedef struct
{
  char *chart, *places, *truth, *window;
  gboolean painted;
  double detail, spacing;
  int looks, paths;
} Options;

static gboolean
make (const Options *options, const char *path, GError **error)
{
  g_autoptr (DemoPalette) palette = demo_palette_new (options->chart, options->painted, error);
  g_autoptr (DemoField) field = NULL;
  g_autofree float *xyz = NULL;
  DemoCamera camera = {
    .width = (int) (1600 * options->detail),
    .height = (int) (1200 * options->detail),
    .across = 11.2f,
    .eye = vec (1.55f, -0.2f, 24.0f),
    .looks = options->looks,
    .paths = options->paths,
    .seed = 20240229,
  };
  DemoIlluminant light;
  DemoScene scene;
  DemoBands card;
  DemoTruth truth = { &camera, &scene, &light, 0.0f, 64 * options->looks * options->paths };
  float x, y, grey[3];

  if (palette == NULL)
    return FALSE;
  demo_illuminant_init (&light, KELVIN);
  field = demo_field_new ((float) options->spacing);
  scene = (DemoScene){ .field = field, .palette = palette };
  demo_lamp_init (&scene.lamp,
                  options->painted ? vec (-8.0f, 12.0f, 22.0f) : vec (-15.0f, 12.5f, 16.5f));
  if (options->window != NULL)
    {
      g_auto (GStrv) w = g_strsplit (options->window, ",", 3);

      camera.across *= (float) g_ascii_strtod (w[2], NULL);
      camera.eye.x += (float) g_ascii_strtod (w[0], NULL);
      camera.eye.y += (float) g_ascii_strtod (w[1], NULL);
    }
  demo_camera_place (&camera, demo_card_middle, &x, &y);
  demo_camera_probe (&camera, &scene, x, y, 20.0f * (float) options->detail, 4096, &card);
  demo_illuminant_to_xyz (&light, &card, 1.0f / 0.18f, grey);
  truth.exposure = WHITE_AT_CARD / grey[1];
  if (options->truth != NULL)
    return demo_truth_write (&truth, options->places, options->truth, error);
  xyz = demo_camera_take (&camera, &scene, &light);
  return demo_write_jpeg (path, xyz, camera.width, camera.height, truth.exposure, 92, error);
}

int
main (int argc, char **argv)
{
  Options options = { .detail = 1.0, .spacing = 0.02, .looks = 8, .paths = 4 };
  const GOptionEntry entries[] = {
    { "chart", 0, 0, G_OPTION_ARG_FILENAME, &options.chart, "The chart's reflectances", "CSV" },
    { "places", 0, 0, G_OPTION_ARG_FILENAME, &options.places, "Discs and runs to be told", "CSV" },
    { "truth", 0, 0, G_OPTION_ARG_FILENAME, &options.truth, "Write the truth, not the picture",
      "CSV" },
    { "painted", 0, 0, G_OPTION_ARG_NONE, &options.painted, "The figure as it was painted", NULL },
    { "detail", 0, 0, G_OPTION_ARG_DOUBLE, &options.detail, "Size; 1 is 1600 by 1200", "FACTOR" },
    { "spacing", 0, 0, G_OPTION_ARG_DOUBLE, &options.spacing, "Lattice of the distances", "UNITS" },
    { "looks", 0, 0, G_OPTION_ARG_INT, &options.looks, "Lines of sight a pixel", "N" },
    { "paths", 0, 0, G_OPTION_ARG_INT, &options.paths, "Paths of light a line of sight", "N" },
    { "window", 0, 0, G_OPTION_ARG_STRING, &options.window, "Look closer", "X,Y,SHARE" },
    { NULL },
  };
  g_autoptr (GOptionContext) context = g_option_context_new ("PICTURE.jpg");
  g_autoptr (GError) error = NULL;

  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) ||
      argc != (options.truth == NULL ? 2 : 1) || options.chart == NULL)
    {
      g_printerr ("%s\n", error != NULL ? error->message : "give --chart and the picture's name");
      return 2;
    }
  if (make (&options, argv[1], &error))
    return 0;
  g_printerr ("%s\n", error->message);
  return 1;
}
