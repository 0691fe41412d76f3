/* test-paint-set.c: reading, refusing and writing back paint sets
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-difference.h"
#include "paint/ts-mix.h"
#include "ts-test.h"

static TsPaintSet *
read_set (const char *text)
{
  g_autoptr (GError) error = NULL;
  TsPaintSet *set = ts_paint_set_parse (text, -1, "set.csv", &error);

  assert_no_error (error);
  assert_non_null (set);
  return set;
}

/* PREFIX400,..,PREFIX700 */
static void
append_header (GString *text, const char *prefix)
{
  for (guint b = 0; b < TS_BANDS; b++)
    g_string_append_printf (text, ",%s%u", prefix, TS_BAND_FIRST + TS_BAND_STEP * b);
}

static void
append_values (GString *text, const TsSpectrum *values)
{
  for (guint b = 0; b < TS_BANDS; b++)
    {
      char number[G_ASCII_DTOSTR_BUF_SIZE];

      g_string_append_printf (text, ",%s",
                              g_ascii_formatd (number, sizeof number, "%.12g", values->band[b]));
    }
}

static void
append_commas (GString *text, guint n)
{
  for (guint i = 0; i < n; i++)
    g_string_append_c (text, ',');
}

/* The masstone that was put in is the masstone that comes out, whatever the word. */
static void
test_masstone_kept (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ("name,opacity,L,a,b\n"
                                         "Night,opaque,22,4,-30\n"
                                         "Rust,transparent,45,30,35\n"
                                         "Milk,,95,-1,3\n");
  static const TsLab wanted[] = { { 22, 4, -30 }, { 45, 30, 35 }, { 95, -1, 3 } };

  for (guint i = 0; i < 3; i++)
    assert_near (
      ts_delta_e_2000 (ts_paint_get_masstone (ts_paint_set_get_paint (set, i)), wanted[i]), 0.0,
      0.05);
  assert_int_equal (ts_paint_get_source (ts_paint_set_get_paint (set, 0)), TS_SOURCE_WORD);
  assert_true (ts_paint_get_error (ts_paint_set_get_paint (set, 0)) >= 15.0);
}

/* More opaque words scatter more; white scatters most. */
static void
test_words_order (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ("name,opacity,L,a,b\n"
                                         "A,transparent,50,20,20\n"
                                         "B,semi-transparent,50,20,20\n"
                                         "C,,50,20,20\n"
                                         "D,Semi Opaque,50,20,20\n"
                                         "E,opaque,50,20,20\n"
                                         "F,opaque,96,0,1\n");

  for (guint i = 0; i + 1 < 6; i++)
    assert_true (ts_paint_get_S (ts_paint_set_get_paint (set, i))->band[10] <
                 ts_paint_get_S (ts_paint_set_get_paint (set, i + 1))->band[10]);
}

static void
test_surface_default (void **state)
{
  g_autoptr (TsPaintSet) light = read_set ("name,L,a,b\nA,60,0,0\nB,50,0,0\n");
  g_autoptr (TsPaintSet) dark = read_set ("name,L,a,b\nA,60,0,0\nInk,5,0,0\n");
  g_autoptr (TsPaintSet) said = read_set ("# Surface: K1=0.01, k2=0.5\nname,L,a,b\nInk,20,0,0\n");
  g_autoptr (TsPaintSet) half = read_set ("# surface: k2=0.45\nname,L,a,b\nA,60,0,0\n");

  assert_near (ts_paint_set_get_surface (light).k1, 0.04, 0.0);
  assert_near (ts_paint_set_get_surface (light).k2, 0.6, 0.0);
  assert_null (ts_paint_set_get_notes (light)[0]);
  /* A neutral of L* 5 sends back 5 / 903.3 at every band (CIE 15). */
  assert_near (ts_paint_set_get_surface (dark).k1, 0.5 * 5.0 / 903.2963, 1e-5);
  assert_non_null (strstr (ts_paint_set_get_notes (dark)[0], "Ink"));
  assert_near (ts_paint_set_get_surface (said).k1, 0.01, 0.0);
  assert_near (ts_paint_set_get_surface (said).k2, 0.5, 0.0);
  assert_near (ts_paint_set_get_surface (half).k1, 0.04, 0.0);
  assert_near (ts_paint_set_get_surface (half).k2, 0.45, 0.0);
}

