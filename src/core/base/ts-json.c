/* ts-json.c: JSON members with their type and range checked
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-json.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/ts-error.h"
#include "base/ts-text.h"

/* The parser recurses, so depth is bounded before it sees the text. */
#define MAX_DEPTH 64

/* The parser also takes comments and texts between single marks, which JSON has not. Brackets
 * hidden behind them would escape the count, so both are refused. */
static gboolean
check_depth (const char *text, gsize n, const char *what, GError **error)
{
  gboolean in_string = FALSE;
  guint line = 1;
  int depth = 0;

  for (gsize i = 0; i < n; i++)
    {
      if (text[i] == '\n')
        line++;
      if (in_string && text[i] == '\\')
        i++;
      else if (text[i] == '"')
        in_string = !in_string;
      else if (!in_string && (text[i] == '{' || text[i] == '['))
        depth++;
      else if (!in_string && (text[i] == '}' || text[i] == ']'))
        depth--;
      if (!in_string && (text[i] == '/' || text[i] == '\''))
        {
          g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                       _ ("%s is not JSON: line %u holds a “%c” outside a text"), what, line,
                       text[i]);
          return FALSE;
        }
      if (depth > MAX_DEPTH)
        {
          g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE,
                       _ ("%s, line %u: brackets are nested more than %d deep"), what, line,
                       MAX_DEPTH);
          return FALSE;
        }
    }
  return TRUE;
}

static void
note_line (JsonParser *parser, const GError *error, guint *line)
{
  *line = json_parser_get_current_line (parser);
}

/**
 * ts_json_parse:
 * @text: JSON text (RFC 8259), UTF-8
 * @length: its bytes, or -1 where a zero byte ends it
 * @what: what messages call it
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the root, or %NULL with %TS_ERROR_FORMAT or
 *   %TS_ERROR_TOO_LARGE set
 */
JsonNode *
ts_json_parse (const char *text, gssize length, const char *what, GError **error)
{
  g_autoptr (JsonParser) parser = NULL;
  guint line = 1;
  gsize n = length < 0 ? strlen (text) : (gsize) length;
  JsonNode *root;

  g_return_val_if_fail (what != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!ts_text_check (&text, &n, what, error) || !check_depth (text, n, what, error))
    return NULL;
  parser = json_parser_new ();
  g_signal_connect (parser, "error", G_CALLBACK (note_line), &line);
  if (!json_parser_load_from_data (parser, text, (gssize) n, NULL))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("%s is not JSON from line %u on; it is damaged or of another kind"), what,
                   MAX (line, 1));
      return NULL;
    }
  root = json_parser_steal_root (parser);
  if (root == NULL)
    g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s is empty"), what);
  return root;
}

static char *
dup_path (const char *where, const char *member)
{
  return where != NULL && *where != '\0' ? g_strconcat (where, ".", member, NULL)
                                         : g_strdup (member);
}

static gboolean
fail_type (GError **error, const char *where, const char *member, const char *format)
{
  g_autofree char *path = dup_path (where, member);

  g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, format, path);
  return FALSE;
}

static gboolean
fail_missing (GError **error, const char *where, const char *member)
{
  g_autofree char *path = dup_path (where, member);

  g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND, _ ("%s is missing"), path);
  return FALSE;
}

/* The member's node, or %NULL where it is missing or null. */
static JsonNode *
find_member (JsonObject *object, const char *member)
{
  JsonNode *node = json_object_get_member (object, member);

  return node == NULL || JSON_NODE_HOLDS_NULL (node) ? NULL : node;
}

static gboolean
node_is_number (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) && (json_node_get_value_type (node) == G_TYPE_INT64 ||
                                          json_node_get_value_type (node) == G_TYPE_DOUBLE);
}

static gboolean
read_number (JsonNode *node, const char *where, const char *member, double least, double most,
             double *number, GError **error)
{
  double value;

  if (!node_is_number (node))
    return fail_type (error, where, member, _ ("%s is not a number"));
  value = json_node_get_double (node);
  if (!(value >= least && value <= most))
    {
      g_autofree char *path = dup_path (where, member);

      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE, _ ("%s is %g, which is not from %g to %g"),
                   path, value, least, most);
      return FALSE;
    }
  *number = value;
  return TRUE;
}

/**
 * ts_json_get_number:
 * @object: an object
 * @member: name of the member
 * @where: path of @object, for messages
 * @least: smallest number allowed
 * @most: largest number allowed
 * @number: (out): the number; untouched on failure
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_NOT_FOUND, %TS_ERROR_FORMAT (not a number) or
 *   %TS_ERROR_BAD_VALUE (out of range) set
 */
