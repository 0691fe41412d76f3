/* ts-usual.c: what cameras, lights and paints are usually like, drawn by lot
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shapes made of bells and edges, after what is generally known of sensors, lamps and pigments; no
 * measured camera, lamp or paint is copied. The figures are from memory and round.
 */
#include "correction/ts-usual.h"

#include <math.h>

#define CHANNELS 3

/* K/S of an idealised pigment: bells on a base, or an edge in log from @high to @low. */
typedef struct
{
  double base;
  double bell[3][3]; /* centre nm, width nm, height */
  double edge[4];    /* at nm, width nm, high, low; width 0: none */
} Pigment;

/* clang-format off */
static const Pigment white = { 0.004, { { 0 } }, { 0 } };
static const Pigment pigments[] = {
  { 0.0,  { { 0 } }, { 500,  9, 2.0, 0.004 } },                                     /* lemon */
  { 0.0,  { { 0 } }, { 520,  9, 2.0, 0.004 } },                                     /* yellow */
  { 0.0,  { { 0 } }, { 560,  9, 2.0, 0.006 } },                                     /* orange */
  { 0.0,  { { 0 } }, { 595,  9, 2.0, 0.008 } },                                     /* red */
  { 0.0,  { { 0 } }, { 615, 10, 4.0, 0.01 } },                                      /* crimson */
  { 0.02, { { 520, 25, 2.0 }, { 562, 16, 1.8 }, { 410, 40, 0.5 } }, { 0 } },        /* quinacridone */
  { 0.1,  { { 530, 35, 3.0 }, { 575, 28, 3.0 }, { 620, 20, 2.0 } }, { 0 } },        /* dioxazine */
  { 0.03, { { 595, 48, 2.0 }, { 690, 40, 0.25 } }, { 0 } },                         /* ultramarine */
  { 0.03, { { 545, 25, 0.5 }, { 590, 28, 1.0 }, { 630, 20, 0.8 } }, { 0 } },        /* cobalt blue */
  { 0.05, { { 615, 42, 4.0 }, { 690, 40, 4.0 }, { 400, 30, 0.8 } }, { 0 } },        /* phthalo blue */
  { 0.08, { { 640, 45, 5.0 }, { 720, 50, 3.0 }, { 430, 35, 1.5 } }, { 0 } },        /* phthalo green */
  { 0.08, { { 600, 45, 2.0 }, { 425, 30, 1.0 }, { 660, 30, 0.6 } }, { 0 } },        /* viridian */
  { 0.25, { { 605, 40, 1.0 }, { 455, 40, 1.2 }, { 670, 30, 0.25 } }, { 0 } },       /* chromium oxide */
  { 0.03, { { 640, 40, 1.0 }, { 690, 30, 0.6 } }, { 0 } },                          /* turquoise */
  { 0.0,  { { 0 } }, { 530, 20, 1.5, 0.06 } },                                      /* ochre */
  { 0.0,  { { 0 } }, { 570, 25, 3.0, 0.2 } },                                       /* sienna */
  { 0.6,  { { 400, 120, 3.0 } }, { 0 } },                                           /* umber */
  { 3.0,  { { 0 } }, { 0 } },                                                       /* black */
};
/* clang-format on */

static double
between (GRand *random, double least, double most)
{
  return g_rand_double_range (random, least, most);
}

/* Box and Muller (1958). */
static double
normal (GRand *random, double mean, double sd)
{
  double u = 1.0 - g_rand_double (random), v = g_rand_double (random);

  return mean + sd * sqrt (-2.0 * log (u)) * cos (2.0 * G_PI * v);
}

static double
wavelength (guint band)
{
  return TS_BAND_FIRST + (double) band * TS_BAND_STEP;
}

static double
bell (double nm, double centre, double width)
{
  double t = (nm - centre) / width;

  return exp (-0.5 * t * t);
}

/**
 * ts_usual_camera:
 * @random: where to draw from
 * @sensitivity: (out): of red, green and blue, relative
 *
 * Each channel is a bell with its two sides of different width, and sees a little of the rest.
 */
void
ts_usual_camera (GRand *random, double sensitivity[3][TS_BANDS])
{
  static const double centres[CHANNELS] = { 600.0, 535.0, 462.0 };
  static const double widths[CHANNELS] = { 30.0, 38.0, 28.0 };

  for (int c = 0; c < CHANNELS; c++)
    {
      double centre = normal (random, centres[c], 8.0);
      double below = MAX (12.0, normal (random, widths[c], 6.0));
      double above = MAX (12.0, normal (random, widths[c], 6.0));
      double leak = between (random, 0.0, 0.12), leak_at = between (random, 420.0, 680.0);

      for (guint i = 0; i < TS_BANDS; i++)
        {
          double nm = wavelength (i);

          sensitivity[c][i] =
            bell (nm, centre, nm < centre ? below : above) + leak * bell (nm, leak_at, 60.0);
        }
    }
}