/* Smooth K and S to measure and get back. */
static void
make_known (TsSpectrum *K, TsSpectrum *S)
{
  for (guint b = 0; b < TS_BANDS; b++)
    {
      K->band[b] = 0.05 + 1.2 * exp (-0.5 * (b - 22.0) * (b - 22.0) / 30.0);
      S->band[b] = 0.4 + 0.01 * b;
    }
}

/* Films made by the forward formula give K and S back; the default card and one of its own. */
static void
test_films (void **state)
{
  static const TsSurfaceReflection surface = { 0.02, 0.6 };
  TsSpectrum K, S, black, white, over_black, over_white;
  g_autoptr (GString) text = g_string_new ("# surface: k1=0.02 k2=0.6\nname");
  g_autoptr (TsPaintSet) set = NULL;

  make_known (&K, &S);
  for (guint b = 0; b < TS_BANDS; b++)
    {
      black.band[b] = ts_saunderson_measured (surface, TS_CARD_BLACK);
      white.band[b] = ts_saunderson_measured (surface, TS_CARD_WHITE);
    }
  ts_mix_get_film (&K, &S, surface, 1.0, &black, &over_black);
  ts_mix_get_film (&K, &S, surface, 1.0, &white, &over_white);
  append_header (text, "RB");
  append_header (text, "RW");
  g_string_append (text, "\nThin");
  append_values (text, &over_black);
  append_values (text, &over_white);

  set = read_set (text->str);
  assert_int_equal (ts_paint_get_source (ts_paint_set_get_paint (set, 0)), TS_SOURCE_FILMS_SPECTRA);
  for (guint b = 0; b < TS_BANDS; b++)
    {
      assert_near (ts_paint_get_K (ts_paint_set_get_paint (set, 0))->band[b], K.band[b], 1e-8);
      assert_near (ts_paint_get_S (ts_paint_set_get_paint (set, 0))->band[b], S.band[b], 1e-8);
    }
}

/* Films as colours: the same film over the same card must come out again. */
static void
test_films_lab (void **state)
{
  g_autoptr (TsPaintSet) set =
    read_set ("# surface: k1=0.001 k2=0.6\n"
              "name,L_white,a_white,b_white,L_black,a_black,b_black,"
              "card_white_L,card_white_a,card_white_b,card_black_L,card_black_a,card_black_b\n"
              "Olive,58,-6,30,42,-7,20,94,0,2,6,0,0\n");
  static const TsLab colours[] = { { 94, 0, 2 }, { 6, 0, 0 } };
  static const TsLab wanted[] = { { 58, -6, 30 }, { 42, -7, 20 } };
  const TsPaint *paint = ts_paint_set_get_paint (set, 0);

  assert_int_equal (ts_paint_get_source (paint), TS_SOURCE_FILMS_LAB);
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (GError) error = NULL;
      TsSpectrum ground, film;

      assert_true (ts_spectrum_from_lab (colours[i], &ground, &error));
      ts_mix_get_film (ts_paint_get_K (paint), ts_paint_get_S (paint),
                       ts_paint_set_get_surface (set), 1.0, &ground, &film);
      assert_near (ts_delta_e_2000 (ts_spectrum_to_lab (&film, TS_LIGHT_D50), wanted[i]), 0.0, 0.1);
    }
}

