/* simulated-photo.c: pictures of a chart and of paints, as measured cameras would take them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sensitivities, lights, the chart's spectra and the paints are published measurements (the tables
 * under fixtures/published name their sources). Two renderings: plain (white-balanced sensor values
 * under sRGB's curve) and developed (the camera's own 3 x 3 matrix, a contrast curve of unknown
 * strength, 0.4 % flare, colours outside sRGB cut off). 8 bit, shot noise, white balance 3 % off.
 */
#include "simulated-photo.h"

#include "ts-test.h"

#include <string.h>

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "colour/ts-spectrum.h"
#include "correction/ts-least-squares-fit.h"

#define PATCH 24 /* pixels, of which 21 are the patch */
#define SQUARE 10
#define WIDTH 200
#define FULL_WELL 15000.0 /* electrons */

typedef struct
{
  double r[SIM_SAMPLES];
} Fine;

struct _SimWorld
{
  double camera[SIM_CAMERAS][3][SIM_SAMPLES];
  double light[SIM_LIGHTS][SIM_SAMPLES];
  Fine chart[TS_CHART_PATCHES];
  TsSpectrum chart_bands[TS_CHART_PATCHES];
  GArray *paints[2]; /* of TsSpectrum: watercolours, pigments */
  GArray *k, *s;     /* of TsSpectrum: acrylics */
  guint white;       /* which of them */
};

/* How one picture turns reflectances into pixels. */
typedef struct
{
  const SimWorld *world;
  GRand *random;
  SimSettings settings;
  double gain[3];
  double matrix[3][3];
  double exposure, contrast;
  guint8 *pixels;
  guint width, height;
} Camera;

static double
normal (GRand *random)
{
  double u = g_rand_double_range (random, 1e-12, 1.0), v = g_rand_double (random);

  return sqrt (-2.0 * log (u)) * cos (2.0 * G_PI * v);
}

static double
cell (const TsCsv *table, guint row, const char *prefix, guint nm)
{
  g_autofree char *name = g_strdup_printf ("%s%u", prefix, nm);

  return ts_test_cell (table, row, name);
}

static void
read_columns (SimWorld *self)
{
  static const char *const lights[SIM_LIGHTS] = { "D65", "A", "LED-V1", "FL11" };
  g_autoptr (TsCsv) cameras = ts_test_table ("published/camera_sensitivities_5nm.csv");
  g_autoptr (TsCsv) days = ts_test_table ("published/cie_illuminants_5nm.csv");
  g_autoptr (TsCsv) lamps = ts_test_table ("published/cie_illuminants_lamps_5nm.csv");

  for (guint i = 0; i < SIM_SAMPLES; i++)
    {
      guint row = 4 + i; /* both tables begin at 380 nm */

      for (guint c = 0; c < SIM_CAMERAS; c++)
        for (guint k = 0; k < 3; k++)
          {
            g_autofree char *name = g_strdup_printf ("c%u_%c", c + 1, "rgb"[k]);

            self->camera[c][k][i] = ts_test_cell (cameras, row, name);
          }
      for (guint l = 0; l < SIM_LIGHTS; l++)
        self->light[l][i] = ts_test_cell (l < 2 ? days : lamps, row, lights[l]);
    }
}

static GArray *
read_spectra (const char *name, const char *prefix, guint first)
{
  g_autoptr (TsCsv) table = ts_test_table (name);
  GArray *out = g_array_new (FALSE, FALSE, sizeof (TsSpectrum));

  for (guint row = 0; row < ts_csv_get_n_rows (table); row++)
    {
      TsSpectrum spectrum;

      for (guint i = 0; i < TS_BANDS; i++)
        spectrum.band[i] = cell (table, row, prefix, MAX (first, TS_BAND_FIRST + i * TS_BAND_STEP));
      g_array_append_val (out, spectrum);
    }
  return out;
}

static double
absorption (const SimWorld *self, guint paint)
{
  double sum = 0.0;

  for (guint i = 0; i < TS_BANDS; i++)
    sum += g_array_index (self->k, TsSpectrum, paint).band[i] /
           g_array_index (self->s, TsSpectrum, paint).band[i];
  return sum;
}

SimSettings
sim_settings_of (guint n, guint32 seed)
{
  return (SimSettings){ .camera = n % SIM_CAMERAS,
                        .light = n / SIM_CAMERAS % SIM_LIGHTS,
                        .developed = n / (SIM_CAMERAS * SIM_LIGHTS) % 2,
                        .unevenness = 0.05,
                        .seed = seed + n };
}

