/* test-preset.c: wishes for stairs, kept under names
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <string.h>

#include "base/ts-error.h"
#include "base/ts-file.h"
#include "plan/ts-preset.h"

static const TsStairSettings wishes = { .n_steps = 3,
                                        .has_range = TRUE,
                                        .range_light = 88.0,
                                        .range_dark = 12.5,
                                        .has_shadow = TRUE,
                                        .shadow = { 20.0, 5.0, -18.0 },
                                        .shadow_amount = 0.4 };

static void
test_saved_and_loaded (void **state)
{
  char *folder = ts_test_make_folder ();
  g_autofree char *path = g_build_filename (folder, "inner", "wishes.json", NULL);
  g_autoptr (GPtrArray) none = NULL, again = NULL;
  g_autoptr (GPtrArray) presets = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_preset_free);
  g_autoptr (GError) error = NULL;
  const TsPreset *preset;

  none = ts_presets_load (path, &error);
  assert_no_error (error);
  assert_int_equal (none->len, 0);
  g_ptr_array_add (presets, ts_preset_new ("Moonlight, “cold”", &wishes));
  g_ptr_array_add (presets, ts_preset_new ("Noon", &(TsStairSettings){ .has_light = TRUE }));
  assert_true (ts_presets_save (presets, path, TS_FILE_SAVE_PLAIN, &error));
  assert_no_error (error);
  again = ts_presets_load (path, &error);
  assert_no_error (error);
  assert_int_equal (again->len, 2);
  preset = g_ptr_array_index (again, 0);
  assert_string_equal (preset->name, "Moonlight, “cold”");
  assert_true (preset->wishes.has_range && preset->wishes.has_shadow && !preset->wishes.has_light);
  assert_near (preset->wishes.range_dark, 12.5, 0.0);
  assert_near (preset->wishes.shadow.b, -18.0, 0.0);
  assert_near (preset->wishes.shadow_amount, 0.4, 0.0);
  ts_test_remove_folder (folder);
}

/* Steps stay as they are, and what is not wished for goes. */
static void
test_applied (void **state)
{
  g_autoptr (TsPreset) preset = ts_preset_new ("x", &wishes);
  TsStairSettings settings;

  ts_stair_settings_init (&settings);
  settings.n_steps = 9;
  settings.spacing = TS_SPACING_BY_HAND;
  settings.position[4] = 0.3;
  settings.has_light = TRUE;
  ts_preset_apply (preset, &settings);
  assert_int_equal (settings.n_steps, 9);
  assert_int_equal (settings.spacing, TS_SPACING_BY_HAND);
  assert_near (settings.position[4], 0.3, 0.0);
  assert_false (settings.has_light);
  assert_near (settings.range_light, 88.0, 0.0);
}

static void
test_spoilt (void **state)
{
  static const char *const texts[] = {
    "", "[]", "{\"format\":\"tonestair-plan\"}", "{\"format\":\"tonestair-wishes\",\"wishes\":[3]}",
    "{\"format\":\"tonestair-wishes\",\"wishes\":[{\"lightness_range\":[1,\"x\"]}]}"
  };
  char *folder = ts_test_make_folder ();
  g_autofree char *path = g_build_filename (folder, "wishes.json", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GError) error = NULL;

      assert_true (ts_file_save (path, texts[i], strlen (texts[i]), TS_FILE_SAVE_PLAIN, NULL));
      assert_null (ts_presets_load (path, &error));
      assert_true (error != NULL && error->domain == TS_ERROR);
      assert_non_null (strstr (error->message, "wishes.json"));
    }
  ts_test_remove_folder (folder);
}

/* However many there are, none is lost by reading and saving again. */
static void
test_many (void **state)
{
  char *folder = ts_test_make_folder ();
  g_autofree char *path = g_build_filename (folder, "wishes.json", NULL);
  g_autoptr (GPtrArray) presets = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_preset_free);
  g_autoptr (GPtrArray) again = NULL;

  for (guint i = 0; i < 300; i++)
    {
      g_autofree char *name = g_strdup_printf ("%u", i);

      g_ptr_array_add (presets, ts_preset_new (name, &wishes));
    }
  assert_true (ts_presets_save (presets, path, TS_FILE_SAVE_PLAIN, NULL));
  again = ts_presets_load (path, NULL);
  assert_int_equal (again->len, 300);
  ts_test_remove_folder (folder);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_saved_and_loaded),
    cmocka_unit_test (test_applied),
    cmocka_unit_test (test_spoilt),
    cmocka_unit_test (test_many),
  };

  return cmocka_run_group_tests_name ("plan/preset", tests, NULL, NULL);
}
