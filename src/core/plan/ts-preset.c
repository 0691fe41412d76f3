/* ts-preset.c: a painter's own wishes for stairs, kept under names
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-preset.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-error.h"
#include "base/ts-json.h"
#include "plan/ts-plan-file-private.h"

#define FORMAT "tonestair-wishes"
/* Against absurd files. */
#define MOST_BYTES (1024 * 1024)

/**
 * ts_preset_new:
 * @name: what the painter calls it
 * @wishes: range and colours of light and shadow count
 *
 * Returns: (transfer full): the preset
 */
TsPreset *
ts_preset_new (const char *name, const TsStairSettings *wishes)
{
  TsPreset *preset = g_new0 (TsPreset, 1);

  preset->name = g_strdup (name);
  ts_stair_settings_init (&preset->wishes);
  preset->wishes.has_range = wishes->has_range;
  preset->wishes.range_light = wishes->range_light;
  preset->wishes.range_dark = wishes->range_dark;
  preset->wishes.has_light = wishes->has_light;
  preset->wishes.light = wishes->light;
  preset->wishes.light_amount = wishes->light_amount;
  preset->wishes.has_shadow = wishes->has_shadow;
  preset->wishes.shadow = wishes->shadow;
  preset->wishes.shadow_amount = wishes->shadow_amount;
  return preset;
}

/**
 * ts_preset_free:
 * @preset: (transfer full) (nullable): a preset
 */
void
ts_preset_free (TsPreset *preset)
{
  if (preset == NULL)
    return;
  g_free (preset->name);
  g_free (preset);
}

/**
 * ts_preset_apply:
 * @preset: a preset
 * @settings: (inout): a stair's settings
 *
 * Sets the range and the colours of light and shadow, and leaves the steps alone.
 */
void
ts_preset_apply (const TsPreset *preset, TsStairSettings *settings)
{
  g_autoptr (TsPreset) whole = ts_preset_new ("", &preset->wishes);

  whole->wishes.n_steps = settings->n_steps;
  whole->wishes.spacing = settings->spacing;
  whole->wishes.base = settings->base;
  memcpy (whole->wishes.position, settings->position, sizeof settings->position);
  memcpy (whole->wishes.shift, settings->shift, sizeof settings->shift);
  *settings = whole->wishes;
}

static gboolean
read_preset (JsonNode *node, guint index, GPtrArray *presets, GError **error)
{
  g_autofree char *where = g_strdup_printf ("wishes[%u]", index);
  TsStairSettings wishes;
  const char *name;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s is not an object"), where);
      return FALSE;
    }
  ts_stair_settings_init (&wishes);
  if (!ts_json_get_string_or (json_node_get_object (node), "name", where, "", &name, error) ||
      !ts_plan_read_stair (json_node_get_object (node), where, &wishes, error))
    return FALSE;
  g_ptr_array_add (presets, ts_preset_new (name, &wishes));
  return TRUE;
}

static gboolean
read_all (JsonNode *root, GPtrArray *presets, GError **error)
{
  JsonObject *object = JSON_NODE_HOLDS_OBJECT (root) ? json_node_get_object (root) : NULL;
  JsonArray *array = NULL;
  const char *format = "";

  if (object != NULL && !ts_json_get_string_or (object, "format", "wishes", "", &format, error))
    return FALSE;
  if (!g_str_equal (format, FORMAT))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("This is not a file of wishes for stairs"));
      return FALSE;
    }
  if (!ts_json_get_array_or (object, "wishes", "wishes", &array, error))
    return FALSE;
  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    if (!read_preset (json_array_get_element (array, i), i, presets, error))
      return FALSE;
  return TRUE;
}

/**
 * ts_presets_load:
 * @path: of the file; one that is not there is empty
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsPreset): the presets, or %NULL with a
 * #TsError
 */
GPtrArray *
ts_presets_load (const char *path, GError **error)
{
  g_autoptr (GPtrArray) presets = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_preset_free);
  g_autoptr (JsonNode) root = NULL;
  g_autoptr (GBytes) bytes = NULL;
  gsize length;
  const char *text;

  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    return g_steal_pointer (&presets);
  bytes = ts_file_read (path, MOST_BYTES, error);
  if (bytes == NULL)
    return NULL;
  text = g_bytes_get_data (bytes, &length);
  root = ts_json_parse (text, (gssize) length, path, error);
  if (root == NULL)
    return NULL;
  if (!read_all (root, presets, error))
    {
      g_prefix_error (error, "%s: ", path);
      return NULL;
    }
  return g_steal_pointer (&presets);
}

/**
 * ts_presets_save:
 * @presets: (element-type TsPreset): all of them
 * @path: of the file; its folder is made where it is missing
 * @flags: whether the old file stays as NAME~, as one should that could not be read
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with a #TsError or a file error, and the file as it was
 */
gboolean
ts_presets_save (const GPtrArray *presets, const char *path, TsFileSaveFlags flags, GError **error)
{
  g_autoptr (JsonNode) root = json_node_new (JSON_NODE_OBJECT);
  g_autoptr (JsonObject) object = json_object_new ();
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *text = NULL;
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < presets->len; i++)
    {
      const TsPreset *preset = g_ptr_array_index (presets, i);
      JsonObject *stair = ts_plan_build_stair (&preset->wishes);

      json_object_set_string_member (stair, "name", preset->name);
      json_array_add_object_element (array, stair);
    }
  json_object_set_string_member (object, "format", FORMAT);
  json_object_set_int_member (object, "version", 1);
  json_object_set_array_member (object, "wishes", array);
  json_node_set_object (root, object);
  text = ts_json_to_text (root);
  g_mkdir_with_parents (folder, 0700);
  return ts_file_save (path, text, strlen (text), flags, error);
}
