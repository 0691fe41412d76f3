/* ts-json-write.c: JSON text with short numbers and small diffs
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-json.h"

#include <math.h>
#include <string.h>

#include "base/ts-text.h"

/* 17 significant digits keep every double (IEEE 754-2008, 5.12.2). */
#define EXACT_DIGITS 17

static double
round_to (double number, int decimals)
{
  char format[8], buffer[512];

  if (!isfinite (number) || fabs (number) > 1e15)
    return number;
  g_snprintf (format, sizeof format, "%%.%df", CLAMP (decimals, 0, 17));
  g_ascii_formatd (buffer, sizeof buffer, format, number);
  return g_ascii_strtod (buffer, NULL);
}

/**
 * ts_json_set_number:
 * @object: an object
 * @member: name of the member
 * @number: a number; one that is not finite is written as null
 * @decimals: places after the point to keep, 0 to 17
 */
void
ts_json_set_number (JsonObject *object, const char *member, double number, int decimals)
{
  if (isfinite (number))
    json_object_set_double_member (object, member, round_to (number, decimals));
  else
    json_object_set_null_member (object, member);
}

/**
 * ts_json_set_numbers:
 * @object: an object
 * @member: name of the member
 * @numbers: (array length=n): numbers; those that are not finite are written as null
 * @n: how many
 * @decimals: places after the point to keep, 0 to 17
 */
void
ts_json_set_numbers (JsonObject *object, const char *member, const double *numbers, guint n,
                     int decimals)
{
  JsonArray *array = json_array_sized_new (n);

  for (guint i = 0; i < n; i++)
    if (isfinite (numbers[i]))
      json_array_add_double_element (array, round_to (numbers[i], decimals));
    else
      json_array_add_null_element (array);
  json_object_set_array_member (object, member, array);
}

/* A name of a file may hold any bytes; JSON must not (RFC 8259, 8.1). */
static void
append_string (GString *text, const char *string)
{
  g_autofree char *valid = g_utf8_make_valid (string, -1);

  g_string_append_c (text, '"');
  for (const char *p = valid; *p != '\0'; p++)
    switch (*p)
      {
      case '"':
        g_string_append (text, "\\\"");
        break;
      case '\\':
        g_string_append (text, "\\\\");
        break;
      case '\n':
        g_string_append (text, "\\n");
        break;
      case '\t':
        g_string_append (text, "\\t");
        break;
      default:
        if ((guchar) *p < 0x20 || *p == 0x7f)
          g_string_append_printf (text, "\\u%04x", (guint) (guchar) *p);
        else
          g_string_append_c (text, *p);
        break;
      }
  g_string_append_c (text, '"');
}

static void
append_value (GString *text, JsonNode *node)
{
  GType type = json_node_get_value_type (node);

  if (type == G_TYPE_STRING)
    append_string (text, json_node_get_string (node));
  else if (type == G_TYPE_BOOLEAN)
    g_string_append (text, json_node_get_boolean (node) ? "true" : "false");
  else if (type == G_TYPE_INT64)
    g_string_append_printf (text, "%" G_GINT64_FORMAT, json_node_get_int (node));
  else if (isfinite (json_node_get_double (node)))
    ts_text_append_number (text, json_node_get_double (node), EXACT_DIGITS);
  else
    g_string_append (text, "null");
}

static void
append_line (GString *text, guint level)
{
  g_string_append_c (text, '\n');
  for (guint i = 0; i < level; i++)
    g_string_append (text, "  ");
}

static gboolean
is_plain_numbers (JsonArray *array)
{
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      JsonNode *node = json_array_get_element (array, i);

      if (JSON_NODE_HOLDS_NULL (node))
        continue;
      if (!JSON_NODE_HOLDS_VALUE (node) || (json_node_get_value_type (node) != G_TYPE_INT64 &&
                                            json_node_get_value_type (node) != G_TYPE_DOUBLE))
        return FALSE;
    }
  return TRUE;
}

static void append_node (GString *text, JsonNode *node, guint level);

static void
append_array (GString *text, JsonArray *array, guint level)
{
  guint n = json_array_get_length (array);
  gboolean one_line = is_plain_numbers (array);

  g_string_append_c (text, '[');
  for (guint i = 0; i < n; i++)
    {
      if (i > 0)
        g_string_append (text, one_line ? ", " : ",");
      if (!one_line)
        append_line (text, level + 1);
      append_node (text, json_array_get_element (array, i), level + 1);
    }
  if (!one_line)
    append_line (text, level);
  g_string_append_c (text, ']');
}

static void
append_object (GString *text, JsonObject *object, guint level)
{
  JsonObjectIter iter;
  const char *name;
  JsonNode *node;
  gboolean first = TRUE;

  g_string_append_c (text, '{');
  json_object_iter_init_ordered (&iter, object);
  while (json_object_iter_next_ordered (&iter, &name, &node))
    {
      if (!first)
        g_string_append_c (text, ',');
      first = FALSE;
      append_line (text, level + 1);
      append_string (text, name);
      g_string_append (text, ": ");
      append_node (text, node, level + 1);
    }
  if (!first)
    append_line (text, level);
  g_string_append_c (text, '}');
}

static void
append_node (GString *text, JsonNode *node, guint level)
{
  switch (json_node_get_node_type (node))
    {
    case JSON_NODE_OBJECT:
      append_object (text, json_node_get_object (node), level);
      break;
    case JSON_NODE_ARRAY:
      append_array (text, json_node_get_array (node), level);
      break;
    case JSON_NODE_VALUE:
      append_value (text, node);
      break;
    case JSON_NODE_NULL:
    default:
      g_string_append (text, "null");
      break;
    }
}

/**
 * ts_json_to_text:
 * @root: a tree
 *
 * Returns: (transfer full): @root as JSON text (RFC 8259), UTF-8, two spaces a level, members in
 * the order they were set, arrays of nothing but numbers on one line, a newline at the end. Every
 *   double reads back as itself; one that is not finite becomes null.
 */
char *
ts_json_to_text (JsonNode *root)
{
  GString *text = g_string_new (NULL);

  append_node (text, root, 0);
  g_string_append_c (text, '\n');
  return g_string_free (text, FALSE);
}