gboolean
ts_json_get_number (JsonObject *object, const char *member, const char *where, double least,
                    double most, double *number, GError **error)
{
  JsonNode *node = find_member (object, member);

  if (node == NULL)
    return fail_missing (error, where, member);
  return read_number (node, where, member, least, most, number, error);
}

/**
 * ts_json_get_number_or:
 * @object: an object
 * @member: name of the member
 * @where: path of @object, for messages
 * @least: smallest number allowed
 * @most: largest number allowed
 * @fallback: what a missing or null member means
 * @number: (out): the number; untouched on failure
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_FORMAT or %TS_ERROR_BAD_VALUE set
 */
gboolean
ts_json_get_number_or (JsonObject *object, const char *member, const char *where, double least,
                       double most, double fallback, double *number, GError **error)
{
  JsonNode *node = find_member (object, member);

  if (node != NULL)
    return read_number (node, where, member, least, most, number, error);
  *number = fallback;
  return TRUE;
}

/**
 * ts_json_get_string_or:
 * @object: an object
 * @member: name of the member
 * @where: path of @object, for messages
 * @fallback: (nullable): what a missing or null member means
 * @string: (out) (transfer none): the string, which lives as long as @object
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_FORMAT set
 */
gboolean
ts_json_get_string_or (JsonObject *object, const char *member, const char *where,
                       const char *fallback, const char **string, GError **error)
{
  JsonNode *node = find_member (object, member);

  if (node != NULL &&
      !(JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_STRING))
    return fail_type (error, where, member, _ ("%s is not a text"));
  *string = node != NULL ? json_node_get_string (node) : fallback;
  return TRUE;
}

/**
 * ts_json_get_flag_or:
 * @object: an object
 * @member: name of the member
 * @where: path of @object, for messages
 * @fallback: what a missing or null member means
 * @flag: (out): the flag
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_FORMAT set
 */
gboolean
ts_json_get_flag_or (JsonObject *object, const char *member, const char *where, gboolean fallback,
                     gboolean *flag, GError **error)
{
  JsonNode *node = find_member (object, member);

  if (node != NULL &&
      !(JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_BOOLEAN))
    return fail_type (error, where, member, _ ("%s is not true or false"));
  *flag = node != NULL ? json_node_get_boolean (node) : fallback;
  return TRUE;
}

/**
 * ts_json_get_object_or:
 * @object: an object
 * @member: name of the member
 * @where: path of @object, for messages
 * @child: (out) (transfer none) (nullable): the object, %NULL where it is missing or null
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_FORMAT set
 */
gboolean
ts_json_get_object_or (JsonObject *object, const char *member, const char *where,
                       JsonObject **child, GError **error)
{
  JsonNode *node = find_member (object, member);

  if (node != NULL && !JSON_NODE_HOLDS_OBJECT (node))
    return fail_type (error, where, member, _ ("%s is not an object"));
  *child = node != NULL ? json_node_get_object (node) : NULL;
  return TRUE;
}

/**
 * ts_json_get_array_or:
 * @object: an object
 * @member: name of the member
 * @where: path of @object, for messages
 * @child: (out) (transfer none) (nullable): the array, %NULL where it is missing or null
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_FORMAT set
 */
gboolean
ts_json_get_array_or (JsonObject *object, const char *member, const char *where, JsonArray **child,
                      GError **error)
{
  JsonNode *node = find_member (object, member);

  if (node != NULL && !JSON_NODE_HOLDS_ARRAY (node))
    return fail_type (error, where, member, _ ("%s is not an array"));
  *child = node != NULL ? json_node_get_array (node) : NULL;
  return TRUE;
}

/**
 * ts_json_get_numbers:
 * @object: an object
 * @member: name of the member, an array of exactly @n numbers
 * @where: path of @object, for messages
 * @least: smallest number allowed
 * @most: largest number allowed
 * @numbers: (out) (array length=n): the numbers; may be partly written on failure
 * @n: how many
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_NOT_FOUND, %TS_ERROR_FORMAT or %TS_ERROR_BAD_VALUE set
 */
gboolean
ts_json_get_numbers (JsonObject *object, const char *member, const char *where, double least,
                     double most, double *numbers, guint n, GError **error)
{
  JsonNode *node = find_member (object, member);
  JsonArray *array;

  if (node == NULL)
    return fail_missing (error, where, member);
  if (!JSON_NODE_HOLDS_ARRAY (node) || json_array_get_length (json_node_get_array (node)) != n)
    {
      g_autofree char *path = dup_path (where, member);

      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s is not an array of %u numbers"), path,
                   n);
      return FALSE;
    }
  array = json_node_get_array (node);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *element = g_strdup_printf ("%s[%u]", member, i);

      if (!read_number (json_array_get_element (array, i), where, element, least, most, &numbers[i],
                        error))
        return FALSE;
    }
  return TRUE;
}