/* A film that hides says no more than a masstone does, and the set says so. */
static void
test_films_that_hide (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ("name,L_white,a_white,b_white,L_black,a_black,b_black\n"
                                         "Wall,50,20,20,50,20,20\n");
  const TsPaint *paint = ts_paint_set_get_paint (set, 0);

  assert_near (ts_delta_e_2000 (ts_paint_get_masstone (paint), (TsLab){ 50, 20, 20 }), 0.0, 0.1);
  assert_near (ts_paint_get_error (paint), 14.0, 0.0);
  assert_non_null (strstr (ts_paint_set_get_notes (set)[0], "Wall"));
}

/* A masstone and a tint made by the forward formula give K and S back, in the white's unit. */
static void
test_tint (void **state)
{
  TsSpectrum K, S, masstone, tint, tint_K, tint_S, white_K, white_S;
  static const TsSurfaceReflection surface = { 0.03, 0.6 };
  g_autoptr (GString) text = g_string_new ("# surface: k1=0.03 k2=0.6\nname,tint_white,tint_parts");
  g_autoptr (TsPaintSet) set = NULL;

  make_known (&K, &S);
  for (guint b = 0; b < TS_BANDS; b++)
    {
      white_K.band[b] = 0.01;
      white_S.band[b] = 5.0;
      tint_K.band[b] = K.band[b] + 4.0 * white_K.band[b];
      tint_S.band[b] = S.band[b] + 4.0 * white_S.band[b];
    }
  ts_mix_get_masstone (&K, &S, surface, &masstone);
  ts_mix_get_masstone (&tint_K, &tint_S, surface, &tint);

  append_header (text, "K");
  append_header (text, "S");
  append_header (text, "R");
  append_header (text, "RT");
  g_string_append (text, "\nTeal,chalk,4");
  append_commas (text, 2 * TS_BANDS);
  append_values (text, &masstone);
  append_values (text, &tint);
  g_string_append (text, "\nChalk,,");
  append_values (text, &white_K);
  append_values (text, &white_S);

  set = read_set (text->str);
  assert_int_equal (ts_paint_get_source (ts_paint_set_get_paint (set, 0)), TS_SOURCE_TINTS);
  assert_int_equal (ts_paint_get_source (ts_paint_set_get_paint (set, 1)), TS_SOURCE_DIRECT);
  for (guint b = 0; b < TS_BANDS; b++)
    {
      assert_near (ts_paint_get_K (ts_paint_set_get_paint (set, 0))->band[b], K.band[b], 1e-8);
      assert_near (ts_paint_get_S (ts_paint_set_get_paint (set, 0))->band[b], S.band[b], 1e-8);
    }
}

static void
test_clear (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ("name,kind,L,a,b\nGloss,medium,,,\nCoat,varnish,90,0,0\n");
  TsSpectrum film, ground;

  for (guint b = 0; b < TS_BANDS; b++)
    ground.band[b] = 0.3;
  for (guint i = 0; i < 2; i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, i);

      ts_mix_get_film (ts_paint_get_K (paint), ts_paint_get_S (paint),
                       ts_paint_set_get_surface (set), 1.0, &ground, &film);
      assert_near (film.band[15], 0.3, 0.002);
    }
  assert_non_null (strstr (ts_paint_set_get_notes (set)[0], "Coat"));
}

/* What a painter would add by hand stays: comments, other columns, quoted cells, order. */
static const char canonical[] = "# my paints\n"
                                "# surface: k1=0.01 k2=0.6\n"
                                "shelf,name,kind,L,a,b,stock,notes\n"
                                "top,Deep Blue,paint,25,10,-40,low,\"dark, strong\"\n"
                                ",\"The \"\"old\"\" Red\",ink,40,50,30,,\n";

static void
test_round_trip (void **state)
{
  g_autoptr (TsPaintSet) set = read_set (canonical);
  g_autofree char *text = ts_paint_set_to_csv (set);

  assert_string_equal (text, canonical);
  assert_string_equal (ts_paint_get_notes (ts_paint_set_get_paint (set, 0)), "dark, strong");
  assert_int_equal (ts_paint_set_find (set, "the \"OLD\" red"), 1);
  assert_int_equal (ts_paint_set_find (set, "no such paint"), -1);
}

