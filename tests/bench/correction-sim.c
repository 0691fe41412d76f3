/* correction-sim.c: simulated photographs, and what each correction makes of them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * TS_TEST_FIXTURES=.../tests/fixtures correction-sim TURNS SEED FOLDER writes patches.csv and
 * colours.csv there, of 32 pictures a turn; correction-peer.py fits the same patches its own way
 * and prints the tables.
 */
#include <stdio.h>
#include <stdlib.h>

#include "colour/ts-colour-convert.h"
#include "simulated-photo.h"
#include "spots/ts-spot.h"

enum
{
  NONE,
  CARD,
  CARDS,
  CHART,
  SPOILT,
  N_METHODS
};

static const char *const methods[N_METHODS] = { "none", "card", "cards", "chart", "spoilt" };

typedef struct
{
  FILE *patches, *colours, *pictures;
  double seconds;
  guint n_fits;
} Out;

static TsXyz
read_xyz (const SimPhoto *photo, const SimSpot *spot)
{
  TsXyz xyz = { 0 };

  if (!ts_spot_measure_xyz (photo->image, spot->x, spot->y, spot->radius, &xyz, NULL, NULL))
    exit (1);
  return xyz;
}

static TsCorrection *
fit_chart (Out *out, const SimPhoto *photo, TsChartReading *reading)
{
  g_autoptr (GError) error = NULL;
  gint64 start = g_get_monotonic_time ();
  TsCorrection *correction =
    ts_chart_fit (photo->image, photo->corner, &photo->reference, reading, &error);

  out->seconds += 1e-6 * (double) (g_get_monotonic_time () - start);
  out->n_fits++;
  if (correction == NULL)
    g_printerr ("%s\n", error->message);
  return correction;
}

static TsCorrection *
fit (Out *out, const SimPhoto *photo, int method, TsChartReading *reading)
{
  TsNeutral cards[SIM_CARDS];

  for (guint i = 0; i < SIM_CARDS; i++)
    cards[i] = (TsNeutral){ read_xyz (photo, &photo->card[i]), photo->card[i].lab.L };
  switch (method)
    {
    case NONE:
      return ts_correction_new_none ();
    case CARD:
      return ts_correction_new_cards (&cards[SIM_GREY_CARD], 1, NULL);
    case CARDS:
      return ts_correction_new_cards (cards, SIM_CARDS, NULL);
    default:
      return fit_chart (out, photo, reading);
    }
}

static void
write_patches (Out *out, guint picture, const char *method, const SimPhoto *photo,
               const TsChartReading *reading)
{
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      const TsChartPatch *patch = &reading->patch[i];
      TsRgb rgb = ts_rgb_from_xyz (patch->xyz);
      TsLab lab = photo->reference.lab[i];

      fprintf (out->patches, "%u,%s,%u,%.7g,%.7g,%.7g,%.4f,%.4f,%.4f,%d,%d,%.4f\n", picture, method,
               i + 1, rgb.r, rgb.g, rgb.b, lab.L, lab.a, lab.b, patch->used, photo->spoilt[i],
               patch->residual);
    }
}

static void
write_spot (Out *out, guint picture, const char *method, const char *kind, guint index,
            const SimPhoto *photo, const SimSpot *truth, const TsCorrection *correction)
{
  TsRgb rgb = ts_rgb_from_xyz (read_xyz (photo, truth));
  TsSpot spot;

  if (!ts_spot_measure (photo->image, correction, truth->x, truth->y, truth->radius, &spot, NULL))
    exit (1);
  fprintf (out->colours,
           "%u,%s,%s,%u,%.7g,%.7g,%.7g,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.3f\n", picture,
           method, kind, index, rgb.r, rgb.g, rgb.b, truth->lab.L, truth->lab.a, truth->lab.b,
           spot.lab.L, spot.lab.a, spot.lab.b, ts_correction_get_error (correction, spot.lab),
           ts_correction_get_lightness_error (correction, spot.lab), spot.clipped_share);
}

static void
take_one (Out *out, SimWorld *world, guint picture, SimSettings settings, int method)
{
  g_autoptr (TsCorrection) correction = NULL;
  TsChartReading reading = { 0 };
  SimPhoto photo;

  settings.n_spoilt = method == SPOILT ? 3 : 0;
  sim_photo_take (&photo, world, settings);
  correction = fit (out, &photo, method, &reading);
  if (correction == NULL)
    exit (1);
  if (method >= CHART)
    {
      write_patches (out, picture, methods[method], &photo, &reading);
      fprintf (out->pictures, "%u,%s,%u,%u,%d,%.4f\n", picture, methods[method], settings.camera,
               settings.light, settings.developed, reading.leave_one_out);
    }
  for (guint i = 0; i < SIM_PAINTS; i++)
    write_spot (out, picture, methods[method], "paint", i, &photo, &photo.paint[i], correction);
  for (guint i = 0; i < SIM_GREYS; i++)
    write_spot (out, picture, methods[method], "grey", i, &photo, &photo.grey[i], correction);
  sim_photo_clear (&photo);
}

static FILE *
open_table (const char *folder, const char *name, const char *header)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  FILE *file = fopen (path, "w");

  if (file == NULL)
    {
      g_printerr ("%s cannot be written\n", path);
      exit (1);
    }
  fputs (header, file);
  return file;
}

int
main (int argc, char **argv)
{
  guint turns = argc == 4 ? (guint) atoi (argv[1]) : 0;
  SimWorld *world;
  Out out = { 0 };

  if (turns == 0)
    {
      g_printerr ("correction-sim TURNS SEED FOLDER\n");
      return 2;
    }
  out.patches =
    open_table (argv[3], "patches.csv", "picture,method,patch,r,g,b,L,a,B,used,spoilt,residual\n");
  out.colours = open_table (argv[3], "colours.csv",
                            "picture,method,kind,index,r,g,b,L,a,B,our_L,our_a,our_B,radius,"
                            "radius_L,clipped\n");
  out.pictures =
    open_table (argv[3], "pictures.csv", "picture,method,camera,light,developed,leave_one_out\n");
  world = sim_world_new ();
  for (guint n = 0; n < turns * SIM_CAMERAS * SIM_LIGHTS * 2; n++)
    for (int method = 0; method < N_METHODS; method++)
      take_one (&out, world, n, sim_settings_of (n, (guint32) atoi (argv[2])), method);
  sim_world_free (world);
  fclose (out.patches);
  fclose (out.colours);
  fclose (out.pictures);
  printf ("%.0f ms a chart\n", 1000.0 * out.seconds / out.n_fits);
  return 0;
}