SimWorld *
sim_world_new (void)
{
  g_autoptr (TsCsv) chart = ts_test_table ("published/chart24_reflectance.csv");
  SimWorld *self = g_new0 (SimWorld, 1);

  read_columns (self);
  for (guint row = 0; row < TS_CHART_PATCHES; row++)
    {
      for (guint i = 0; i < SIM_SAMPLES; i++)
        self->chart[row].r[i] = cell (chart, row, "R", 400 + 5 * i);
      for (guint i = 0; i < TS_BANDS; i++)
        self->chart_bands[row].band[i] = self->chart[row].r[2 * i];
    }
  self->paints[0] = read_spectra ("published/watercolour_mixtures.csv", "R", 400);
  self->paints[1] = read_spectra ("published/pigment_patches.csv", "R", 410);
  self->k = read_spectra ("published/km_acrylics_2016.csv", "K", 400);
  self->s = read_spectra ("published/km_acrylics_2016.csv", "S", 400);
  /* White absorbs least. */
  for (guint i = 0; i < self->k->len; i++)
    if (absorption (self, i) < absorption (self, self->white))
      self->white = i;
  return self;
}

void
sim_world_free (SimWorld *self)
{
  g_array_unref (self->paints[0]);
  g_array_unref (self->paints[1]);
  g_array_unref (self->k);
  g_array_unref (self->s);
  g_free (self);
}

/* Two or three acrylics mixed opaquely, the third white (Kubelka and Munk 1931, Duncan 1940), seen
 * through their surface with the source's k1 = 0.03 and k2 = 0.65 (Saunderson 1942). */
static TsSpectrum
mix_acrylics (const SimWorld *self, GRand *random)
{
  TsSpectrum out;
  guint paint[3] = { 0, 0, self->white };
  double parts[3] = { 0.0, 0.0, g_rand_boolean (random) ? 2.0 * g_rand_double (random) : 0.0 };

  for (int p = 0; p < 2; p++)
    {
      paint[p] = (guint) g_rand_int_range (random, 0, (gint32) self->k->len);
      parts[p] = g_rand_double_range (random, 0.05, 1.0);
    }
  for (guint i = 0; i < TS_BANDS; i++)
    {
      double k = 0.0, s = 0.0, q, inside;

      for (int p = 0; p < 3; p++)
        {
          k += parts[p] * g_array_index (self->k, TsSpectrum, paint[p]).band[i];
          s += parts[p] * g_array_index (self->s, TsSpectrum, paint[p]).band[i];
        }
      q = k / s;
      inside = 1.0 + q - sqrt (q * q + 2.0 * q);
      out.band[i] = 0.97 * 0.35 * inside / (1.0 - 0.65 * inside);
    }
  return out;
}

/* Two pigments mixed by K/S, the scattering of both taken as the same. */
static TsSpectrum
mix_pigments (const SimWorld *self, GRand *random)
{
  const GArray *pool = self->paints[1];
  const TsSpectrum *one =
    &g_array_index (pool, TsSpectrum, g_rand_int_range (random, 0, (gint32) pool->len));
  const TsSpectrum *two =
    &g_array_index (pool, TsSpectrum, g_rand_int_range (random, 0, (gint32) pool->len));
  double share = g_rand_double (random);
  TsSpectrum out;

  for (guint i = 0; i < TS_BANDS; i++)
    {
      double a = one->band[i], b = two->band[i];
      double q = share * (1.0 - a) * (1.0 - a) / (2.0 * a) +
                 (1.0 - share) * (1.0 - b) * (1.0 - b) / (2.0 * b);

      out.band[i] = 1.0 + q - sqrt (q * q + 2.0 * q);
    }
  return out;
}

static TsSpectrum
pick_paint (const SimWorld *self, GRand *random, guint which)
{
  const GArray *pool = self->paints[0];

  if (which % 3 == 0)
    return mix_acrylics (self, random);
  if (which % 3 == 1)
    return mix_pigments (self, random);
  return g_array_index (pool, TsSpectrum, g_rand_int_range (random, 0, (gint32) pool->len));
}

static Fine
refine (const TsSpectrum *spectrum)
{
  Fine out;

  for (guint i = 0; i < SIM_SAMPLES; i++)
    out.r[i] = i % 2 == 0 ? spectrum->band[i / 2]
                          : 0.5 * (spectrum->band[i / 2] + spectrum->band[i / 2 + 1]);
  return out;
}