static void
test_with_stock (void **state)
{
  g_autoptr (TsPaintSet) set = read_set (canonical);
  g_autoptr (TsPaintSet) used = ts_paint_set_with_stock (set, 1, TS_STOCK_OUT);
  g_autoptr (TsPaintSet) plain = read_set ("name,L,a,b\nA,50,0,0\n");
  g_autoptr (TsPaintSet) plain_low = ts_paint_set_with_stock (plain, 0, TS_STOCK_LOW);
  g_autofree char *text = ts_paint_set_to_csv (plain_low);

  assert_int_equal (ts_paint_get_stock (ts_paint_set_get_paint (set, 1)), TS_STOCK_FULL);
  assert_int_equal (ts_paint_get_stock (ts_paint_set_get_paint (used, 1)), TS_STOCK_OUT);
  assert_int_equal (ts_paint_get_stock (ts_paint_set_get_paint (used, 0)), TS_STOCK_LOW);
  assert_string_equal (text, "name,L,a,b,stock\nA,50,0,0,low\n");
}

static void
test_edits (void **state)
{
  g_autoptr (TsPaintSet) set = read_set (canonical);
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) refused = NULL;
  g_autoptr (TsPaintSet) more = ts_paint_set_with_paint (
    set, "Moss, dry", TS_PAINT_WASH, TS_OPACITY_TRANSPARENT, (TsLab){ 45, -12, 25.5 }, &error);
  g_autoptr (TsPaintSet) noted = ts_paint_set_with_cell (more, 2, "notes", "new", &error);
  g_autoptr (TsPaintSet) less = ts_paint_set_without (noted, 0, &error);
  g_autofree char *text = ts_paint_set_to_csv (less);

  assert_no_error (error);
  assert_string_equal (text, "# my paints\n"
                             "# surface: k1=0.01 k2=0.6\n"
                             "shelf,name,kind,L,a,b,stock,notes,opacity\n"
                             ",\"The \"\"old\"\" Red\",ink,40,50,30,,,\n"
                             ",\"Moss, dry\",wash,45,-12,25.5,,new,transparent\n");
  assert_null (ts_paint_set_with_paint (set, "deep blue", TS_PAINT_PAINT, TS_OPACITY_OPAQUE,
                                        (TsLab){ 50, 0, 0 }, &refused));
  assert_non_null (strstr (refused->message, "already"));
  g_clear_error (&refused);
  assert_null (ts_paint_set_with_cell (set, 0, "L", "120", &refused));
  assert_true (g_error_matches (refused, TS_ERROR, TS_ERROR_BAD_VALUE));
}

typedef struct
{
  const char *name;
  const char *text;
  TsError code;
  const char *says[2];
} RefuseCase;

