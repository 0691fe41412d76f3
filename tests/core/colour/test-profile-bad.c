/* test-profile-bad.c: damaged, wrong and absurd profiles are refused with a reason
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"
#include "colour/ts-profile.h"

#include "colour/icc.h"
#include "ts-test.h"

static void
assert_refused (GBytes *icc, TsPixelFormat format, const char *why)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TsProfile) profile = ts_profile_new_from_icc (icc, format, &error);

  g_bytes_unref (icc);
  assert_null (profile);
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_FORMAT));
  if (strstr (error->message, why) == NULL)
    fail_msg ("\"%s\" does not say \"%s\"", error->message, why);
  assert_non_null (strstr (error->message, "save the picture"));
}

static void
test_no_profile (void **state)
{
  assert_refused (g_bytes_new_static (NULL, 0), TS_PIXEL_RGB8, "damaged");
  assert_refused (g_bytes_new_static ("no profile", 10), TS_PIXEL_RGB8, "damaged");
}

static void
test_wrong_pixels (void **state)
{
  assert_refused (icc_srgb (4.3), TS_PIXEL_GREY8, "pixels of another kind");
  assert_refused (icc_srgb (4.3), TS_PIXEL_CMYK8, "pixels of another kind");
  assert_refused (icc_grey (2.2), TS_PIXEL_RGB16, "pixels of another kind");
  assert_refused (icc_plane (icc_inks, 4, 2.4), TS_PIXEL_RGB8, "pixels of another kind");
}

static void
test_wrong_class (void **state)
{
  cmsHPROFILE profile = cmsCreate_sRGBProfile ();

  cmsSetDeviceClass (profile, cmsSigLinkClass);
  assert_refused (icc_take (profile, 4.3), TS_PIXEL_RGB8, "does not describe a device");
  profile = cmsCreate_sRGBProfile ();
  cmsSetDeviceClass (profile, cmsSigAbstractClass);
  assert_refused (icc_take (profile, 4.3), TS_PIXEL_RGB8, "does not describe a device");
}

static GBytes *
srgb_with_red (double X, double Y, double Z)
{
  cmsHPROFILE profile = cmsCreate_sRGBProfile ();
  cmsCIEXYZ red = { X, Y, Z };

  g_assert_true (cmsWriteTag (profile, cmsSigRedColorantTag, &red));
  return icc_take (profile, 4.3);
}

static void
test_absurd (void **state)
{
  const IccPlane negative = { { 90.0, 0, 0 }, { -30.0, 0, 0 }, { -30.0, 0, 0 }, { -20.0, 0, 0 } };
  const IccPlane flat = { { 50.0, 0, 0 }, { 0, 30.0, 0 }, { 0, -30.0, 0 }, { 0, 0, 30.0 } };

  assert_refused (srgb_with_red (100.0, 0.2, 0.0), TS_PIXEL_RGB8, "make no sense");
  assert_refused (srgb_with_red (-0.4, -2.0, 0.0), TS_PIXEL_RGB8, "make no sense");
  assert_refused (icc_plane (negative, 3, 2.4), TS_PIXEL_RGB8, "make no sense");
  assert_refused (icc_plane (flat, 3, 4.3), TS_PIXEL_RGB8, "make no sense");
}

/* A table said to have 100 to the power of 4 entries, in a file of a few thousand bytes. */
static void
test_huge_table (void **state)
{
  gsize size;
  guint8 *data = g_bytes_unref_to_data (icc_plane (icc_inks, 4, 2.4), &size);
  guint n = 0;

  for (gsize i = 0; i + 12 < size; i++)
    if (memcmp (data + i, "mft2\0\0\0\0\4\3\5", 11) == 0)
      {
        data[i + 10] = 100;
        n++;
      }
  assert_int_equal (n, 2);
  assert_refused (g_bytes_new_take (data, size), TS_PIXEL_CMYK8, "damaged");
}

static void
test_too_large (void **state)
{
  gsize size = 33 * 1024 * 1024;
  g_autoptr (GBytes) icc = g_bytes_new_take (g_malloc0 (size), size);
  g_autoptr (GError) error = NULL;

  assert_null (ts_profile_new_from_icc (icc, TS_PIXEL_RGB8, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_LARGE));
}