/* Planck's law, relative; c2 = 1.4388e7 nm K. */
static double
planck (double nm, double kelvin)
{
  return pow (560.0 / nm, 5.0) / expm1 (1.4388e7 / (nm * kelvin));
}

static void
draw_hot_body (GRand *random, double power[TS_BANDS], double least, double most)
{
  double kelvin = between (random, least, most), usual = planck (560.0, kelvin);

  for (guint i = 0; i < TS_BANDS; i++)
    power[i] = planck (wavelength (i), kelvin) / usual;
}

/* A blue or violet diode and its phosphor. */
static void
draw_diode (GRand *random, double power[TS_BANDS])
{
  double pump = normal (random, between (random, 0.0, 1.0) < 0.6 ? 450.0 : 420.0, 8.0);
  double share = between (random, 0.15, 1.0);
  double centre = between (random, 560.0, 615.0), width = between (random, 45.0, 70.0);

  for (guint i = 0; i < TS_BANDS; i++)
    power[i] = share * bell (wavelength (i), pump, 12.0) + bell (wavelength (i), centre, width);
}

/* The lines of mercury and of three phosphors on a weak continuum. */
static void
draw_tube (GRand *random, double power[TS_BANDS])
{
  static const double lines[][2] = { { 405, 0.1 }, { 436, 0.35 }, { 490, 0.2 }, { 545, 1.0 },
                                     { 585, 0.3 }, { 611, 1.1 },  { 630, 0.2 } };
  double base = between (random, 0.02, 0.15);

  for (guint i = 0; i < TS_BANDS; i++)
    power[i] = base * bell (wavelength (i), 580.0, 100.0);
  for (guint k = 0; k < G_N_ELEMENTS (lines); k++)
    {
      double height = lines[k][1] * between (random, 0.6, 1.4), width = between (random, 5.0, 8.0);

      for (guint i = 0; i < TS_BANDS; i++)
        power[i] += height * bell (wavelength (i), lines[k][0], width);
    }
}

/**
 * ts_usual_light:
 * @random: where to draw from
 * @power: (out): relative
 *
 * Day, filament, diode or tube, each as often.
 */
void
ts_usual_light (GRand *random, double power[TS_BANDS])
{
  switch (g_rand_int_range (random, 0, 4))
    {
    case 0:
      draw_hot_body (random, power, 4500.0, 8000.0);
      break;
    case 1:
      draw_hot_body (random, power, 2400.0, 3600.0);
      break;
    case 2:
      draw_diode (random, power);
      break;
    default:
      draw_tube (random, power);
      break;
    }
}

static double
absorb (const Pigment *self, double nm)
{
  double q = self->base;

  for (int k = 0; k < 3; k++)
    if (self->bell[k][1] > 0.0)
      q += self->bell[k][2] * bell (nm, self->bell[k][0], self->bell[k][1]);
  if (self->edge[1] > 0.0)
    q += self->edge[3] * pow (self->edge[2] / self->edge[3],
                              1.0 / (1.0 + exp ((nm - self->edge[0]) / self->edge[1])));
  return q;
}

static const Pigment *
pick (GRand *random)
{
  return &pigments[g_rand_int_range (random, 0, (gint32) G_N_ELEMENTS (pigments))];
}

/**
 * ts_usual_paint:
 * @random: where to draw from
 *
 * Two pigments and often white, strong or weak, mixed opaquely (Kubelka and Munk 1931, Duncan
 * 1940), half of them under a surface (Saunderson 1942, k1 0.03 without the gloss, k2 0.6), half in
 * the shade down to a quarter of the light.
 *
 * Returns: a reflectance
 */
TsSpectrum
ts_usual_paint (GRand *random)
{
  const Pigment *one = pick (random), *two = pick (random);
  double strength = exp (between (random, 0.0, log (12.0)));
  double parts[] = { between (random, 0.05, 1.0), between (random, 0.05, 1.0),
                     g_rand_boolean (random) ? between (random, 0.0, 2.0) : 0.0 };
  gboolean surface = g_rand_boolean (random);
  double shade = g_rand_boolean (random) ? between (random, 0.25, 1.0) : 1.0;
  TsSpectrum out;

  for (guint i = 0; i < TS_BANDS; i++)
    {
      double nm = wavelength (i);
      double q = strength *
                 (parts[0] * absorb (one, nm) + parts[1] * absorb (two, nm) +
                  parts[2] * absorb (&white, nm)) /
                 (parts[0] + parts[1] + parts[2]);
      double inside = 1.0 + q - sqrt (q * q + 2.0 * q);

      out.band[i] = shade * (surface ? 0.97 * 0.4 * inside / (1.0 - 0.6 * inside) : inside);
    }
  return out;
}