static const RefuseCase refuse_cases[] = {
  { "same name",
    "name,L,a,b\nBlue,20,0,-30\nRed,40,50,30\nBLUE,30,0,-40\n",
    TS_ERROR_BAD_VALUE,
    { "line 4", "line 2" } },
  { "no name column", "paint,L,a,b\nBlue,20,0,-30\n", TS_ERROR_FORMAT, { "name", "columns" } },
  { "no paints", "name,L,a,b\n", TS_ERROR_TOO_FEW, { "0 paints", "1 to" } },
  { "empty name", "name,L,a,b\n,20,0,-30\n", TS_ERROR_BAD_VALUE, { "line 2", "needs a name" } },
  { "plus in name", "name,L,a,b\nRed + Blue,20,0,-30\n", TS_ERROR_BAD_VALUE, { "line 2", "+" } },
  { "newline in name",
    "name,L,a,b\n\"Red\nBlue\",20,0,-30\n",
    TS_ERROR_BAD_VALUE,
    { "line 2", "one line" } },
  { "no colour", "name,L,a,b\nBlue,,,\n", TS_ERROR_TOO_FEW, { "line 2", "no colour" } },
  { "half a colour", "name,L,a,b\nBlue,20,,-30\n", TS_ERROR_TOO_FEW, { "line 2", "a is missing" } },
  { "lightness 101", "name,L,a,b\nBlue,101,0,0\n", TS_ERROR_BAD_VALUE, { "line 2", "L" } },
  { "not a number", "name,L,a,b\nBlue,dark,0,0\n", TS_ERROR_BAD_VALUE, { "line 2", "dark" } },
  { "nan", "name,L,a,b\nBlue,nan,0,0\n", TS_ERROR_BAD_VALUE, { "line 2", "nan" } },
  { "no such surface colour",
    "name,L,a,b\nBlue,50,150,-150\n",
    TS_ERROR_BAD_VALUE,
    { "line 2", "" } },
  { "kind", "name,kind,L,a,b\nBlue,glue,20,0,-30\n", TS_ERROR_BAD_VALUE, { "line 2", "glue" } },
  { "opacity",
    "name,opacity,L,a,b\nBlue,thick,20,0,-30\n",
    TS_ERROR_BAD_VALUE,
    { "line 2", "semi-opaque" } },
  { "stock", "name,stock,L,a,b\nBlue,some,20,0,-30\n", TS_ERROR_BAD_VALUE, { "line 2", "low" } },
  { "surface",
    "# surface: k1=2\nname,L,a,b\nBlue,20,0,-30\n",
    TS_ERROR_BAD_VALUE,
    { "surface", "k1=0.04" } },
  { "surface nan",
    "# surface: k2=nan\nname,L,a,b\nBlue,20,0,-30\n",
    TS_ERROR_BAD_VALUE,
    { "surface", "k2" } },
  { "one band of a spectrum", "name,R400\nBlue,0.2\n", TS_ERROR_TOO_FEW, { "line 2", "R410" } },
  { "films without black",
    "name,L_white,a_white,b_white\nBlue,20,0,-30\n",
    TS_ERROR_TOO_FEW,
    { "line 2", "L_black" } },
};

static void
test_refuse (void **state)
{
  const RefuseCase *c = *state;
  g_autoptr (GError) error = NULL;
  TsPaintSet *set = ts_paint_set_parse (c->text, -1, "set.csv", &error);

  assert_null (set);
  assert_non_null (error);
  assert_true (error->domain == TS_ERROR);
  if (error->code != (int) c->code)
    fail_msg ("code %d, wanted %d: %s", error->code, c->code, error->message);
  assert_non_null (strstr (error->message, "set.csv"));
  for (guint i = 0; i < 2; i++)
    if (strstr (error->message, c->says[i]) == NULL)
      fail_msg ("\"%s\" is not in: %s", c->says[i], error->message);
}

/* Every shortened form of a good file either reads or is refused with a message. */
static void
test_cut_short (void **state)
{
  guint n_read = 0, n_refused = 0;

  for (gsize length = 0; length < strlen (canonical); length++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TsPaintSet) set = ts_paint_set_parse (canonical, (gssize) length, "cut", &error);

      assert_true ((set == NULL) == (error != NULL));
      n_read += set != NULL;
      n_refused += set == NULL;
    }
  assert_true (n_read > 5);
  assert_true (n_refused > 50);
}