/* Either a reason, or a profile that converts. TRUE where it was read. */
static gboolean
try_bytes (const guint8 *data, gsize size, TsPixelFormat format)
{
  g_autoptr (GBytes) icc = g_bytes_new (data, size);
  g_autoptr (GError) error = NULL;
  g_autoptr (TsProfile) profile = ts_profile_new_from_icc (icc, format, &error);
  guint8 pixels[64];
  TsXyz xyz[8];
  guint32 words[8];

  assert_true ((profile == NULL) == (error != NULL));
  if (profile == NULL)
    {
      assert_true (g_utf8_validate (error->message, -1, NULL));
      return FALSE;
    }
  assert_true (g_utf8_validate (ts_profile_get_name (profile), -1, NULL));
  for (gsize i = 0; i < sizeof pixels; i++)
    pixels[i] = (guint8) (i * 37);
  ts_profile_to_xyz (profile, pixels, 8, xyz);
  ts_profile_to_screen (profile, pixels, 8, words);
  for (int i = 0; i < 8; i++)
    assert_int_equal (words[i] >> 24, 0);
  return TRUE;
}

/* A profile with a matrix among its floating-point elements. */
static GBytes *
srgb_with_elements (void)
{
  static const double identity[9] = { 1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0 };
  cmsHPROFILE profile = cmsCreate_sRGBProfile ();
  cmsPipeline *pipeline = cmsPipelineAlloc (NULL, 3, 3);

  cmsPipelineInsertStage (pipeline, cmsAT_END, cmsStageAllocMatrix (NULL, 3, 3, identity, NULL));
  g_assert_true (cmsWriteTag (profile, cmsSigDToB1Tag, pipeline));
  cmsPipelineFree (pipeline);
  return icc_take (profile, 4.3);
}

/* What lcms2 quotes of the file need not be text. */
static void
test_not_text (void **state)
{
  gsize size;
  guint8 *data = g_bytes_unref_to_data (srgb_with_elements (), &size);
  guint n = 0;

  for (gsize i = 128; i + 4 < size; i++)
    if (memcmp (data + i, "matf", 4) == 0)
      {
        memcpy (data + i, "\xff\xfe\x80\xc3", 4);
        n++;
      }
  assert_int_equal (n, 1);
  assert_false (try_bytes (data, size, TS_PIXEL_RGB8));
  assert_refused (g_bytes_new_take (data, size), TS_PIXEL_RGB8, "MPE type");
}

static void
test_truncated (void **state)
{
  g_autoptr (GBytes) icc = icc_srgb (2.1);
  gsize size;
  const guint8 *data = g_bytes_get_data (icc, &size);

  for (gsize cut = 0; cut < size; cut += 31)
    try_bytes (data, cut, TS_PIXEL_RGB8);
  assert_false (try_bytes (data, size / 2, TS_PIXEL_RGB8));
  assert_true (try_bytes (data, size, TS_PIXEL_RGB8));
}

/* Bytes changed at random, most of them in the head and the list of tags, where they hurt most. */
static void
mutate (GBytes *icc, TsPixelFormat format, guint rounds, guint *read, guint *refused)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (9);
  gsize size;
  const guint8 *data = g_bytes_get_data (icc, &size);

  for (guint i = 0; i < rounds; i++)
    {
      g_autofree guint8 *copy = g_memdup2 (data, size);
      int n = g_rand_int_range (random, 1, 6);

      while (n-- > 0)
        {
          gsize end = g_rand_boolean (random) ? MIN (size, 300) : size;

          copy[g_rand_int_range (random, 0, (gint32) end)] = (guint8) g_rand_int (random);
        }
      if (try_bytes (copy, size, format))
        (*read)++;
      else
        (*refused)++;
    }
}

static void
test_mutated (void **state)
{
  g_autoptr (GBytes) srgb = icc_srgb (4.3);
  g_autoptr (GBytes) romm = icc_romm (2.4, 256);
  g_autoptr (GBytes) grey = icc_grey (1.8);
  g_autoptr (GBytes) inks = icc_plane (icc_inks, 4, 2.4);
  g_autoptr (GBytes) lights = icc_plane (icc_lights, 3, 4.3);
  guint read = 0, refused = 0;

  mutate (srgb, TS_PIXEL_RGB8, 200, &read, &refused);
  mutate (romm, TS_PIXEL_RGB16, 60, &read, &refused);
  mutate (grey, TS_PIXEL_GREY8, 400, &read, &refused);
  mutate (inks, TS_PIXEL_CMYK8, 20, &read, &refused);
  mutate (lights, TS_PIXEL_RGB8, 20, &read, &refused);
  assert_true (read > 100 && refused > 100);
}