/* What the sensor gathers, 1 for the perfect reflector under a perfect white balance. */
static void
expose (const Camera *self, const Fine *reflectance, double sensor[3])
{
  const double *light = self->world->light[self->settings.light];

  for (int c = 0; c < 3; c++)
    {
      const double *eye = self->world->camera[self->settings.camera][c];
      double seen = 0.0, white = 0.0;

      for (guint i = 0; i < SIM_SAMPLES; i++)
        {
          seen += light[i] * eye[i] * reflectance->r[i];
          white += light[i] * eye[i];
        }
      sensor[c] = seen / white;
    }
}

static void
set_matrix (Camera *self)
{
  const guint n = TS_CHART_PATCHES;
  double a[3 * TS_CHART_PATCHES], b[3 * TS_CHART_PATCHES];

  for (guint i = 0; i < n; i++)
    {
      TsRgb want =
        ts_rgb_from_xyz (ts_spectrum_to_xyz (&self->world->chart_bands[i], TS_LIGHT_D50));

      expose (self, &self->world->chart[i], a + 3 * i);
      b[i] = want.r;
      b[n + i] = want.g;
      b[2 * n + i] = want.b;
    }
  for (int c = 0; c < 3; c++)
    assert_true (ts_least_squares_solve (a, b + (guint) c * n, n, 3, self->matrix[c]));
}

static guint8
develop (const Camera *self, double linear)
{
  double v = ts_srgb_encode (CLAMP (linear, 0.0, 1.0));

  if (self->settings.developed)
    v += self->contrast * (v * v * (3.0 - 2.0 * v) - v);
  return (guint8) floor (255.0 * CLAMP (v, 0.0, 1.0) + 0.5);
}

static void
put_pixel (Camera *self, guint x, guint y, const double sensor[3], double light)
{
  double noisy[3];

  for (int c = 0; c < 3; c++)
    {
      double signal = self->exposure * light * sensor[c];

      noisy[c] = self->gain[c] * (signal + sqrt (signal / FULL_WELL) * normal (self->random));
    }
  for (guint c = 0; c < 3; c++)
    {
      double out = noisy[c];

      if (self->settings.developed)
        out = 0.004 + self->matrix[c][0] * noisy[0] + self->matrix[c][1] * noisy[1] +
              self->matrix[c][2] * noisy[2];
      self->pixels[3 * (y * self->width + x) + c] = develop (self, out);
    }
}

static void
put_square (Camera *self, guint x, guint y, guint size, const Fine *reflectance, double light)
{
  double sensor[3];

  expose (self, reflectance, sensor);
  for (guint j = 0; j < size; j++)
    for (guint i = 0; i < size; i++)
      put_pixel (self, x + i, y + j, sensor, light);
}

/* Dirt or glare: part of another colour, until the patch is off by more than 8. */
static Fine
spoil (Camera *self, guint index, double *by)
{
  TsLab clean = ts_spectrum_to_lab (&self->world->chart_bands[index], TS_LIGHT_D50);
  Fine out;

  do
    {
      double share = g_rand_double_range (self->random, 0.1, 0.5);
      double other = g_rand_boolean (self->random) ? 0.9 : 0.03;
      TsSpectrum bands;

      for (guint i = 0; i < SIM_SAMPLES; i++)
        out.r[i] = (1.0 - share) * self->world->chart[index].r[i] + share * other;
      for (guint i = 0; i < TS_BANDS; i++)
        bands.band[i] = out.r[2 * i];
      *by = ts_delta_e_2000 (clean, ts_spectrum_to_lab (&bands, TS_LIGHT_D50));
    }
  while (*by < 8.0);
  return out;
}