/* Changed bytes either read or are refused with a message; what reads is sane. */
static void
test_changed_bytes (void **state)
{
  static const char spices[] = ",\"\n\r#-.e0159+ \xff\xc3";
  g_autoptr (GRand) random = g_rand_new_with_seed (20);
  guint n_read = 0, n_refused = 0;

  for (guint round = 0; round < 3000; round++)
    {
      g_autofree char *text = g_strdup (canonical);
      gsize length = strlen (text);
      g_autoptr (GError) error = NULL;
      g_autoptr (TsPaintSet) set = NULL;

      for (gint i = g_rand_int_range (random, 1, 5); i > 0; i--)
        text[g_rand_int_range (random, 0, (gint32) length)] =
          spices[g_rand_int_range (random, 0, (gint32) sizeof spices)];
      set = ts_paint_set_parse (text, (gssize) length, "changed", &error);
      assert_true ((set == NULL) == (error != NULL));
      n_refused += set == NULL;
      for (guint i = 0; set != NULL && i < ts_paint_set_get_n_paints (set); i++, n_read++)
        for (guint b = 0; b < TS_BANDS; b++)
          {
            assert_true (isfinite (ts_paint_get_K (ts_paint_set_get_paint (set, i))->band[b]));
            assert_true (ts_paint_get_S (ts_paint_set_get_paint (set, i))->band[b] > 0.0);
          }
    }
  assert_true (n_read > 300);
  assert_true (n_refused > 300);
}

/* As a spreadsheet writes it: byte order mark, CRLF, empty columns. */
static void
test_spreadsheet (void **state)
{
  g_autoptr (TsPaintSet) set =
    read_set ("\xef\xbb\xbfname,L,a,b,,\r\nBlue,20,0,-30,,\r\n\"Red, dark\",30,30,20,,\r\n");

  assert_int_equal (ts_paint_set_get_n_paints (set), 2);
  assert_int_equal (ts_paint_set_find (set, "red, dark"), 1);
}

/* A masstone spectrum comes out as it went in, also one darker than k1 would allow by default. */
static void
test_masstone_spectrum (void **state)
{
  g_autoptr (GString) text = g_string_new ("name,kind");
  TsSpectrum wanted, got;
  g_autoptr (TsPaintSet) set = NULL;
  const TsPaint *paint;

  for (guint b = 0; b < TS_BANDS; b++)
    wanted.band[b] = 0.012 + 0.02 * b * b / 30.0;
  append_header (text, "R");
  g_string_append (text, "\nDeep,metallic");
  append_values (text, &wanted);
  set = read_set (text->str);
  paint = ts_paint_set_get_paint (set, 0);
  ts_mix_get_masstone (ts_paint_get_K (paint), ts_paint_get_S (paint),
                       ts_paint_set_get_surface (set), &got);
  for (guint b = 0; b < TS_BANDS; b++)
    assert_near (got.band[b], wanted.band[b], 1e-9);
  assert_near (ts_paint_set_get_surface (set).k1, 0.006, 1e-12);
  assert_int_equal (ts_paint_get_source (paint), TS_SOURCE_MASSTONE);
  assert_true (ts_paint_get_error (paint) >= 20.0);
  assert_non_null (strstr (ts_paint_set_get_notes (set)[1], "metallic"));
}

/* Two films of half a coat make K and S of a whole one. */
static void
test_thin_films (void **state)
{
  static const char *const colours = ",58,-6,30,42,-7,20";
  g_autofree char *text = g_strdup_printf ("name,film_coats,L_white,a_white,b_white,L_black,"
                                           "a_black,b_black\nOne,1%s\nHalf,0.5%s\n",
                                           colours, colours);
  g_autoptr (TsPaintSet) set = read_set (text);

  for (guint b = 0; b < TS_BANDS; b++)
    {
      const TsPaint *one = ts_paint_set_get_paint (set, 0);
      const TsPaint *half = ts_paint_set_get_paint (set, 1);

      assert_near (ts_paint_get_K (half)->band[b], 2.0 * ts_paint_get_K (one)->band[b], 1e-9);
      assert_near (ts_paint_get_S (half)->band[b], 2.0 * ts_paint_get_S (one)->band[b], 1e-9);
    }
}