typedef struct
{
  const char *name;
  double xy[4][2];
  double gamma;
  TsPixelFormat format;
  TsError code;
} PrimariesCase;

#define SRGB_XY                                                                                    \
  {                                                                                                \
    { 0.3127, 0.329 }, { 0.64, 0.33 }, { 0.3, 0.6 },                                               \
    {                                                                                              \
      0.15, 0.06                                                                                   \
    }                                                                                              \
  }

static const PrimariesCase primaries_cases[] = {
  { "no gamma", SRGB_XY, 0.0, TS_PIXEL_RGB8, TS_ERROR_BAD_VALUE },
  { "negative gamma", SRGB_XY, -2.2, TS_PIXEL_RGB8, TS_ERROR_BAD_VALUE },
  { "gamma of 100000", SRGB_XY, 100000.0, TS_PIXEL_RGB8, TS_ERROR_BAD_VALUE },
  { "gamma not a number", SRGB_XY, (double) (double) NAN, TS_PIXEL_RGB8, TS_ERROR_BAD_VALUE },
  { "inks", SRGB_XY, 2.2, TS_PIXEL_CMYK8, TS_ERROR_UNSUPPORTED },
  { "white of nothing",
    { { 0.0, 0.0 }, { 0.64, 0.33 }, { 0.3, 0.6 }, { 0.15, 0.06 } },
    2.2,
    TS_PIXEL_RGB8,
    TS_ERROR_BAD_VALUE },
  { "primaries on a line",
    { { 0.3127, 0.329 }, { 0.2, 0.2 }, { 0.3, 0.3 }, { 0.4, 0.4 } },
    2.2,
    TS_PIXEL_RGB8,
    TS_ERROR_BAD_VALUE },
  { "all primaries the same",
    { { 0.3127, 0.329 }, { 0.3, 0.3 }, { 0.3, 0.3 }, { 0.3, 0.3 } },
    2.2,
    TS_PIXEL_RGB16,
    TS_ERROR_BAD_VALUE },
  { "a primary not a number",
    { { 0.3127, 0.329 }, { 0.64, (double) (double) NAN }, { 0.3, 0.6 }, { 0.15, 0.06 } },
    2.2,
    TS_PIXEL_RGB8,
    TS_ERROR_BAD_VALUE },
  { "a primary far out",
    { { 0.3127, 0.329 }, { 21474.0, 0.33 }, { 0.3, 0.6 }, { 0.15, 0.06 } },
    2.2,
    TS_PIXEL_RGB8,
    TS_ERROR_BAD_VALUE },
  { "white outside the primaries",
    { { 0.8, 0.1 }, { 0.64, 0.33 }, { 0.3, 0.6 }, { 0.15, 0.06 } },
    2.2,
    TS_PIXEL_RGB8,
    TS_ERROR_BAD_VALUE },
};

static void
test_primaries (void **state)
{
  const PrimariesCase *c = *state;
  g_autoptr (GError) error = NULL;
  g_autoptr (TsProfile) profile =
    ts_profile_new_from_primaries (c->xy, c->gamma, c->format, &error);

  assert_null (profile);
  if (!g_error_matches (error, TS_ERROR, (int) c->code))
    fail_msg ("code %d: %s", error->code, error->message);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_no_profile),  cmocka_unit_test (test_wrong_pixels),
    cmocka_unit_test (test_wrong_class), cmocka_unit_test (test_absurd),
    cmocka_unit_test (test_too_large),   cmocka_unit_test (test_huge_table),
    cmocka_unit_test (test_not_text),    cmocka_unit_test (test_truncated),
    cmocka_unit_test (test_mutated),
  };
  struct CMUnitTest primaries[G_N_ELEMENTS (primaries_cases)] = { 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (primaries_cases); i++)
    {
      primaries[i].name = primaries_cases[i].name;
      primaries[i].test_func = test_primaries;
      primaries[i].initial_state = (void *) &primaries_cases[i];
    }
  return cmocka_run_group_tests_name ("colour/profile-bad", tests, NULL, NULL) +
         cmocka_run_group_tests_name ("colour/profile-primaries", primaries, NULL, NULL);
}