static void
put_chart (Camera *self, SimPhoto *photo)
{
  double turn = g_rand_double_range (self->random, 0.0, 2.0 * G_PI);

  for (guint n = 0; n < self->settings.n_spoilt;)
    {
      guint index = (guint) g_rand_int_range (self->random, 0, TS_CHART_PATCHES);

      n += !photo->spoilt[index];
      photo->spoilt[index] = TRUE;
    }
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      double column = i % 6 / 5.0 - 0.5, row = i / 6 / 3.0 - 0.5;
      double light = 1.0 + self->settings.unevenness * (cos (turn) * column + sin (turn) * row);
      Fine seen = self->world->chart[i];
      TsLab lab = ts_spectrum_to_lab (&self->world->chart_bands[i], TS_LIGHT_D50);

      if (photo->spoilt[i])
        seen = spoil (self, i, &photo->spoilt_by[i]);
      put_square (self, 10 + i % 6 * PATCH, 10 + i / 6 * PATCH, PATCH - 3, &seen, light);
      photo->reference.lab[i] =
        (TsLab){ lab.L + 0.5 * normal (self->random), lab.a + 0.5 * normal (self->random),
                 lab.b + 0.5 * normal (self->random) };
    }
  for (int k = 0; k < 4; k++)
    {
      photo->corner[k][0] = 10 + 0.5 * (PATCH - 3) + (k == 1 || k == 2 ? 5 * PATCH : 0);
      photo->corner[k][1] = 10 + 0.5 * (PATCH - 3) + (k >= 2 ? 3 * PATCH : 0);
    }
}

static void
put_spot (Camera *self, SimSpot *spot, guint place, const TsSpectrum *paint, double light)
{
  guint x = place % (WIDTH / SQUARE) * SQUARE,
        y = 10 + 4 * PATCH + place / (WIDTH / SQUARE) * SQUARE;
  Fine fine = refine (paint);

  put_square (self, x, y, SQUARE, &fine, light);
  *spot = (SimSpot){ .x = x + 0.5 * SQUARE,
                     .y = y + 0.5 * SQUARE,
                     .radius = 0.5 * SQUARE - 1.0,
                     .lab = ts_spectrum_to_lab (paint, TS_LIGHT_D50) };
}

static void
put_grey (Camera *self, SimSpot *spot, guint place, double Y)
{
  TsSpectrum grey;

  for (guint i = 0; i < TS_BANDS; i++)
    grey.band[i] = Y;
  put_spot (self, spot, place, &grey, 1.0);
}

static void
put_spots (Camera *self, SimPhoto *photo)
{
  const double cards[SIM_CARDS] = { 0.035, 0.18, 0.88 };
  double light = 1.0 + 0.03 * normal (self->random);

  for (guint n = 0; n < SIM_PAINTS; n++)
    {
      TsSpectrum paint = pick_paint (self->world, self->random, n);
      double shade = n % 2 == 0 ? 1.0 : g_rand_double_range (self->random, 0.25, 1.0);

      for (guint i = 0; i < TS_BANDS; i++)
        paint.band[i] *= shade;
      put_spot (self, &photo->paint[n], n, &paint, light);
    }
  for (guint n = 0; n < SIM_GREYS; n++)
    put_grey (self, &photo->grey[n], SIM_PAINTS + n,
              0.03 * pow (0.9 / 0.03, n / (SIM_GREYS - 1.0)));
  for (guint n = 0; n < SIM_CARDS; n++)
    put_grey (self, &photo->card[n], SIM_PAINTS + SIM_GREYS + n, cards[n]);
}

void
sim_photo_take (SimPhoto *self, SimWorld *world, SimSettings settings)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (settings.seed);
  g_autoptr (TsProfile) profile = ts_profile_new_assumed (TS_PIXEL_RGB8);
  g_autoptr (GBytes) bytes = NULL;
  Camera camera = { .world = world, .random = random, .settings = settings, .width = WIDTH };

  *self = (SimPhoto){ 0 };
  camera.height =
    10 + 4 * PATCH + SQUARE * ((SIM_PAINTS + SIM_GREYS + SIM_CARDS) / (WIDTH / SQUARE) + 1);
  camera.pixels = g_malloc0 (3 * (gsize) camera.width * camera.height);
  camera.exposure = g_rand_double_range (random, 0.75, 0.95);
  if (settings.exposure > 0.0)
    camera.exposure *= settings.exposure;
  camera.contrast = g_rand_double_range (random, 0.1, 0.6);
  for (int c = 0; c < 3; c++)
    camera.gain[c] = 1.0 + 0.03 * normal (random);
  set_matrix (&camera);
  put_chart (&camera, self);
  put_spots (&camera, self);
  bytes = g_bytes_new_take (camera.pixels, 3 * (gsize) camera.width * camera.height);
  self->image =
    ts_image_new_from_pixels (bytes, camera.width, camera.height, TS_PIXEL_RGB8, profile);
}

void
sim_photo_clear (SimPhoto *self)
{
  g_clear_pointer (&self->image, ts_image_unref);
}