/* A wash is thinner than the paint of the same masstone. */
static void
test_wash (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ("name,kind,L,a,b\nA,paint,40,20,20\nB,wash,40,20,20\n");

  for (guint b = 0; b < TS_BANDS; b++)
    assert_near (ts_paint_get_K (ts_paint_set_get_paint (set, 1))->band[b],
                 0.25 * ts_paint_get_K (ts_paint_set_get_paint (set, 0))->band[b], 1e-12);
}

static void
test_cautions (void **state)
{
  /* Pigment index names and what they are commonly cautioned for: from memory. */
  static const struct
  {
    const char *pigments;
    const char *says[2];
  } cases[] = {
    { "PY35", { "cadmium", "lips" } },       { "pr108:1", { "cadmium", "safety data sheet" } },
    { "PW6, PB28", { "cobalt", "label" } },  { "PW1", { "lead", "swallowed" } },
    { "PY34 PR108", { "lead", "cadmium" } }, { "PY36", { "chromate", "inhaled" } },
    { "PR106", { "mercury", "lips" } },      { "PV16", { "manganese", "lips" } },
    { "PB29/PY53", { "nickel", "sand" } },   { "PB73", { "cobalt", "spray" } },
    { "PV47", { "cobalt", "inhaled" } },     { "PBk27", { "cobalt", "label" } },
    { "PBk29", { "cobalt", "lips" } },       { "pbk30", { "nickel", "allergy" } },
    { "PG20", { "copper", "swallowed" } },   { "PW10", { "barium", "lips" } },
    { "PBr24", { "antimony", "label" } },    { "PG14", { "cadmium", "cobalt" } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text =
        g_strdup_printf ("name,pigments,L,a,b\nX,\"%s\",50,0,0\n", cases[i].pigments);
      g_autoptr (TsPaintSet) set = read_set (text);
      const char *caution = ts_paint_get_caution (ts_paint_set_get_paint (set, 0));

      assert_non_null (caution);
      assert_non_null (strstr (caution, cases[i].says[0]));
      assert_non_null (strstr (caution, cases[i].says[1]));
    }
}

static void
test_no_caution (void **state)
{
  g_autoptr (TsPaintSet) set =
    read_set ("name,pigments,L,a,b\nA,PW6 PB29 PY42,50,0,0\nB,,50,0,0\nC,PY3,50,0,0\n"
              "D,PG17 PG18 PW4 PW21 PB15:3 PG7,50,0,0\n");

  for (guint i = 0; i < 4; i++)
    assert_null (ts_paint_get_caution (ts_paint_set_get_paint (set, i)));
}

int
main (void)
{
  const struct CMUnitTest plain[] = {
    cmocka_unit_test (test_masstone_kept),
    cmocka_unit_test (test_words_order),
    cmocka_unit_test (test_surface_default),
    cmocka_unit_test (test_films),
    cmocka_unit_test (test_films_lab),
    cmocka_unit_test (test_films_that_hide),
    cmocka_unit_test (test_tint),
    cmocka_unit_test (test_clear),
    cmocka_unit_test (test_round_trip),
    cmocka_unit_test (test_with_stock),
    cmocka_unit_test (test_cut_short),
    cmocka_unit_test (test_cautions),
    cmocka_unit_test (test_no_caution),
    cmocka_unit_test (test_changed_bytes),
    cmocka_unit_test (test_spreadsheet),
    cmocka_unit_test (test_masstone_spectrum),
    cmocka_unit_test (test_thin_films),
    cmocka_unit_test (test_wash),
    cmocka_unit_test (test_edits),
  };
  struct CMUnitTest refuse[G_N_ELEMENTS (refuse_cases)] = { 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (refuse_cases); i++)
    {
      refuse[i].name = refuse_cases[i].name;
      refuse[i].test_func = test_refuse;
      refuse[i].initial_state = (void *) &refuse_cases[i];
    }
  return cmocka_run_group_tests_name ("paint/set", plain, NULL, NULL) +
         cmocka_run_group_tests_name ("paint/set refuses", refuse, NULL, NULL);
}
