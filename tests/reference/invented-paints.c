/* invented-paints.c: sets of paints made up from a seed
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "invented-paints.h"

#include <math.h>

/* Masstone of a band: greys, an edge (yellow to red), a hill (violet to green), or its fill-up. */
static double
masstone_at (guint shape, double low, double high, double place, double width, double wavelength)
{
  double x = (wavelength - place) / width;

  if (shape == 0)
    return low + 0.2 * high * (wavelength - 400.0) / 3000.0;
  if (shape == 1)
    return low + (high - low) / (1.0 + exp (-4.0 * x));
  if (shape == 2)
    return low + (high - low) * exp (-x * x);
  return low + (high - low) * (1.0 - exp (-x * x));
}

static void
append_paint (GString *text, guint index, GRand *rand)
{
  guint shape = index == 0 || index == 1 ? 0 : (guint) g_rand_int_range (rand, 0, 4);
  double low = index == 0 ? 0.93 : index == 1 ? 0.045 : g_rand_double_range (rand, 0.045, 0.12);
  double high = g_rand_double_range (rand, 0.25, 0.9);
  double place =
    shape == 1 ? g_rand_double_range (rand, 480, 620) : g_rand_double_range (rand, 430, 560);
  double width = g_rand_double_range (rand, 35, 80);
  double strength = index == 0 ? 6.0 : exp (g_rand_double_range (rand, -1.0, 1.5));
  double tilt = g_rand_double_range (rand, -0.4, 0.2);

  if (shape == 0 && index > 1)
    low = g_rand_double_range (rand, 0.05, 0.7);
  for (guint what = 0; what < 2; what++)
    for (guint b = 0; b < PLAIN_BANDS; b++)
      {
        double measured = masstone_at (shape, low, high, place, width, 400.0 + 10.0 * b);
        /* Saunderson's inverse with k1 0.04, k2 0.6. */
        double inside = (measured - 0.04) / (1.0 - 0.04 - 0.6 * (1.0 - measured));
        double S = strength * (1.0 + tilt * b / 30.0);
        double K = S * (1.0 - inside) * (1.0 - inside) / (2.0 * inside);

        g_string_append_printf (text, ",%.9g", what == 0 ? K : S);
      }
}

static char *
make_table (guint n, guint32 seed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  GString *text = g_string_new ("# surface: k1=0.04 k2=0.6\nname,kind");

  for (guint what = 0; what < 2; what++)
    for (guint b = 0; b < PLAIN_BANDS; b++)
      g_string_append_printf (text, ",%c%u", what == 0 ? 'K' : 'S', 400 + 10 * b);
  g_string_append_c (text, '\n');
  for (guint i = 0; i < n; i++)
    {
      /* Names out of order, so that ties by name are not ties by place. */
      g_string_append_printf (text, "Paint %c%u,paint", 'A' + (char) ((i * 7) % 26), i);
      append_paint (text, i, rand);
      g_string_append_c (text, '\n');
    }
  return g_string_free (text, FALSE);
}

static InventedPaints *
read_paints (const char *text)
{
  InventedPaints *self = g_new0 (InventedPaints, 1);
  g_autoptr (GError) error = NULL;
  TsSurfaceReflection surface;
  guint n;

  self->set = ts_paint_set_parse (text, -1, "invented paints", &error);
  if (self->set == NULL)
    g_error ("%s", error->message);
  n = ts_paint_set_get_n_paints (self->set);
  self->names = g_ptr_array_new ();
  self->K = g_malloc_n (n, sizeof *self->K);
  self->S = g_malloc_n (n, sizeof *self->S);
  for (guint i = 0; i < n; i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (self->set, i);

      g_ptr_array_add (self->names, (gpointer) ts_paint_get_name (paint));
      for (guint b = 0; b < PLAIN_BANDS; b++)
        {
          self->K[i][b] = ts_paint_get_K (paint)->band[b];
          self->S[i][b] = ts_paint_get_S (paint)->band[b];
        }
    }
  surface = ts_paint_set_get_surface (self->set);
  self->plain = (PlainPaints){ n,
                               (const char *const *) self->names->pdata,
                               (const double (*)[PLAIN_BANDS]) self->K,
                               (const double (*)[PLAIN_BANDS]) self->S,
                               surface.k1,
                               surface.k2,
                               ts_light_get_weights (TS_LIGHT_D50) };
  return self;
}

InventedPaints *
invented_paints_new (guint n, guint32 seed)
{
  g_autofree char *text = make_table (n, seed);

  return read_paints (text);
}

InventedPaints *
invented_paints_new_colours (guint n, guint32 seed)
{
  static const char *const words[] = { "opaque", "semi-opaque", "semi-transparent", "transparent" };
  InventedPaints *direct = invented_paints_new (n, seed);
  g_autoptr (GString) text = g_string_new ("name,kind,opacity,L,a,b\n");
  InventedPaints *self;

  for (guint i = 0; i < n; i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (direct->set, i);
      TsLab lab = ts_paint_get_masstone (paint);

      g_string_append_printf (text, "%s,paint,%s,%.3f,%.3f,%.3f\n", ts_paint_get_name (paint),
                              words[(seed + i) % G_N_ELEMENTS (words)], lab.L, lab.a, lab.b);
    }
  self = read_paints (text->str);
  invented_paints_free (direct);
  return self;
}

void
invented_paints_free (InventedPaints *self)
{
  ts_paint_set_unref (self->set);
  g_ptr_array_unref (self->names);
  g_free (self->K);
  g_free (self->S);
  g_free (self);
}

TsLab
invented_target (const InventedPaints *self, GRand *rand, double stray)
{
  PlainMix mix = { .n_paints = MIN (3, self->plain.n) };

  for (guint i = 0; i < mix.n_paints; i++)
    {
      mix.paint[i] = (guint) g_rand_int_range (rand, 0, (gint32) self->plain.n);
      mix.parts[i] = (guint) g_rand_int_range (rand, 0, 9) + (i == 0 ? 1 : 0);
    }
  plain_lab (&self->plain, &mix, mix.lab);
  for (guint c = 0; c < 3; c++)
    mix.lab[c] += stray * g_rand_double_range (rand, -1.0, 1.0);
  return (TsLab){ CLAMP (mix.lab[0], 0.0, 100.0), mix.lab[1], mix.lab[2] };
}
